"""The one sentence behind a finding: what to do about it.

Answers   next_step   for a finding that does not hold
          get         the facts to get, for findings that need them
          percent     a share as text
Not here  which measurement settles it for certain (settling.py): that takes longer to work out. Both use the same
          instruments (doubts.py), so that neither tells anyone to measure what cannot be measured.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.advice.doubts import WORTH_NARROWING, could_turn, doubts_of, settles
from trialfit.advice.reach import ways_at
from trialfit.advice.supposing import fact_at
from trialfit.evaluation.verdict import Verdict
from trialfit.facts.provenance import Provenance

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from trialfit.advice.doubts import Doubt
    from trialfit.book.build import Build
    from trialfit.evaluation.finding import FactUse, Finding

_HOW_KNOWN = {
    "typical": "it is missing",
    "guess": "it is a guess",
    "catalogue": "it is a catalogue figure",
    "manual": "it is the manual's figure",
    "computed": "it was computed",
    "unstated": "how it was measured is missing",
    "": "how it was measured is missing",
}
_CHANGE = "Change a part, its place or its setting."
_NAMED = 2


def next_step(build: Build, finding: Finding) -> str:
    """What to do about a finding of a build, in a sentence or two; "" if it holds."""
    if finding.verdict is Verdict.holds:
        return ""
    if finding.verdict is Verdict.unknown and not finding.missing and finding.facts:
        paths = ", ".join(fact.path for fact in finding.facts if fact.provenance != Provenance.typical)
        return f"Its value is outside the range of the formula: check {paths or 'the facts it depends on'}."
    if finding.verdict is Verdict.unknown:
        return get(finding.missing)
    if finding.held_back:
        return " ".join(finding.held_back)
    doubts, out_of_reach = doubts_of(build, finding)
    if finding.verdict is Verdict.fails:
        return _mend(finding, could_turn(finding, doubts))
    return _settle(build, finding, doubts, out_of_reach)


def percent(share: float) -> str:
    """A share of 0 to 1 as text.

    >>> percent(0.5)
    '50 %'
    """
    return f"{share:.0%}".replace("%", " %")


def get(missing: Mapping[str, str]) -> str:
    """The facts to get, with their meaning; what else to check if nothing is missing."""
    if not missing:
        return "Its value is outside the range of the formula: check the facts it depends on."
    wanted = [f"{path} ({meaning.rstrip('.')})" for path, meaning in missing.items()]
    return f"Get {'; '.join(wanted)}."


def _mend(finding: Finding, could_turn: Sequence[Doubt]) -> str:
    """What to change; before that, what to measure if that could show that no change is needed."""
    cure = finding.cure or _CHANGE
    if not could_turn:
        return cure if finding.cure else "Change a part, its place or its setting: better measurement does not help."
    named = " and ".join(_target(doubt) for doubt in could_turn[:_NAMED])
    return f"Measure {named} first: within its uncertainty the limit may be met. If it still fails: {cure}"


def _settle(build: Build, finding: Finding, doubts: Sequence[Doubt], out_of_reach: Sequence[FactUse]) -> str:
    """The measurement that settles it, else the one that narrows it most; what helps if no instrument does."""
    alone = next((doubt for doubt in doubts if settles(finding, [doubt])), None)
    if alone or (doubts and (settles(finding, doubts) or not out_of_reach)):
        return _measure(alone or doubts[0])
    if not out_of_reach:
        return "Its facts cannot be measured better: allow more margin."
    if doubts and doubts[0].use.share >= max(WORTH_NARROWING, out_of_reach[0].share):
        return _measure(doubts[0])
    return _out_of_reach(build, out_of_reach[0])


def _measure(doubt: Doubt) -> str:
    why = f"{_how_known(doubt.use)}, and {percent(doubt.use.share)} of the uncertainty comes from it."
    if doubt.writes:
        return f"Measure {_target(doubt)}: {doubt.path} is used instead, {why}"
    if doubt.is_asked:
        return f"Ask its maker for {doubt.path}: {why}"
    better = "" if doubt.use.provenance == "typical" else " better"
    return f"Measure {doubt.path}{better}: {why}"


def _target(doubt: Doubt) -> str:
    """What to measure: the fact itself, or the one of the same part that replaces it."""
    return f"{doubt.path.partition('.')[0]}.{doubt.writes}" if doubt.writes else doubt.path


def _out_of_reach(build: Build, use: FactUse) -> str:
    at = fact_at(build, use.path)
    helps = ways_at(build, at).helps if at else ""
    return f"{percent(use.share)} of the uncertainty comes from {use.path}. {helps}".rstrip()


def _how_known(fact: FactUse) -> str:
    return _HOW_KNOWN.get(fact.provenance, f"it was {fact.provenance}")
