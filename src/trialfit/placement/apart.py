"""Lower bounds of the distance of two solids for every draw at once: how far apart they are along directions well chosen.

Answers   Side       one solid: every piece in every state as a part of its own, in every draw
          lowest     the largest lower bound found for each of several pairs of parts, for each draw
Not here  the distances themselves (draws.py, distance.py)
Method    Two convex bodies are at least as far apart as they are along any one direction u: u·(m_A − m_B) − h_A(−u) − h_B(u), m
          the middles and h the support functions; for overlapping ones the same holds of the signed distance. The bound is
          the distance itself where u is the right one: the normal of the face that decides, carried with the solid it
          belongs to; the common normal of two edges; the line between the two nearest points, or between one and an edge.
          Which of these serves is seen on a few draws.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.placement.drawn import carried, farthest, middles, turned, turned_by

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from trialfit.placement.distance import Slots
    from trialfit.placement.drawn import Drawn
    from trialfit.placement.solids import Piece

    Array = NDArray[np.float64]
    Indices = NDArray[np.intp]

_FEW = 33
_TINY = 1e-12
_SAME = 2
_IN_LINE = 0.2


class Side:
    """One solid with its pieces numbered from `offset` in the slots: part n is one piece in one state."""

    def __init__(self, drawn: Drawn, slots: Slots, offset: int) -> None:
        self.drawn, self.slots = drawn, slots
        count, states = len(drawn.pieces), drawn.turns.shape[1]
        self.piece = np.tile(np.arange(offset, offset + count), states)
        self.state = np.repeat(np.arange(states), count)
        self.offset = offset

    def of(self, part: int) -> Piece:
        """The piece of a part."""
        return self.drawn.pieces[int(self.piece[part]) - self.offset]

    def posed(self, part: Indices, draw: Indices) -> tuple[Array, Array, Array]:
        """Position (n, 3), turn (n, 3, 3) and size (n, 3) of parts in draws, as the slots take them."""
        state, piece, drawn = self.state[part], self.piece[part], self.drawn
        turn = drawn.turns[draw, state]
        position = carried(turn, self.slots.own_position[piece]) + drawn.shifts[draw, state]
        size = self.slots.size[piece]
        if drawn.sizes is not None:
            size[:, : drawn.sizes.shape[1]] = drawn.sizes[draw]
        return position, turned_by(turn, self.slots.own_turn[piece]), size

    def middles(self, part: int, draws: slice) -> Array:
        """Where the middle of a part is, (3, draws)."""
        return middles(self.drawn.features[:, self.state[part], draws], self.of(part))

    def local(self, part: int, vector: Array) -> Array:
        """A vector of the nominal in the solid's own axes, (3,)."""
        return np.asarray(vector @ self.drawn.turns[0, self.state[part]])

    def carried(self, part: int, local: Array, draws: slice) -> Array:
        """A direction of the solid's own axes as it is turned in each draw, (3, draws)."""
        return turned(self.drawn.features[:, self.state[part], draws], local)

    def support(self, part: int, u: Array, draws: slice, local: Array | None = None) -> Array:
        """How far a part reaches from its middle along u (3, draws), (draws,), m.

        `local` (3,) is the same direction in the solid's own axes, where it is fixed to the solid and so one for all draws.
        """
        piece, features = self.of(part), self.drawn.features[:, self.state[part], draws]
        along = (
            np.array([features[j] * u[0] + features[3 + j] * u[1] + features[6 + j] * u[2] for j in range(3)])
            if local is None
            else local[:, None]
        )
        if not (piece.turn == _STRAIGHT).all():
            along = piece.turn.T @ along
        if piece.shape == "hull":
            vertices = _foremost(np.asarray(piece.vertices), along, farthest(piece))
            return np.asarray(np.einsum("vk,kd->vd", vertices, along).max(axis=0))
        sizes = piece.size if self.drawn.sizes is None else self.drawn.sizes[draws].T
        if piece.shape == "box":
            along = np.abs(along)
            return np.asarray(along[0] * sizes[0] + along[1] * sizes[1] + along[2] * sizes[2])
        across = 1.0 if piece.shape == "capsule" else np.sqrt(np.maximum(1 - along[2] ** 2, 0))
        return np.asarray(sizes[0] * across + sizes[1] * np.abs(along[2]))

    def edge(self, part: int, u: Array, beside: Array | None = None) -> Array | None:
        """The axis of a part that lies most across a direction, in the solid's own axes; None for a hull.

        Of two axes of a box that lie across it nearly alike, the one less in line with `beside`: edges in line have no common normal.
        """
        piece = self.of(part)
        if piece.shape == "hull":
            return None
        if piece.shape != "box":
            return np.asarray(piece.turn[:, 2])
        own = np.abs(self.local(part, u) @ piece.turn)
        if beside is not None:
            own = own + _IN_LINE * np.abs(self.local(part, beside) @ piece.turn)
        return np.asarray(piece.turn[:, int(own.argmin())])

    def of_car(self, part: int, local: Array) -> Array:
        """A direction of the solid's own axes, in the nominal, in those it is fixed to, (3,)."""
        return np.asarray(self.drawn.turns[0, self.state[part]] @ local)


_STRAIGHT = np.eye(3)


def _foremost(vertices: Array, along: Array, reach: float) -> Array:
    """Those of the vertices that can be the farthest in any of the directions (3, draws), which lie close together."""
    middle = along.mean(axis=1)
    off = float(np.sqrt(np.square(along - middle[:, None]).sum(axis=0).max()))
    height = vertices @ middle
    return np.asarray(vertices[height >= height.max() - 2 * off * reach])


def lowest(left: Side, right: Side, first: Indices, second: Indices, u: Array, points: Array) -> Array:
    """Lower bounds of the distances of pairs, (pairs, draws), m; `u` (pairs, 3) from right to left, `points` (pairs, 6) at the nominal."""
    draws = len(left.drawn.turns)
    found = np.empty((len(first), draws))
    chosen: dict[tuple[object, ...], tuple[str, ...]] = {}
    whole = slice(None)
    for n, (a, b) in enumerate(zip(first.tolist(), second.tolist(), strict=True)):
        kind = (left.piece[a], right.piece[b], *u[n].round(_SAME).tolist())
        if kind not in chosen:
            chosen[kind] = _chosen(left, right, a, b, u[n], points[n])
        bounds = [
            bound
            for name in chosen[kind]
            if (bound := _bound(left, right, a, b, u[n], points[n], whole, name)) is not None
        ]
        found[n] = np.max(bounds, axis=0)
    return np.asarray(found)


def _chosen(left: Side, right: Side, a: int, b: int, u: Array, points: Array) -> tuple[str, ...]:
    """The direction that gives the largest bounds on a few draws, and a second one where it adds to them."""
    few = slice(0, min(_FEW, len(left.drawn.turns)))
    bounds = {name: bound for name in WAYS if (bound := _bound(left, right, a, b, u, points, few, name)) is not None}
    best = max(bounds, key=lambda name: float(bounds[name].mean()))
    together = {name: float(np.maximum(bounds[best], bound).mean()) for name, bound in bounds.items()}
    second = max(together, key=lambda name: together[name])
    return (best, second) if together[second] > together[best] + _WORTH else (best,)


WAYS = ("left", "right", "points", "edges", "left edge", "right edge")
_WORTH = 5e-6


def _bound(left: Side, right: Side, a: int, b: int, u: Array, points: Array, draws: slice, name: str) -> Array | None:
    """How far two parts are apart along one of the directions that are tried, (draws,), m; None where they have none such."""
    way = _way(left, right, a, b, u, points, draws, name)
    if way is None:
        return None
    away = left.middles(a, draws) - right.middles(b, draws)
    along = way[0] * away[0] + way[1] * away[1] + way[2] * away[2]
    reach = left.support(a, -way, draws, -left.local(a, u) if name == "left" else None)
    return np.asarray(along - reach - right.support(b, way, draws, right.local(b, u) if name == "right" else None))


def _way(left: Side, right: Side, a: int, b: int, u: Array, points: Array, draws: slice, name: str) -> Array | None:
    """One of the directions that are tried, (3, draws); None where the parts have none."""
    if name in {"left", "right"}:
        side, part = (left, a) if name == "left" else (right, b)
        return side.carried(part, side.local(part, u), draws)
    one, other = _edges(left, right, a, b, u)
    if name == "edges":
        return (
            None
            if one is None or other is None
            else _across(left.carried(a, one, draws), right.carried(b, other, draws), u)
        )
    ends = [
        side.carried(part, side.local(part, point - side.drawn.shifts[0, side.state[part]]), draws)
        + side.drawn.features[9:, side.state[part], draws]
        for side, part, point in ((left, a, points[:3]), (right, b, points[3:]))
    ]
    between = np.asarray(ends[0] - ends[1])
    if name == "points":
        return _unit(between, u)
    side, part, axis = (left, a, one) if name == "left edge" else (right, b, other)
    if axis is None:
        return None
    e = side.carried(part, axis, draws)
    return _unit(between - e * (e[0] * between[0] + e[1] * between[1] + e[2] * between[2]), u)


def _edges(left: Side, right: Side, a: int, b: int, u: Array) -> tuple[Array | None, Array | None]:
    """The edges of two parts that may touch along u, each in the axes of its solid; None for a hull."""
    one = left.edge(a, u)
    other = right.edge(b, u, None if one is None else left.of_car(a, one))
    return (one if other is None else left.edge(a, u, right.of_car(b, other))), other


def _across(p: Array, q: Array, u: Array) -> Array:
    """What is square to both of two directions, (3, draws)."""
    return _unit(np.array([p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]]), u)


def _unit(vectors: Array, like: Array) -> Array:
    """Unit vectors, (3, draws), each turned to the side of the one given; that one where there is no direction."""
    length = np.sqrt(vectors[0] ** 2 + vectors[1] ** 2 + vectors[2] ** 2)
    length = np.where(
        like @ vectors < 0, -length, length
    )  # what is square to two nearly parallel edges may point either way
    none = np.abs(length) < _TINY
    return np.where(none, like[:, None], vectors / np.where(none, 1.0, length))
