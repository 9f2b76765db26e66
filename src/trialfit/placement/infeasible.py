"""When nothing fits: the requirements that cannot hold together, and the smallest change that makes them fit.

Answers   conflict    the smallest set of requirements that cannot hold together in the window, verified by leaving each out
          changes     for each of them: the smallest relaxation of it alone that makes everything fit
Not here  words for a builder (subjects/clearance, cli)
Method    The requirements that limit the best pose (multipliers above zero) are a candidate set; a whole search checks it
          alone, then each is left out in turn, and stays out if the rest still cannot hold. Then smaller sets of the
          candidates are tried, by size. A search from many starts can miss a pose, so the answer is "no pose was
          found", not a proof.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from trialfit.placement.search import improve, search

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.placement.problem import Problem, Sort
    from trialfit.placement.search import Best

_LARGEST = 8
_ALONE = 1e-3
_JUST = 1e-2
_WIDEST = 0.25
_LENGTH = 5e-3
_GROWS = 4.0
_MOST_SECANTS = 12
_OFF_THE_ENDS = 0.01


@dataclass(frozen=True)
class Change:
    """The smallest relaxation of one requirement that makes all fit: `by` in SI; None if that alone is not enough."""

    name: str
    sort: Sort
    by: float | None


def conflict(problem: Problem, best: Best) -> tuple[str, ...]:
    """The smallest set found that cannot hold together, in order of its share. () if everything fits."""
    if best.margin >= 0:
        return ()
    candidates = tuple(best.shares)[:_LARGEST]
    if not candidates or _fits(problem, candidates, best):
        candidates = tuple(dict.fromkeys(limit.name for limit in problem.limits))
    kept = list(candidates)
    for name in reversed(candidates):
        rest = [one for one in kept if one != name]
        if rest and not _fits(problem, rest, best):
            kept = rest
    for size in range(1, len(kept)):
        for some in combinations(candidates[:_LARGEST], size):
            if not _fits(problem, some, best):
                return some
    return tuple(kept)


def _fits(problem: Problem, names: Sequence[str], best: Best) -> bool:
    alone = problem.only(names)
    return improve(alone, best.pose).margin >= -_ALONE or _found(alone).margin >= -_ALONE


def _found(problem: Problem) -> Best:
    """A pose at which everything fits; the best that was seen if there is none."""
    return search(problem, starts=6, screen=64, enough=-_ALONE)


def changes(problem: Problem, best: Best, names: Sequence[str]) -> list[Change]:
    """The relaxation of each requirement alone that makes everything fit, the smallest first."""
    sorts = {limit.name: limit for limit in problem.limits}
    found = [Change(name, sorts[name].sort, _least(problem, best, name, sorts[name].step)) for name in names]
    return sorted(found, key=lambda one: (one.by is None, (one.by or 0.0) / sorts[one.name].step))


def _least(problem: Problem, best: Best, name: str, step: float) -> float | None:
    """The smallest relaxation that makes everything fit, by secants: the margin grows with it, ever more slowly. None if the widest is not enough."""
    widest = _WIDEST * (step / _LENGTH)
    low, below = 0.0, best.margin
    high, eased = step, improve(problem.with_eased(name, step), best.pose)
    while eased.margin < -_ALONE:
        if high >= widest:
            eased = _found(problem.with_eased(name, high))
            if eased.margin < -_ALONE:
                return None
            break
        further = high * below / (below - eased.margin) if eased.margin > below else np.inf
        low, below, high = high, eased.margin, min(float(np.clip(further, 1.5 * high, _GROWS * high)), widest)
        eased = improve(problem.with_eased(name, high), eased.pose)
    above = eased.margin
    for _ in range(_MOST_SECANTS):
        if eased.margin <= _JUST or high - low < _JUST * step:
            break
        middle = float(np.clip(low - below * (high - low) / (above - below), *_inside(low, high)))
        there = improve(problem.with_eased(name, middle), eased.pose)
        if there.margin >= -_ALONE:
            high, above, eased, below = middle, there.margin, there, below / 2
        else:
            low, below, above = middle, there.margin, above / 2
    return high


def _inside(low: float, high: float) -> tuple[float, float]:
    """A little way from either end."""
    return low + _OFF_THE_ENDS * (high - low), high - _OFF_THE_ENDS * (high - low)
