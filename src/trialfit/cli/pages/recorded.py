"""Readings that were written down, as a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from trialfit.cli.labels import labelled
from trialfit.cli.screen import CAUTION, clean, interval, line, mark_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.advice.recorded import ReadingLine, Recorded, Turn


def page(done: Recorded) -> Iterator[RenderableType]:
    """The readings, the fact written, and the findings that changed."""
    yield line(f"{done.file}: {done.path}, {done.meaning}", "bold")
    rows = {
        "readings": ", ".join(_reading(one) for one in done.readings),
        "mean": done.mean,
        "scatter": done.scatter and f"{done.scatter}, one standard deviation",
        "instrument": done.instrument,
        "together": f"{done.spread}, coverage factor {done.coverage_factor:.2f}",
        "was": done.before or "missing",
        "is": done.after,
    }
    yield labelled(rows)
    if done.warning:
        yield Text()
        yield line(done.warning, "bold")
    yield Text()
    if done.findings:
        yield line("findings that depend on it", "bold")
        yield _findings(done.findings)
    else:
        yield line("No finding depends on it yet.")
    yield line(CAUTION)


def _reading(one: ReadingLine) -> str:
    text = clean(one.text)
    if not one.counts:
        return f"[{text} left out]"
    return f"{text} (!)" if one.is_out_of_line else text


def _findings(turns: tuple[Turn, ...]) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True)
    table.add_column(ratio=1)
    for turn in turns:
        stays = turn.before is turn.after
        verdicts = f"{turn.after} as before" if stays else f"{turn.before}, now {turn.after}"
        text = line(turn.finding, "" if stays else "bold")
        text.append(f"  {verdicts}")
        if turn.margin_after:
            text.append(f": margin {interval(turn.margin_after)}")
        if turn.margin_before:
            text.append(f", was {interval(turn.margin_before)}")
        table.add_row(f"  {mark_of(turn.after)}", text)
    return table
