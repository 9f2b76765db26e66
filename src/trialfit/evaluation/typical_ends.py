"""Whether a verdict rests on where in their usual ranges some facts lie that nobody has found: then it is not settled.

Answers   with_ends     the limits of a requirement, with the facts at whose other ends it would not fail
          is_typical    whether a fact is a typical value with a spread
          ends_of       the draws of one, each moved to the end of the range that it is nearer to
Not here  the evaluation with these draws (Evaluation.at_ends); the verdict by the count (limits.py)
Rule      A typical value settles only what anything found would settle. Two rectangular ranges multiplied make a good corner of one
          draw in a hundred: counted, it fails; but a car may well lie in that corner, and what is found there is no chance. So where
          it fails and some draw comes near the limit, the draws are looked at whose facts, those that matter most, all lie at their
          good ends: there it must fail too.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.states import as_states
from trialfit.evaluation.verdict import FAILS_TO, Verdict
from trialfit.parts.fact_refs import FactRef

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.limits import Held
    from trialfit.evaluation.requirement import Requirement
    from trialfit.evaluation.states import InStates
    from trialfit.facts.fact import Fact
    from trialfit.handbook.arrays import Array
    from trialfit.parts.fact_refs import CurveRef


_MOST = 5
"""Facts whose ends are taken together: of 4096 draws 128 lie in such a corner."""
_FEWEST = 4
_NEAR = 0.5
"""A verdict is near that the best draw misses by less than that share of how far it lies from the middle one."""


def is_typical(ref: FactRef | CurveRef) -> bool:
    """Whether it is a typical value with a spread, because nothing is written."""
    if not isinstance(ref, FactRef) or ref.written is not None or ref.known is None:
        return False
    return not ref.known.spread.is_zero


def ends_of(fact: Fact, draws: Array) -> Array:
    """The draws of a typical value, each at the end of the range that it is nearer to; the nominal stays."""
    low, high = fact.si - fact.spread.minus, fact.si + fact.spread.plus
    moved = np.where(draws > (low + high) / 2, high, low)
    moved[0] = draws[0]
    return moved


def with_ends(
    ev: Evaluation,
    requirement: Requirement,
    read: dict[str, FactRef | CurveRef],
    held: tuple[Held, ...],
    judge: Callable[[Evaluation, Requirement, InStates], Sequence[Held]],
) -> tuple[Held, ...] | None:
    """The limits, with the facts at whose ends a verdict would be another; None where there are none."""
    near = {one.limit.id for one in held if _is_near(one)}
    typical = [ref for ref in read.values() if isinstance(ref, FactRef) and is_typical(ref)]
    if not near or not typical:
        return None
    ends = ev.at_ends()
    margins = {
        one.limit.id: one.margin for one in judge(ends, requirement, as_states(requirement.value(ends), ev.draws))
    }
    turned = {one.limit.id: _turning(ends, margins.get(one.limit.id), typical) for one in held if one.limit.id in near}
    if not any(turned.values()):
        return None
    return tuple(replace(one, turned_by=turned.get(one.limit.id, ())) for one in held)


def _is_near(one: Held) -> bool:
    """Whether it fails, and some draw keeps it or comes near."""
    margin = one.margin
    if margin is None or one.count is None or one.count.is_exact or one.alone is not Verdict.fails:
        return False
    known = margin[np.isfinite(margin)]
    if known.size < _FEWEST:
        return False
    best = float(known.max())
    return best + _NEAR * (best - float(np.median(known))) >= 0


def _turning(ends: Evaluation, margin: Array | None, typical: Sequence[FactRef]) -> tuple[str, ...]:
    """The facts at whose good ends it would not fail, those that matter most first."""
    if margin is None:
        return ()
    drawn = np.where(np.isfinite(margin), margin, np.nan)[1:]
    effects = []
    for ref in typical:
        draws = ends(ref)[1:]
        high = draws > draws.mean()
        if high.all() or not high.any():
            continue
        effect = float(np.nanmean(drawn[high]) - np.nanmean(drawn[~high]))
        effects.append((abs(effect), ref.path, high if effect > 0 else ~high))
    scatter = float(np.nanstd(drawn))
    strong = sorted((one for one in effects if one[0] > scatter / 10), key=lambda one: -one[0])[:_MOST]
    corner = np.ones(drawn.shape, bool)
    taken = []
    for _, path, is_good in strong:
        corner &= is_good
        taken.append(path)
        if np.count_nonzero(corner) < _FEWEST:
            return ()
        if np.count_nonzero(drawn[corner] >= 0) > FAILS_TO * np.count_nonzero(corner):
            return tuple(taken)
    return ()
