"""Half-shafts, hubs and studs: what one wheel can get through the differential."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.evaluation.requirement import SourceKind, Stake
from trialfit.evaluation.verdict import Verdict

AXLE = 2261.7  # N·m in first gear, by grip; power balance and statics, see test_governing_side.py


@pytest.mark.parametrize(("differential", "share"), [("open", 0.5), ("limited slip", 2.2 / 3.2), ("locked", 1.0)])
def test_the_differential_decides_what_one_wheel_gets(report, differential, share) -> None:
    """Open ½, limited slip B/(1 + B), locked everything (power balance)."""
    found = report({"final_drive.differential": differential, "final_drive.bias_ratio": "2.2 ± 0"})

    assert found["torque_path.half_shaft.left"].value.nominal == pytest.approx(AXLE * share, rel=1e-3)
    assert f"{differential} differential: one wheel can get {100 * share:.0f} % of the axle's torque" in (
        found["torque_path.half_shaft.left"].remark
    )


def test_a_wheel_drives_with_no_more_than_its_own_grip(report) -> None:
    """Locked, with a track of 1.50 m: (½ + λk)·√(1 − λ²) at its largest, k = 0.95·0.50/1.50 (statics, friction circle)."""
    found = report({"final_drive.differential": "locked", "car.rear_track": "1.50 m ± 0 mm"})
    cornering = np.linspace(0, 1, 100_001)
    best = ((0.5 + cornering * 0.95 / 3) * np.sqrt(1 - cornering**2)).max()

    assert found["torque_path.half_shaft.left"].value.nominal == pytest.approx(AXLE * best, rel=1e-3)


def test_a_bar_is_worked_out_with_notch_and_reserve(report) -> None:
    """Solid bar: T = π·d³/16·0.577·900 MPa/1.5 = 1836 N·m for 30 mm; a notch factor of 1.5 at yield comes to the same."""
    finding = report()["torque_path.half_shaft.right"]

    assert finding.limit.nominal == pytest.approx(3.14159265 * 0.030**3 / 16 * 0.577 * 900e6 / 1.5, rel=1e-3)
    assert finding.limit.nominal == pytest.approx(1836, abs=2)
    assert finding.state.endswith("driven with care")
    assert "yield 900 MPa, at yield with its notch factor of 1.5, driven with care: 1835 N·m allowed" in finding.remark


def test_a_rated_half_shaft_keeps_the_bar_as_a_figure(report) -> None:
    """The maker's rating outranks."""
    found = report(
        {
            "half_shaft_left.bar_diameter": "30 mm ± 0 mm",
            "half_shaft_left.yield_strength": "900 ± 0 MPa",
            "half_shaft_left.notch_factor": "1.5 ± 0",
        }
    )

    finding = found["torque_path.half_shaft.left"]
    assert finding.limit.nominal == pytest.approx(1200)
    assert "rated 1200 N·m; worked out beside it: bar of 30 mm, yield 900 MPa" in finding.remark
    assert found.figure("torque_path.worked_out.half_shaft.left").value.nominal == pytest.approx(1836, abs=2)


def test_a_rating_beside_a_typical_steel_says_so(report) -> None:
    """The rating decides, and what is shown beside it is no better known than its steel."""
    finding = report({"half_shaft_left.bar_diameter": "22 mm ± 0 mm"})["torque_path.half_shaft.left"]

    assert finding.limit.nominal == pytest.approx(1200)
    assert "worked out beside it: bar of 22 mm" in finding.remark
    assert "with a typical steel" in finding.remark


def test_a_rated_hub_shows_its_spline_beside_the_rating(report) -> None:
    """24 teeth on 28 mm, 30 mm long, 150 MPa on its flanks: 0.75·150e6·24·1.2 mm·30 mm·13.4 mm are 1302 N·m."""
    spline = {
        "hub_rear.spline_teeth": "24",
        "hub_rear.spline_outside_diameter": "28 mm ± 0 mm",
        "hub_rear.spline_inside_diameter": "25.6 mm ± 0 mm",
        "hub_rear.spline_length": "30 mm ± 0 mm",
        "hub_rear.spline_pressure": "150 ± 0 MPa",
        "hub_rear.spline_yield_strength": "1100 ± 0 MPa",
    }
    finding = report(spline)["torque_path.hub.rear"]

    assert finding.limit.nominal == pytest.approx(1500)
    assert "rated 1500 N·m; worked out beside it: spline, 150 MPa on its flanks" in finding.remark
    assert "1302 N·m allowed" in finding.remark


def test_studs_hold_by_their_clamp(report) -> None:
    """Five studs of 54.84 kN, friction 0.15, on 57 mm: 2344 N·m (friction on the clamped face); half the axle is 1130.9 N·m."""
    finding = report()["torque_path.studs.rear"]

    assert finding.value.nominal == pytest.approx(2344 / (AXLE / 2), rel=1e-3)
    assert finding.verdict is Verdict.holds
    assert finding.stake is Stake.safety
    assert finding.source_kind is SourceKind.common_practice
    assert "5 studs × 54840 N × 57 mm × 0.15 of the face = 2344 N·m by friction" in finding.remark
    assert finding.state == "as weighed, 1st gear, full torque"
    assert "maker's" in finding.caution
    assert "local codes" in finding.caution


def test_studs_of_a_locked_differential_see_the_whole_axle(report) -> None:
    """2344 N·m over 2261.7 N·m: less than the 1.2 times that."""
    finding = report({"final_drive.differential": "locked"})["torque_path.studs.rear"]

    assert finding.value.nominal == pytest.approx(2344 / AXLE, rel=1e-3)
    assert finding.verdict is Verdict.fails


def test_the_preload_may_come_from_the_wrench(report) -> None:
    """F = T/(K·d): 110 N·m, K 0.20, 12 mm give 45.83 kN."""
    changes = {
        "hub_rear.stud_torque": "110 ± 0 N·m",
        "hub_rear.stud_diameter": "12 mm ± 0 mm",
        "hub_rear.nut_factor": "0.2 ± 0",
    }
    finding = report(changes, without=("hub_rear.stud_preload",))["torque_path.studs.rear"]

    assert finding.value.nominal == pytest.approx(5 * 45833 * 0.15 * 0.057 / (AXLE / 2), rel=1e-3)


def test_studs_nobody_has_counted_are_named(report) -> None:
    """All that is missing at once."""
    finding = report(without=("hub_rear.stud_preload", "hub_rear.stud_count", "hub_rear.stud_diameter"))[
        "torque_path.studs.rear"
    ]

    assert set(finding.missing) == {"hub_rear.stud_count", "hub_rear.stud_torque", "hub_rear.stud_diameter"}


def test_a_hub_is_held_to_its_rating(report) -> None:
    """1130.9 N·m at one wheel, 1500 N·m allowed."""
    finding = report()["torque_path.hub.rear"]

    assert finding.value.nominal == pytest.approx(AXLE / 2, rel=1e-3)
    assert finding.margin.nominal == pytest.approx(1500 - AXLE / 2, rel=1e-3)
    assert finding.stake is Stake.safety


def test_hubs_of_the_other_axle_do_not_count(report) -> None:
    """Front hubs of a car with rear drive carry no drive torque: the rear ones are asked for."""
    finding = report({"hub_rear.axle": "front"})["torque_path.hub.rear"]

    assert finding.verdict is Verdict.unknown
    assert finding.missing == {"hub": 'no hubs with axle = "rear" are written'}


def test_a_missing_half_shaft_is_asked_for(report) -> None:
    """The side that has not been written yet."""
    finding = report(without=("half_shaft_right",))["torque_path.half_shaft.right"]

    assert finding.missing == {"half_shaft": 'no half-shaft with side = "right" is written'}
