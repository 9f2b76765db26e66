"""Where a point sits on a body in words: bodies tilted, leant over and turned round, with points put on them by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from trialfit.placement.binding import look
from trialfit.placement.pose import turn_of
from trialfit.placement.problem import Gap, Problem
from trialfit.placement.solids import Solid, box, capsule, cone, corners, cylinder, hull
from trialfit.placement.where import where_on

HALF = np.array([0.3, 0.2, 0.1])
TILTED = turn_of(np.radians(10), np.radians(25), np.radians(-15))


def words(piece, local):
    """A point given along the piece's own axes, from its middle, m."""
    return where_on(piece.turn @ np.array(local, float) + piece.position, corners(piece), piece.turn)


@pytest.mark.parametrize(
    ("local", "says"),
    [
        ((0, 0, -0.1), "lower face"),
        ((0.1, -0.1, -0.1), "lower face"),
        ((0, -0.2, 0), "right face"),
        ((0.3, 0, -0.1), "front lower edge"),
        ((-0.3, 0.2, 0.1), "rear upper left corner"),
        ((0, 0, 0), "middle"),
    ],
)
def test_the_faces_of_a_tilted_box_keep_their_names(local, says):
    """Nose down 25°, leant over 10° and turned by 15°: each face still points more its own way than any other."""
    assert words(box(*(2 * HALF), (1.0, -0.2, 0.4), TILTED), local) == says


def test_a_point_under_a_tilted_box_is_not_at_its_side():
    """Nose down 30°: the underside's middle lies 0.05 m behind the box's middle and far inside the box round it along x."""
    piece = box(0.6, 0.4, 0.1, turn=turn_of(0, np.radians(30), 0))
    under = np.array([-0.05 * np.sin(np.radians(30)), 0, -0.05 * np.cos(np.radians(30))])

    assert where_on(under, corners(piece), piece.turn) == "lower face"


def test_a_box_stood_on_its_side_is_named_by_where_its_faces_point_in_the_car():
    """Rolled 90° with its left side up: what was its left face is above, what was above is to the right."""
    piece = box(*(2 * HALF), turn=turn_of(np.radians(90), 0, 0))

    assert words(piece, (0, 0.2, 0)) == "upper face"
    assert words(piece, (0, 0, 0.1)) == "right face"


def test_a_box_turned_back_to_front_has_its_own_front_at_the_rear():
    piece = box(*(2 * HALF), turn=turn_of(0, 0, np.pi))

    assert words(piece, (0.3, 0.2, 0)) == "rear right edge"


@pytest.mark.parametrize("make", [cylinder, capsule])
def test_a_round_body_has_sides_and_no_corners(make):
    """A pipe along y of 50 mm: above it, half way between above and behind it, and its left end."""
    pipe = make(0.05, 0.8, (0, 0, 0.5), "y")
    slant = 0.025 * np.sqrt(0.5)

    assert where_on(np.array([0, 0.1, 0.525]), corners(pipe), pipe.turn) == "upper side"
    assert where_on(np.array([-slant, 0, 0.5 + slant]), corners(pipe), pipe.turn) == "rear upper side"
    assert where_on(np.array([0, 0.4, 0.5]), corners(pipe), pipe.turn) == "left face"


def test_the_rim_of_a_cylinder_and_of_a_cone_is_an_edge():
    fan, bell = cylinder(0.4, 0.05), cone(0.16, 0.4, 0.2)

    assert where_on(np.array([0.025, 0, -0.2]), corners(fan), fan.turn) == "front lower edge"
    assert where_on(np.array([0.1, 0.0, 0.2]), corners(bell), bell.turn) == "front upper edge"
    assert where_on(np.array([0.0, 0.14, 0.0]), corners(bell), bell.turn) == "left side"


def test_a_leaning_pipe_is_named_by_where_its_side_points_whatever_its_own_axes():
    """A column that rises 40° to the rear, spun about itself by 50°: its right side stays its right side."""
    spun = turn_of(0, np.radians(40), 0) @ turn_of(np.radians(50), 0, 0)
    column = cylinder(0.04, 0.9, turn=spun)

    assert where_on(np.array([0, -0.02, 0]), corners(column), column.turn) == "right side"


def test_a_hull_of_taped_points_with_flat_sides_is_no_round_body():
    piece = hull(np.array([[x, y, z] for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)]) * 0.1)

    assert words(piece, (0.1, 0.1, 0.1)) == "front upper left corner"


def test_where_a_look_says_the_nearest_points_are_is_where_a_tilted_box_has_them():
    """A sump 0.6 m long, nose up 12° with its group, over a thin rail: the rail lies under the middle of its underside."""
    sump = Solid("sump", (box(0.6, 0.24, 0.12),))
    rail = Solid("rail", (box(0.02, 0.1, 0.02, (0, 0, -0.12)),))
    nose_up = np.array([0, 0, 0, 0, np.radians(-12), 0])
    problem = Problem((sump,), (rail,), (Gap("gap", "sump", "rail", 0.01),), nose_up, np.zeros(6))
    seen = look(problem, nose_up)[0]

    assert seen.where.startswith("sump lower face, rail rear upper ")
    # of a body of several pieces the whole decides: its front half has its rear face in the middle of the whole
    halves = (box(0.3, 0.24, 0.12, (0.15, 0, 0)), box(0.3, 0.24, 0.12, (-0.15, 0, 0)))
    apart = replace(problem, moving=(Solid("sump", halves),))
    assert look(apart, nose_up)[0].where.startswith("sump lower face, rail rear upper ")
