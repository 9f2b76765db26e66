"""What a value can be, and what is usual: one row a fact, in ranges.csv; for facts without one a row a quantity.

Answers   Range       the hard bounds of one fact, and what is usual, in SI, with the unit they are shown in
          range_of    that of a fact of a kind: its own row, with the row of its quantity where that leaves a bound open
          in_words    a range as it stands in a sentence; confirmed  whether a note says that an unusual value is meant
Not here  that a thing has a length above nothing: its declaration says so (declaring.py); reading by it (reading.py)
Tables    ranges.csv: kind, fact (a curve has two: "torque_curve.x", "torque_curve.y"), bounds, what is usual, unit, source.
          bounds_by_quantity.csv: bounds of everything else that is of a quantity.
"""

from __future__ import annotations

import csv
import math
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from trialfit.facts.measure import measure_text
from trialfit.facts.quantity import QUANTITIES
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit, find_unit, from_si, to_si

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.facts.quantity import Quantity
    from trialfit.facts.units import Unit

FOLDER = Path(__file__).parent
CONFIRMED = "really"
"""A note that begins with this word says that the value is meant as it stands."""
_CONFIRMED = re.compile(r"\s*really\s*(?:[:,;.]|$)", re.IGNORECASE)
_DIGITS = 6


@dataclass(frozen=True)
class Range:
    """Hard bounds, and what is usual, in SI. `usual_least` and `usual_most` are infinite where the trade has none."""

    least: float
    most: float
    usual_least: float
    usual_most: float
    unit: Unit
    source: str

    @property
    def has_usual(self) -> bool:
        """Whether the trade has a usual range."""
        return math.isfinite(self.usual_least) or math.isfinite(self.usual_most)

    def is_usual(self, value: float) -> bool:
        """Whether a value is within what is usual; to nine digits, so that 100 mm is not above 0.1 m."""
        slack = 1e-9 * max(abs(value), 1e-9)
        return self.usual_least - slack <= value <= self.usual_most + slack

    @property
    def usual_in_words(self) -> str:
        """What is usual: "1.5 m to 3.6 m"; "" where the trade has none."""
        return in_words(self.usual_least, self.usual_most, self.unit) if self.has_usual else ""

    @property
    def example(self) -> str:
        """A value in the middle of what is usual, to one digit, as text."""
        low, high = max(self.usual_least, self.least), min(self.usual_most, self.most)
        low, high = (float(from_si(end, self.unit)) for end in (low, high))
        middle = math.sqrt(low * high) if low > 0 else (low + high) / 2
        return measure_text(float(f"{middle:.0e}"), self.unit, None)


@dataclass(frozen=True)
class Row:
    """One row of ranges.csv as it is written; None where a field is empty."""

    kind: str
    fact: str
    least: float | None
    most: float | None
    usual_least: float | None
    usual_most: float | None
    unit: str
    source: str


@cache
def rows() -> dict[tuple[str, str], Row]:
    """ranges.csv by kind and fact."""
    return {(row.kind, row.fact): row for row in read_rows()}


def read_rows() -> Iterator[Row]:
    """ranges.csv row by row."""
    for line in csv.DictReader((FOLDER / "ranges.csv").read_text(encoding="utf-8").splitlines()):
        least, most, usual_least, usual_most = (
            float(line[name]) if line[name] else None for name in ("least", "most", "usual least", "usual most")
        )
        yield Row(line["kind"], line["fact"], least, most, usual_least, usual_most, line["unit"], line["source"])


@cache
def _of_quantity(quantity: Quantity) -> Range:
    for line in csv.DictReader((FOLDER / "bounds_by_quantity.csv").read_text(encoding="utf-8").splitlines()):
        if line["quantity"] == quantity.name:
            unit = find_unit(quantity, line["unit"])
            least, most = (float(to_si(float(line[name]), unit)) for name in ("least", "most"))
            return Range(least, most, -math.inf, math.inf, unit, line["source"])
    msg = f"bounds_by_quantity.csv has no row for {quantity.name}"
    raise LookupError(msg)


@cache
def range_of(kind: str, fact: str, quantity: Quantity) -> Range:
    """The range of a fact; that of its quantity where it has no row of its own, or where its row leaves a bound open."""
    quantity = QUANTITIES[quantity.name]
    general, row = _of_quantity(quantity), rows().get((kind, fact))
    if row is None:
        return general
    unit = find_unit(quantity, row.unit) if row.unit else display_unit(quantity)

    def si(written: float | None, otherwise: float) -> float:
        return otherwise if written is None else float(to_si(written, unit))

    return Range(
        si(row.least, general.least),
        si(row.most, general.most),
        si(row.usual_least, -math.inf),
        si(row.usual_most, math.inf),
        unit,
        row.source,
    )


@cache
def in_words(least: float, most: float, unit: Unit) -> str:
    """A range, SI, as it stands in a sentence; one that is open at an end names the other alone.

    >>> from trialfit.facts.quantity import LENGTH
    >>> in_words(1.5, 3.6, find_unit(LENGTH, "m")), in_words(-math.inf, 0.2, find_unit(LENGTH, "mm"))
    ('1.5 m to 3.6 m', 'at most 200 mm')
    """
    low, high = (show(end, unit, _DIGITS) for end in (least, most))
    if math.isinf(least):
        return f"at most {high}"
    return f"at least {low}" if math.isinf(most) else f"{low} to {high}"


def confirmed(note: str) -> bool:
    """Whether a note is "really", or begins with it and a colon or a comma: doubt is not a confirmation.

    >>> confirmed("really: a racing engine"), confirmed("Really"), confirmed("as printed"), confirmed("really not sure")
    (True, True, False, False)
    """
    return _CONFIRMED.match(note) is not None
