"""Calculates unit_factors.csv from units.csv, with pint and the fixed definitions in units.txt.

Run it after adding a unit:    python -m trialfit.facts.factors
Importing pint takes about as long as all the rest of a short command, and the factors never change. So they are calculated
once, here, as exact fractions if possible. The tests compare the file with pint.

Answers   factor_lines   the lines of unit_factors.csv
          BadTable       the reason why a quantity or a unit cannot be calculated, in one sentence
"""

from __future__ import annotations

import sys
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from trialfit.facts.quantity import QUANTITIES
from trialfit.facts.unit_table import FOLDER, Row, all_rows, unit_rows

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pint import Quantity, UnitRegistry

TANGENT = "tangent"
_EXACT_TO = 2**53  # integers up to here are exact as floats
_EXAMPLE = 'for example "newton * metre"'


class BadTable(ValueError):
    """A line of units.csv, or a quantity, that does not match the rest."""


def factor_lines() -> Iterator[str]:
    """The header, and one line for each unit. Raises BadTable."""
    import pint

    registry: UnitRegistry[Any] = pint.UnitRegistry(FOLDER / "units.txt", non_int_type=Fraction, cache_folder=None)
    _check_quantities()
    yield "quantity,symbol,factor [SI],offset [unit]"
    for row in all_rows():
        factor, offset = _to_si(registry, row)
        symbol = '""""' if row.symbol == '"' else row.symbol
        yield f"{row.quantity},{symbol},{_written(factor)},{float(offset)!r}"


def _check_quantities() -> None:
    """Checks that every quantity has its units and its SI unit in the table, and that the table has no others."""
    known = {row.quantity for row in all_rows()}
    for name in sorted(known - set(QUANTITIES)):
        raise BadTable(f'units.csv has units of "{name}", which is not in QUANTITIES of quantity.py: add it there')
    for name, quantity in QUANTITIES.items():
        if name not in known or quantity.si not in {row.symbol for row in unit_rows(name)}:
            raise BadTable(
                f'units.csv has no line for the SI unit of "{name}", which is "{quantity.si}" in quantity.py: '
                f'add one, for example "{name},{quantity.si},DEFINITION,usual,{quantity.si}"'
            )


def _to_si(registry: UnitRegistry[Any], row: Row) -> tuple[Fraction, Fraction]:
    """Factor and offset of one unit. Raises BadTable if the unit belongs to another quantity."""
    if row.definition == TANGENT:  # the slope of an angle has no factor: units.py uses the tangent
        return Fraction(1), Fraction(0)
    si = next(other for other in unit_rows(row.quantity) if other.symbol == QUANTITIES[row.quantity].si)
    target, unit = _parsed(registry, si), _parsed(registry, row)
    if target.dimensionality != unit.dimensionality:
        raise BadTable(
            f'{_where(row)} is not a {row.quantity}: it cannot be converted to "{si.definition}", the SI unit'
        )
    one, none = (
        Fraction(registry.Quantity(Fraction(count) * unit.magnitude, unit.units).to(target.units).magnitude)
        / target.magnitude
        for count in (1, 0)
    )
    return one - none, none / (one - none)


def _parsed(registry: UnitRegistry[Any], row: Row) -> Quantity[Any]:
    """A definition read by pint."""
    from pint.errors import UndefinedUnitError

    try:
        return registry.Quantity(registry.parse_expression(row.definition))
    except UndefinedUnitError as unknown:
        words = ", ".join(f'"{name}"' for name in sorted(unknown.unit_names))
        says = f"uses {words}, which units.txt does not define: spell it as there, or define it there"
    except Exception:  # noqa: BLE001 - pint passes on any error of its expression reader
        says = f"cannot be read: write units of units.txt joined by *, / and **, {_EXAMPLE}"
    raise BadTable(f"{_where(row)} {says}")


def _where(row: Row) -> str:
    return f'units.csv, {row.quantity} "{row.symbol}": the definition "{row.definition}"'


def _written(factor: Fraction) -> str:
    if max(factor.numerator, factor.denominator) <= _EXACT_TO:
        return str(factor)
    return repr(float(factor))


def main() -> int:
    """Writes the file. If the tables do not match, prints one sentence and leaves the file unchanged."""
    try:
        lines = list(factor_lines())
    except BadTable as wrong:
        sys.stderr.write(f"{wrong}; unit_factors.csv was not changed\n")
        return 2
    (FOLDER / "unit_factors.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
