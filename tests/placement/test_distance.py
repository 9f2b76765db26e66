"""The distance library behind its one module: what an optimiser would find if it were wrong.

Truth: for boxes, support functions in closed form; for any hulls, the hull of the Minkowski difference, whose facets give
the signed distance (scipy's Qhull); faces tilted by 1e-6 to 0.1 rad, where distance libraries err most.
"""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from scipy.optimize import nnls
from scipy.spatial import ConvexHull

from trialfit.placement.distance import Stage
from trialfit.placement.pose import turn_of
from trialfit.placement.solids import box, capsule, cylinder, hull

TILTS = [1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 0.1]


def corners(half):
    return np.array(list(itertools.product((-1, 1), repeat=3))) * half


def over_a_plate(piece, turn, height):
    """The distance of a piece at a height, turned, over a plate whose face is z = 0."""
    stage = Stage([piece, box(4, 4, 0.2, (0, 0, -0.1))])
    stage.place(slice(0, 1), turn, np.array([0, 0, height]))
    return float(stage.distances([0], [1])[0][0])


@pytest.mark.parametrize("tilt", TILTS)
@pytest.mark.parametrize("gap", [0.0005, 0.02, -0.004])
def test_a_box_nearly_parallel_to_a_plate(tilt, gap):
    """The nearest corner in closed form, over many directions of the same tilt; overlaps as deep as 4 mm too."""
    half = np.array([0.3, 0.2, 0.15])
    rng = np.random.default_rng(7)
    for _ in range(60):
        roll, pitch = tilt * rng.normal(size=2)
        turn = turn_of(roll, pitch, rng.uniform(-3, 3))
        reach = -(corners(half) @ turn.T)[:, 2].min()
        assert over_a_plate(box(*2 * half), turn, reach + gap) == pytest.approx(gap, abs=2e-7)


@pytest.mark.parametrize("tilt", TILTS)
def test_a_cylinder_nearly_parallel_to_a_plate(tilt):
    """Lying: the end dips by half its length times the sine; standing: the rim by its radius times the sine."""
    radius, half = 0.11, 0.3
    for lean, along in ((tilt, "x"), (tilt, "z")):
        turn = turn_of(0, lean, 0.4)
        axis = turn @ np.eye(3)["xyz".index(along)]
        reach = radius * np.sqrt(1 - axis[2] ** 2) + half * abs(axis[2])
        found = over_a_plate(cylinder(2 * radius, 2 * half, along=along), turn, reach + 0.015)
        assert found == pytest.approx(0.015, abs=1e-6)


@pytest.mark.parametrize("tilt", TILTS)
def test_a_hull_nearly_parallel_to_a_plate(tilt):
    """Vertices are stored in single precision: a tenth of a micrometre here."""
    points = corners(np.array([0.3, 0.2, 0.15])) * [1, 1, 1]
    turn = turn_of(tilt, -tilt / 2, 0.3)
    reach = -(points @ turn.T)[:, 2].min()

    assert over_a_plate(hull(points), turn, reach + 0.012) == pytest.approx(0.012, abs=1e-6)


@pytest.mark.parametrize("tilt", TILTS)
def test_two_boxes_whose_faces_are_nearly_parallel(tilt):
    """Neither face is along an axis: the truth is the Minkowski difference."""
    rng = np.random.default_rng(11)
    for _ in range(25):
        one, other = rng.uniform(0.05, 0.4, (2, 3))
        base = turn_of(*rng.uniform(-1, 1, 3))
        turn = base @ turn_of(*(tilt * rng.normal(size=3)))
        shift = base @ np.array([*rng.uniform(-0.1, 0.1, 2), one[2] + other[2] + rng.uniform(0.002, 0.05)])
        stage = Stage([box(*2 * one), box(*2 * other, turn=base)])
        stage.place(slice(0, 1), turn, shift)
        truth = minkowski(corners(one) @ turn.T + shift, corners(other) @ base.T)
        assert float(stage.distances([0], [1])[0][0]) == pytest.approx(truth, abs=1e-6)


def minkowski(one, other):
    """The signed distance of two convex bodies by their corners: that of the origin to the hull of all differences."""
    differences = (one[:, None] - other[None]).reshape(-1, 3)
    offsets = ConvexHull(differences).equations
    deepest = float(offsets[:, 3].max())
    if deepest <= 0:
        return deepest
    return nearest_of_hull(differences)


def nearest_of_hull(points):
    """How far the origin is from a hull of points that does not hold it: non-negative least squares (Lawson and Hanson)."""
    scale = 1e3
    rows = np.vstack([points.T, scale * np.ones(len(points))])
    weights, _ = nnls(rows, np.array([0, 0, 0, scale]), maxiter=3000)
    return float(np.linalg.norm(points.T @ (weights / weights.sum())))


def test_thousands_of_random_hulls_against_the_minkowski_difference():
    """Separated and overlapping pairs alike, to a micrometre; the library knows nothing of Qhull."""
    rng = np.random.default_rng(3)
    shapes = [rng.normal(size=(rng.integers(5, 12), 3)) * rng.uniform(0.03, 0.15, 3) for _ in range(60)]
    pairs = rng.integers(0, 60, (2000, 2))
    stage = Stage([*(hull(shape) for shape in shapes), *(hull(shape) for shape in shapes)])
    overlapping = 0
    for first, second in pairs:
        turn, shift = turn_of(*rng.uniform(-3, 3, 3)), rng.normal(size=3) * 0.12
        stage.place(slice(first, first + 1), turn, shift)
        found = float(stage.distances([first], [60 + second])[0][0])
        truth = minkowski(shapes[first] @ turn.T + shift, shapes[second])
        overlapping += truth < 0
        assert found == pytest.approx(truth, abs=3e-6), (first, second)
    assert 400 < overlapping < 1800


def test_capsules_are_segments_with_a_radius():
    """The distance of two capsules is that of their middle lines less the radii: here crossing at right angles."""
    stage = Stage([capsule(0.1, 0.6, along="x"), capsule(0.06, 0.5, (0, 0, 0.3), along="y")])

    assert stage.distances([0], [1])[0][0] == pytest.approx(0.3 - 0.05 - 0.03, abs=1e-9)


def test_the_points_are_those_of_first_and_second():
    stage = Stage([box(0.2, 0.2, 0.2), box(0.2, 0.2, 0.2, (0.5, 0, 0))])
    _, points = stage.distances([0, 1], [1, 0])

    assert points[0, [0, 3]] == pytest.approx([0.1, 0.4])
    assert points[1, [0, 3]] == pytest.approx([0.4, 0.1])


def test_beyond_the_reach_the_reach_is_reported():
    stage = Stage([box(0.2, 0.2, 0.2), box(0.2, 0.2, 0.2, (5, 0, 0))])

    assert stage.distances([0], [1], reach=1.0)[0][0] == pytest.approx(1.0)
    assert stage.distances([0], [1])[0][0] == pytest.approx(4.8)


def test_a_resized_box_is_as_large_as_asked():
    stage = Stage([box(0.2, 0.2, 0.2), box(0.2, 0.2, 0.2, (1, 0, 0))])
    stage.resize(1, (0.3, 0.1, 0.1))

    assert stage.distances([0], [1])[0][0] == pytest.approx(0.6)
