"""Factors, reserves and allowances that a builder has set on the lax side of what is usual, without a maker's figure behind them.

Answers   is_laxer     whether a written fact is one of these
          keep_to      what to do about those that a finding at stake safety holds by, a sentence; "" where there are none
          remark       what the reader of a finding should know of one
Not here  limits of the builder's own (held_back.by_own_limit); the evaluation by the usual values (Evaluation.by_ours)
Rule      A factor is laxer where the strict end of its range leaves out what is usual (`lax` in its declaration says which side
          that is). What was measured, on the car or on a bench, is not a choice: it does not count as such. At stake safety a finding that
          holds by a laxer factor must hold by the usual one too.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.evaluation.verdict import Verdict
from trialfit.facts.provenance import Provenance
from trialfit.parts.fact_refs import FactRef

if TYPE_CHECKING:
    from collections.abc import Iterable

    from trialfit.facts.fact import Fact
    from trialfit.parts.fact_refs import CurveRef

_FROM_ITS_MAKER = frozenset({Provenance.manual, Provenance.catalogue})
_MEASURED = frozenset({Provenance.taped, Provenance.calipered, Provenance.gauged, Provenance.weighed})
_HAIR = 1e-9
"""Share of a value below which two ends of ranges are the same."""
_BY_OURS = {
    Verdict.fails: "it fails",
    Verdict.unsettled: "it is unsettled",
    Verdict.unknown: "it is not known",
}


def is_laxer(ref: FactRef | CurveRef) -> bool:
    """Whether a fact is a factor that is laxer than what is usual, by the word of its builder."""
    if not isinstance(ref, FactRef) or not ref.spec.lax:
        return False
    fact, usual = ref.written, ref.spec.typical_fact
    if fact is None or usual is None or fact.provenance in _FROM_ITS_MAKER | _MEASURED:
        return False
    (low, high), (least, most) = _ends(fact), _ends(usual)
    hair = _HAIR * max(abs(least), abs(most))
    is_below, is_above = high < most - hair, low > least + hair
    return {"low": is_below, "high": is_above, "either": is_below or is_above}[ref.spec.lax]


def keep_to(laxer: Iterable[FactRef], by_ours: Verdict) -> str:
    """What to do before a finding at stake safety can hold that holds by these, and by the usual values comes out otherwise."""
    refs = list(laxer)
    if by_ours is Verdict.holds or not refs:
        return ""
    usual = " and ".join(f"the usual {ref.path}, {_usual(ref)}" for ref in refs)
    own = " and ".join(ref.written.plain if ref.written else "" for ref in refs)
    return (
        f"Keep to {usual}, by which {_BY_OURS[by_ours]}, or write the manual behind your own: by {own} it holds, but at stake "
        "safety only a maker's manual or catalogue makes a laxer value hold."
    )


def remark(ref: FactRef) -> str:
    """That it is laxer, and than what."""
    return f"{ref.path} is {ref.written.plain if ref.written else ''}, laxer than the usual {_usual(ref)}"


def _usual(ref: FactRef) -> str:
    fact = ref.spec.typical_fact
    return f"{fact.plain} ({ref.spec.source})" if fact else ""


def _ends(fact: Fact) -> tuple[float, float]:
    return fact.si - fact.spread.minus, fact.si + fact.spread.plus
