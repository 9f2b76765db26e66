"""A value compared with every limit of its requirement, and the limit that decides.

Answers   with_own      a requirement with its limit from the build
          held_against  a value with each limit: bound, margin, share of draws that keep it, verdict; the deciding one comes first
          Held          one of these
Not here  the rows (requirement.py); the rule of the verdict (verdict.py); the finding (working.py)
Rule      Of the limits that apply, the one with the worst verdict decides, among equals the one kept by the smallest share of
          the draws, then the one with the smallest margin. A limit that is replaced by another is worked out and listed, but
          does not apply.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import BUILDER, WRITTEN, AtLeast, AtMost, Between, Limit, Source, SourceKind
from trialfit.evaluation.unusual import guarded
from trialfit.evaluation.verdict import Verdict, judge, share_kept
from trialfit.facts.provenance import Provenance
from trialfit.facts.reading import read_fact

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from numpy.typing import ArrayLike

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.requirement import Requirement, Side
    from trialfit.handbook.arrays import Array
    from trialfit.parts.fact_refs import CurveRef, FactRef


_VERDICTS = list(Verdict)


@dataclass(frozen=True)
class Held:
    """One limit with its result; `readings` are the facts that its bound depends on."""

    limit: Limit
    readings: dict[str, FactRef | CurveRef]
    missing: dict[str, str]
    bound: Array | None = None
    margin: Array | None = None
    share: float | None = None
    verdict: Verdict = Verdict.unknown


def with_own(requirement: Requirement, text: str) -> Requirement:
    """The requirement with the limit that is written in the build. Raises Unreadable or ValueError with one sentence."""
    stated = requirement.limits
    side = type(stated[0].side) if stated else requirement.turned_by
    if side is Between:
        msg = f"{requirement.id} is between two limits that are facts of the build: set these facts instead"
        raise ValueError(msg)
    fact = read_fact(text, requirement.quantity)
    note = f": {fact.note}" if fact.note else ""
    if fact.provenance is Provenance.manual:
        source = Source(f"maker's manual{note}", SourceKind.manual)
    else:
        source = Source(f"{BUILDER.text}{note}", SourceKind.builder)
    return replace(requirement, own=Limit(WRITTEN, side(fact.si), source))  # type: ignore[call-arg]


def held_against(
    ev: Evaluation, requirement: Requirement, value: Array | None, read: Mapping[str, FactRef | CurveRef] | None = None
) -> tuple[Held, ...]:
    """A value (None if a fact is missing for it) with every limit of its requirement; the deciding one comes first.

    `read` are the facts that the value depends on: with an unusual one the verdict is not "holds" if safety is at stake.
    """
    held = [_held(ev, requirement, limit, value, read or {}) for limit in requirement.limits]
    return tuple(sorted(held, key=_worst_first)) if len(held) > 1 else tuple(held)


def _held(
    ev: Evaluation, requirement: Requirement, limit: Limit, value: Array | None, read: Mapping[str, FactRef | CurveRef]
) -> Held:
    if value is None:
        return Held(limit, {}, {})
    with ev.recording() as readings:
        try:
            bound, margin = _against(ev, limit.side, value)
        except MissingFact as missing:
            return Held(limit, readings, missing.wanted)
    if not np.isfinite(margin[0]):
        return Held(limit, readings, {}, bound, margin)
    share = share_kept(margin)
    verdict = guarded(judge(share, requirement.stake), requirement.stake, {**read, **readings})
    return Held(limit, readings, {}, bound, margin, share, verdict)


def _worst_first(held: Held) -> tuple[bool, int, float, float]:
    margin = 0.0 if held.margin is None or not np.isfinite(held.margin[0]) else float(held.margin[0])
    return bool(held.limit.replaced_by), _VERDICTS.index(held.verdict), held.share or 0.0, margin


def _against(ev: Evaluation, side: Side, value: Array) -> tuple[Array, Array]:
    def bound_of(bound: float | Callable[[Evaluation], ArrayLike]) -> Array:
        return spread_out(bound(ev) if callable(bound) else bound, ev.draws)

    if isinstance(side, AtMost):
        bound = bound_of(side.bound)
        return bound, bound - value
    if isinstance(side, AtLeast):
        bound = bound_of(side.bound)
        return bound, value - bound
    low, high = bound_of(side.low), bound_of(side.high)
    nearer = low if value[0] - low[0] < high[0] - value[0] else high
    return nearer, np.minimum(value - low, high - value)


def spread_out(value: ArrayLike, draws: int) -> Array:
    """A value as draws: a single number is the same in all of them."""
    return np.broadcast_to(np.asarray(value, float), draws)
