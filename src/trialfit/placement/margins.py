"""Margins of a pose: values, gradients, spreads and nearest points of every requirement that is near.

Answers   Margins     works out the margins of one problem: near, rows, sigmas, worst
          Rows        what is known of one pose, one row per pair of pieces and per measure
Not here  the spread of one solid (spreads.py); the search (search.py); draws at one pose (draws.py)
Method    Boxes around the pieces give a lower bound of every distance at once; only pairs that could matter go to the library.
          The gradient is exact if the nearest points are unique: with u = (a − b)/d,
          ∂d/∂t = u, ∂d/∂(roll, pitch, yaw) = Jᵀ[(a − t) × u]; u carries the sign, so it is valid for overlaps too.
          Spread to first order (JCGM 100, from memory): var = uᵀC_p u + wᵀC_r w, w = (b − r) × u, for either solid.
          A value is a worst case over pieces and states: each pair of pieces is a row of its own.
Symbols   q pose, d distance, u direction, a on the moving piece, b on the fixed one, m margin, s standard deviation
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING

import numpy as np

from trialfit.placement.distance import FARTHEST, Stage
from trialfit.placement.pose import turn_and_axes, turn_of
from trialfit.placement.problem import LEAST_SIGMA
from trialfit.placement.spreads import cross, spreads_of, variance_along, variance_whatever_way

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array
    from trialfit.placement.problem import Problem
    from trialfit.placement.solids import Piece, Solid

    Indices = NDArray[np.intp]

_NO_DIRECTION = 1e-6
_CLOSE_BY = 0.01
"""The boxes are worked out again when the group may have moved further than this, m."""
_STEPS = np.array([1e-6, 1e-6, 1e-6, 1e-6, 1e-6, 1e-6])


@dataclass(frozen=True, eq=False)
class Rows:
    """The margins at one pose.

    margin (n,), gradient (n, 6) by the pose, of the rows; `requirement` (n,) the number of the requirement of each
    pair (k,): the numbers of the pairs behind the first k rows; `distance` (k,), `points` (k, 6)
    """

    margin: Array
    gradient: Array
    requirement: Indices
    pair: Indices
    distance: Array
    points: Array


class Margins:
    """Works out the margins of one problem; counts its evaluations in `count`."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.limits = problem.limits
        self._moving, moving_of = _spread_out(problem.moving)
        self._fixed, fixed_of = _spread_out(problem.fixed)
        self.moving_solid, self.fixed_solid = moving_of, fixed_of
        self.split = len(self._moving)
        self.stage = Stage([*self._moving, *self._fixed])
        self._stand()
        self._pairs(moving_of, fixed_of)
        self._measures()
        self.sigma = np.maximum(self._worst_sigma(), self._least)
        self.count = 0
        self._seen_from: Array | None = None
        self._excess = np.zeros(0)
        corners = np.abs(self._own_position) + np.linalg.norm(stage_half(self.stage)[: self.split], axis=1)[:, None]
        self._reach = float(np.linalg.norm(corners, axis=1).max(initial=0.0))
        self._last_u = np.zeros((self.first.size, 3))

    def _stand(self) -> None:
        stage, split = self.stage, self.split
        self._turn_now, self._position_now = stage.turn[:split], stage.position[:split]
        self._own_turn = stage.own_turn[:split]
        self._own_position = stage.own_position[:split]
        self._own_middle = self._own_position + (self._own_turn @ stage.box_middle[:split, :, None])[..., 0]
        half = stage.box_half
        self._half_moving = half[:split]
        turn = stage.own_turn[split:]
        self._middle_fixed = stage.own_position[split:] + (turn @ stage.box_middle[split:, :, None])[..., 0]
        self._half_fixed = (np.abs(turn) @ half[split:, :, None])[..., 0]

    def _pairs(self, moving_of: Indices, fixed_of: Indices) -> None:
        problem = self.problem
        moving_by = {solid.name: number for number, solid in enumerate(problem.moving)}
        fixed_by = {solid.name: number for number, solid in enumerate(problem.fixed)}
        firsts, seconds, numbers = [], [], []
        for number, gap in enumerate(problem.gaps):
            if gap.name in problem.left_out:
                continue
            these = np.flatnonzero(moving_of == moving_by[gap.moving])
            those = self.split + np.flatnonzero(fixed_of == fixed_by[gap.fixed])
            one, other = np.meshgrid(these, those, indexing="ij")
            firsts.append(one.ravel())
            seconds.append(other.ravel())
            numbers.append(np.full(one.size, number))
        self.first = _joined(firsts)
        self.second = _joined(seconds)
        self.gap = _joined(numbers)
        self._cell = self.first * len(self._fixed) + (self.second - self.split)
        wanted = np.array([gap.wanted - problem.eased.get(gap.name, 0.0) for gap in problem.gaps])
        self.wanted = wanted[self.gap] if self.gap.size else np.zeros(0)
        own = np.array([gap.sigma for gap in problem.gaps])
        self._gap_variance = own[self.gap] ** 2 if self.gap.size else np.zeros(0)
        self._least = LEAST_SIGMA["length"]

    def _measures(self) -> None:
        problem, offset = self.problem, len(self.problem.gaps)
        self._blocks = []
        for block in problem.measures:
            kept = np.array([n for n, name in enumerate(block.names) if name not in problem.left_out], dtype=np.intp)
            eased = np.array([problem.eased.get(block.names[n], 0.0) for n in kept])
            least = np.array([LEAST_SIGMA[block.sorts[n]] for n in kept])
            if kept.size:
                limits = block.limits[kept] - block.sides[kept] * eased
                scale = block.sides[kept] / np.maximum(block.sigmas[kept], least)
                self._blocks.append((block.of, kept, limits, scale, offset + kept))
            offset += len(block.names)

    # --- near pairs -------------------------------------------------------------------------------------------------

    def bounds(self, pose: Array) -> Array:
        """A lower bound of the margin of every pair at a pose, from the boxes round the pieces."""
        turn, _ = turn_and_axes(*pose[3:].tolist())
        middle = self._own_middle @ turn.T
        middle += pose[:3]
        half = np.matmul(np.abs(turn @ self._own_turn), self._half_moving[:, :, None])[:, :, 0]
        apart = np.abs(middle[:, None] - self._middle_fixed)
        apart -= half[:, None]
        apart -= self._half_fixed
        np.maximum(apart, 0.0, out=apart)
        square = np.einsum("ijk,ijk->ij", apart, apart).take(self._cell)
        bound = np.sqrt(square)
        bound -= self.wanted
        bound /= self.sigma
        bound[square == 0.0] = -np.inf
        return np.asarray(bound)

    def near(self, pose: Array, ceiling: float) -> Indices:
        """The pairs whose margin may be below a ceiling: by the boxes at a nearby pose, less how far the group has moved since."""
        room = self._moved_since(pose)
        if room > _CLOSE_BY:
            self._seen_from = pose.copy()
            bound = self.bounds(pose)
            self._excess = np.where(np.isfinite(bound), bound * self.sigma, -np.inf)
            room = 0.0
        return np.flatnonzero(self._excess < ceiling * self.sigma + room)

    def _moved_since(self, pose: Array) -> float:
        """How far any point of the group can have moved since the boxes were worked out, m."""
        if self._seen_from is None:
            return np.inf
        x, y, z, roll, pitch, yaw = (pose - self._seen_from).tolist()
        return float(hypot(x, y, z) + (abs(roll) + abs(pitch) + abs(yaw)) * self._reach)

    # --- a pose -----------------------------------------------------------------------------------------------------

    def place(self, pose: Array) -> None:
        """Moves the group's pieces there."""
        self._place(pose, turn_and_axes(*pose[3:].tolist())[0])

    def _place(self, pose: Array, turn: Array) -> None:
        np.matmul(turn, self._own_turn, out=self._turn_now)
        position = self._own_position @ turn.T
        position += pose[:3]
        self._position_now[:] = position

    def rows(self, pose: Array, pairs: Indices, reach: float = FARTHEST) -> Rows:
        """Margins and gradients of these pairs and of all measures at one pose."""
        self.count += 1
        turn, axes = turn_and_axes(*pose[3:].tolist())
        self._place(pose, turn)
        distance, points = self.stage.distances(self.first[pairs].tolist(), self.second[pairs].tolist(), reach)
        u = self._directions(pairs, distance, points)
        sigma = self.sigma[pairs]
        gradient = np.empty((distance.size, 6))
        gradient[:, :3] = u
        np.matmul(cross(points[:, :3] - pose[:3], u), axes, out=gradient[:, 3:])
        gradient /= sigma[:, None]
        margin = distance - self.wanted[pairs]
        margin /= sigma
        requirement = self.gap[pairs]
        if self._blocks:
            more, slopes, numbers = self._measured(pose)
            margin = np.concatenate([margin, more])
            gradient = np.concatenate([gradient, slopes])
            requirement = np.concatenate([requirement, numbers])
        return Rows(margin, gradient, requirement, pairs, distance, points)

    def _directions(self, pairs: Indices, distance: Array, points: Array) -> Array:
        u = points[:, :3] - points[:, 3:]
        touching = np.abs(distance) < _NO_DIRECTION
        if not touching.any():
            u /= distance[:, None]
            self._last_u[pairs] = u
            return np.asarray(u)
        u[~touching] /= distance[~touching, None]
        self._last_u[pairs[~touching]] = u[~touching]
        for row in np.flatnonzero(touching):
            u[row] = self._when_touching(pairs[row])
        return np.asarray(u)

    def _when_touching(self, pair: int) -> Array:
        """The last direction of the pair, or that from middle to middle: in contact the nearest points give none."""
        if self._last_u[pair].any():
            return np.asarray(self._last_u[pair])
        apart = self.stage.position[self.first[pair]] - self.stage.position[self.second[pair]]
        length = float(np.linalg.norm(apart))
        return np.asarray(apart / length) if length else np.array([0.0, 0.0, 1.0])

    def _measured(self, pose: Array) -> tuple[Array, Array, Indices]:
        margins, slopes, numbers = [], [], []
        around = np.concatenate([pose[None], pose + np.diag(_STEPS), pose - np.diag(_STEPS)])
        for of, kept, limits, scale, these in self._blocks:
            margin = (of(around)[:, kept] - limits) * scale
            margins.append(margin[0])
            slopes.append(((margin[1:7] - margin[7:]) / (2 * _STEPS[:, None])).T)
            numbers.append(these)
        return np.concatenate(margins), np.concatenate(slopes), np.concatenate(numbers)

    def worst(self, pose: Array) -> float:
        """The smallest margin at a pose, over all pairs."""
        return float(self.full(pose).margin.min(initial=np.inf))

    def full(self, pose: Array, above: float = 0.0) -> Rows:
        """The rows that decide: every pair that could lie within `above` of the smallest margin."""
        bound = self.bounds(pose)
        likely = np.flatnonzero(
            bound <= np.partition(bound, min(3, bound.size - 1))[min(3, bound.size - 1)] if bound.size else []
        )
        first = self.rows(pose, likely)
        ceiling = float(first.margin.min(initial=np.inf)) + above
        pairs = np.flatnonzero(bound <= ceiling)
        if np.isin(pairs, likely, assume_unique=True).all():
            return first
        self.count -= 1
        return self.rows(pose, np.union1d(pairs, likely))

    # --- spread -----------------------------------------------------------------------------------------------------

    def variance(self, pose: Array, rows: Rows) -> Array:
        """The variance of the distance of each pair of `rows`, to first order, m²."""
        pairs = rows.pair
        u = self._last_u[pairs]
        turn = turn_of(*pose[3:])
        moving = spreads_of(self.problem.moving, self.moving_solid[self.first[pairs]])
        fixed = spreads_of(self.problem.fixed, self.fixed_solid[self.second[pairs] - self.split])
        inside = u @ turn
        a = (rows.points[:, :3] - pose[:3]) @ turn
        b = rows.points[:, 3:]
        return np.asarray(variance_along(inside, a, moving) + variance_along(u, b, fixed) + self._gap_variance[pairs])

    def freeze(self, pose: Array, rows: Rows) -> None:
        """From now on, uses the spreads at this pose for the margins."""
        self.sigma[rows.pair] = np.maximum(np.sqrt(self.variance(pose, rows)), self._least)

    def _worst_sigma(self) -> Array:
        """A first spread for every pair, for any direction: the largest of each covariance at the middle of the piece."""
        total = self._gap_variance.copy()
        sides = (
            (self.problem.moving, self.moving_solid, self.first, self._own_position),
            (self.problem.fixed, self.fixed_solid, self.second - self.split, self.stage.own_position[self.split :]),
        )
        for solids, of, index, position in sides:
            total += variance_whatever_way(solids, of, position)[index]
        return np.asarray(np.sqrt(total))


def stage_half(stage: Stage) -> Array:
    """How far each piece reaches from its middle along its own axes at most, (n, 3), m."""
    return np.abs(stage.box_middle) + stage.box_half


def _spread_out(solids: Sequence[Solid]) -> tuple[list[Piece], Indices]:
    """Every piece in every state, and the number of its solid."""
    pieces: list[Piece] = []
    numbers: list[int] = []
    for number, solid in enumerate(solids):
        for state in solid.states:
            pieces += [state.applied(piece) for piece in solid.pieces]
            numbers += [number] * len(solid.pieces)
    return pieces, np.array(numbers, dtype=np.intp)


def _joined(pieces: Sequence[Indices]) -> Indices:
    return np.concatenate(pieces) if pieces else np.zeros(0, dtype=np.intp)
