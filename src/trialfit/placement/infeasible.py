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

from trialfit.placement.search import improve, search

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.placement.problem import Problem, Sort
    from trialfit.placement.search import Best

_LARGEST = 8
_ALONE = 1e-3
_WIDEST = 0.25
_HALVINGS = 12


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
    return improve(alone, best.pose).margin >= -_ALONE or search(alone, starts=6, screen=64).margin >= -_ALONE


def changes(problem: Problem, best: Best, names: Sequence[str]) -> list[Change]:
    """The relaxation of each requirement alone that makes everything fit, the smallest first."""
    sorts = {limit.name: limit for limit in problem.limits}
    found = [Change(name, sorts[name].sort, _least(problem, best, name, sorts[name].step)) for name in names]
    return sorted(found, key=lambda one: (one.by is None, (one.by or 0.0) / sorts[one.name].step))


def _least(problem: Problem, best: Best, name: str, step: float) -> float | None:
    low, high = 0.0, step
    start = best.pose
    while True:
        eased = improve(problem.with_eased(name, high), start)
        if eased.margin < -_ALONE and high >= _WIDEST * (step / 5e-3):
            eased = search(problem.with_eased(name, high), starts=6, screen=64)
        if eased.margin >= -_ALONE:
            break
        if high >= _WIDEST * (step / 5e-3):
            return None
        low, high, start = high, high * 2, eased.pose
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        there = improve(problem.with_eased(name, middle), eased.pose)
        if there.margin >= -_ALONE:
            high, eased = middle, there
        else:
            low = middle
    return high
