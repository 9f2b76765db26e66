"""One entry before and after, and names before and after, as pages."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from trialfit.cli.screen import clean, line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.book.changing import Change
    from trialfit.book.updating import Updated


def page(done: Change, remarks: tuple[str, ...] = ()) -> Iterator[RenderableType]:
    """The change as a page."""
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_column(no_wrap=True)
    table.add_column()
    table.add_row("  was", _lines(done.before) if done.before is not None else "missing")
    table.add_row("  is", _lines(done.after))
    if done.reads_as:
        table.add_row("  read as", line(done.reads_as))
    number = f", change {done.number}" if done.number else ""
    yield line(f"{done.file}: {done.path}{number}", "bold")
    yield table
    if done.question:
        yield line(done.question)
    if done.faults_left:
        faults = "1 fault is" if done.faults_left == 1 else f"{done.faults_left} faults are"
        yield line(
            f"{faults} left in the file: `trialfit check {done.file}` lists {'it' if done.faults_left == 1 else 'them'}"
        )
    yield from map(line, remarks)


def names_page(done: Updated) -> Iterator[RenderableType]:
    """The names that were rewritten as a page."""
    if not done.names:
        yield line(f"{done.file}: no old names; nothing was changed", "bold")
        return
    yield line(f"{done.file}: {len(done.names)} old names are now those of today", "bold")
    table = Table.grid(padding=(0, 2, 0, 0))
    for one in done.names:
        table.add_row(line(f"  {one.path}"), line(f"{one.old} → {one.new}"))
    yield table
    if done.remark:
        yield line(done.remark)


def _lines(text: str) -> Text:
    return Text("\n".join(clean(row) for row in text.strip("\n").split("\n")))
