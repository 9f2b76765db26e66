"""Half-shafts with independent suspension: joint angles and plunge over the travel, by hand."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.book import BadInput, read_text

LEFT = """
[car]
rear_suspension = "independent"
[left_shaft]
kind = "half_shaft"
side = "left"
inner_x = "-2400 ± 0 mm"
inner_y = "110 ± 0 mm"
inner_z = "300 ± 0 mm"
outer_x = "-2380 ± 0 mm"
outer_y = "590 ± 0 mm"
outer_z = "280 ± 0 mm"
bump_travel = "60 ± 0 mm"
droop_travel = "80 ± 0 mm"
outward_at_bump = "-2 ± 0 mm"
outward_at_droop = "-4 ± 0 mm"
plunge_in = "14 ± 0 mm"
plunge_out = "12 ± 0 mm"
inner_movement = "0 ± 0 mm"
"""


def away(outward: float, rise: float) -> np.ndarray:
    """From inner to outer joint, mm: rearward, outward, up."""
    return np.array([-20.0, 480.0 + outward, -20.0 + rise])


RIDE, BUMP, DROOP, LEVEL = away(0, 0), away(-2, 60), away(-4, -80), away(-2 / 3, 20)


def test_the_joint_angle_is_that_of_the_worst_position(driveline) -> None:
    """Droop: 100 mm down and 20 mm along on 476 mm out. The same angle at both joints, against each one's limit."""
    report = driveline(LEFT)
    worst = max(np.degrees(np.arctan2(np.hypot(x, z), y)) for x, y, z in (RIDE, BUMP, DROOP, LEVEL))

    inner, outer = (report[f"driveline.half_shaft_angle.left.{end}"] for end in ("inner", "outer"))
    assert inner.value.nominal == outer.value.nominal == pytest.approx(worst, abs=1e-9)
    assert worst == pytest.approx(np.degrees(np.arctan2(np.hypot(20, 100), 476)), abs=1e-9)
    assert (inner.limit.nominal, outer.limit.nominal) == (pytest.approx(21.5), pytest.approx(45))
    assert (inner.source_kind, inner.verdict) == ("from memory", "holds")


def test_plunge_left_at_both_ends_of_the_travel(driveline) -> None:
    """Longest at droop; shortest where the wheel, coming inward as it drops too, is nearest: a fine search."""
    report = driveline(LEFT)
    rises = np.linspace(-80, 60, 14_001)
    places = [away(-4 * -rise / 80 if rise < 0 else -2 * rise / 60, rise) for rise in rises]
    lengths = [np.linalg.norm(RIDE), *np.linalg.norm(places, axis=1)]

    inward, outward = (report[f"driveline.plunge.left.{way}"] for way in ("in", "out"))
    assert inward.value.nominal == pytest.approx(14 + min(lengths) - lengths[0], abs=1e-4)
    assert outward.value.nominal == pytest.approx(12 - (max(lengths) - lengths[0]), abs=1e-9)
    assert inward.value.nominal < 14
    assert outward.value.nominal < 12
    assert inward.limit.nominal == pytest.approx(3)
    assert inward.state == "between ride height and bump, final drive moved in"


def test_outward_is_away_from_the_car_on_either_side(driveline) -> None:
    """The mirrored half-shaft has the same angle and plunge."""
    right = (
        LEFT.replace("left", "right")
        .replace('inner_y = "110', 'inner_y = "-110')
        .replace('outer_y = "590', 'outer_y = "-590')
    )
    one, other = driveline(LEFT), driveline(right)

    for what in ("half_shaft_angle.{}.inner", "plunge.{}.in", "plunge.{}.out"):
        found = other[f"driveline.{what.format('right')}"].value.nominal
        assert found == pytest.approx(one[f"driveline.{what.format('left')}"].value.nominal, rel=1e-12)


def test_a_written_joint_limit_takes_the_place_of_the_usual_one(driveline) -> None:
    """A smaller joint fails at droop."""
    text = LEFT + 'inner_joint_angle_limit = "11 deg, manual"\n'
    finding = driveline(text)["driveline.half_shaft_angle.left.inner"]

    assert (finding.verdict, finding.source_kind) == ("fails", "manual")
    assert finding.source == "left_shaft.inner_joint_angle_limit as written"


def test_a_side_that_is_not_written_asks_for_its_half_shaft(driveline) -> None:
    """The left one is there, the right one is not."""
    finding = driveline(LEFT)["driveline.plunge.right.in"]

    assert finding.verdict == "unknown"
    assert 'side = "right"' in finding.missing["half_shaft"]


def test_a_half_shaft_of_no_side_is_asked_for_its_side(driveline) -> None:
    """It may be the one that is missing."""
    finding = driveline(LEFT.replace('side = "left"\n', ""))["driveline.plunge.left.in"]

    assert list(finding.missing) == ["left_shaft.side"]


def test_everything_that_a_half_shaft_lacks_is_named_at_once(driveline) -> None:
    """Plunge and a height are both missing."""
    text = LEFT.replace('plunge_in = "14 ± 0 mm"\n', "").replace('inner_z = "300 ± 0 mm"\n', "")

    assert set(driveline(text)["driveline.plunge.left.in"].missing) == {"left_shaft.plunge_in", "left_shaft.inner_z"}


def test_half_shafts_inside_a_live_axle_have_no_joints(driveline) -> None:
    """Nothing is said of them here."""
    report = driveline(LEFT.replace('"independent"', '"live axle"'))

    assert not [finding for finding in report.findings if "half_shaft" in finding.id or "plunge" in finding.id]


def test_front_driven_half_shafts_do_not_ask_how_the_rear_is_carried(driveline) -> None:
    """A car driven at the front has jointed half-shafts whatever is behind."""
    text = LEFT.replace('rear_suspension = "independent"', 'driven_axle = "front"')

    assert driveline(text)["driveline.half_shaft_angle.left.inner"].verdict == "holds"


def test_how_the_wheels_are_carried_is_asked_first(driveline) -> None:
    """Without it nobody knows whether there are joints."""
    finding = driveline(LEFT.replace('rear_suspension = "independent"', 'mass = "1000 kg"'))["driveline.plunge.left.in"]

    assert list(finding.missing) == ["car.rear_suspension"]


def test_a_right_half_shaft_written_on_the_left_is_refused() -> None:
    """Left is positive: a right half-shaft whose outer joint is further left is a slip of the pen."""
    with pytest.raises(BadInput) as refused:
        read_text(LEFT.replace('"left"', '"right"'))

    assert "left_shaft.outer_y is 590 ± 0 mm, not right of (more negative than) left_shaft.inner_y" in str(
        refused.value
    )
    assert "y counts from the middle to the left" in str(refused.value)
