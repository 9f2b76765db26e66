"""Figures on paper: as on the screen, in the requested units.

Answers   UnitSystem    metric, us or both
          amount        a value with its spread
          plain         a number in SI, without a spread
          fact_text     a fact as written, with the other unit beside it on request
          limit_text    the limit of a finding, with its side
Not here  rounding and units (facts.showing, facts.units)

A fact stays in the unit it was written in, the one that the builder has read. A figure that has no customary unit (an angle,
a speed of rotation) is the same in both.
"""

from __future__ import annotations

import re
from enum import StrEnum
from typing import TYPE_CHECKING

from trialfit.evaluation.finding import side_words
from trialfit.facts.quantity import QUANTITIES
from trialfit.facts.showing import interval_text, show, show_with_spread
from trialfit.facts.units import customary_unit, display_unit, find_unit, quantities_of, to_si

if TYPE_CHECKING:
    from trialfit.evaluation.finding import Finding, Interval
    from trialfit.facts.fact import Fact
    from trialfit.facts.quantity import Quantity
    from trialfit.facts.units import Unit

NOT_KNOWN = "not known"
_DIGITS = 4
_CUSTOMARY = ("in", "ft", "yd", "mi", "thou", "lb", "lbf", "oz", "mph", "hp", "psi", "ksi", "°F", "US", "imp")
_POWERS = re.compile("[·/²³]")


class UnitSystem(StrEnum):
    """The units of computed values."""

    metric = "metric"
    us = "us"
    both = "both"

    @property
    def says(self) -> str:
        """In the words of the title block."""
        return {"metric": "metric", "us": "US customary", "both": "metric (US)"}[self.value]


def amount(value: Interval | None, units: UnitSystem) -> str:
    """A value with its spread and unit, or "not known"."""
    if value is None:
        return NOT_KNOWN
    usual = interval_text(value.nominal, value.low, value.high, value.unit)
    quantity = _quantity_of(value.unit)
    other = customary_unit(quantity) if quantity else None
    if units is UnitSystem.metric or quantity is None or other is None or other.canonical == value.unit:
        return usual
    unit = find_unit(quantity, value.unit)
    nominal, low, high = (to_si(one, unit) for one in (value.nominal, value.low, value.high))
    customary = show_with_spread(nominal, low, high, other)
    return customary if units is UnitSystem.us else f"{usual} ({customary})"


def plain(value: float, quantity: Quantity, units: UnitSystem) -> str:
    """A value in SI, without a spread."""
    usual, other = display_unit(quantity), customary_unit(quantity)
    if units is UnitSystem.metric or other is None:
        return show(value, usual)
    return show(value, other) if units is UnitSystem.us else f"{show(value, usual)} ({show(value, other)})"


def fact_text(fact: Fact, units: UnitSystem) -> str:
    """A fact as written, and in the requested units if it was written in others."""
    wanted = [
        _wanted(fact.quantity, system) for system in (UnitSystem.metric, UnitSystem.us) if units in (system, "both")
    ]
    others = [unit for unit in dict.fromkeys(wanted) if _is_other(unit, fact.unit)]
    beside = ", ".join(_in_other(fact, unit) for unit in others)
    return f"{fact.plain} ({beside})" if beside else fact.plain


def _in_other(fact: Fact, unit: Unit) -> str:
    """A fact in another unit: with its spread if it has one, else to one digit more than calculated values."""
    if not fact.spread_is_written:
        return show(fact.si, unit, _DIGITS)
    return show_with_spread(fact.si, fact.si - fact.spread.minus, fact.si + fact.spread.plus, unit)


def limit_text(finding: Finding, units: UnitSystem) -> str:
    """The limit of a finding, with its side."""
    if finding.limit is None:
        return "limit not known"
    return f"{side_words(finding.side)} {amount(finding.limit, units)}"


def _wanted(quantity: Quantity, system: UnitSystem) -> Unit:
    usual = display_unit(quantity)
    return usual if system is UnitSystem.metric else customary_unit(quantity) or usual


def _is_other(wanted: Unit, written: Unit) -> bool:
    """Whether a unit belongs to the other system: m beside mm would add nothing."""
    return wanted != written and _is_customary(wanted) != _is_customary(written)


def _is_customary(unit: Unit) -> bool:
    words = _POWERS.sub(" ", unit.canonical).split()
    return any(word in _CUSTOMARY for word in words)


def _quantity_of(symbol: str) -> Quantity | None:
    """The quantity that a symbol stands for: the one that is shown in it, before others that have it."""
    known = [QUANTITIES[name] for name in quantities_of(symbol)]
    return next((one for one in known if display_unit(one).canonical == symbol), next(iter(known), None))
