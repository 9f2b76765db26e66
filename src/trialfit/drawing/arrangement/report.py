"""The content of a general arrangement, as data.

Answers   Drawing       in the shape that `draw --json` prints
          report_of     the data of an arrangement
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import Field

from trialfit.facts.frozen import Frozen

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.drawing.arrangement.general import Arrangement


class Ballooned(Frozen):
    """What does not hold at one place."""

    number: int | None = Field(description="its balloon; null without a place on the drawing")
    part: str
    at_mm: tuple[float, float, float] | None = Field(
        description="its place: forward of the front axle, to the left, above the ground"
    )
    findings: tuple[str, ...] = Field(description="ids of the findings, the worst first")


class Moved(Frozen):
    """What has moved, is new or is gone since the earlier build."""

    name: str
    says: str


class Drawing(Frozen):
    """A general arrangement."""

    build: str
    scale: str = Field(description='such as "1:20"; empty if nothing has a place')
    sheets: int
    files: tuple[str, ...] = Field(description="the written files, sheet by sheet")
    balloons: tuple[Ballooned, ...]
    moved: tuple[Moved, ...]
    missing: dict[str, str] = Field(description="missing facts that would add to the drawing, with their meaning")


def report_of(build: str, arrangement: Arrangement, files: Sequence[str] = ()) -> Drawing:
    """The data of an arrangement, with the files it was written to."""
    return Drawing(
        build=build,
        scale=arrangement.scale,
        sheets=len(arrangement.pictures),
        files=tuple(files),
        balloons=tuple(
            Ballooned(
                number=one.number,
                part=one.part,
                at_mm=(one.at[0] * 1e3, one.at[1] * 1e3, one.at[2] * 1e3) if one.at else None,
                findings=tuple(finding.id for finding in one.findings),
            )
            for one in arrangement.balloons
        ),
        moved=tuple(Moved(name=one.name, says=one.says) for one in arrangement.movements),
        missing=arrangement.missing,
    )
