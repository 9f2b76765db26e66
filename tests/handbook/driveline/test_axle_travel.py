"""Where the ends of shafts go when the suspension moves: signs, and places that can be checked by eye."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.driveline.axle_travel import (
    outward_at,
    pinion_joint_moved,
    rise_of_nearest,
    rise_of_turning,
    swing_outward,
    wound_by_gear,
)

ANGLE = st.floats(-0.3, 0.3)
JOINT = np.array([-2.5, 0.1, 0.4])


@given(ANGLE, ANGLE, ANGLE, st.floats(-0.2, 0.2))
def test_the_joint_stays_as_far_from_the_axle(inclination: float, heading: float, wind_up: float, rise: float) -> None:
    """Wind-up swings the joint about the axle, which itself has only risen."""
    out = np.array([-math.cos(inclination) * math.cos(heading), -math.cos(inclination) * math.sin(heading), 0])
    axle = JOINT + 0.28 * (out - [0, 0, math.sin(inclination)]) + [0, 0, rise]

    moved = pinion_joint_moved(JOINT, inclination, heading, 0.28, rise, wind_up)
    assert np.linalg.norm(moved - axle) == pytest.approx(0.28, rel=1e-9)


def test_nose_up_lifts_the_joint() -> None:
    """A level pinion 0.28 m long, wound up by 3°, lifts its nose by 0.28 m · sin 3°."""
    moved = pinion_joint_moved(JOINT, 0.0, 0.0, 0.28, 0.0, math.radians(3))

    assert moved[2] - JOINT[2] == pytest.approx(0.28 * math.sin(math.radians(3)))
    assert moved[0] < JOINT[0]  # and draws it rearward


def test_bump_lifts_and_droop_drops_the_joint() -> None:
    """A rise alone changes the height alone."""
    for rise in (0.08, -0.06):
        assert pinion_joint_moved(JOINT, 0.1, 0.0, 0.28, rise, 0.0) == pytest.approx(JOINT + np.array([0, 0, rise]))


def test_many_positions_at_once() -> None:
    """Positions and draws as arrays give what each gives alone."""
    rises = np.array([[0.0, 0.0], [0.05, 0.06], [-0.05, -0.04]])
    joints = np.array([JOINT, JOINT + 0.01])
    moved = pinion_joint_moved(joints, np.array([0.1, 0.11]), 0.0, 0.28, rises, 0.02)

    assert moved.shape == (3, 2, 3)
    alone = pinion_joint_moved(joints[1], 0.11, 0.0, 0.28, -0.04, 0.02)
    assert moved[2, 1] == pytest.approx(alone)


def test_an_axle_that_moves_forward_takes_the_joint_along() -> None:
    """By as much, without changing height."""
    moved = pinion_joint_moved(JOINT, 0.1, 0.0, 0.28, 0.05, 0.0, 0.004)

    assert moved == pytest.approx(JOINT + np.array([0.004, 0, 0.05]))


@given(st.floats(0.3, 0.6), st.floats(-0.1, 0.1), st.floats(-0.3, 0.3))
def test_a_wheel_is_nearest_where_every_other_rise_is_farther(out: float, up: float, slope: float) -> None:
    """A little above and a little below, its shaft is longer."""
    rise = rise_of_nearest(out, up, slope)
    lengths = [math.hypot(out + slope * h, up + h) for h in (rise - 0.01, rise, rise + 0.01)]

    assert lengths[1] < min(lengths[0], lengths[2])


@pytest.mark.parametrize("curve", [1.0, -1.0])
def test_the_length_turns_over_where_the_parabola_does(curve: float) -> None:
    """A shaft that is shortest at 12 mm of bump, and one that is longest there."""
    low, ride, high = (1.0 + curve * (h - 0.012) ** 2 for h in (-0.08, 0.0, 0.06))

    assert rise_of_turning(low, ride, high, 0.06, 0.08) == pytest.approx(0.012)


def test_a_length_that_turns_over_beyond_the_stop_is_taken_at_the_stop() -> None:
    """Within the travel it only grows; and in one line there is no turning at all."""
    low, ride, high = (1.0 + (h + 0.2) ** 2 for h in (-0.08, 0.0, 0.06))

    assert rise_of_turning(low, ride, high, 0.06, 0.08) == pytest.approx(-0.08)
    assert rise_of_turning(0.92, 1.0, 1.06, 0.06, 0.08) in {0.06, -0.08}
    assert math.isnan(rise_of_turning(1.0, 1.0, 1.0, -0.06, 0.08))


@given(st.floats(0.3, 0.6), st.floats(-0.1, 0.1), st.floats(-0.1, 0.1))
def test_the_shaft_of_a_swing_axle_keeps_its_length(out: float, up: float, rise: float) -> None:
    """Inward as it leaves the level, whichever way."""
    moved = swing_outward(out, up, rise)

    assert math.hypot(out + moved, up + rise) == pytest.approx(math.hypot(out, up))
    assert math.isnan(swing_outward(out, 0.0, 2 * out))


def test_wind_up_goes_with_the_ratio() -> None:
    """All of it in the lowest gear, a quarter in a gear four times as tall; none of a gear that is not there."""
    assert wound_by_gear(0.08, 4.0, 4.0) == pytest.approx(0.08)
    assert wound_by_gear(0.08, 1.0, 4.0) == pytest.approx(0.02)
    assert math.isnan(wound_by_gear(0.08, 5.0, 4.0))


@pytest.mark.parametrize(
    ("rise", "outward"), [(0.0, 0.0), (0.06, 0.003), (0.03, 0.0015), (-0.08, -0.004), (-0.02, -0.001)]
)
def test_a_wheel_moves_outward_in_proportion_to_each_stop(rise: float, outward: float) -> None:
    """A straight line from ride height to each of both stops."""
    assert outward_at(rise, 0.06, 0.08, 0.003, -0.004) == pytest.approx(outward)


def test_beyond_the_stops_nothing_is_known() -> None:
    """Outside the travel and for a negative travel: nan, no clip."""
    assert np.isnan(outward_at(0.07, 0.06, 0.08, 0.003, -0.004))
    assert np.isnan(outward_at(-0.09, 0.06, 0.08, 0.003, -0.004))


def test_no_travel_is_no_movement() -> None:
    """A stop that is reached at ride height."""
    assert outward_at(0.0, 0.0, 0.0, 0.003, -0.004) == 0.0
