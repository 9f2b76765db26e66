"""A drivetrain on its mounts: about which axis it rolls, which side comes up, how far a point goes."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.placement.pose import turn_of
from trialfit.placement.rocking import STATES, rocking

ROLL, HEAVE, ACROSS, ABOVE = np.array([[0.05, 0.02], [0.006, 0.004], [0.03, -0.02], [-0.12, 0.08]])


def moved(state, point, draw):
    turns, shifts = rocking(ROLL, HEAVE, ACROSS, ABOVE)
    number = STATES.index(state)
    return turns[number][..., draw] @ point + shifts[number][:, draw]


@pytest.mark.parametrize("draw", [0, 1])
@pytest.mark.parametrize("state", ["rolled with its left side up", "rolled with its right side up"])
def test_the_axis_of_the_mounts_stays_where_it_is(state, draw):
    axis = [0.4, ACROSS[draw], ABOVE[draw]]

    assert moved(state, axis, draw) == pytest.approx(axis)


@pytest.mark.parametrize("draw", [0, 1])
def test_a_point_left_of_the_mounts_comes_up_with_the_left_side_and_one_below_them_swings_left(draw):
    """Of a lever ρ, by ρ·sin φ along the way it goes and ρ·(1 − cos φ) back towards the axis."""
    roll, axis = ROLL[draw], np.array([0.0, ACROSS[draw], ABOVE[draw]])
    sin, cos = np.sin(roll), np.cos(roll)

    left = moved("rolled with its left side up", axis + np.array([0, 0.3, 0]), draw) - axis
    below = moved("rolled with its left side up", axis - np.array([0, 0, 0.3]), draw) - axis

    assert left == pytest.approx([0, 0.3 * cos, 0.3 * sin])
    assert below == pytest.approx([0, 0.3 * sin, -0.3 * cos])
    other = moved("rolled with its right side up", axis - np.array([0, 0, 0.3]), draw) - axis
    assert other == pytest.approx([0, -0.3 * sin, -0.3 * cos])


@pytest.mark.parametrize("draw", [0, 1])
def test_it_is_lifted_and_sinks_as_far(draw):
    point = np.array([0.1, 0.2, 0.3])

    assert moved("", point, draw) == pytest.approx(point)
    assert moved("lifted", point, draw) - point == pytest.approx([0, 0, HEAVE[draw]])
    assert moved("sunk", point, draw) - point == pytest.approx([0, 0, -HEAVE[draw]])


def test_three_states_of_rolling_miss_a_fifth_of_a_millimetre_at_most():
    """ρ(1 − cos(Δφ/2)) for 0.5 m and 3° steps; swept finely the highest point is no higher."""
    fine = [turn_of(angle, 0, 0) @ [0, 0.5, 0.0] for angle in np.radians(np.linspace(-3, 3, 601))]
    turns, _ = rocking(*np.array([[np.radians(3)], [0.0], [0.0], [0.0]]))
    coarse = [turn[..., 0] @ [0, 0.5, 0.0] for turn in turns]

    assert max(point[2] for point in fine) - max(point[2] for point in coarse) <= 0.00018
