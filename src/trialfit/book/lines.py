"""The line of an entry in a TOML text, so that a problem is shown with its line.

The TOML readers give values without positions. This module looks only for table headers and keys at the start of a
line, as builds are written. If it does not find an entry it returns None, and the problem is shown without a line.
"""

from __future__ import annotations

import re
from functools import lru_cache

_HEADER = re.compile(r"^\s*\[([^\[\]]+)\]\s*(?:#.*)?$")
_KEY = re.compile(r"""^\s*("[^"]*"|'[^']*'|[\w.\-]+)\s*=""")
_LONG_QUOTES = ('"""', "'''")


def line_of(text: str, path: str) -> int | None:
    r"""The line (from 1) of the entry at a dotted path; the line of its table if the entry itself is not found.

    >>> line_of('name = "x"\n\n[car]\nmass = "1 kg"', "car.mass")
    4
    """
    places = _places(text)
    while path:
        if path in places:
            return places[path]
        for place, number in places.items():
            if place.startswith(f"{path}."):
                return number
        path = path.rpartition(".")[0]
    return None


@lru_cache(maxsize=2)
def _places(text: str) -> dict[str, int]:
    places: dict[str, int] = {}
    table, inside = "", ""
    for number, line in enumerate(text.splitlines(), 1):
        if inside:
            inside = "" if inside in line else inside
        elif header := _HEADER.match(line):
            table = ".".join(_plain(step) for step in header[1].split("."))
            places.setdefault(table, number)
        elif key := _KEY.match(line):
            places.setdefault(".".join(filter(None, [table, _plain(key[1])])), number)
            rest = line[key.end() :]
            inside = next((quotes for quotes in _LONG_QUOTES if rest.count(quotes) % 2), "")
    return places


def _plain(key: str) -> str:
    return key.strip().strip("\"'").strip()
