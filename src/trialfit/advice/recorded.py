"""The result of recording readings, in the shape that `record --json` prints.

Answers   Recorded      the readings, the written fact, and its effect
          ReadingLine   one reading; Turn   one finding before and after
Not here  recording (recording.py)
"""

from __future__ import annotations

from pydantic import Field

from trialfit.evaluation.finding import Interval
from trialfit.evaluation.verdict import Verdict
from trialfit.facts.frozen import Frozen


class ReadingLine(Frozen):
    """One reading."""

    number: int
    text: str = Field(description="as typed")
    counts: bool = Field(description="false only if the builder left it out")
    is_out_of_line: bool = Field(description="Grubbs' test at 5 % finds it out of line with the others that count")


class Turn(Frozen):
    """One finding that depends on the fact, before and after."""

    finding: str
    says: str
    before: Verdict
    after: Verdict
    margin_before: Interval | None
    margin_after: Interval | None


class Recorded(Frozen):
    """The readings, the written fact, and its effect."""

    file: str
    path: str = Field(description="the fact that was written")
    meaning: str
    before: str | None = Field(description="the old text; null if there was none")
    after: str
    readings: tuple[ReadingLine, ...]
    mean: str
    scatter: str = Field(description="standard deviation of single readings; empty for one reading")
    instrument: str = Field(description="uncertainty of the instrument, which repeats do not reduce")
    spread: str = Field(description="half-width of the 95 % interval of the mean")
    coverage_factor: float = Field(
        description="Student's t for this number of readings; 2 for one reading or very many"
    )
    warning: str = Field(description="an outlier among the readings, and what to do; empty if there is none")
    findings: tuple[Turn, ...] = Field(
        description="the findings that depend on the fact; the one that was named comes first"
    )
