"""The fixed table of units: units.csv with the spellings, unit_factors.csv with the SI factors.

Answers   unit_rows   the units of one quantity, in the order of the table
          scale_of    the conversion of a unit to SI
          spelled     every accepted form of one spelling of the table
Not here  finding a unit, converting (units.py); making the factors (factors.py)
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from pathlib import Path

FOLDER = Path(__file__).parent
_JOINERS = ("·", ".", "*", "-", " ", "")
_RAISED = {"²": ("²", "2", "^2"), "³": ("³", "3", "^3")}


@dataclass(frozen=True)
class Row:
    """One unit of the table. `definition` is for pint; `shown` is "usual", "US" or ""."""

    quantity: str
    symbol: str
    definition: str
    shown: str
    spellings: tuple[str, ...]


@dataclass(frozen=True)
class Scale:
    """SI = (number + offset) · numerator / denominator; two exact numbers keep 25.4 mm at 0.0254 m."""

    numerator: float
    denominator: float
    offset: float


@lru_cache(maxsize=1)
def _table() -> dict[str, tuple[Row, ...]]:
    rows: dict[str, list[Row]] = {}
    for line in csv.DictReader((FOLDER / "units.csv").read_text(encoding="utf-8").splitlines()):
        spellings = tuple(way for spelling in line["spellings"].split("|") for way in spelled(spelling))
        rows.setdefault(line["quantity"], []).append(
            Row(line["quantity"], line["symbol"], line["definition"], line["shown"], spellings)
        )
    return {name: tuple(found) for name, found in rows.items()}


def unit_rows(quantity: str) -> tuple[Row, ...]:
    """The units of a quantity. Raises KeyError for an unknown quantity."""
    return _table()[quantity]


def all_rows() -> tuple[Row, ...]:
    """Every unit of every quantity."""
    return tuple(row for rows in _table().values() for row in rows)


@lru_cache(maxsize=1)
def _scales() -> dict[tuple[str, str], Scale]:
    scales = {}
    for line in csv.DictReader((FOLDER / "unit_factors.csv").read_text(encoding="utf-8").splitlines()):
        above, _, below = line["factor [SI]"].partition("/")
        scales[line["quantity"], line["symbol"]] = Scale(float(above), float(below or 1), float(line["offset [unit]"]))
    return scales


def scale_of(quantity: str, symbol: str) -> Scale:
    """The conversion of that unit to SI. Raises KeyError if the unit is not in the table."""
    return _scales()[quantity, symbol]


def spelled(spelling: str) -> tuple[str, ...]:
    """The ways to write a spelling: "N·m" also as N.m, N*m, N-m, N m and Nm; "m²" also as m2 and m^2."""
    choices = [_JOINERS if letter == "·" else _RAISED.get(letter, (letter,)) for letter in spelling]
    return tuple("".join(letters) for letters in product(*choices))
