"""Printed tables as data: a CSV with units in its header in the `tables/` of a room, its sources in SOURCES.md beside it.

Answers   rows    the lines of one table, each a dict by the words of its header
Not here  what the lines mean (the modules of the room)
"""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files


@cache
def rows(room: str, name: str) -> tuple[dict[str, str], ...]:
    """The lines of a table in the order in which they are written.

    room, name    as in rows("ports", "hose_bores")
    returns       dicts of text, by the words of the header

    Errors: FileNotFoundError for a table that the room does not have. Source: SOURCES.md beside each table.

    >>> rows("senders", "preferred_numbers")[0]
    {'value': '1.0', 'source': 'IEC 60063, E24, in a public reprint'}
    """
    text = files(f"trialfit.handbook.{room}").joinpath("tables", f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))
