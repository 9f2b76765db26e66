"""Gaps for every draw of the facts, at one pose or at the pose of each draw.

Answers   gap_draws     the smallest gap of two solids, for each draw
          gaps_in_states    the same with the state that decides each draw
          nearest_states    the states that can be the nearest in any draw; gap_of_states  the nominal gap in each of some
          nominal_gap   that of the nominals alone, or a bound where it is far
          boxes_apart   how far the boxes round two solids are apart
Not here  the solids in draws (drawn.py); the lower bounds (apart.py); the first-order spread that steers the search (margins.py)
Method    Parallel faces hide the spread of a turn from any linear formula, so a verdict needs the distances themselves. Lower
          bounds along well-chosen directions cost a hundredth of that and mostly equal the distance. The first draws are
          always worked out and show how far the bounds are off, and which pairs of pieces and states can be the nearest at
          all: the others need no bounds in the other draws. If the bound and an upper bound leave the side of a
          limit open, the distance is worked out; the upper bound is the smaller of two: the bound plus three times the largest
          error of the bounds, and the distance of two points that move with their bodies. In the other draws the bounds are used,
          corrected by their mean error, if they were good to 0.25 mm, 10 % of their spread or 2 % of the way to the
          limit, else every draw is worked out.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.placement.apart import PILOT, Bounds, Side
from trialfit.placement.distance import FARTHEST, Slots
from trialfit.placement.drawn import Drawn, carried, lowest_draws, reach_of, support

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array

    Indices = NDArray[np.intp]

__all__ = ["Drawn", "boxes_apart", "gap_draws", "lowest_draws", "nominal_gap", "reach_of", "support"]

GOOD = 0.25e-3
"""Bounds with a smaller error (1 s) are good enough if they decide nothing, m."""
GOOD_SHARE = 0.1
"""The same as a share of their own spread."""
GOOD_FAR = 0.02
"""The same as a share of the way to the limit."""
CLOSE = 0.02e-3
"""A pair that could lower a gap by no more is left out, m."""
FURTHER = 3
"""The error of the bounds is taken as at most this many times the largest error in the draws that are always worked out."""
MANY = 30
"""More pairs than this are first sifted by how far anything moves at all."""
FEW = 0.02
"""States that decide a smaller share of the draws have no column of their own."""
SAME = 0.1e-3
"""A state that could lower a gap by no more is left out, m."""
LOOKED_AT = 32
"""So many draws say which states can be the nearest."""
AT_MOST = 3
"""A state is taken to be beyond the others by no less than the mean of these draws less so many standard deviations."""
BEYOND = 6
"""The remainder beyond first order is taken as within this many of its standard deviations in the first draws."""
_NO_DIRECTION = 1e-6


def gap_draws(one: Drawn, other: Drawn, limit: float | None = None) -> Array:
    """The smallest signed distance of two solids in the same axes for each draw, (draws,), m.

    With a `limit`, a draw is worked out to 0.02 mm if its side of the limit is in doubt, judged by the errors of the bounds in
    the first draws: of random scenes with a thousand draws each, one in fifty has one to four draws on the wrong side. Without one all draws are
    worked out, over the pairs that the first draws do not rule out; solids deep inside each other are the worst case for that.
    If a solid has a surface of triangles, that decides, not its pieces (surfaces.py).
    """
    grown = _grown(one, other)
    if one.surface is not None or other.surface is not None:
        from trialfit.placement.surfaces import surface_draws  # here: only scans need the library of surfaces

        return surface_draws(one, other, limit) - grown
    return piece_draws(one, other, limit, grown)


@dataclass(frozen=True, eq=False)
class InPairs:
    """The smallest gap of two solids for each draw, `gap` (draws,), m, and how it comes about.

    states   pairs of states, of one solid and of the other, that are the nearest in some draw
    gaps     (draws, pairs): the gap in each of these, m, as near as the bounds know it; their smallest is `gap`
    """

    gap: Array
    states: tuple[tuple[int, int], ...]
    gaps: Array


def gaps_in_states(one: Drawn, other: Drawn, limit: float | None = None) -> InPairs:
    """The smallest gap of two solids for each draw as `gap_draws` has it, and what it is in every pair of states that decides a draw."""
    if one.surface is not None or other.surface is not None:
        gap, (first, second, distance) = gap_draws(one, other, limit), part_distances(one, other)
        nearest = int(distance.argmin())
        return InPairs(gap, ((int(first[nearest]), int(second[nearest])),), gap[:, None])
    pair = _Pair(one, other)
    gap = _decided(pair, limit, _grown(one, other))
    return _by_states(pair, gap)


def _by_states(pair: _Pair, gap: Array) -> InPairs:
    """Of the pairs of parts that were kept, those of the same states together: what is known of each beyond the nearest.

    States that decide few of the draws are counted with the nearest of the others.
    """
    beyond: dict[tuple[int, int], Array] = {}
    left, right = pair.sides
    for row, first, second in zip(pair.lower, pair.first.tolist(), pair.second.tolist(), strict=True):
        key = (int(left.state[first]), int(right.state[second]))
        beyond[key] = np.minimum(beyond[key], row) if key in beyond else row
    rows = np.stack(list(beyond.values()))
    decides = np.bincount(rows.argmin(axis=0), minlength=len(rows))
    kept = np.flatnonzero((decides >= FEW * rows.shape[1]) | (rows[:, 0] <= rows[:, 0].min()))
    rows = rows[kept] - rows[kept].min(axis=0)
    states = list(beyond)
    return InPairs(gap, tuple(states[n] for n in kept.tolist()), (gap + rows).T)


def _grown(one: Drawn, other: Drawn) -> Array:
    """How far the two surfaces are closer to each other than their pieces, (draws,), m."""
    if all(each.vertices is None for each in (one, other)):
        return one.stands_out(0, _UP) + other.stands_out(0, _UP)
    left, right = _sides(one, other)
    first, second = _all_pairs(left, right)
    points = np.zeros((first.size, 6))
    distance = _distances(left, right, first, second, np.zeros(first.size, dtype=np.intp), points=points)
    n = int(distance.argmin())
    u = points[n, :3] - points[n, 3:]
    u = u / distance[n] if abs(distance[n]) > _NO_DIRECTION else _UP
    return one.stands_out(int(left.state[first[n]]), -u) + other.stands_out(int(right.state[second[n]]), u)


_UP = np.array([0.0, 0.0, 1.0])


def piece_draws(one: Drawn, other: Drawn, limit: float | None = None, grown: Array | float = 0.0) -> Array:
    """The same by the convex pieces; `grown` is how far the surfaces stand further out."""
    return _decided(_Pair(one, other), limit, grown)


def _decided(pair: _Pair, limit: float | None, grown: Array | float) -> Array:
    grown = np.broadcast_to(np.asarray(grown, float), pair.draws)
    if limit is None or pair.draws <= PILOT:
        return pair.all_exact() - grown
    first = np.arange(PILOT)
    pilot = pair.exact(first) - grown[first]
    pair.narrow(pilot + grown[first])
    lower = pair.lower.min(axis=0) - grown
    off = pilot - lower[first]
    known = np.arange(pair.draws) < PILOT
    in_doubt = (lower < limit) & (lower + max(CLOSE, FURTHER * float(off.max())) >= limit)
    if in_doubt.any():
        known |= in_doubt & (pair.upper() - grown >= limit)
    asked = np.flatnonzero(known)
    exact = np.concatenate([pilot, pair.exact(asked[PILOT:]) - grown[asked[PILOT:]]])
    gap = lower + off.mean()
    good = max(GOOD, GOOD_SHARE * float(lower.std()), GOOD_FAR * abs(float(exact[0]) - limit))
    if off.std() > good:
        rest = np.flatnonzero(~known)
        gap[rest] = pair.exact(rest) - grown[rest]
    else:
        gap = np.where((lower < limit) & (gap >= limit), lower, gap)
    gap[asked] = exact
    return np.asarray(gap)


def nominal_gap(one: Drawn, other: Drawn, enough: float = np.inf) -> float:
    """The smallest signed distance of the nominals, m; a lower bound from the boxes around them if that is beyond `enough`."""
    bound = boxes_apart(one, other)
    return bound if bound > enough else float(part_distances(one, other)[2].min())


def part_distances(one: Drawn, other: Drawn) -> tuple[Indices, Indices, Array]:
    """The nominal distance of every pair of pieces: the states of the two, and the distances, m."""
    left, right = _sides(one, other)
    first, second = _all_pairs(left, right)
    distance = _distances(left, right, first, second, np.zeros(first.size, dtype=np.intp))
    return left.state[first], right.state[second], distance


def gap_of_states(one: Drawn, other: Drawn) -> Array:
    """The nominal gap in each state of one with that state of the other, (states,), m."""
    left, right = _sides(one, other)
    states, ours, theirs = one.turns.shape[1], len(one.pieces), len(other.pieces)
    state, first, second = np.meshgrid(np.arange(states), np.arange(ours), np.arange(theirs), indexing="ij")
    parts = (state * ours + first).ravel(), (state * theirs + second).ravel()
    distance = _distances(left, right, *parts, np.zeros(state.size, dtype=np.intp))
    return np.asarray(distance.reshape(states, -1).min(axis=1))


def nearest_states(one: Drawn, other: Drawn) -> list[tuple[int, int]]:
    """The pairs of states that can be the nearest in draws like those given, the nearest first; of states alike the first.

    Every pair that is near enough at the nominal is worked out in some draws: one that cannot be nearer than the others
    by SAME is left out.
    """
    left, right = _sides(one, other)
    first, second = _all_pairs(left, right)
    distance = _distances(left, right, first, second, np.zeros(first.size, dtype=np.intp))
    play = one.moved.ravel()[first] + other.moved.ravel()[second]
    near = np.flatnonzero(distance - play <= (distance + play).min())
    near = near[np.argsort(distance[near].round(9), kind="stable")]
    first, second = first[near], second[near]
    count = min(LOOKED_AT, len(one.turns))
    draws = np.tile(np.arange(count), near.size)
    asked = _distances(left, right, np.repeat(first, count), np.repeat(second, count), draws)
    kept = _ever_nearest(asked.reshape(near.size, count))
    return list(dict.fromkeys(zip(left.state[first[kept]].tolist(), right.state[second[kept]].tolist(), strict=True)))


def _ever_nearest(gaps: Array) -> Indices:
    """The rows (pairs, draws) that can be the smallest in draws like these: that of the nominal, then in the order of their means."""
    kept = np.array([gaps[:, 0].argmin()])
    for row in np.argsort(gaps.mean(axis=1).round(9), kind="stable").tolist():
        beyond = gaps[row] - gaps[kept].min(axis=0)
        if beyond.mean() - AT_MOST * beyond.std() < -SAME:
            kept = np.append(kept, row)
    return kept


def boxes_apart(one: Drawn, other: Drawn) -> float:
    """How far apart the boxes around two nominal solids are, m."""
    (low, high), (from_, to) = one.box, other.box
    return float(np.linalg.norm(np.maximum(np.maximum(low - to, from_ - high), 0)))


def _sides(one: Drawn, other: Drawn) -> tuple[Side, Side]:
    slots = Slots([*one.pieces, *other.pieces])
    return Side(one, slots, 0), Side(other, slots, len(one.pieces))


def _all_pairs(left: Side, right: Side) -> tuple[Indices, Indices]:
    first, second = np.meshgrid(np.arange(len(left.piece)), np.arange(len(right.piece)), indexing="ij")
    return first.ravel(), second.ravel()


def _distances(
    left: Side,
    right: Side,
    first: Indices,
    second: Indices,
    draws: Indices,
    reach: Array | float = FARTHEST,
    points: Array | None = None,
) -> Array:
    """Distances of parts, each pair in its draw, (n,), m."""
    placed, others = left.posed(first, draws), right.posed(second, draws)
    return left.slots.distances(left.piece[first], right.piece[second], placed, others, reach, points)


def near_enough(bounds: Array, linear: Callable[[], Array], off: float) -> Indices:
    """The pairs that can be nearer by more than `off` than all others in any draw.

    bounds  (pairs, first draws), `linear` (pairs, draws): the distances, and the same to first order, m

    How far one pair is beyond another is known to first order for all draws; the remainder is small, and the first draws show it.
    """
    lines = rest = np.empty(0)
    kept = np.empty(0, dtype=np.intp)
    for pair in np.argsort(bounds.mean(axis=1), kind="stable").tolist():
        nearer = kept[(bounds[pair] - bounds[kept]).min(axis=1) > off]
        if nearer.size and not lines.size:
            lines = linear()
            rest = bounds - lines[:, : bounds.shape[1]]
        if not nearer.size or not _always_beyond(lines[pair] - lines[nearer], rest[pair] - rest[nearer], off):
            kept = np.append(kept, pair)
    return kept


def _always_beyond(beyond: Array, left_over: Array, off: float) -> bool:
    """Whether a pair stays beyond one of several others by more than `off`: to first order in all draws, with the remainder from the first draws."""
    return bool((beyond.min(axis=1) + left_over.mean(axis=1) - BEYOND * left_over.std(axis=1) > off).any())


class _Pair:
    """Two solids: the pairs of their parts that can be the nearest, with lower bounds `lower` (pairs, draws) of their distances."""

    def __init__(self, one: Drawn, other: Drawn) -> None:
        self.draws = len(one.turns)
        self.sides = left, right = _sides(one, other)
        self.first, self.second = _all_pairs(left, right)
        points = np.zeros((self.first.size, 6))
        nominal = np.zeros(self.first.size, dtype=np.intp)
        distance = self._asked(np.arange(self.first.size), nominal, points=points)
        self.points = points
        if self.first.size > MANY:
            play = one.moved.ravel()[self.first] + other.moved.ravel()[self.second]
            kept = distance - play <= (distance + play).min()
            distance = distance[kept]
            self.first, self.second, self.points = self.first[kept], self.second[kept], points[kept]
        self._bounds = Bounds(left, right, self.first, self.second, self._directions(distance), self.points)
        self.lower = self._bounds.pilot

    def narrow(self, pilot: Array) -> None:
        """Keeps the pairs that can be the nearest in any draw, with their bounds in all draws; `pilot` are the distances of the first draws."""
        off = float((pilot - self.lower.min(axis=0)).max())
        kept = near_enough(self.lower, self._bounds.linear, off - CLOSE)
        self.first, self.second, self.points = self.first[kept], self.second[kept], self.points[kept]
        self.lower = self._bounds.of(kept)

    def all_exact(self) -> Array:
        """The smallest distance over all pairs in every draw, (draws,), m."""
        pilot = self.exact(np.arange(min(PILOT, self.draws)))
        if self.draws <= PILOT:
            return pilot
        self.narrow(pilot)
        return np.concatenate([pilot, self.exact(np.arange(PILOT, self.draws))])

    def _directions(self, distance: Array) -> Array:
        """From the right part to the left one, (pairs, 3): between the nearest points, else from middle to middle."""
        left, right = self.sides
        u = self.points[:, :3] - self.points[:, 3:]
        for n in np.flatnonzero(np.abs(distance) < _NO_DIRECTION).tolist():
            nominal = slice(0, 1)
            one, other = left.alike(self.first[n : n + 1], nominal), right.alike(self.second[n : n + 1], nominal)
            u[n] = (one.middles() - other.middles())[:, 0, 0]
            if (
                np.linalg.norm(u[n]) < _NO_DIRECTION
            ):  # any direction gives a lower bound, a vector of no length gives none
                u[n] = (0.0, 0.0, 1.0)
            distance = np.where(np.arange(distance.size) == n, np.linalg.norm(u[n]), distance)
        return np.asarray(u / distance[:, None])

    def _asked(
        self, pairs: Indices, draws: Indices, reach: Array | float = FARTHEST, points: Array | None = None
    ) -> Array:
        return _distances(*self.sides, self.first[pairs], self.second[pairs], draws, reach, points)

    def upper(self) -> Array:
        """An upper bound of the smallest distance, (draws,), m: the distance of the points of the pair that seems nearest."""
        pair, draw = self.lower.argmin(axis=0), np.arange(self.draws)
        ends, grown = [], np.zeros(self.draws)
        for side, part, points in zip(
            self.sides, (self.first, self.second), (self.points[:, :3], self.points[:, 3:]), strict=True
        ):
            state = side.state[part]
            local = ((points - side.drawn.shifts[0, state])[:, None] @ side.drawn.turns[0, state])[:, 0]
            ends.append(
                carried(side.drawn.turns[draw, state[pair]], local[pair]) + side.drawn.shifts[draw, state[pair]]
            )
            sizes = side.drawn.sizes
            grown += 0.0 if sizes is None else np.abs(sizes - sizes[0]).sum(axis=-1)
        return np.asarray(np.linalg.norm(ends[0] - ends[1], axis=-1) + grown)

    def exact(self, draws: Indices) -> Array:
        """The smallest distance over all pairs, for these draws, m: first the pair that seems nearest, then those that may be nearer."""
        if not draws.size:
            return np.zeros(0)
        nearest = self.lower[:, draws].argmin(axis=0)
        found = self._asked(nearest, draws)
        may = self.lower[:, draws] < found - CLOSE
        may[nearest, np.arange(draws.size)] = False
        pair, place = np.nonzero(may)
        if pair.size:
            np.minimum.at(found, place, self._asked(pair, draws[place], found[place]))
        return found
