"""Lower bounds of the distance of two solids for every draw at once: how far apart they are along well-chosen directions.

Answers   Side       one solid: every piece in every state as a part of its own, in every draw
          Bounds     the largest lower bound found for each of several pairs of parts, for each draw
Not here  the distances themselves (draws.py, distance.py)
Method    Two convex bodies are at least as far apart as they are along any one direction u: u·(m_A − m_B) − h_A(−u) − h_B(u), m
          the middles and h the support functions; for overlapping bodies the same is true of the signed distance. The bound is
          the distance itself where u is the right one: the normal of the face that decides, carried with the solid it
          belongs to; the common normal of two edges; the line between the two nearest points, or between one and an edge.
          The first draws show which of these is useful. Pairs of the same two pieces are worked out together.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from trialfit.placement.drawn import carried, farthest, middles, turned_by

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array
    from trialfit.placement.distance import Slots
    from trialfit.placement.drawn import Drawn
    from trialfit.placement.solids import Piece

    Indices = NDArray[np.intp]

PILOT = 64
"""The number of first draws that show which directions are useful."""
_TINY = 1e-12
_IN_LINE = 0.2


class Side:
    """One solid with its pieces numbered from `offset` in the slots: part n is one piece in one state."""

    def __init__(self, drawn: Drawn, slots: Slots, offset: int) -> None:
        self.drawn, self.slots = drawn, slots
        count, states = len(drawn.pieces), drawn.turns.shape[1]
        self.piece = np.tile(np.arange(offset, offset + count), states)
        self.state = np.repeat(np.arange(states), count)
        self.offset = offset

    def posed(self, part: Indices, draw: Indices) -> tuple[Array, Array, Array]:
        """Position (n, 3), turn (n, 3, 3) and size (n, 3) of parts in draws, in the form the slots need."""
        state, piece, drawn = self.state[part], self.piece[part], self.drawn
        turn = drawn.turns[draw, state]
        position = carried(turn, self.slots.own_position[piece]) + drawn.shifts[draw, state]
        size = self.slots.size[piece]
        if drawn.sizes is not None:
            size[:, : drawn.sizes.shape[1]] = drawn.sizes[draw]
        return position, turned_by(turn, self.slots.own_turn[piece]), size

    def alike(self, parts: Indices, draws: slice) -> Alike:
        """Parts that are the same piece in several states, in some draws."""
        return Alike(self.drawn, self.drawn.pieces[int(self.piece[parts[0]]) - self.offset], self.state[parts], draws)

    def along(self, parts: Indices, points: Array, u: Array) -> Array:
        """Positions along u (n, 3) of nominal points (n, 3) that move with the parts, (n, draws), m."""
        states = self.state[parts]
        local = ((points - self.drawn.shifts[0, states])[:, None] @ self.drawn.turns[0, states])[:, 0]
        weights = np.hstack([(u[:, :, None] * local[:, None]).reshape(-1, 9), u])
        found = np.empty((parts.size, len(self.drawn.turns)))
        for state in set(states.tolist()):
            found[states == state] = weights[states == state] @ self.drawn.features[:, state]
        return found


class Alike:
    """One piece of a solid in n states, in some draws. Vectors are (n, 3) at the nominal and (3, n, draws) in the draws."""

    def __init__(self, drawn: Drawn, piece: Piece, states: Indices, draws: slice) -> None:
        self.piece = piece
        one = slice(states[0], states[0] + 1)  # a slice gives a view, an index would give a copy
        self.features = drawn.features[:, one if states.size == 1 else states, draws]
        self._turns = self.features[:9].reshape(3, 3, *self.features.shape[1:])
        self.turn, self.shift = drawn.turns[0, states], drawn.shifts[0, states]
        self.sizes = piece.size if drawn.sizes is None else drawn.sizes[draws].T

    def middles(self) -> Array:
        """The middles, (3, n, draws)."""
        return middles(self.features, self.piece)

    def local(self, vectors: Array) -> Array:
        """Vectors of the nominal in the solid's own axes, (n, 3)."""
        return np.asarray((vectors[:, None] @ self.turn)[:, 0])

    def carried(self, local: Array) -> Array:
        """Directions of the solid's own axes as it is turned in each draw, (3, n, draws)."""
        return np.asarray((local[:, None] @ self._turns.swapaxes(1, 2))[:, :, 0])

    def points(self, points: Array) -> Array:
        """Nominal points that move with the solid, (3, n, draws)."""
        return self.carried(self.local(points - self.shift)) + self.features[9:]

    def support(self, u: Array, local: Array | None = None) -> Array:
        """How far the parts reach from their middles along u (3, n, draws), (n, draws), m.

        `local` (n, 3) are the same directions in the solid's own axes, if they are fixed to the solid and so the same for all draws.
        """
        if self.piece.shape in {"cylinder", "capsule"}:
            return self._support_of_round(u, local)
        along = np.einsum("ijnd,ind->jnd", self._turns, u) if local is None else local.T[..., None]
        if not self.piece.is_straight:
            along = np.einsum("ij,ind->jnd", self.piece.turn, along)
        if self.piece.shape == "hull":
            return np.array([_farthest_along(self.piece, along[:, n]) for n in range(along.shape[1])])
        along, sizes = np.abs(along), self.sizes
        return np.asarray(along[0] * sizes[0] + along[1] * sizes[1] + along[2] * sizes[2])

    def _support_of_round(self, u: Array, local: Array | None) -> Array:
        """The same for a cylinder or capsule: only its axis matters."""
        axis, sizes = self.piece.turn[:, 2], self.sizes
        if local is None:
            along = np.einsum("ind,ind->nd", self.carried(np.broadcast_to(axis, (u.shape[1], 3))), u)
        else:
            along = (local @ axis)[:, None]
        across = 1.0 if self.piece.shape == "capsule" else np.sqrt(np.maximum(1 - along**2, 0))
        return np.asarray(sizes[0] * across + sizes[1] * np.abs(along))

    def edges(self, u: Array, beside: Array | None = None) -> Array | None:
        """The axis of each part that is closest to square to a direction, in the solid's own axes, (n, 3); None for a hull.

        Of two nearly equal axes of a box, the one less parallel to `beside`: parallel edges have no common normal.
        """
        if self.piece.shape == "hull":
            return None
        axes = self.piece.turn
        if self.piece.shape != "box":
            return np.broadcast_to(axes[:, 2], u.shape)
        own = np.abs(self.local(u) @ axes)
        if beside is not None:
            own = own + _IN_LINE * np.abs(self.local(beside) @ axes)
        return np.asarray(axes.T[own.argmin(axis=1)])

    def of_car(self, local: Array) -> Array:
        """Directions in the solid's own axes, turned at the nominal into the axes it is fixed to, (n, 3)."""
        return np.asarray((self.turn @ local[..., None])[..., 0])


def _farthest_along(piece: Piece, along: Array) -> Array:
    """How far a hull reaches along directions (3, draws) that are close together; only vertices that can be the farthest are used."""
    vertices = np.asarray(piece.vertices)
    middle = along.mean(axis=1)
    off = float(np.sqrt(np.square(along - middle[:, None]).sum(axis=0).max()))
    height = vertices @ middle
    return np.asarray((vertices[height >= height.max() - 2 * off * farthest(piece)] @ along).max(axis=0))


class Bounds:
    """Lower bounds of the distances of pairs of parts: `first` of the left side, `second` of the right one.

    u (pairs, 3) from right to left, `points` (pairs, 6), both at the nominal
    pilot   (pairs, draws) of the first draws, m
    """

    def __init__(self, left: Side, right: Side, first: Indices, second: Indices, u: Array, points: Array) -> None:
        self._sides, self._parts, self._u, self._points = (left, right), (first, second), u, points
        draws = slice(0, min(PILOT, len(left.drawn.turns)))
        self._serves = np.zeros((first.size, len(WAYS)), dtype=bool)
        self.pilot = np.empty((first.size, draws.stop))
        for pairs in self._groups():
            two = self._two(pairs, draws)
            bounds = np.array([_none_less(two.bound(way), (pairs.size, draws.stop)) for way in WAYS])
            serves = _serving(bounds)
            self._serves[pairs] = serves
            self.pilot[pairs] = np.where(serves.T[..., None], bounds, -np.inf).max(axis=0)

    def of(self, pairs: Indices) -> Array:
        """The bounds of some pairs in all draws, (pairs, draws), m."""
        found = np.full((pairs.size, len(self._sides[0].drawn.turns)), -np.inf)
        for row, pair in enumerate(pairs.tolist()):
            two = self._two(np.array([pair]), slice(None))
            for way in np.flatnonzero(self._serves[pair]).tolist():
                bound = two.bound(WAYS[way])
                if bound is not None:
                    np.maximum(found[row], bound[0], out=found[row])
        return found

    def linear(self) -> Array:
        """The distances of all pairs to first order, (pairs, draws), m: of their nearest points as these move, along u."""
        (left, right), (first, second) = self._sides, self._parts
        return left.along(first, self._points[:, :3], self._u) - right.along(second, self._points[:, 3:], self._u)

    def _groups(self) -> list[Indices]:
        """All pairs, those of the same two pieces together."""
        (left, right), (first, second) = self._sides, self._parts
        pieces = left.piece[first] * (int(right.piece.max()) + 1) + right.piece[second]
        return [np.flatnonzero(pieces == two) for two in dict.fromkeys(pieces.tolist())]

    def _two(self, pairs: Indices, draws: slice) -> _Two:
        (left, right), (first, second) = self._sides, self._parts
        return _Two(
            left.alike(first[pairs], draws), right.alike(second[pairs], draws), self._u[pairs], self._points[pairs]
        )


WAYS = ("left", "right", "points", "edges", "left edge", "right edge")
_WORTH = 5e-6


def _none_less(bound: Array | None, shape: tuple[int, int]) -> Array:
    return np.full(shape, -np.inf) if bound is None else bound


def _serving(bounds: Array) -> NDArray[np.bool_]:
    """The bounds to use out of (ways, pairs, draws), as (pairs, ways): the largest on average, and a second one if it improves on that."""
    pairs = np.arange(bounds.shape[1])
    best = bounds.mean(axis=2).argmax(axis=0)
    together = np.maximum(bounds, bounds[best, pairs]).mean(axis=2)
    second = together.argmax(axis=0)
    second = np.where(together[second, pairs] > together[best, pairs] + _WORTH, second, best)
    ways = np.arange(len(bounds))
    return np.asarray((ways == best[:, None]) | (ways == second[:, None]))


class _Two:
    """Pairs of the same two pieces, with the directions that may be useful."""

    def __init__(self, left: Alike, right: Alike, u: Array, points: Array) -> None:
        self.left, self.right, self.u, self.points = left, right, u, points

    def bound(self, name: str) -> Array | None:
        """How far apart the parts are along one of the directions tried, (pairs, draws), m; None if they have no such direction."""
        left, right, u = self.left, self.right, self.u
        way = self._way(name)
        if way is None:
            return None
        along = np.einsum("ind,ind->nd", way, self._away)
        reach = left.support(-way, -left.local(u) if name == "left" else None)
        return np.asarray(along - reach - right.support(way, right.local(u) if name == "right" else None))

    def _way(self, name: str) -> Array | None:
        """One of the directions tried, (3, pairs, draws); None if the parts have no such direction."""
        left, right, u = self.left, self.right, self.u
        if name in {"left", "right"}:
            side = left if name == "left" else right
            return side.carried(side.local(u))
        if name == "points":
            return _unit(self._between, u)
        one, other = self._edges
        if name == "edges":
            return None if one is None or other is None else _across(left.carried(one), right.carried(other), u)
        side, axes = (left, one) if name == "left edge" else (right, other)
        if axes is None:
            return None
        e, between = side.carried(axes), self._between
        return _unit(between - e * np.einsum("ind,ind->nd", e, between), u)

    @cached_property
    def _away(self) -> Array:
        """From the middle of the right part to that of the left one, (3, pairs, draws)."""
        return self.left.middles() - self.right.middles()

    @cached_property
    def _between(self) -> Array:
        """From the nearest point of the right part to that of the left one, as both move, (3, pairs, draws)."""
        return self.left.points(self.points[:, :3]) - self.right.points(self.points[:, 3:])

    @cached_property
    def _edges(self) -> tuple[Array | None, Array | None]:
        """The edges of the parts that may touch along u, each in the axes of its solid; None for a hull."""
        left, right, u = self.left, self.right, self.u
        one = left.edges(u)
        other = right.edges(u, None if one is None else left.of_car(one))
        return (one if other is None else left.edges(u, right.of_car(other))), other


def _across(p: Array, q: Array, u: Array) -> Array:
    """Directions square to both of two, (3, pairs, draws)."""
    return _unit(np.array([p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]]), u)


def _unit(vectors: Array, like: Array) -> Array:
    """Unit vectors, (3, pairs, draws), each turned to the side of the one given for its pair, which replaces a vector of no length."""
    length = np.sqrt(np.einsum("ind,ind->nd", vectors, vectors))
    none = length < _TINY
    # The normal of two nearly parallel edges may point either way.
    length = np.copysign(length, np.einsum("ni,ind->nd", like, vectors))
    if not none.any():
        return np.asarray(vectors / length)
    return np.where(none, like.T[..., None], vectors / np.where(none, 1.0, length))
