"""One fact: a quantity of a part as written down.

Answers   Fact   value, unit, uncertainty, provenance, date and note; value and uncertainty in SI
Not here  reading it from text (reading.py); the names of a part's facts (parts/)
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from trialfit.facts.measure import measure_text
from trialfit.facts.provenance import Provenance, check_pair, default_spread
from trialfit.facts.spread import Shape, Spread, WithSpread, WrittenSpread
from trialfit.facts.units import Unit, to_si, to_si_difference

if TYPE_CHECKING:
    import datetime as dt

    from trialfit.facts.quantity import Quantity

_EXACT = Spread(0.0, 0.0, Shape.normal)


@dataclass(frozen=True)
class Fact(WithSpread):
    """One fact as written. `value` is in `unit`; `written_spread` is None if no uncertainty was written.

    A target value or a setting of the builder (`is_set`) is exact unless an uncertainty is written.

    str(fact) shows it in the written unit; reading that text gives the same fact.
    """

    quantity: Quantity
    value: float
    unit: Unit
    written_spread: WrittenSpread | None = None
    provenance: Provenance = Provenance.unstated
    date: dt.date | None = None
    note: str = ""
    is_set: bool = False

    def __post_init__(self) -> None:
        if not math.isfinite(self.value):
            msg = f"the value is {self.value}: expected a finite number"
            raise ValueError(msg)
        if self.unit.quantity != self.quantity.name:
            msg = f'"{self.unit.canonical}" is a unit of {self.unit.quantity}: expected {self.quantity.with_article}'
            raise ValueError(msg)
        check_pair(self.quantity, self.provenance)
        if self.provenance is Provenance.typical and self.written_spread is None:
            msg = f"a typical value needs a written uncertainty, for example {self.quantity.example}"
            raise ValueError(msg)

    @cached_property
    def si(self) -> float:
        """The value in SI."""
        return to_si(self.value, self.unit)

    @cached_property
    def spread(self) -> Spread:
        """The uncertainty in SI: as written, else the default of the provenance.

        The written figure is an expanded uncertainty (k = 2). It is a pair of limits if the two sides differ, if it is
        a tolerance from a manual or a catalogue, or if it spans what is found of a typical value.
        """
        written = self.written_spread
        if written is None and self.is_set:
            return _EXACT
        if written is None:
            return default_spread(self.quantity, self.provenance, self.si)
        limits = self.provenance.gives_limits or not written.is_even
        return Spread(*self._half_widths(written), Shape.rectangular if limits else Shape.normal)

    def _half_widths(self, written: WrittenSpread) -> tuple[float, float]:
        minus, plus = written.minus, written.plus
        if written.is_relative:
            share = abs(self.value) / 100
            minus, plus = minus * share, plus * share
        if not self.unit.is_tangent:
            return to_si_difference(minus, self.unit), to_si_difference(plus, self.unit)
        low, high = to_si(self.value - minus, self.unit), to_si(self.value + plus, self.unit)
        if written.is_even:  # the tangent is a curve: the mean slope of both sides keeps the spread even
            return (high - low) / 2, (high - low) / 2
        return self.si - low, high - self.si

    @cached_property
    def plain(self) -> str:
        """The value with its unit and written uncertainty, without provenance and note."""
        return measure_text(self.value, self.unit, self.written_spread)

    def __str__(self) -> str:
        text = self.plain
        if self.provenance is not Provenance.unstated or self.date:
            text += f", {self.provenance}"
        if self.date:
            text += f" {self.date.isoformat()}"
        return f"{text}; {self.note}" if self.note else text
