"""What was drawn, and which plots there are, as pages.

Answers   drawing_page   the files of a general arrangement, its scale, what is on it
          plots_page     the plots there are, or the file that one was written to
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from trialfit.cli.screen import clean, indented, line
from trialfit.cli.started import started_as

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.drawing.arrangement.report import Drawing
    from trialfit.drawing.plot import PlotList


def drawing_page(drawing: Drawing) -> Iterator[RenderableType]:
    """The files written, the scale, and the number of balloons."""
    for file in drawing.files:
        yield _file(file)
    numbered = sum(1 for one in drawing.balloons if one.number is not None)
    without = sum(len(one.findings) for one in drawing.balloons if one.number is None)
    scale = f"scale {drawing.scale}" if drawing.scale else "nothing has a place yet"
    yield line(f"{scale}, {numbered} balloons; {without} findings that do not hold have no place on it")
    for moved in drawing.moved:
        yield indented(moved.says)
    for path, says in drawing.missing.items():
        yield line(f"not drawn  {path}: {says}")


def plots_page(listed: PlotList) -> Iterator[RenderableType]:
    """A line for each plot, with what it waits for; or the file where one was written."""
    written = [one for one in listed.plots if one.file]
    for one in written:
        yield _file(f"{one.name}  {one.file}")
    if written:
        return
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True)
    table.add_column(ratio=1)
    for one in listed.plots:
        table.add_row(line(one.name, "bold"), line(one.says))
        if one.why_not:
            table.add_row(line(""), line(f"not yet: {one.why_not}"))
    yield table
    yield line("")
    yield line(
        f"{started_as()} plot BUILD NAME draws one, {started_as()} plot BUILD NAME -o NAME.csv gives its numbers."
    )


def _file(text: str) -> Text:
    """On one line, so that it can be copied."""
    return Text(clean(text), no_wrap=True, overflow="ignore")
