"""What keeps a finding at stake safety from holding although its draws would: facts that nobody may lean on, limits of one's own.

Answers   reasons            what to do about the facts that it depends on, a sentence each; none where nothing is amiss
          remarks            what its reader should know of them, whatever the verdict
          by_own_limit       limits that hold at stake safety only because the builder has set a laxer one
Not here  which values are unusual (unusual.py); what outranks what (ranks.py); factors of one's own (laxer.py)
Rule      At stake safety neither an unusual value without confirmation nor a guessed rating, strength or dimension that decides it
          makes a finding hold; where and how
          a fact was found that has no provenance is not known, so it counts as a guess. A limit of the builder's own, without
          a maker's manual behind it, makes a finding hold only if the limit that it replaces is kept too.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from trialfit.evaluation.laxer import is_laxer
from trialfit.evaluation.laxer import remark as laxer_than_usual
from trialfit.evaluation.requirement import SourceKind
from trialfit.evaluation.unusual import remarks as unusual_remarks
from trialfit.evaluation.verdict import Verdict
from trialfit.facts.fact import Fact
from trialfit.facts.provenance import Provenance
from trialfit.facts.quantity import LENGTH, STRESS
from trialfit.parts.asking import asked
from trialfit.parts.fact_refs import FactRef

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from trialfit.evaluation.limits import Held
    from trialfit.parts.fact_refs import CurveRef

    Readings = Mapping[str, FactRef | CurveRef]

_CALIPER = 0.15
"""What an ordinary caliper opens to, m: common practice, no source."""
_GUESSED = {Provenance.guess: "it is a guess", Provenance.unstated: "where it comes from is missing"}


def reasons(readings: Readings) -> Iterator[str]:
    """What to do before a finding at stake safety can hold on these facts, a sentence each."""
    for path, ref in readings.items():
        if ref.unusual:
            yield f"Check {path} again: it {asked(ref)}."
        if why := _guessed(ref):
            yield f"{_better(ref)}: {why}, and a guessed {_sort(ref)} settles nothing at stake safety."


def remarks(readings: Readings) -> Iterator[str]:
    """One remark for each of these facts."""
    yield from unusual_remarks(readings)
    for path, ref in readings.items():
        if why := _guessed(ref):
            yield f"{path} is a {_sort(ref)} and settles nothing at stake safety: {why}"
        if isinstance(ref, FactRef) and is_laxer(ref):
            yield laxer_than_usual(ref)


def _guessed(ref: FactRef | CurveRef) -> str:
    """Why a rating counts as a guess; "" for any other fact, and for a corner that is zero because the others count from it."""
    if not isinstance(ref, FactRef) or not ref.spec.is_rating or ref.written is None:
        return ""
    is_origin = ref.written.si == 0 and ref.written.spread.is_zero and ref.written.provenance is Provenance.unstated
    return "" if is_origin else _GUESSED.get(ref.written.provenance, "")


def _sort(ref: FactRef | CurveRef) -> str:
    quantity = ref.spec.quantity if isinstance(ref, FactRef) else None
    return "dimension" if quantity == LENGTH else "strength" if quantity == STRESS else "rating"


def _better(ref: FactRef | CurveRef) -> str:
    """How to know it: a dimension is measured, a rating is its maker's."""
    if _sort(ref) != "dimension" or ref.written is None or not isinstance(ref.written, Fact):
        return f"Get {ref.path} from its maker's manual or catalogue"
    return f"Measure {ref.path} with a {'caliper' if abs(ref.written.si) <= _CALIPER else 'tape'}"


def by_own_limit(held: Sequence[Held]) -> list[Held]:
    """The limits of a requirement at stake safety: what holds by the builder's word alone is unsettled, and names what it replaces."""
    by_id = {one.limit.id: one for one in held}
    replaced = [one for one in held if one.limit.replaced_by and one.alone is not Verdict.holds]
    for one in replaced:
        own = by_id.get(one.limit.replaced_by)
        if own and own.limit.source.kind is SourceKind.builder and own.verdict is Verdict.holds:
            by_id[own.limit.id] = replace(own, verdict=Verdict.unsettled, laxer_than=one.limit.id)
    return [by_id[one.limit.id] for one in held]
