"""All sheets, or those that were printed, as a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from trialfit.cli.screen import clean, line
from trialfit.cli.started import started_as

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.sheets.listing import SheetList


def list_page(listed: SheetList) -> Iterator[RenderableType]:
    """A line for each sheet, with the file where one was written."""
    printed = [one for one in listed.sheets if one.file]
    for one in printed:  # never folded or cut: it is to be copied
        yield Text(
            f"{one.name:{max(len(each.name) for each in printed)}}  {clean(one.file)}", no_wrap=True, overflow="ignore"
        )
    if not printed:
        yield _menu(listed)
        yield line("")
        yield line(f"{started_as()} sheet BUILD NAME prints one, {started_as()} sheet BUILD --all FOLDER all of them.")


def _menu(listed: SheetList) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True)
    table.add_column(ratio=1)
    for one in listed.sheets:
        table.add_row(line(one.name, "bold"), line(one.says))
    return table
