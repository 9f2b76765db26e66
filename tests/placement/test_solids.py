"""Solids: sizes, cones, movements, and what is not a solid."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.placement.distance import Stage
from trialfit.placement.pose import (
    direction_rearward,
    inclination_and_heading,
    to_car,
    to_group,
    turn_and_axes,
    turn_of,
)
from trialfit.placement.solids import BadSolid, box, capsule, cone, cylinder, hull, path_down


def between(one, other):
    return float(Stage([one, other]).distances([0], [1])[0][0])


def test_a_cone_stands_out_by_a_quarter_per_cent_at_most_and_never_in():
    """Side face towards a plate beside it, at many turns about its axis."""
    for turn in np.linspace(0, 0.2, 7):
        stump = cone(0.2, 0.2, 0.3, turn=turn_of(turn, 0, 0))
        gap = between(stump, box(1, 1, 0.1, (0, 0, 0.2)))
        assert 0.15 - 0.1 / np.cos(np.pi / 48) - 1e-7 <= gap <= 0.15 - 0.1 + 1e-7


def test_a_cone_is_thin_at_its_front():
    assert between(cone(0.2, 0.04, 0.4), box(0.01, 1, 1, (0.3, 0, 0))) == pytest.approx(0.3 - 0.2 - 0.005, abs=1e-6)
    assert between(cone(0.2, 0.04, 0.4), box(0.02, 0.02, 0.02, (0.2, 0, 0.05))) > 0.01


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: box(0.3, 0.2, 0.0), "a box is 0 mm thick: a solid needs a thickness"),
        (lambda: cylinder(float("nan"), 0.2), "a cylinder has a size that is not a number"),
        (lambda: capsule(0.1, 0.05), "a capsule is -50 mm thick"),
        (lambda: hull([[0, 0, 0], [1, 0, 0], [0, 1, 0], [1, 1, 0]]), "4 points of a hull lie in one plane"),
        (lambda: hull([[0, 0, 0], [1, 0, 0], [0, float("inf"), 0], [1, 1, 1]]), "a point of a hull is not a number"),
        (lambda: hull([[0, 0, 0], [1, 0, 0]]), "2 points of a hull lie in one plane: expected at least 4"),
    ],
)
def test_what_is_no_solid_is_refused_with_a_sentence(make, says):
    with pytest.raises(BadSolid, match=says):
        make()


def test_the_way_down_is_sampled_every_centimetre():
    assert [round(float(state.shift[2]), 6) for state in path_down(0.025)] == [0, -0.008333, -0.016667, -0.025]


def test_a_pose_and_its_inverse_undo_each_other():
    pose = np.array([0.1, -0.2, 0.3, 0.1, 0.05, -0.2])
    points = np.random.default_rng(1).normal(size=(5, 3))

    assert to_group(pose, to_car(pose, points)) == pytest.approx(points)


def test_small_changes_of_the_angles_turn_about_the_turning_axes():
    """Central differences of the matrix against J."""
    pose = np.array([0.0, 0, 0, 0.12, 0.2, -0.3])
    for axis in range(3):
        step = np.eye(3)[axis] * 1e-6
        change = (turn_of(*pose[3:] + step) - turn_of(*pose[3:] - step)) / 2e-6 @ turn_of(*pose[3:]).T
        omega = np.array([change[2, 1], change[0, 2], change[1, 0]])
        assert turn_and_axes(*pose[3:])[1][:, axis] == pytest.approx(omega, abs=1e-8)


def test_a_direction_and_its_angles_belong_together():
    inclination, heading = inclination_and_heading(direction_rearward(0.06, -0.02))

    assert (float(inclination), float(heading)) == pytest.approx((0.06, -0.02))
