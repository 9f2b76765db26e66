"""Gaps between surfaces of triangles: exact if they are apart, an upper bound of the overlap if they cross.

Answers   mesh_gap         the gap of two surfaces (0 if they cross), also if one is inside the other
          surface_draws    the gap of two solids of which one has a surface, for each draw
          winding          how often a surface goes around a point
          surface_of       the surface of simple pieces
Not here  convex pieces (draws.py); files (meshes.py, splitting.py)
Method    python-fcl gives distances between triangles and is used only for surfaces: its boxes, cylinders and hulls are wrong
          by millimetres if faces are nearly parallel. If surfaces cross, it gives 0 and no depth: the depth is then that of the
          convex pieces. A part wholly inside the other would get a distance, so it is first checked whether a corner of either
          is inside the other. The first draws, and those closest to the limit, are worked out; the others follow to first order
          from the nearest points, corrected by the mean error in the first draws.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.placement.draws import part_distances, piece_draws
from trialfit.placement.meshes import Triangles, bvh
from trialfit.placement.solids import corners

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array
    from trialfit.placement.drawn import Drawn
    from trialfit.placement.solids import Piece

    Indices = NDArray[np.intp]

PILOT = 24
"""The number of draws worked out to see the error of the linear ones."""
CLOSEST = 256
"""The number of draws closest to the limit that are worked out too."""
_HALF = 0.5
_NONE = 1e-6
_UNCOVERED = 0.01


def mesh_gap(one: Triangles, other: Triangles) -> float:
    """The gap of two surfaces in the same axes, m: exact if they are apart, 0 if they cross or one is inside the other."""
    return _Two(_Body(one), _Body(other)).distance(np.eye(3), np.zeros(3))[0]


def winding(mesh: Triangles, point: Array) -> float:
    """How often a surface goes around a point: 1 inside, 0 outside, between these near a hole of an open surface.

        Σ 2·atan2(a·(b × c), |a||b||c| + (a·b)|c| + (b·c)|a| + (c·a)|b|)/4π over the triangles a, b, c seen from the point

    Source: van Oosterom and Strackee 1983, solid angle of a triangle (from memory).
    """
    a, b, c = np.swapaxes(mesh.points[mesh.triangles] - point, 0, 1)
    la, lb, lc = (np.linalg.norm(each, axis=1) for each in (a, b, c))
    over = np.vecdot(a, np.cross(b, c))
    under = la * lb * lc + np.vecdot(a, b) * lc + np.vecdot(b, c) * la + np.vecdot(c, a) * lb
    return float(abs(np.arctan2(over, under).sum() / (2 * np.pi)))


def surface_of(pieces: Sequence[Piece]) -> Triangles:
    """The surface of convex pieces, each closed; round pieces get 24 sides. m"""
    from scipy.spatial import ConvexHull

    points, triangles, count = [], [], 0
    for piece in pieces:
        made = corners(piece)
        skin = ConvexHull(made)
        points.append(made)
        triangles.append(skin.simplices + count)
        count += len(made)
    return Triangles(np.concatenate(points), np.concatenate(triangles).astype(np.int64), closed=len(pieces) == 1)


class _Body:
    """A surface in the form of the library, in the solid's own axes."""

    def __init__(self, surface: Triangles) -> None:
        self.surface = surface
        self.low, self.high = surface.points.min(axis=0), surface.points.max(axis=0)
        self.model = bvh(surface.points, surface.triangles)


@dataclass(frozen=True, eq=False)
class _Two:
    """Two surfaces: the first is moved, the second stays in its own axes."""

    one: _Body
    other: _Body

    def distance(self, turn: Array, shift: Array) -> tuple[float, Array]:
        """The gap with the first turned and shifted, m, and the nearest points in the axes of the second, (2, 3)."""
        import fcl

        points = np.zeros((2, 3))
        if self._swallowed(turn, shift):
            return 0.0, points
        request, result = fcl.DistanceRequest(enable_nearest_points=True), fcl.DistanceResult()
        placed = fcl.CollisionObject(self.one.model, fcl.Transform(turn, shift))
        found = float(fcl.distance(placed, fcl.CollisionObject(self.other.model, fcl.Transform()), request, result))
        points[:] = result.nearest_points
        return max(found, 0.0), points

    def _swallowed(self, turn: Array, shift: Array) -> bool:
        """Whether a corner of either lies inside the other."""
        first, second = self.one.surface, self.other.surface
        here, there = turn @ first.points[0] + shift, (second.points[0] - shift) @ turn
        return (_within(here, self.other) and winding(second, here) > _HALF) or (
            _within(there, self.one) and winding(first, there) > _HALF
        )


def _within(point: Array, body: _Body) -> bool:
    return body.surface.closed and bool((point >= body.low).all() and (point <= body.high).all())


def surface_draws(one: Drawn, other: Drawn, limit: float | None = None) -> Array:
    """The smallest gap of two solids in the same axes for each draw, (draws,), m; at least one of them has a surface.

    If the surfaces cross at the nominal: the depth of the convex pieces, which is at least the true one.
    """
    pairs = _near_states(one, other)
    two = _Two(*(_Body(each.surface or surface_of(each.pieces)) for each in (one, other)))
    carried: list[tuple[int, int, Array]] = []
    for first, second, bound in pairs:
        if carried and bound - _UNCOVERED > min(values[0] for _, _, values in carried) + _play(one, other):
            break
        distance, points = two.distance(*_relative(one, other, first, second, 0))
        if distance < _NONE:
            return np.minimum(piece_draws(one, other, limit), 0.0)
        carried.append((first, second, _linear(one, other, (first, second), distance, points)))
    return _settled(one, other, two, carried, limit)


def _near_states(one: Drawn, other: Drawn) -> list[tuple[int, int, float]]:
    """Every pair of states with the distance of its convex pieces, the nearest first."""
    first, second, distance = part_distances(one, other)
    lowest: dict[tuple[int, int], float] = {}
    for a, b, value in zip(first.tolist(), second.tolist(), distance.tolist(), strict=True):
        lowest[a, b] = min(value, lowest.get((a, b), np.inf))
    return sorted(((a, b, value) for (a, b), value in lowest.items()), key=lambda row: row[2])


def _play(one: Drawn, other: Drawn) -> float:
    return float(one.moved.max() + other.moved.max())


def _relative(one: Drawn, other: Drawn, first: int, second: int, draw: int) -> tuple[Array, Array]:
    """Turn and shift that bring the first solid into the axes of the second one in a draw."""
    back = other.turns[draw, second].T
    return back @ one.turns[draw, first], back @ (one.shifts[draw, first] - other.shifts[draw, second])


def _linear(one: Drawn, other: Drawn, states: tuple[int, int], distance: float, points: Array) -> Array:
    """The distance of its nearest points as they move, along the line between them, (draws,), m."""
    a, b = points
    u = other.turns[0, states[1]] @ (a - b) / distance
    turn, shift = _relative(one, other, *states, 0)
    ends = [
        np.concatenate([np.outer(u, local).ravel(), u]) @ solid.features[:, state]
        for solid, state, local in ((one, states[0], (a - shift) @ turn), (other, states[1], b))
    ]
    return np.asarray(ends[0] - ends[1])


def _settled(one: Drawn, other: Drawn, two: _Two, carried: list[tuple[int, int, Array]], limit: float | None) -> Array:
    linear = np.array([values for _, _, values in carried])
    nearest, gap = linear.argmin(axis=0), linear.min(axis=0)

    def exact(draws: Indices) -> Array:
        states = [carried[number][:2] for number in nearest[draws].tolist()]
        rows = zip(states, draws.tolist(), strict=True)
        return np.array([two.distance(*_relative(one, other, first, second, n))[0] for (first, second), n in rows])

    pilot = np.arange(min(PILOT, gap.size))
    known = exact(pilot)
    gap = gap + (known - gap[pilot]).mean()
    gap[pilot] = known
    if limit is not None and gap.size > PILOT:
        asked = PILOT + np.argsort(np.abs(gap[PILOT:] - limit), kind="stable")[:CLOSEST]
        gap[asked] = exact(asked)
    return np.asarray(gap)
