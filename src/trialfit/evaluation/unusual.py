"""Possible values that are rare in the trade: the program asks about them, and no finding at stake safety holds on them.

Answers   questions   the questions about the facts of a build; Question  one of them
          guarded     the verdict of a finding that depends on such facts
          remarks     the remarks on such a finding
Not here  usual ranges, and how a note confirms a value (parts/ranges.py); impossible values are refused (parts/reading.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import Field

from trialfit.evaluation.requirement import Stake
from trialfit.evaluation.verdict import Verdict
from trialfit.facts.frozen import Frozen
from trialfit.parts.asking import asked, written_refs

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from trialfit.book.build import Build
    from trialfit.parts.fact_refs import CurveRef, FactRef


class Question(Frozen):
    """One unusual fact without a note that confirms it."""

    path: str
    says: str = Field(description="the written value, the usual range, and how to confirm it")


def questions(build: Build) -> Iterator[Question]:
    """The questions about the facts of the parts in use, in their order."""
    for part in build.parts.values():
        for ref in written_refs(part):
            if ref.unusual:
                yield Question(path=ref.path, says=asked(ref))


def guarded(verdict: Verdict, stake: Stake, readings: Mapping[str, FactRef | CurveRef]) -> Verdict:
    """The verdict: unsettled instead of holds if safety depends on an unusual value without confirmation."""
    if verdict is Verdict.holds and stake is Stake.safety and any(ref.unusual for ref in readings.values()):
        return Verdict.unsettled
    return verdict


def remarks(readings: Mapping[str, FactRef | CurveRef]) -> Iterator[str]:
    """One remark for each unusual fact that was read."""
    for path, ref in readings.items():
        if unusual := ref.unusual:
            yield f"really? {path} is {unusual}"
