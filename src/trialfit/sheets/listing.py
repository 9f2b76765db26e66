"""The list of sheets, and of those printed, in the shapes that `--json` prints.

Answers   SheetList, SheetLine    the shapes
          sheet_list              every sheet there is
"""

from __future__ import annotations

from pydantic import Field

from trialfit.facts.frozen import Frozen
from trialfit.sheets.all_sheets import SHEETS


class SheetLine(Frozen):
    """One sheet."""

    name: str
    says: str = Field(description="its purpose")
    file: str = Field(default="", description="the PDF that was written; empty if none was written")
    size: int = Field(default=0, description="of that file, bytes")


class SheetList(Frozen):
    """The sheets of a build."""

    build: str
    sheets: tuple[SheetLine, ...]


def sheet_list(build: str) -> SheetList:
    """Every sheet there is."""
    return SheetList(build=build, sheets=tuple(SheetLine(name=name, says=says) for name, (says, _) in SHEETS.items()))
