"""What keeps a finding at stake safety from holding although its draws would: facts that nobody may lean on, limits of one's own.

Answers   reasons            what to do about the facts that it depends on, a sentence each; none where nothing is amiss
          remarks            what its reader should know of them, whatever the verdict
          by_own_limit       limits that hold at stake safety only because the builder has set a laxer one
Not here  which values are unusual (unusual.py); what outranks what (ranks.py)
Rule      At stake safety neither an unusual value without confirmation nor a guessed rating makes a finding hold; where and how
          a fact was found that has no provenance is not known, so it counts as a guess. A limit of the builder's own, without
          a maker's manual behind it, makes a finding hold only if the limit that it replaces is kept too.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from trialfit.evaluation.requirement import SourceKind
from trialfit.evaluation.unusual import remarks as unusual_remarks
from trialfit.evaluation.verdict import Verdict
from trialfit.facts.provenance import Provenance
from trialfit.parts.asking import asked
from trialfit.parts.declaring import FactRef

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from trialfit.evaluation.limits import Held
    from trialfit.parts.declaring import CurveRef

    Readings = Mapping[str, FactRef | CurveRef]

_GUESSED = {Provenance.guess: "it is a guess", Provenance.unstated: "where it comes from is missing"}


def reasons(readings: Readings) -> Iterator[str]:
    """What to do before a finding at stake safety can hold on these facts, a sentence each."""
    for path, ref in readings.items():
        if ref.unusual:
            yield f"Check {path} again: it {asked(ref)}."
        if why := _guessed(ref):
            yield f"Get {path} from its maker's manual or catalogue: {why}, and a guessed rating settles nothing at stake safety."


def remarks(readings: Readings) -> Iterator[str]:
    """One remark for each of these facts."""
    yield from unusual_remarks(readings)
    for path, ref in readings.items():
        if why := _guessed(ref):
            yield f"{path} is a rating and settles nothing at stake safety: {why}"


def _guessed(ref: FactRef | CurveRef) -> str:
    """Why a rating counts as a guess; "" for any other fact."""
    is_rating = isinstance(ref, FactRef) and ref.spec.is_rating and ref.written is not None
    return _GUESSED.get(ref.written.provenance, "") if is_rating and ref.written else ""


def by_own_limit(held: Sequence[Held]) -> list[Held]:
    """The limits of a requirement at stake safety: what holds by the builder's word alone is unsettled, and names what it replaces."""
    by_id = {one.limit.id: one for one in held}
    replaced = [one for one in held if one.limit.replaced_by and one.alone is not Verdict.holds]
    for one in replaced:
        own = by_id.get(one.limit.replaced_by)
        if own and own.limit.source.kind is SourceKind.builder and own.verdict is Verdict.holds:
            by_id[own.limit.id] = replace(own, verdict=Verdict.unsettled, laxer_than=one.limit.id)
    return [by_id[one.limit.id] for one in held]
