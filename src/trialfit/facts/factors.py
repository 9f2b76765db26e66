"""Works out unit_factors.csv from units.csv, by pint, over the closed definitions in units.txt.

Run it after a unit was added:    python -m trialfit.facts.factors
pint takes about as long to import as all the rest of a short command, and the factors never change: so they are worked
out here, once, as exact fractions where they are such, and the tests hold the file against pint.

Answers   factor_lines   the lines of unit_factors.csv
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

from trialfit.facts.quantity import QUANTITIES
from trialfit.facts.unit_table import FOLDER, Row, all_rows, unit_rows

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pint import UnitRegistry

TANGENT = "tangent"
_EXACT_TO = 2**53  # whole numbers up to here are floats without loss


def factor_lines() -> Iterator[str]:
    """The header, and one line for each unit."""
    import pint

    registry: UnitRegistry[Any] = pint.UnitRegistry(FOLDER / "units.txt", non_int_type=Fraction, cache_folder=None)
    yield "quantity,symbol,factor [SI],offset [unit]"
    for row in all_rows():
        factor, offset = _to_si(registry, row)
        symbol = '""""' if row.symbol == '"' else row.symbol
        yield f"{row.quantity},{symbol},{_written(factor)},{float(offset)!r}"


def _to_si(registry: UnitRegistry[Any], row: Row) -> tuple[Fraction, Fraction]:
    """Factor and offset of one unit. Raises pint.DimensionalityError where the unit is of another quantity."""
    if row.definition == TANGENT:  # the slope of an angle is not a factor: units.py takes the tangent
        return Fraction(1), Fraction(0)
    si = next(other for other in unit_rows(row.quantity) if other.symbol == QUANTITIES[row.quantity].si)
    target, unit = registry.parse_expression(si.definition), registry.parse_expression(row.definition)
    one, none = (
        Fraction(registry.Quantity(Fraction(count) * unit.magnitude, unit.units).to(target.units).magnitude)
        / target.magnitude
        for count in (1, 0)
    )
    return one - none, none / (one - none)


def _written(factor: Fraction) -> str:
    if max(factor.numerator, factor.denominator) <= _EXACT_TO:
        return str(factor)
    return repr(float(factor))


if __name__ == "__main__":
    (FOLDER / "unit_factors.csv").write_text("\n".join(factor_lines()) + "\n", encoding="utf-8")
