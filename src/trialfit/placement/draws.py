"""Gaps for every draw of the facts, at one pose or at the pose of each draw.

Answers   Drawn       a solid whose place, movement and size are drawn
          gap_draws   the smallest gap of two such solids, for each draw
          lowest_draws    the lowest point of such a solid, for each draw
          reach_of        the box that a solid stays within
Not here  what the facts are (subjects/clearance); the first-order spread that steers the search (margins.py)
Method    Parallel faces hide the spread of a turn from any linear formula, so a verdict needs the distances themselves. A distance
          changes by no more than the farthest that any point of either piece moves. That bound says, draw by draw, which pairs
          of pieces and states can be the nearest; and where it shows that a draw cannot come below `below`, the first-order
          value serves, since nothing is decided there.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.placement.distance import Stage
from trialfit.placement.pose import turn_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from trialfit.placement.solids import Piece

    Array = NDArray[np.float64]

_NO_DIRECTION = 1e-6
_ROUNDING = 1e-7


@dataclass(frozen=True, eq=False)
class Drawn:
    """A solid in draws; draw 0 is the nominal.

    pieces   in the solid's own axes
    turns    (draws, states, 3, 3), `shifts` (draws, states, 3): from the solid's axes to those it is fixed to
    sizes    (draws, k): the size of its one piece, as `Piece.size` counts it; None where the size is taken as exact
    grown    (draws,): how far the surface stands further out than the pieces say, m
    """

    pieces: tuple[Piece, ...]
    turns: Array
    shifts: Array
    sizes: Array | None = None
    grown: Array | None = None

    def at(self, poses: Array) -> Drawn:
        """The solid of a group in the car's axes; poses (draws, 6)."""
        turn = turn_of(poses[:, 3], poses[:, 4], poses[:, 5])[:, None]
        shifts = (turn @ self.shifts[..., None])[..., 0] + poses[:, None, :3]
        return Drawn(self.pieces, turn @ self.turns, shifts, self.sizes, self.grown)


def gap_draws(one: Drawn, other: Drawn, below: float = np.inf) -> Array:
    """The smallest signed distance of two solids in the same axes for each draw, (draws,), m.

    Exact for every draw that could come below `below`; to first order for the others.
    """
    pair = _Pair(_Placed(one), _Placed(other))
    lowest = pair.linear.min(axis=1)
    lower, upper = pair.bounds()
    decides = lower <= upper.min(axis=1, keepdims=True) + _ROUNDING
    exact = np.flatnonzero((lower.min(axis=1) < below) | (np.arange(len(lower)) == 0))
    for draw in exact.tolist():
        lowest[draw] = pair.exact(draw, decides[draw])
    for grown in (one.grown, other.grown):
        if grown is not None:
            lowest -= grown
    return np.asarray(lowest)


def reach_of(solid: Drawn) -> tuple[Array, Array]:
    """The lowest and highest corner of the box that a solid's nominal stays within, over all its states, (3,) each, m."""
    low, high = np.full(3, np.inf), np.full(3, -np.inf)
    turns, shifts = solid.turns[:1], solid.shifts[:1]
    sizes = None if solid.sizes is None else solid.sizes[:1]
    for piece in solid.pieces:
        middle = (turns @ piece.position)[0] + shifts[0]
        for axis in range(3):
            for sign in (1, -1):
                away = support(piece, np.swapaxes(turns, -1, -2) @ (sign * np.eye(3)[axis]), sizes)[0]
                edge = middle[:, axis] + sign * away
                low[axis], high[axis] = min(low[axis], edge.min()), max(high[axis], edge.max())
    return low, high


def lowest_draws(solid: Drawn) -> Array:
    """The height of the lowest point of a solid over all its states, for each draw, (draws,), m."""
    down = np.array([0.0, 0.0, -1.0])
    heights = []
    for piece in solid.pieces:
        local = np.swapaxes(solid.turns, -1, -2) @ down
        middle = (solid.turns @ piece.position)[..., 2] + solid.shifts[..., 2]
        heights.append(middle - support(piece, local, solid.sizes))
    lowest = np.min(heights, axis=(0, 2))
    return np.asarray(lowest if solid.grown is None else lowest - solid.grown)


def support(piece: Piece, direction: Array, sizes: Array | None = None) -> Array:
    """How far a piece reaches from its middle in unit directions (draws, states, 3) of its solid's axes, m."""
    along = direction @ piece.turn
    if piece.shape == "hull":
        return np.asarray((along @ np.asarray(piece.vertices).T).max(axis=-1))
    size = np.asarray(piece.size, float)[None] if sizes is None else sizes
    size = size[:, None, :]
    if piece.shape == "box":
        return np.asarray((np.abs(along) * size).sum(axis=-1))
    across = 1.0 if piece.shape == "capsule" else np.sqrt(np.maximum(1 - along[..., 2] ** 2, 0))
    return np.asarray(size[..., 0] * across + size[..., 1] * np.abs(along[..., 2]))


class _Placed:
    """Every piece in every state as one piece of the stage."""

    def __init__(self, drawn: Drawn) -> None:
        self.drawn = drawn
        states = drawn.turns.shape[1]
        self.pieces = [
            piece.moved(drawn.turns[0, state], drawn.shifts[0, state])
            for state in range(states)
            for piece in drawn.pieces
        ]
        self.state = np.repeat(np.arange(states), len(drawn.pieces))

    def poses(self, stage: Stage, offset: int) -> tuple[Array, Array, Array]:
        """Position (draws, n, 3) and turn (draws, n, 3, 3) of each piece as compiled, and its size (draws, n, 3)."""
        drawn, these = self.drawn, slice(offset, offset + len(self.pieces))
        back = np.swapaxes(drawn.turns[0, self.state], -1, -2)
        own_turn = back @ stage.own_turn[these]
        own_position = (back @ (stage.own_position[these] - drawn.shifts[0, self.state])[..., None])[..., 0]
        turns = drawn.turns[:, self.state]
        sizes = np.broadcast_to(stage.sizes[these], (len(turns), len(self.pieces), 3)).copy()
        if drawn.sizes is not None:
            sizes[:, :, : drawn.sizes.shape[1]] = drawn.sizes[:, None]
        return (turns @ own_position[..., None])[..., 0] + drawn.shifts[:, self.state], turns @ own_turn, sizes


class _Pair:
    """Two placed solids on one stage."""

    def __init__(self, left: _Placed, right: _Placed) -> None:
        pieces = [*left.pieces, *right.pieces]
        split = len(left.pieces)
        self.stage = stage = Stage(pieces)
        both = zip(left.poses(stage, 0), right.poses(stage, split), strict=True)
        self.position, self.turn, self.size = (np.concatenate(sides, axis=1) for sides in both)
        self.round = np.array([piece.shape == "capsule" for piece in pieces])
        self.barrel = np.array([piece.shape in {"cylinder", "capsule"} for piece in pieces])
        one, other = np.meshgrid(np.arange(split), np.arange(split, len(pieces)), indexing="ij")
        first, second = one.ravel(), other.ravel()
        distance, points = stage.distances(first.tolist(), second.tolist())
        self.moved = self._moved()
        play = (self.moved[:, first] + self.moved[:, second]).max(axis=0)
        kept = distance - play <= (distance + play).min()
        self.first, self.second = first[kept], second[kept]
        self.distance, self.points = distance[kept], points[kept]
        self._first_order()

    def _moved(self) -> Array:
        """How far any point of each piece is from its nominal place at most, (draws, n), m."""
        reach = np.linalg.norm(np.abs(self.stage.box_middle) + self.stage.box_half, axis=1)
        shifted = np.linalg.norm(self.position - self.position[0], axis=-1)
        turned = np.linalg.norm(self.turn - self.turn[0], axis=(-2, -1)) / np.sqrt(2)
        self.bent = turned * reach + np.abs(self.size - self.size[0]).sum(axis=-1)
        return np.asarray(shifted + self.bent)

    def bounds(self) -> tuple[Array, Array]:
        """The lowest and highest that each distance can be, (draws, pairs), m.

        Separation along any direction is a lower bound of the signed distance of convex bodies, so the first-order value
        is one, but for what the turns and sizes have changed of the bodies along it; and the carried points are points of
        the bodies, so their distance is an upper bound.
        """
        play = self.moved[:, self.first] + self.moved[:, self.second]
        bent = self.bent[:, self.first] + self.bent[:, self.second]
        lower = np.maximum(self.distance - play, self.linear - bent)
        upper = np.minimum(self.distance + play, np.linalg.norm(self.a - self.b, axis=-1) + bent)
        return lower, upper

    def _first_order(self) -> None:
        apart = self.points[:, :3] - self.points[:, 3:]
        touching = np.abs(self.distance) < _NO_DIRECTION
        u = apart / np.where(touching, np.inf, self.distance)[:, None]
        self.a = self._carried(self.first, self.points[:, :3])
        self.b = self._carried(self.second, self.points[:, 3:])
        grown = sum(
            (self.size[:, these, 0] - self.size[0, these, 0]) * self.round[these] for these in (self.first, self.second)
        )
        linear = ((self.a - self.b) * u).sum(axis=-1) - grown
        self.linear = np.where(touching, -np.inf, linear)

    def _carried(self, these: NDArray[np.intp], points: Array) -> Array:
        """Points that go with their pieces, (draws, pairs, 3)."""
        turn = self.turn[0, these]
        local = (np.swapaxes(turn, -1, -2) @ (points - self.position[0, these])[..., None])[..., 0]
        size = self.size[:, these]
        scale = size / np.where(size[0] > 0, size[0], 1.0)
        scale = np.where(size[0] > 0, scale, 1.0)
        across, along = np.where(self.round[these], 1.0, scale[..., 0]), scale[..., 1]
        barrel = np.stack([across, across, along], axis=-1)
        stretch = np.where(self.barrel[these][:, None], barrel, scale)
        return np.asarray((self.turn[:, these] @ (local * stretch)[..., None])[..., 0] + self.position[:, these])

    def exact(self, draw: int, these: NDArray[np.bool_]) -> float:
        """The smallest distance of one draw over these pairs, m."""
        stage = self.stage
        stage.position[:] = self.position[draw]
        stage.turn[:] = self.turn[draw]
        stage.sizes[:] = self.size[draw]
        return float(stage.distances(self.first[these].tolist(), self.second[these].tolist())[0].min())
