"""The uncertainty of a fact as text, written or default.

Answers   half_width_text   "± 2 mm", "exact"
          spread_in_use     the uncertainty of a fact, in its unit: "± 0.2°", "+0.2 / -0.1 mm", "exact"
          curve_spread      the uncertainty of a curve, in percent of its values
Not here  values (showing.py); the default uncertainties (provenance.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.showing import interval_text
from trialfit.facts.units import from_si_difference

if TYPE_CHECKING:
    from trialfit.facts.curve import Curve
    from trialfit.facts.fact import Fact
    from trialfit.facts.units import Unit


def half_width_text(half: float, unit: Unit) -> str:
    """A half-width in SI as text in a unit.

    >>> from trialfit.facts.quantity import LENGTH
    >>> from trialfit.facts.units import find_unit
    >>> half_width_text(0.002, find_unit(LENGTH, "mm"))
    '± 2 mm'
    """
    return f"± {_number(half, unit)}" if half else "exact"


def spread_in_use(fact: Fact) -> str:
    """The uncertainty of a fact in its written unit."""
    minus, plus = fact.spread.minus, fact.spread.plus
    if minus == plus:
        return half_width_text(plus, fact.unit)
    return f"+{_number(plus, fact.unit)} / -{_number(minus, fact.unit)}"


def curve_spread(curve: Curve) -> str:
    """The common uncertainty of all values of a curve."""
    half = curve.relative_spread.plus * 100
    return f"± {interval_text(half, half, half, '%')}" if half else "exact"


def _number(half: float, unit: Unit) -> str:
    in_unit = float(from_si_difference(half, unit))
    return interval_text(in_unit, in_unit, in_unit, unit.canonical)
