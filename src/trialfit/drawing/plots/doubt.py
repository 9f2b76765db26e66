"""Which facts cause the uncertainty in one finding: shares of the variance of its margin.

Answers   doubt
Not here  how the shares are worked out (evaluation/shares.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.advice.explaining import explain
from trialfit.drawing.pen import Fill
from trialfit.drawing.plot import Axis, Bar, Plot
from trialfit.drawing.plots.from_draws import numbers, value_words
from trialfit.evaluation.finding import Finding, side_words
from trialfit.facts.quantity import SHARE
from trialfit.facts.units import display_unit

if TYPE_CHECKING:
    from trialfit.book.build import Build

_LEAST = 0.005
_MOST = 12


def doubt(build: Build, identifier: str, draws: int) -> Plot:
    """Shares of the variance, the largest first. Raises BadInput for an unknown finding."""
    why = explain(build, identifier, draws)
    found = why.result
    facts = [fact for fact in found.facts if fact.share >= _LEAST][:_MOST]
    unit = display_unit(SHARE)
    shares = numbers(np.array([fact.share for fact in facts], float), unit)
    notes = [found.says, f"{value_words(found.value)}"]
    if isinstance(found, Finding):
        limit = f", {side_words(found.side)} {value_words(found.limit)}" if found.limit else ""
        notes = [found.says, f"{found.verdict}: {value_words(found.value)}{limit}"]
    if why.next_step:
        notes.append(f"next: {why.next_step}")
    if why.acting_together >= _LEAST:
        notes.append(f"{why.acting_together * 100:.0f} % comes from facts acting together")
    if not facts and not found.missing:
        notes.append("no uncertainty: the facts it depends on are exact")
    return Plot(
        build=why.build,
        name=f"doubt.{identifier}",
        title=f"Where the uncertainty in {identifier} comes from",
        x=Axis(says="share of the variance", unit=unit.canonical, low=0.0),
        y=Axis(says="fact", rows=tuple(fact.path for fact in facts)),
        bars=tuple(
            Bar(row=row, start=0.0, end=share, says=f"{share:.0f} %  {fact.text}", fill=Fill.light)
            for row, (fact, share) in enumerate(zip(facts, shares, strict=True))
        ),
        notes=tuple(notes),
        missing=found.missing,
        draws=draws,
    )
