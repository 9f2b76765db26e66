"""Values that can be, but that the trade seldom sees: they are asked about.

Answers   questions   what to ask about the facts of a build; Question  one of them
          remarks     what the reader of a finding should know about them
Not here  that safety does not hold on them (held_back.py); what is usual, and how a note confirms a value (parts/ranges.py); values that cannot be are refused (parts/reading.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import Field

from trialfit.facts.frozen import Frozen
from trialfit.parts.asking import asked, written_refs

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from trialfit.book.build import Build
    from trialfit.parts.declaring import CurveRef, FactRef


class Question(Frozen):
    """One unusual fact without a note that confirms it."""

    path: str
    says: str = Field(description="the written value, the usual range, and how to confirm it")


def questions(build: Build) -> Iterator[Question]:
    """What to ask about the facts of the parts in use, in their order."""
    for part in build.parts.values():
        for ref in written_refs(part):
            if ref.unusual:
                yield Question(path=ref.path, says=asked(ref))


def remarks(readings: Mapping[str, FactRef | CurveRef]) -> Iterator[str]:
    """One remark for each unusual fact that was read."""
    for path, ref in readings.items():
        if unusual := ref.unusual:
            yield f"really? {path} is {unusual}"
