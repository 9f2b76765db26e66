"""The one sentence behind a finding: what to do about it.

Answers   next_step   for a finding that does not hold
          percent     a share as text
Not here  which measurement settles it (settling.py): that takes longer to work out
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.evaluation.verdict import Verdict

if TYPE_CHECKING:
    from trialfit.evaluation.finding import FactUse, Finding

_HOW_KNOWN = {
    "typical": "nobody has written it",
    "guess": "it is a guess",
    "catalogue": "it is a catalogue figure",
    "manual": "it is the manual's figure",
    "computed": "it was computed",
    "unstated": "nobody wrote how it was measured",
    "": "nobody wrote how it was measured",
}
_SMALL = 0.005
_WORTH_WRITING = 0.05


def next_step(finding: Finding) -> str:
    """What to do about a finding, as one sentence; "" where it holds."""
    if finding.verdict is Verdict.holds:
        return ""
    if finding.verdict is Verdict.unknown:
        return _get(finding)
    first = next((fact for fact in finding.facts if fact.share >= _SMALL), None)
    if finding.verdict is Verdict.unsettled:
        return (
            f"Measure {first.path} better: {_how_known(first)}, and it causes {percent(first.share)} of the doubt."
            if first
            else ""
        )
    if finding.cure:
        return finding.cure
    typical = [fact.path for fact in finding.facts if fact.provenance == "typical" and fact.share >= _WORTH_WRITING]
    if typical:
        return f"Write down what is typical so far: {', '.join(typical)}; then, if it still fails, change the parts."
    return "Its facts are known well enough to say so: change a part, its place or its setting."


def percent(share: float) -> str:
    """A share of 0 to 1 as text.

    >>> percent(0.5)
    '50 %'
    """
    return f"{share:.0%}".replace("%", " %")


def _get(finding: Finding) -> str:
    if not finding.missing:
        return "Its value lies outside the range of the formula: check the facts it stands on."
    wanted = [f"{path} ({meaning.rstrip('.')})" for path, meaning in finding.missing.items()]
    return f"Get {'; '.join(wanted)}."


def _how_known(fact: FactUse) -> str:
    return _HOW_KNOWN.get(fact.provenance, f"it was {fact.provenance}")
