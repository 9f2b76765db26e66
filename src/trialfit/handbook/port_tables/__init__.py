"""Tables of ports, threads and lines as data; SOURCES.md says where each comes from.

Answers   rows    the lines of one table, each a dict by the words of its header
Not here  what the lines mean (../port_threads.py and its neighbours)
"""

from __future__ import annotations

import csv
from functools import lru_cache
from importlib.resources import files


@lru_cache(maxsize=16)
def rows(name: str) -> tuple[dict[str, str], ...]:
    """The lines of a table, such as "hose_bores", in the order in which they are written."""
    text = files("trialfit.handbook.port_tables").joinpath(f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))
