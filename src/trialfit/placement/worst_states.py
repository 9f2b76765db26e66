"""Which states of two moving bodies can bring them nearest, so that thousands of draws need no more than those.

Answers   Movable      a body that moves: its levels at the ends of its movements, and how it is drawn in any of them
          worst_levels the levels of either body that can be the nearest in any draw
          smallest_gap how near they come at the nominal
          simplest     states of two bodies without the movements that make no difference
Not here  the distances (draws.py); levels and their words (rocking.py, subjects/clearance)
Method    The distance of two convex bodies is convex in how far either is shifted, so it is smallest where all movements are at
          an end, or where one body passes the other on its way: that place is looked for, one movement after the other, at the
          nominal. Rock is nearly such a movement too. Of all states found, those stay that may be the nearest in some draw:
          their distances in some draws say how far one is beyond another (draws.py).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from trialfit.placement.draws import gap_of_states, nearest_states

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array
    from trialfit.placement.drawn import Drawn
    from trialfit.placement.rocking import Level

PASSES = 0.2e-3
"""A state between the ends counts where it is nearer than them by more, m."""
SAME = 0.2e-3
"""A movement makes no difference to a gap that it changes by less, m."""
_STEPS = np.array([0.04, 0.15, 0.5, 1.0, 1.6])
_BOTH_WAYS = np.array([-0.6, -0.25, -0.06, 0.06, 0.25, 0.6])
_SEED, _AT_ONCE, _HALF, _CLOSEST = 1, 24, 0.5, 0.02


@dataclass(frozen=True, eq=False)
class Movable:
    """A body that moves.

    moves     which of its movements there are, in the order of a level
    corners   its levels at the ends of its movements, at rest first
    few       the body in some of its states, in the first draws; `nominal` the same in draw 0 alone
    at_ends   the body in the states of `corners`, in the first draws
    """

    moves: tuple[bool, ...]
    corners: tuple[Level, ...]
    few: Callable[[Sequence[Level]], Drawn]
    nominal: Callable[[Sequence[Level]], Drawn]
    at_ends: Drawn
    active: tuple[int, ...] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "active", tuple(n for n, each in enumerate(self.moves) if each))


def worst_levels(one: Movable, other: Movable) -> tuple[tuple[Level, ...], tuple[Level, ...]]:
    """The levels of either that can be the nearest in any draw, together with any of the other's, the nearest first."""
    left, right = one.corners, other.corners
    first, second = one.at_ends, other.at_ends
    states = nearest_states(first, second)
    passing = _passing(one, other, (left[states[0][0]], right[states[0][1]]))
    if passing is not None:
        left, right = (*left, passing[0]), (*right, passing[1])
        first, second = one.few(left), other.few(right)
        states = nearest_states(first, second)
    return _once(left[n] for n, _ in states), _once(right[n] for _, n in states)


def smallest_gap(one: Movable, other: Movable) -> float:
    """The smallest gap at the nominal, at the ends of all movements and on the way between them, m."""
    states = nearest_states(one.at_ends, other.at_ends)
    start = one.corners[states[0][0]], other.corners[states[0][1]]
    found = _passing(one, other, start) or start
    return float(_gaps(one, other, np.array([[*found[0], *found[1]]]))[0])


def _once(levels: object) -> tuple[Level, ...]:
    return tuple(dict.fromkeys(levels))  # type: ignore[call-overload]


def simplest(one: Movable, other: Movable, states: Sequence[tuple[Level, Level]]) -> list[tuple[Level, Level]]:
    """The same states, each with every movement at rest that makes no difference to the gap at the nominal."""
    whole = np.array([[*first, *second] for first, second in states])
    rows, movements = np.nonzero(whole)
    trials = np.concatenate([whole, whole[rows]])
    trials[np.arange(rows.size) + len(whole), movements] = 0.0
    gaps = _gaps(one, other, trials)
    idle = np.abs(gaps[len(whole) :] - gaps[rows]) < SAME
    whole[rows[idle], movements[idle]] = 0.0
    split = len(one.moves)
    return [(tuple(row[:split]), tuple(row[split:])) for row in whole.tolist()]


def _gaps(one: Movable, other: Movable, levels: Array) -> Array:
    """The gap at the nominal in states that are the levels of both in a row, (n,), m."""
    split = len(one.moves)
    return gap_of_states(
        one.nominal([tuple(row) for row in levels[:, :split].tolist()]),
        other.nominal([tuple(row) for row in levels[:, split:].tolist()]),
    )


def _passing(one: Movable, other: Movable, start: tuple[Level, Level]) -> tuple[Level, Level] | None:
    """A state between the ends in which the bodies are nearer than in the one given; None where there is none or they overlap there.

    Each movement alone, and some together, say whether there is any; then it is looked for about the best so far, ever closer.
    """
    split = len(one.moves)
    active = np.array([*one.active, *(split + n for n in other.active)], dtype=int)
    here = np.concatenate([np.asarray(level, float) for level in start])
    if not active.size:
        return None
    rng = np.random.default_rng(_SEED)
    trials = np.concatenate([here[None], *(_along(here, n) for n in active), _about(here, active, 1.0, rng)])
    gaps = _gaps(one, other, trials)
    least = float(gaps.min())
    if gaps[0] <= 0 or least > gaps[0] - PASSES:
        return None
    here, reach = trials[gaps.argmin()], 1.0
    while reach > _CLOSEST:
        trials = _about(here, active, reach, rng)
        gaps = _gaps(one, other, trials)
        found = float(gaps.min())
        reach *= _HALF if found > least - PASSES * _HALF else 1.0
        if found < least:
            here, least = trials[gaps.argmin()], found
    return tuple(here[:split].tolist()), tuple(here[split:].tolist())


def _about(here: Array, active: NDArray[np.intp], reach: float, rng: np.random.Generator) -> Array:
    """States about one, some of whose movements differ by up to `reach`: always the same ones."""
    trials = np.repeat(here[None], _AT_ONCE, axis=0)
    shape = (_AT_ONCE, active.size)
    trials[:, active] += reach * rng.uniform(-1, 1, shape) * (rng.random(shape) < _HALF)
    return np.clip(trials, -1, 1)


def _along(here: Array, movement: int) -> Array:
    """States that differ in one movement: a little way from its end, further, and beyond the middle; from the middle both ways."""
    values = here[movement] - np.sign(here[movement]) * _STEPS if here[movement] else _BOTH_WAYS
    trials = np.repeat(here[None], values.size, axis=0)
    trials[:, movement] = values
    return trials
