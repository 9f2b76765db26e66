"""Labels with a text beside each, on a page about one thing.

Answers   labelled   a table of them
Not here  rows of findings and changes, hundreds of them (rows.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table

from trialfit.cli.screen import line

if TYPE_CHECKING:
    from collections.abc import Mapping


def labelled(rows: Mapping[str, str]) -> Table:
    """Labels with a text beside each; a label without a text is left out."""
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True)
    table.add_column(ratio=1)
    for label, text in rows.items():
        if text:
            table.add_row(f"  {label}", line(text))
    return table
