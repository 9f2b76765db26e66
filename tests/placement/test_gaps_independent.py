"""Gaps of thousands of random pairs against libraries that share nothing with the one the program uses.

Truth     apart           manifold3d, `min_gap`: triangle against triangle, in double precision
          overlapping     the hull of all differences of corners (Minkowski difference) by Qhull, through scipy
          parallel sides  shapely, in the plane across the sides: distance, and depth from the outline of the differences
Method    A capsule is its middle line with a radius, so its truth is that of a rod 2 µm thick, less the radius. A cylinder
          is a prism half-way between the circle inside and outside of its true one: 128 sides are 18 µm from it at a radius
          of 0.12 m, which is most of what is allowed here, 0.03 mm. The others are polyhedra and agree to 3 µm.
Worst     apart: 0.02 µm between boxes, cones and hulls, 2.8 µm with capsules, 21 µm with cylinders: what the truth is good for
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import manifold3d
import numpy as np
import pytest
import shapely
import shapely.affinity
from scipy.spatial import ConvexHull
from thorough import some

from trialfit.placement.distance import Stage
from trialfit.placement.pose import turn_of
from trialfit.placement.solids import Piece, box, capsule, cone, cylinder, hull

SIDES = 128
CONE_SIDES = 48
FARTHEST = 0.9
"""manifold3d looks so far, m."""
CLOSE = 3e-6
ROUND = 3e-5
KINDS = ("box", "cylinder", "capsule", "cone", "hull")
PAIRS = list(itertools.combinations_with_replacement(KINDS, 2))
APART = {pair: 40 if pair == ("cylinder", "cylinder") else 150 for pair in PAIRS}
TILTS = (1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 0.1)


@dataclass(frozen=True)
class Known:
    """A piece, and the same body for the other library: the hull of points (n, 3), swollen by a radius."""

    piece: Piece
    points: np.ndarray
    swollen: float = 0.0
    close: float = CLOSE


def prism(radius, half, sides=SIDES):
    """Points of a round body's ends, so that its flats lie as far inside the circle as its corners lie outside."""
    angles = np.arange(sides) * 2 * np.pi / sides
    between = radius * (1 + 1 / np.cos(np.pi / sides)) / 2
    ring = between * np.stack([np.cos(angles), np.sin(angles)], axis=-1)
    return np.concatenate([np.column_stack([ring, np.full(sides, z)]) for z in (-half, half)])


def corners(half):
    return np.array(list(itertools.product((-1, 1), repeat=3))) * half


def random_body(kind, rng):
    """A body as large as what sits in an engine bay: 40 mm to 600 mm."""
    length, width, height = rng.uniform(0.04, 0.6, 3)
    radius = rng.uniform(0.02, 0.12)
    if kind == "box":
        return Known(box(length, width, height), corners(np.array([length, width, height]) / 2))
    if kind == "cylinder":
        return Known(cylinder(2 * radius, length, along="z"), prism(radius, length / 2), close=ROUND)
    if kind == "capsule":
        rod = corners(np.array([1e-6, 1e-6, length / 2]))
        return Known(capsule(2 * radius, length + 2 * radius, along="z"), rod, radius)
    if kind == "cone":
        end = radius * rng.uniform(0.2, 1.5)
        angles = np.arange(CONE_SIDES) * 2 * np.pi / CONE_SIDES
        ring = np.stack([np.cos(angles), np.sin(angles), 0 * angles], axis=-1) / np.cos(np.pi / CONE_SIDES)
        points = np.concatenate([ring * radius - [0, 0, length / 2], ring * end + [0, 0, length / 2]])
        return Known(cone(2 * radius, 2 * end, length, along="z"), points)
    points = rng.normal(size=(rng.integers(6, 16), 3)) * rng.uniform(0.03, 0.15, 3)
    return Known(hull(points), points)


def moved(points, turn, shift):
    return points @ turn.T + shift


def minkowski(one, other):
    """Minus how deep two convex bodies overlap; not negative where they do not."""
    differences = (one[:, None] - other[None]).reshape(-1, 3)
    return float(ConvexHull(differences).equations[:, 3].max())


def min_gap(one, other):
    return manifold3d.Manifold.hull_points(one).min_gap(manifold3d.Manifold.hull_points(other), FARTHEST)


class Bench:
    """Bodies of two kinds, to be placed anywhere and measured by both."""

    def __init__(self, kinds, rng, count=12):
        self.rng = rng
        self.first, self.second = ([random_body(kind, rng) for _ in range(count)] for kind in kinds)
        self.stage = Stage([known.piece for known in (*self.first, *self.second)])
        self.count = count

    def pick(self):
        """Two bodies, each with a turn, and the way from one to the other."""
        rng = self.rng
        one, other = rng.integers(0, self.count, 2)
        turns = turn_of(*rng.uniform(-3, 3, (3, 2)))
        way = rng.normal(size=3)
        return one, other, turns, way / np.linalg.norm(way)

    def gap(self, one, other, turns, shift):
        """What the program says."""
        self.stage.place(slice(one, one + 1), turns[0], np.zeros(3))
        number = self.count + other
        self.stage.place(slice(number, number + 1), turns[1], shift)
        return float(self.stage.distances([one], [number])[0][0])

    def bodies(self, one, other, turns, shift):
        """The points of both where they are, the radius they are swollen by, and how close the answer must come."""
        first, second = self.first[one], self.second[other]
        points = moved(first.points, turns[0], np.zeros(3)), moved(second.points, turns[1], shift)
        return *points, first.swollen + second.swollen, first.close + second.close - CLOSE


def seed(pair):
    return np.random.default_rng([29, *map(KINDS.index, pair)])


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_a_gap_is_that_of_the_other_library(pair):
    """2,140 pairs 0 to 0.5 m apart in the whole proof, turned at random."""
    bench = Bench(pair, seed(pair))
    done = 0
    while done < some(APART[pair]):
        one, other, turns, way = bench.pick()
        shift = way * bench.rng.uniform(0.1, 0.8)
        found = bench.gap(one, other, turns, shift)
        first, second, swollen, close = bench.bodies(one, other, turns, shift)
        truth = min_gap(first, second) - swollen
        if not 0 < truth < 0.5:
            assert found < close or found > 0.5 - close
            continue
        done += 1
        assert found == pytest.approx(truth, abs=close)


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_a_depth_is_that_of_the_hull_of_differences(pair):
    """Overlapping pairs, from touching to swallowed whole."""
    bench = Bench(pair, seed(pair), count=6)
    rounds = sum(kind in {"cylinder", "cone"} for kind in pair)
    for _ in range(some((60, 40, 8)[rounds])):
        one, other, turns, way = bench.pick()
        shift = way * bench.rng.uniform(0, 0.12)
        first, second, swollen, close = bench.bodies(one, other, turns, shift)
        depth = minkowski(first, second)
        core = depth if depth < 0 else min_gap(first, second)
        truth = core - swollen
        if truth < 0:
            assert bench.gap(one, other, turns, shift) == pytest.approx(truth, abs=close)


@pytest.mark.parametrize("tilt", TILTS)
def test_faces_that_are_nearly_parallel_do_not_deceive(tilt):
    """An optimiser lines faces up, so it would find an error here first; 720 pairs in the whole proof, 0.2 to 30 mm apart, none exactly parallel."""
    rng = np.random.default_rng([31, TILTS.index(tilt)])
    bodies = [random_body(kind, rng) for kind in ("box", "cylinder", "cone") for _ in range(4)]
    stage = Stage([known.piece for known in (*bodies, *bodies)])
    for _ in range(some(120)):
        one, other = rng.integers(0, len(bodies), 2)
        base = turn_of(*rng.uniform(-3, 3, 3))
        turn = base @ turn_of(*(tilt * rng.normal(size=2)), rng.uniform(-3, 3))
        below, above = bodies[other].points, bodies[one].points @ (base.T @ turn).T
        gap = rng.uniform(0.0002, 0.03)
        shift = base @ [*rng.uniform(-0.02, 0.02, 2), below[:, 2].max() - above[:, 2].min() + gap]
        stage.place(slice(one, one + 1), turn, shift)
        stage.place(slice(len(bodies) + other, len(bodies) + other + 1), base, np.zeros(3))
        found, points = stage.distances([one], [len(bodies) + other])
        truth = min_gap(moved(bodies[one].points, turn, shift), below @ base.T)
        assert float(found[0]) == pytest.approx(truth, abs=bodies[one].close + bodies[other].close)
        assert np.linalg.norm(points[0, :3] - points[0, 3:]) == pytest.approx(float(found[0]), abs=1e-6)


def flat_body(rng):
    """A body with upright sides and its outline: a box, an upright cylinder or a hull with the same outline at both ends."""
    half, kind = rng.uniform(0.2, 0.3), rng.integers(0, 3)
    if kind == 0:
        length, width = rng.uniform(0.04, 0.4, 2)
        return box(length, width, 2 * half), shapely.box(-length / 2, -width / 2, length / 2, width / 2)
    if kind == 1:
        radius = rng.uniform(0.02, 0.15)
        return cylinder(2 * radius, 2 * half, along="z"), shapely.Point(0, 0).buffer(radius, quad_segs=256)
    outline = shapely.MultiPoint(rng.normal(size=(8, 2)) * rng.uniform(0.03, 0.12, 2)).convex_hull
    ring = np.array(outline.exterior.coords)[:-1]
    return hull(np.concatenate([np.column_stack([ring, np.full(len(ring), z)]) for z in (-half, half)])), outline


def signed(one, other):
    """The distance of two convex outlines; minus their depth where they overlap."""
    if not one.intersects(other):
        return one.distance(other)
    rings = (np.array(shape.exterior.coords)[:-1] for shape in (one, other))
    first, second = (ring[:: max(len(ring) // 128, 1)] for ring in rings)
    differences = (first[:, None] - second[None]).reshape(-1, 2)
    return -shapely.MultiPoint(differences).convex_hull.exterior.distance(shapely.Point(0, 0))


def test_bodies_with_parallel_sides_are_as_far_apart_as_their_outlines():
    """2,000 pairs in the plane in the whole proof, a third of them overlapping; no way over or under is shorter, as they are 400 mm high or more."""
    rng = np.random.default_rng(37)
    bodies = [flat_body(rng) for _ in range(40)]
    stage = Stage([piece for piece, _ in (*bodies, *bodies)])
    overlapping = 0
    pairs = some(2000)
    for _ in range(pairs):
        one, other = rng.integers(0, 40, 2)
        yaws, shift = rng.uniform(-3, 3, 2), rng.normal(size=2) * 0.18
        for number, yaw, at in ((one, yaws[0], (0, 0)), (40 + other, yaws[1], shift)):
            stage.place(slice(number, number + 1), turn_of(0, 0, yaw), np.array([*at, 0]))
        outlines = [
            shapely.affinity.translate(shapely.affinity.rotate(bodies[n][1], yaw, origin=(0, 0), use_radians=True), *at)
            for n, yaw, at in ((one, yaws[0], (0, 0)), (other, yaws[1], shift))
        ]
        truth = signed(*outlines)
        overlapping += truth < 0
        close = 1.5e-4 if truth < 0 else CLOSE  # circles are thinned out for the outline of the differences
        assert float(stage.distances([one], [40 + other])[0][0]) == pytest.approx(truth, abs=close)
    assert pairs / 5 < overlapping < 3 * pairs / 4


def test_a_cone_is_never_smaller_than_the_true_one():
    """Its 48 flats stand out by 0.22 % of the radius at most, so a gap is never over-stated, and by no more under-stated."""
    rng = np.random.default_rng(41)
    for _ in range(some(150)):
        radii, length = rng.uniform(0.03, 0.12, 2), rng.uniform(0.05, 0.4)
        ends = zip(radii, (-length / 2, length / 2), strict=True)
        true = np.concatenate([np.add(prism(radius, 0, 192)[:192], [0, 0, z]) for radius, z in ends])
        stage = Stage([cone(*2 * radii, length, along="z"), box(0.3, 0.3, 0.02)])
        turn, shift = turn_of(*rng.uniform(-3, 3, 3)), np.array([*rng.uniform(-0.1, 0.1, 2), 0.4])
        stage.place(slice(0, 1), turn, shift)
        found = float(stage.distances([0], [1])[0][0])
        truth = min_gap(moved(true, turn, shift), corners(np.array([0.15, 0.15, 0.01])))
        assert truth - 0.0022 * radii.max() - ROUND < found < truth + ROUND
