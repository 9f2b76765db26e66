"""The instruments of a builder: their uncertainty, how easy they are to get, and the facts that none can measure.

Answers   ways_to_get   the instruments for one fact, the easiest to get first, or what helps if there are none
          Instrument    one of them, with its half-width for a value
Not here  which fact is worth measuring (settling.py, what_to_measure.py)
Sources   instruments.csv and facts_apart.csv, see SOURCES.md
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import lru_cache
from pathlib import Path

from trialfit.facts.provenance import Provenance
from trialfit.facts.quantity import QUANTITIES, Quantity
from trialfit.facts.units import Unit, find_unit, to_si, to_si_difference

_FOLDER = Path(__file__).parent
_NO_INSTRUMENT = "No instrument in the table measures it: ask its maker, and write the answer with the word manual."


@dataclass(frozen=True)
class Instrument:
    """One instrument for one quantity.

    `absolute` (SI) and `relative` (1) make its half-width, an expanded uncertainty, k = 2; it measures values from
    `smallest` to `largest` (SI). `cost` is from 1, in every toolbox, to 4, a workshop does it. `needs` is the state of the car
    that it needs, of car_states.csv; empty if none.
    """

    name: str
    quantity: Quantity
    provenance: Provenance
    unit: Unit
    absolute: float
    relative: float
    smallest: float
    largest: float
    cost: int
    is_usual: bool
    source: str
    caution: str
    needs: str = ""

    @property
    def is_asked(self) -> bool:
        """Whether it is a maker's figure, which is asked for and not measured."""
        return self.provenance is Provenance.manual

    def half_width(self, value: float) -> float:
        """Its half-width for a value, both SI."""
        return self.absolute + self.relative * abs(value)

    def serves(self, value: float | None) -> bool:
        """Whether a value (SI) is in its range; true without a value."""
        return value is None or self.smallest <= abs(value) <= self.largest


@dataclass(frozen=True)
class Ways:
    """How to get a fact. `writes` is the fact of the same part that is written instead, "" for the fact itself.

    `is_apart` tells that the fact has a row of its own in facts_apart.csv.
    """

    instruments: tuple[Instrument, ...]
    writes: str = ""
    helps: str = ""
    is_apart: bool = False


@dataclass(frozen=True)
class _Apart:
    pattern: str
    instruments: tuple[str, ...]
    writes: str
    helps: str


def ways_to_get(kind: str, fact: str, quantity: Quantity, value: float | None = None) -> Ways:
    """How to get a fact of a kind of part, for a value (SI) near the one given.

    The instruments that are easiest to get come first, among equals the finer; without any, `helps` says what to do.
    """
    of_quantity = [one for one in instruments() if one.quantity == quantity and one.serves(value)]
    apart = next((row for row in _facts_apart() if fnmatchcase(f"{kind}.{fact}", row.pattern)), None)
    if apart is None:
        fit = tuple(one for one in of_quantity if one.is_usual)
        return Ways(fit, helps="" if fit else _NO_INSTRUMENT)
    fit = tuple(one for name in apart.instruments for one in of_quantity if one.name == name)
    return Ways(fit, apart.writes, apart.helps or ("" if fit else _NO_INSTRUMENT), is_apart=True)


@lru_cache(maxsize=1)
def instruments() -> tuple[Instrument, ...]:
    """All instruments of the table, the easiest to get first."""
    found = [_instrument(row) for row in _rows("instruments.csv")]
    return tuple(sorted(found, key=lambda one: (one.cost, one.absolute, one.relative)))


def _instrument(row: dict[str, str]) -> Instrument:
    quantity = QUANTITIES[row["quantity"]]
    unit = find_unit(quantity, row["unit"])
    return Instrument(
        name=row["instrument"],
        quantity=quantity,
        provenance=Provenance(row["provenance"]),
        unit=unit,
        absolute=to_si_difference(float(row["half-width [in unit]"] or 0), unit),
        relative=float(row["half-width [% of value]"] or 0) / 100,
        smallest=to_si(float(row["smallest [in unit]"]), unit),
        largest=to_si(float(row["largest [in unit]"]), unit),
        cost=int(row["cost"]),
        is_usual=row["usual"] == "yes",
        source=row["source"],
        caution=row["caution"] or "",
        needs=row["needs"] or "",
    )


@lru_cache(maxsize=1)
def _facts_apart() -> tuple[_Apart, ...]:
    return tuple(
        _Apart(row["fact"], tuple(filter(None, row["instruments"].split("|"))), row["writes"], row["helps"])
        for row in _rows("facts_apart.csv")
    )


def _rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader((_FOLDER / name).read_text(encoding="utf-8").splitlines()))
