"""Whirling of each prop shaft."""

from __future__ import annotations

import numpy as np
import pytest

SHAFT = """
[engine]
max_speed = "6000 rpm, manual"
[gearbox]
ratios = ["3.2", "0.8"]
[prop_shaft]
after = "gearbox"
length = "1300 ± 0 mm, taped"
tube_outside_diameter = "76.2 ± 0 mm, calipered"
tube_wall_thickness = "1.65 ± 0 mm, calipered"
[final_drive]
after = "prop_shaft"
ratio = 3.5
"""


def test_critical_speed_is_that_of_a_hinged_beam(driveline) -> None:
    """7532 rpm: a beam of 40 elements gives it to 1e-6; a cardan-shaft supplier's rule gives 7550 rpm (0.3 %)."""
    found = driveline(SHAFT).figure("driveline.critical_speed.prop_shaft").value
    rule = 1.21e8 * np.hypot(76.2, 76.2 - 2 * 1.65) / 1300**2

    assert found.unit == "rpm"
    assert found.nominal == pytest.approx(7532, abs=1)
    assert found.nominal == pytest.approx(rule, rel=4e-3)


def test_the_share_of_the_critical_speed_is_judged_in_the_highest_gear(driveline) -> None:
    """6000 rpm through 0.8 make 7500 rpm of the shaft: it whirls. Direct drive makes 6000, still too fast."""
    report = driveline(SHAFT)
    finding = report["driveline.whirl.prop_shaft"]

    assert report.figure("driveline.highest_shaft_speed").value.nominal == pytest.approx(7500)
    assert finding.value.nominal == pytest.approx(7500 / 7532, rel=1e-3)
    assert (finding.verdict, finding.stake, finding.limit.nominal) == ("fails", "safety", pytest.approx(0.7))
    assert "comes through the floor" in finding.caution
    slow = driveline(SHAFT.replace("6000 rpm", "4000 rpm"))["driveline.whirl.prop_shaft"]
    assert slow.verdict == "holds"


def test_how_long_the_tube_could_be_is_said(driveline) -> None:
    """The critical speed goes with 1/L²: 1300 mm times √(0.7·7532/7500) is 1090 mm."""
    finding = driveline(SHAFT)["driveline.whirl.prop_shaft"]

    assert "at 7500 rpm this tube can be 1090 mm long between its joint centres" in finding.remark
    assert "two shorter shafts with a centre bearing" in finding.cure


def test_an_aluminium_tube_gains_nothing(driveline) -> None:
    """The same tube in aluminium whirls within 2 % of the same speed."""
    steel = driveline(SHAFT).figure("driveline.critical_speed.prop_shaft").value.nominal
    light = driveline(SHAFT.replace('after = "gearbox"', 'after = "gearbox"\nmaterial = "aluminium"'))

    found = light.figure("driveline.critical_speed.prop_shaft").value.nominal
    assert found == pytest.approx(steel, rel=0.02)
    assert found != steel


def test_each_shaft_is_judged_by_its_own_length(driveline) -> None:
    """Half the length, four times the critical speed."""
    two = SHAFT.replace('after = "gearbox"', 'after = "gearbox"\nrear_joint = "rigid"').replace(
        '[final_drive]\nafter = "prop_shaft"',
        '[rear_shaft]\nkind = "prop_shaft"\nafter = "prop_shaft"\nlength = "650 ± 0 mm, taped"\n'
        'tube_outside_diameter = "76.2 ± 0 mm, calipered"\ntube_wall_thickness = "1.65 ± 0 mm, calipered"\n[final_drive]\nafter = "rear_shaft"',
    )
    report = driveline(two)

    long, short = (report[f"driveline.whirl.{name}"].value.nominal for name in ("prop_shaft", "rear_shaft"))
    assert long == pytest.approx(4 * short, rel=1e-9)


def test_a_missing_wall_is_named(driveline) -> None:
    """Without the tube's measures nothing can be said."""
    finding = driveline(SHAFT.replace('tube_wall_thickness = "1.65 ± 0 mm, calipered"\n', ""))[
        "driveline.whirl.prop_shaft"
    ]

    assert (finding.verdict, list(finding.missing)) == ("unknown", ["prop_shaft.tube_wall_thickness"])


def test_a_shaft_without_a_tape_is_as_long_as_its_ends_are_apart(driveline) -> None:
    """Where the length was not taped, the places of the joints give it."""
    placed = SHAFT.replace('length = "1300 ± 0 mm, taped"\n', "")
    placed = placed.replace(
        "[prop_shaft]", 'output_x = "-1 m ± 0 mm"\noutput_y = "0 ± 0 mm"\noutput_z = "300 ± 0 mm"\n[prop_shaft]'
    )
    placed += 'input_x = "-2.3 m ± 0 mm"\ninput_y = "0 ± 0 mm"\ninput_z = "300 ± 0 mm"\n'

    assert driveline(placed).figure("driveline.critical_speed.prop_shaft").value.nominal == pytest.approx(7532, abs=1)
    missing = driveline(SHAFT.replace('length = "1300 ± 0 mm, taped"\n', ""))["driveline.whirl.prop_shaft"].missing
    assert list(missing) == ["prop_shaft.length"]


def test_the_builders_own_limit_counts(driveline) -> None:
    """A shaft shop's 0.5 makes a shaft fail that would hold at 0.7."""
    slow = SHAFT.replace("6000 rpm", "4000 rpm") + '[limit]\n"driveline.whirl.prop_shaft" = "0.5, manual"\n'
    finding = driveline(slow)["driveline.whirl.prop_shaft"]

    assert (finding.limit.nominal, finding.source_kind, finding.verdict) == (0.5, "manual", "fails")
