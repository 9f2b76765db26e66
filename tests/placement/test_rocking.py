"""A drivetrain on its mounts: about which axis it rocks, which side comes up, how far a point goes, and all of it at once."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.placement.pose import turn_of
from trialfit.placement.rocking import ACROSS, ALONG, Motion, corners, in_words, rocking

ROLL, HEAVE, FORE_AFT = np.array([[0.05, 0.02], [0.006, 0.004], [0.008, 0.003]])
AT = np.array([[0.1, -0.05], [0.03, -0.02], [-0.12, 0.08]])


def motion(axis=ALONG):
    return Motion(ROLL, HEAVE, FORE_AFT, AT, axis)


def moved(level, point, draw, axis=ALONG):
    turns, shifts = rocking(motion(axis), [level])
    return turns[:, :, 0, draw] @ point + shifts[:, 0, draw]


@pytest.mark.parametrize("draw", [0, 1])
@pytest.mark.parametrize("side", [1.0, -1.0])
@pytest.mark.parametrize(("axis", "along"), [(ALONG, [0.4, 0, 0]), (ACROSS, [0, 0.4, 0])])
def test_the_axis_of_the_mounts_stays_where_it_is(draw, side, axis, along):
    point = AT[:, draw] + along

    assert moved((side, 0.0, 0.0), point, draw, axis) == pytest.approx(point)


@pytest.mark.parametrize("draw", [0, 1])
def test_a_point_left_of_the_mounts_comes_up_with_the_left_side_and_one_below_them_swings_left(draw):
    """Of a lever ρ, by ρ·sin φ along the way it goes and ρ·(1 − cos φ) back towards the axis."""
    axis, sin, cos = AT[:, draw], np.sin(ROLL[draw]), np.cos(ROLL[draw])

    left = moved((1.0, 0.0, 0.0), axis + np.array([0, 0.3, 0]), draw) - axis
    below = moved((1.0, 0.0, 0.0), axis - [0, 0, 0.3], draw) - axis

    assert left == pytest.approx([0, 0.3 * cos, 0.3 * sin])
    assert below == pytest.approx([0, 0.3 * sin, -0.3 * cos])
    assert moved((-1.0, 0.0, 0.0), axis - [0, 0, 0.3], draw) - axis == pytest.approx([0, -0.3 * sin, -0.3 * cos])


def test_a_unit_that_rocks_across_the_car_goes_down_in_front_first():
    """Positive pitch is nose down: 0.3 m ahead of the axis a point goes down by 0.3·sin φ."""
    ahead = moved((1.0, 0.0, 0.0), AT[:, 0] + [0.3, 0, 0], 0, ACROSS) - AT[:, 0]

    assert ahead == pytest.approx([0.3 * np.cos(0.05), 0, -0.3 * np.sin(0.05)])
    assert in_words(motion(ACROSS), (1.0, 0.0, 0.0)) == "pitched with its front down"
    assert in_words(motion(ACROSS), (-1.0, 0.0, 0.0)) == "pitched with its front up"


@pytest.mark.parametrize("draw", [0, 1])
def test_it_is_lifted_and_sinks_and_goes_forward_and_back_as_far(draw):
    point = np.array([0.1, 0.2, 0.3])

    assert moved((0.0, 0.0, 0.0), point, draw) == pytest.approx(point)
    assert moved((0.0, 1.0, -1.0), point, draw) - point == pytest.approx([-FORE_AFT[draw], 0, HEAVE[draw]])
    assert moved((0.0, -0.5, 1.0), point, draw) - point == pytest.approx([FORE_AFT[draw], 0, -HEAVE[draw] / 2])


def test_what_comes_together_is_the_sum_of_what_comes_alone():
    point = np.array([0.1, 0.2, 0.3])
    rolled, lifted = (moved(level, point, 0) - point for level in ((1.0, 0.0, 0.0), (0.0, 1.0, -1.0)))

    assert moved((1.0, 1.0, -1.0), point, 0) - point == pytest.approx(rolled + lifted)
    assert in_words(motion(), (1.0, 1.0, -1.0)) == "rolled with its left side up, lifted, moved back"


def test_every_movement_at_either_end_with_every_other_is_a_corner():
    """What does not move has no corners of its own."""
    assert len(corners((True, True, True))) == 1 + 8
    assert corners((True, False, True))[1:] == ((1, 0, 1), (1, 0, -1), (-1, 0, 1), (-1, 0, -1))
    assert corners((False, False)) == ((0, 0),)


def test_three_states_of_rolling_miss_a_fifth_of_a_millimetre_at_most():
    """ρ(1 − cos(Δφ/2)) for 0.5 m and 3° steps; swept finely the highest point is not a higher."""
    fine = [turn_of(angle, 0, 0) @ [0, 0.5, 0.0] for angle in np.radians(np.linspace(-3, 3, 601))]
    rolls = Motion(*np.array([[np.radians(3)], [0.0], [0.0]]), at=np.zeros((3, 1)))
    turns, _ = rocking(rolls, corners(rolls.moves))
    coarse = [turns[:, :, n, 0] @ [0, 0.5, 0.0] for n in range(turns.shape[2])]

    assert max(point[2] for point in fine) - max(point[2] for point in coarse) <= 0.00018
