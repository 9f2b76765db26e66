"""Units of input and output: found whole in the fixed table, converted to SI and back.

Answers   Unit, find_unit, is_spelling                  the unit of a spelling; mPa is not MPa
          to_si, from_si                                a value
          to_si_difference, from_si_difference          a difference or a margin: 5 °F is 2.78 K at any temperature
          display_unit, customary_unit                  the unit for showing calculated values, metric and US
          quantities_of                                 the quantities of a spelling
Not here  reading a number with its unit (measure.py); the table (unit_table.py, units.csv)
Method    One factor per unit, calculated earlier by pint (factors.py). Floats and arrays alike; numpy is imported only
          for arrays. A slope in degrees is the tangent of the angle, and its difference the tangent of the difference,
          which is accurate to 1 % up to 10°.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING, TypeVar

from trialfit.facts.unit_table import Row, all_rows, scale_of, unit_rows

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from trialfit.facts.quantity import Quantity

    Numbers = TypeVar("Numbers", float, NDArray[np.float64])
else:
    Numbers = TypeVar("Numbers")


@dataclass(frozen=True)
class Unit:
    """One unit of one quantity.

    `spelling` is the spelling found, `canonical` the one shown; units that differ only in spelling are equal.
    """

    spelling: str = field(compare=False)
    canonical: str
    quantity: str

    @property
    def takes_space(self) -> bool:
        """Whether a space is written between the number and the unit."""
        return self.canonical not in {"", "°", "'", '"'}

    @property
    def is_tangent(self) -> bool:
        """Whether it is the degree of a slope, which is not proportional to the slope."""
        return self.quantity == "slope" and self.canonical == "°"


@lru_cache(maxsize=64)
def _by_spelling(quantity: str) -> dict[str, Unit]:
    return {spelling: Unit(spelling, row.symbol, quantity) for row in unit_rows(quantity) for spelling in row.spellings}


def find_unit(quantity: Quantity, spelling: str) -> Unit:
    """The unit of that spelling, found whole and case-sensitive. Raises LookupError with one sentence."""
    found = _by_spelling(quantity.name).get(spelling)
    if found is None:
        raise LookupError(f'"{spelling}" is not a unit of {quantity.with_article}')
    return found


def is_spelling(quantity: Quantity, spelling: str) -> bool:
    """Whether it is a spelling of a unit of that quantity."""
    return spelling in _by_spelling(quantity.name)


def spellings_of(quantity: Quantity) -> tuple[str, ...]:
    """Every accepted spelling of a unit of that quantity."""
    return tuple(_by_spelling(quantity.name))


def quantities_of(spelling: str) -> tuple[str, ...]:
    """The names of the quantities that have a unit of that spelling."""
    return tuple(dict.fromkeys(row.quantity for row in all_rows() if spelling in row.spellings))


def display_unit(quantity: Quantity) -> Unit:
    """The unit for showing calculated values: mm, °, N·m, km/h, rpm, MPa ..."""
    return _shown(quantity.name, "usual") or _first(quantity.name)


def customary_unit(quantity: Quantity) -> Unit | None:
    """The unit usual in the United States, or None if it is the same."""
    return _shown(quantity.name, "US")


@lru_cache(maxsize=64)
def _shown(quantity: str, where: str) -> Unit | None:
    return next((_unit(row) for row in unit_rows(quantity) if row.shown == where), None)


def _first(quantity: str) -> Unit:
    return _unit(unit_rows(quantity)[0])


def _unit(row: Row) -> Unit:
    return Unit(row.symbol, row.symbol, row.quantity)


def to_si(value: Numbers, unit: Unit) -> Numbers:
    """A value in that unit, in SI."""
    if unit.is_tangent:
        return _tangent(value)
    scale = scale_of(unit.quantity, unit.canonical)
    return (value + scale.offset) * scale.numerator / scale.denominator


def from_si(value: Numbers, unit: Unit) -> Numbers:
    """A value in SI, in that unit."""
    if unit.is_tangent:
        return _arc_tangent(value)
    scale = scale_of(unit.quantity, unit.canonical)
    return value * scale.denominator / scale.numerator - scale.offset


def to_si_difference(value: Numbers, unit: Unit) -> Numbers:
    """A difference of two values, such as an uncertainty, in SI."""
    if unit.is_tangent:
        return _tangent(value)
    scale = scale_of(unit.quantity, unit.canonical)
    return value * scale.numerator / scale.denominator


def from_si_difference(value: Numbers, unit: Unit) -> Numbers:
    """A difference of two values in SI, in that unit."""
    if unit.is_tangent:
        return _arc_tangent(value)
    scale = scale_of(unit.quantity, unit.canonical)
    return value * scale.denominator / scale.numerator


def _tangent(degrees: Numbers) -> Numbers:
    if isinstance(degrees, float | int):
        return math.tan(math.radians(degrees))
    import numpy as np

    return np.tan(np.radians(degrees))


def _arc_tangent(slope: Numbers) -> Numbers:
    if isinstance(slope, float | int):
        return math.degrees(math.atan(slope))
    import numpy as np

    return np.degrees(np.arctan(slope))
