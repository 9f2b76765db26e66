"""Solids whose place, movement and size are drawn, and how far they reach.

Answers   Drawn       such a solid
          turned_by   two turns after each other, for every draw
          lowest_draws    the lowest point of such a solid, for each draw
          reach_of        the box that a solid stays within
          support         how far a piece reaches in a direction
Not here  gaps (draws.py); what the facts are (subjects/clearance)
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from trialfit.placement.pose import turn_of

if TYPE_CHECKING:
    from trialfit.handbook.arrays import Array
    from trialfit.placement.meshes import Triangles
    from trialfit.placement.solids import Piece


@dataclass(frozen=True, eq=False)
class Drawn:
    """A solid in draws; draw 0 is the nominal.

    pieces   in the solid's own axes
    turns    (draws, states, 3, 3), `shifts` (draws, states, 3): from the solid's axes to those it is fixed to
    sizes    (draws, k): the size of its one piece, as `Piece.size` counts it; None where the size is taken as exact
    grown    (draws,): how far the surface is further out than the pieces, m
    vertices (draws, n, 3): the corners of a hull, its one piece, each with its own spread
    surface  the true surface in the solid's own axes, if it is known: it gives the gap that the pieces only bound
    """

    pieces: tuple[Piece, ...]
    turns: Array
    shifts: Array
    sizes: Array | None = None
    grown: Array | None = None
    vertices: Array | None = None
    surface: Triangles | None = None

    def at(self, poses: Array) -> Drawn:
        """The solid of a group in the car's axes; poses (draws, 6)."""
        turn = turn_of(poses[:, 3], poses[:, 4], poses[:, 5])[:, None]
        shifts = carried(turn, self.shifts)
        shifts += poses[:, None, :3]
        return replace(self, turns=turned_by(turn, self.turns), shifts=shifts)

    def moving(self, turns: Array, shifts: Array) -> Drawn:
        """A solid with one state, turned and then shifted into several: (draws, states, 3, 3) and (draws, states, 3)."""
        draws, states = shifts.shape[:2]
        features = np.empty((12, states, draws))
        turned, shifted = (
            features[:9].reshape(3, 3, states, draws).transpose(3, 2, 0, 1),
            features[9:].transpose(2, 1, 0),
        )
        np.einsum("dsij,djk->dsik", turns, self.turns[:, 0], out=turned)
        np.einsum("dsij,dj->dsi", turns, self.shifts[:, 0], out=shifted)
        shifted += shifts
        moved = replace(self, turns=turned, shifts=shifted)
        vars(moved)["features"] = features  # its turns and shifts are views of this array: no need to join them again
        return moved

    def stands_out(self, state: int, direction: Array) -> Array:
        """How far the surface is further out along a direction than pieces and sizes say, (draws,), m; to first order for a hull."""
        out = np.zeros(len(self.turns)) if self.grown is None else self.grown
        if self.vertices is None:
            return out
        local = direction @ self.turns[0, state]
        return np.asarray(out + (self.vertices @ local).max(axis=1) - (self.vertices[0] @ local).max())

    @cached_property
    def features(self) -> Array:
        """The movement of a point, (12, states, draws): the nine numbers of the turn, then the shift; a point is linear in them."""
        states, draws = self.turns.shape[1], self.turns.shape[0]
        found = np.empty((12, states, draws))
        found[:9] = np.moveaxis(self.turns, (2, 3, 1, 0), (0, 1, 2, 3)).reshape(9, states, draws)
        found[9:] = np.moveaxis(self.shifts, (2, 1, 0), (0, 1, 2))
        return found

    @cached_property
    def moved(self) -> Array:
        """The largest distance of any point of each piece in each state from its nominal place, over all draws, (states, pieces), m."""
        features = self.features
        trace = np.einsum("fs,fsd->sd", features[:9, :, 0], features[:9])  # of the turn since the nominal: 1 + 2·cos
        turned = np.sqrt(np.maximum(3 - trace, 0.0))
        grown = 0.0 if self.sizes is None else np.abs(self.sizes - self.sizes[0]).sum(axis=-1)
        found = np.empty((len(features[0]), len(self.pieces)))
        for number, piece in enumerate(self.pieces):
            middle = middles(features, piece)
            shifted = np.sqrt(np.square(middle - middle[..., :1]).sum(axis=0))
            found[:, number] = (shifted + turned * farthest(piece) + grown).max(axis=-1)
        return found

    @cached_property
    def sway(self) -> float:
        """How far any point of the nominal is from where it is in the first state at most, over all states, m."""
        turned = np.sqrt(np.square(self.turns[0] - self.turns[0, :1]).sum(axis=(1, 2)))
        shifted = np.linalg.norm(self.shifts[0] - self.shifts[0, :1], axis=1)
        reach = max(float(np.linalg.norm(piece.position)) + farthest(piece) for piece in self.pieces)
        return float((shifted + turned * reach).max())

    @cached_property
    def box(self) -> tuple[Array, Array]:
        """`reach_of`, worked out once."""
        return reach_of(self)


def turned(features: Array, vector: Array) -> Array:
    """A vector turned as `features` (12, ...) say, (3, ...)."""
    x, y, z = vector
    return np.array([features[3 * i] * x + features[3 * i + 1] * y + features[3 * i + 2] * z for i in range(3)])


def middles(features: Array, piece: Piece) -> Array:
    """The place of the middle of a piece, (3, ...)."""
    return features[9:] + turned(features, piece.position) if piece.position.any() else features[9:]


def farthest(piece: Piece) -> float:
    """The distance of its farthest point from its middle, m."""
    if piece.shape == "hull":
        return float(np.linalg.norm(np.asarray(piece.vertices), axis=1).max())
    return float(sum(piece.size)) if piece.shape == "capsule" else float(np.linalg.norm(piece.size))


def turned_by(one: Array, other: Array) -> Array:
    """The product of turns (..., 3, 3); much faster than a product of many small matrices if the draws are innermost in memory.

    The result is laid out in the same way, as `turn_of` makes it and `Drawn.features` needs it.

    >>> a, b = turn_of(0.1, 0.2, 0.3), turn_of(0.3, -0.2, 0.1)
    >>> bool(np.allclose(turned_by(a, b), a @ b))
    True
    """
    shape = np.broadcast_shapes(one.shape[:-2], other.shape[:-2])
    return np.einsum("...ij,...jk->...ik", one, other, out=_draws_innermost(shape, 3, 3))


def carried(turn: Array, points: Array) -> Array:
    """Points (..., 3) turned by (..., 3, 3)."""
    shape = np.broadcast_shapes(turn.shape[:-2], points.shape[:-1])
    return np.einsum("...ij,...j->...i", turn, points, out=_draws_innermost(shape, 3))


def _draws_innermost(draws: tuple[int, ...], *numbers: int) -> Array:
    """An empty array (draws, states, *numbers), laid out in memory as (*numbers, states, draws)."""
    first = len(numbers)
    room = np.empty((*numbers, *draws[::-1]))
    return room.transpose(*reversed(range(first, room.ndim)), *range(first))


def reach_of(solid: Drawn) -> tuple[Array, Array]:
    """The lowest and highest corner of a box around the nominal solid in all its states, (3,) each, m."""
    low, high = np.full(3, np.inf), np.full(3, -np.inf)
    turns, shifts = solid.turns[:1], solid.shifts[:1]
    sizes = None if solid.sizes is None else solid.sizes[:1]
    for piece in solid.pieces:
        middle = (turns @ piece.position)[0] + shifts[0]
        for axis in range(3):
            for sign in (1, -1):
                away = support(piece, sign * turns[..., axis, :], sizes)[0]
                edge = middle[:, axis] + sign * away
                low[axis], high[axis] = min(low[axis], edge.min()), max(high[axis], edge.max())
    return low, high


def lowest_draws(solid: Drawn, *, each: bool = False) -> Array:
    """The height of the lowest point of a solid over all its states, for each draw, (draws,), m; with `each` in each, (draws, states)."""
    heights = []
    for piece in solid.pieces:
        middle = solid.shifts[..., 2]
        if piece.position.any():
            middle = middle + (solid.turns[..., 2, :] * piece.position).sum(axis=-1)
        heights.append(middle - support(piece, -solid.turns[..., 2, :], solid.sizes))
    by_state = np.min(heights, axis=0)
    down = np.array([0.0, 0.0, -1.0])
    if each:
        out = [solid.stands_out(state, down) for state in range(by_state.shape[1])]
        return np.asarray(by_state - np.stack(out, axis=-1))
    return np.asarray(by_state.min(axis=1) - solid.stands_out(int(by_state[0].argmin()), down))


def support(piece: Piece, direction: Array, sizes: Array | None = None) -> Array:
    """How far a piece reaches from its middle in unit directions (draws, states, 3) of its solid's axes, m."""
    along = direction if piece.is_straight else carried(piece.turn.T, direction)
    if piece.shape == "hull":
        return np.asarray((along @ np.asarray(piece.vertices).T).max(axis=-1))
    size = np.asarray(piece.size, float)[None] if sizes is None else sizes
    size = size[:, None, :]
    if piece.shape == "box":
        return np.asarray(sum(np.abs(along[..., axis]) * size[..., axis] for axis in range(3)))
    across = 1.0 if piece.shape == "capsule" else np.sqrt(np.maximum(1 - along[..., 2] ** 2, 0))
    return np.asarray(size[..., 0] * across + size[..., 1] * np.abs(along[..., 2]))
