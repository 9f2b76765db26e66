"""Gaps for every draw of the facts, at one pose or at the pose of each draw: exact distances, no linear shortcut.

Answers   Drawn       a solid whose place, movement and size are drawn
          gap_draws   the smallest gap of two such solids, for each draw
          lowest_draws    the lowest point of such a solid, for each draw
Not here  what the facts are (subjects/clearance); the first-order spread that steers the search (margins.py)
Method    Parallel faces hide the spread of a turn from any linear formula, so a verdict needs the distances themselves. A pair of
          pieces and states is left out only where it cannot be the nearest in any draw: a distance changes by no more than
          the farthest any point of either piece moves.
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


def gap_draws(one: Drawn, other: Drawn) -> Array:
    """The smallest signed distance of two solids in the same axes for each draw, (draws,), m."""
    left, right = _Placed(one), _Placed(other)
    stage = Stage([*left.pieces, *right.pieces])
    left.compile(stage, 0)
    right.compile(stage, len(left.pieces))
    firsts, seconds = _that_matter(stage, left, right)
    draws = len(one.turns)
    positions, turns = left.positions(right)
    lowest = np.full(draws, np.inf)
    sides = ((one.sizes, 0, len(left.pieces)), (other.sizes, len(left.pieces), len(left.pieces) + len(right.pieces)))
    sized = [(sizes, range(begin, end)) for sizes, begin, end in sides if sizes is not None]
    for draw in range(draws):
        stage.position[:] = positions[draw]
        stage.turn[:] = turns[draw]
        for sizes, numbers in sized:
            for number in numbers:
                stage.resize(number, sizes[draw])
        lowest[draw] = stage.distances(firsts, seconds)[0].min()
    for grown in (one.grown, other.grown):
        if grown is not None:
            lowest -= grown
    return lowest


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

    def compile(self, stage: Stage, offset: int) -> None:
        """Takes the compiled axes of each piece back into the solid's own axes."""
        these = slice(offset, offset + len(self.pieces))
        back = np.swapaxes(self.drawn.turns[0, self.state], -1, -2)
        self.own_turn = back @ stage.own_turn[these]
        away = stage.own_position[these] - self.drawn.shifts[0, self.state]
        self.own_position = (back @ away[..., None])[..., 0]
        reach = np.abs(stage.box_middle[these]) + stage.box_half[these]
        self.radius = np.linalg.norm(reach, axis=1)

    def travel(self) -> Array:
        """How far any point of each piece is from its nominal place, at most over the draws, (pieces,), m."""
        drawn = self.drawn
        middle = (drawn.turns[:, self.state] @ self.own_position[..., None])[..., 0] + drawn.shifts[:, self.state]
        shifted = np.linalg.norm(middle - middle[0], axis=-1).max(axis=0)
        turned = np.linalg.norm(drawn.turns - drawn.turns[0], axis=(-2, -1)).max(axis=0)[self.state]
        sized = 0.0 if drawn.sizes is None else float(np.abs(drawn.sizes - drawn.sizes[0]).sum(axis=1).max())
        return np.asarray(shifted + turned * self.radius + sized)

    def positions(self, other: _Placed) -> tuple[Array, Array]:
        """Where each piece of both solids stands in each draw: (draws, pieces, 3) and (draws, pieces, 3, 3)."""
        both = [(side.drawn, side.state, side.own_position, side.own_turn) for side in (self, other)]
        position = [
            (drawn.turns[:, state] @ at[..., None])[..., 0] + drawn.shifts[:, state] for drawn, state, at, _ in both
        ]
        turn = [drawn.turns[:, state] @ own for drawn, state, _, own in both]
        return np.concatenate(position, axis=1), np.concatenate(turn, axis=1)


def _that_matter(stage: Stage, left: _Placed, right: _Placed) -> tuple[list[int], list[int]]:
    """The pairs that can be the nearest in any draw."""
    one, other = np.meshgrid(
        np.arange(len(left.pieces)), len(left.pieces) + np.arange(len(right.pieces)), indexing="ij"
    )
    firsts, seconds = one.ravel(), other.ravel()
    distance, _ = stage.distances(firsts.tolist(), seconds.tolist())
    play = (left.travel()[:, None] + right.travel()[None, :]).ravel()
    kept = distance - play <= (distance + play).min()
    return firsts[kept].tolist(), seconds[kept].tolist()
