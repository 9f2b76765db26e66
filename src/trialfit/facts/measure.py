"""A value with its unit and its uncertainty, as one piece of text: "25.4 ± 0.1 mm", "38 N·m ± 1 %", "2°30'", "5 ft 3 1/2 in".

Answers   read_measure       the text into value, unit and uncertainty
          measure_text       value, unit and uncertainty into the text
          split_spread       the text before the uncertainty, and its two half-widths
          refuse_senseless   refuses values that the quantity cannot have
          own_spread         the uncertainty after a value or a unit
          Measure            the three of them
Not here  provenance and note of a fact (reading.py); single numbers (numbers.py); units as words (unit_words.py)
Method    The unit follows the value, the uncertainty, or both. A percentage after ± is a percentage of the value. If % is the
          unit itself (a share, a slope), it is percentage points.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from trialfit.facts.numbers import NUMBER, number_text, scan_number
from trialfit.facts.spread import WrittenSpread
from trialfit.facts.unit_words import UPRIGHT, amount, no_unit, unit_of
from trialfit.facts.units import Unit, from_si_difference, is_spelling, to_si, to_si_difference
from trialfit.facts.unreadable import Fault

if TYPE_CHECKING:
    from trialfit.facts.quantity import Quantity

_UNEVEN = re.compile(rf"\+ ?({NUMBER}) ?(%?) ?/? ?- ?({NUMBER})")
_UNEVEN_TURNED = re.compile(rf"(?<![0-9])- ?({NUMBER}) ?(%?) ?/? ?\+ ?({NUMBER})")


@dataclass(frozen=True)
class Measure:
    """A value in its unit, and the uncertainty as written, None if there is none."""

    value: float
    unit: Unit
    spread: WrittenSpread | None


@dataclass(frozen=True)
class Halves:
    """The half-widths of an uncertainty as numbers, and the unit or percent sign after the last of them."""

    minus: float
    plus: float
    tail: str


def read_measure(text: str, quantity: Quantity) -> Measure:
    """A plain text into a measure. Raises Fault."""
    before, halves = split_spread(text)
    number, spelling = scan_number(before)
    if spelling or halves is None:
        value, unit = amount(before, quantity)
        spread = own_spread(halves, unit, quantity) if halves else None
    else:
        value, (unit, spread) = number, _shared_unit(number, halves, quantity)
    measure = Measure(value, unit, spread)
    refuse_senseless(measure, quantity)
    return measure


def split_spread(text: str, start: int = 1) -> tuple[str, Halves | None]:
    """The text before the uncertainty, and the uncertainty, None if there is none. Raises Fault.

    A sign before `start` belongs to the value and does not begin an uncertainty.
    """
    if "±" in text:
        before, _, after = text.partition("±")
        if "±" in after:
            raise Fault("has more than one ±", cure='write one uncertainty, for example "25.4 ± 0.1 mm"')
        half, tail = _half_width(after.strip())
        return before.strip(), Halves(half, half, tail)
    for pattern, minus, plus in ((_UNEVEN, 3, 1), (_UNEVEN_TURNED, 1, 3)):
        found = pattern.search(text, start)
        if found:
            tail = text[found.end() :].strip()
            if found[2] and not tail.startswith("%"):
                raise Fault(
                    "has an uncertainty with only one side in %",
                    cure='write both sides in the same unit, for example "+2/-1 %"',
                )
            halves = Halves(_half_width(found[minus])[0], _half_width(found[plus])[0], tail)
            return text[: found.start()].strip(), halves
    return text, None


def _half_width(text: str) -> tuple[float, str]:
    try:
        half, tail = scan_number(text)
    except Fault as fault:
        says = f"has an uncertainty that {fault}" if fault.cure else "has no number after the ±"
        raise Fault(says, cure=fault.cure) from None
    if text.startswith("-"):
        raise Fault(
            "has a negative uncertainty", cure='expected an uncertainty of at least 0, for example "25.4 ± 0.1 mm"'
        )
    return half, tail


def own_spread(halves: Halves, unit: Unit, quantity: Quantity) -> WrittenSpread:
    """The uncertainty after a value or a header with its own unit. Raises Fault."""
    if not halves.tail:
        return WrittenSpread(halves.minus, halves.plus)
    if halves.tail == "%" and not is_spelling(quantity, "%"):
        _refuse_percent(quantity)
        return WrittenSpread(halves.minus, halves.plus, is_relative=True)
    if halves.minus == halves.plus:
        half, unit_of_half = amount(f"{number_text(halves.plus)} {halves.tail}", quantity)
        minus, plus = half, half
    else:
        unit_of_half = unit_of(halves.tail, quantity)
        minus, plus = halves.minus, halves.plus
    if unit_of_half == unit:
        return WrittenSpread(minus, plus)
    if quantity.name == "slope":
        raise Fault(
            "has a value and an uncertainty in two units",
            cure='write both in one unit, for example "7° ± 0.5°" or "12 ± 1 %"',
        )
    return WrittenSpread(_converted(minus, unit_of_half, unit), _converted(plus, unit_of_half, unit))


def _converted(half: float, written: Unit, wanted: Unit) -> float:
    """A half-width in another unit, without the last digits, which are float rounding: 12' is 0.2°."""
    return float(f"{from_si_difference(to_si_difference(half, written), wanted):.12g}")


def _shared_unit(number: float, halves: Halves, quantity: Quantity) -> tuple[Unit, WrittenSpread]:
    """The unit after the uncertainty, which is also the unit of the value."""
    has_percent = is_spelling(quantity, "%")
    is_relative = halves.tail.startswith("%") and not has_percent
    if is_relative:
        _refuse_percent(quantity)
    spread = WrittenSpread(halves.minus, halves.plus, is_relative=is_relative)
    spelling = halves.tail[1:].strip() if is_relative else halves.tail
    if not spelling and not is_spelling(quantity, ""):
        raise no_unit(number, quantity)
    unit = unit_of(spelling, quantity)
    if has_percent and unit.canonical == "%" and 0 < abs(number) < 1:
        low, high = number_text(number), number_text(round(number * 100, 10))
        raise Fault(
            f"can be {low} % or {high} %",
            cure=f'write "{low} % ± {number_text(halves.plus)} %" or "{high} % ± {number_text(halves.plus)} %"',
        )
    return unit, spread


def refuse_senseless(measure: Measure, quantity: Quantity) -> None:
    """Raises Fault for half a bolt, a vertical slope, a temperature below absolute zero and other impossible values."""
    value, unit, spread = measure.value, measure.unit, measure.spread
    if quantity.name == "count" and not value.is_integer():
        raise Fault("is not a whole number")
    if not unit.canonical and quantity.name in {"share", "slope"} and abs(value) > 1:
        raise no_unit(value, quantity)
    lowest, highest = (
        (value - spread.minus, value + spread.plus) if spread and not spread.is_relative else (value, value)
    )
    if unit.is_tangent and not -UPRIGHT < lowest <= highest < UPRIGHT:
        raise Fault("is vertical", cure='write a slope below 90°, for example "7°" or "12 %"')
    if quantity.name == "temperature" and to_si(value, unit) < 0:
        raise Fault("is below absolute zero")
    if spread and spread.is_relative and value == 0:
        raise Fault("has an uncertainty in percent of zero", cure="write the uncertainty in the unit of the value")


def _refuse_percent(quantity: Quantity) -> None:
    if quantity.name == "temperature":
        raise Fault(
            "has an uncertainty in percent, which does not work for a temperature", cure='write for example "85 ± 2 °C"'
        )


def measure_text(value: float, unit: Unit, spread: WrittenSpread | None) -> str:
    """A value with its unit and uncertainty as text that reads back to the same."""
    number, symbol = number_text(value), f" {unit.canonical}" if unit.takes_space else unit.canonical
    if spread is None:
        return f"{number}{symbol}"
    halves = halves_text(spread)
    if spread.is_relative:
        return f"{number}{symbol} {halves} %"
    if unit.canonical == "%" and 0 < abs(value) < 1:
        return f"{number}{symbol} {halves} %"
    return f"{number} {halves}{symbol}"


def halves_text(spread: WrittenSpread) -> str:
    """An uncertainty without its unit: "± 0.1", "+0.2/-0"."""
    if spread.is_even:
        return f"± {number_text(spread.plus)}"
    return f"+{number_text(spread.plus)}/-{number_text(spread.minus)}"
