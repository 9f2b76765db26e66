"""Calculated values as text: sensible digits, always with the unit.

Answers   show               a value in SI, in a unit
          show_with_spread   a value with its 95 % interval, both in SI, rounded to suit the interval
          interval_text      the same for numbers already in their unit
          plain              a number to a number of places, never "-0.0"
          room_text          a margin: the amount left, or the amount short
Not here  facts as written, which keep every digit (fact.py)
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from trialfit.facts.units import from_si

if TYPE_CHECKING:
    from trialfit.facts.units import Unit

_DIGITS = 3
_LARGE, _SMALL, _BEYOND = 1e7, 1e-4, 1e15
_UNEVEN = 0.1  # two sides that differ by more than this share of the larger are shown separately
_FROM_TO = 0.95  # an uneven interval about as wide as the value is shown by its ends
_EXACT, _NOTHING = 1e-9, 1e-12  # narrower intervals are float rounding
_NO_SPACE = ("", "°", "'", '"')


def show(value_si: float, unit: Unit, digits: int = _DIGITS) -> str:
    """A value in SI as text in that unit, to 3 significant digits; whole numbers keep all of theirs.

    >>> from trialfit.facts.quantity import LENGTH
    >>> from trialfit.facts.units import display_unit
    >>> show(0.0762, display_unit(LENGTH))
    '76.2 mm'

    A value that is not finite is "undefined".
    """
    value = float(from_si(float(value_si), unit))
    return f"{_number(value, digits)}{_symbol(unit.canonical)}" if math.isfinite(value) else "undefined"


def show_with_spread(nominal: float, low: float, high: float, unit: Unit) -> str:
    """A value and its 95 % interval, all in SI, as text in that unit: "13.0 ± 4.1 mm"."""
    shown, lowest, highest = (float(from_si(float(value), unit)) for value in (nominal, low, high))
    return interval_text(shown, lowest, highest, unit.canonical)


def interval_text(nominal: float, low: float, high: float, symbol: str) -> str:
    """A value and its 95 % interval, in the unit of that symbol, to the two leading digits of the interval.

    "13.0 ± 4.1 mm"; "13.0 +6.2/-3.1 mm" if the sides differ; "54 km/h (0 to 55)" if one of them is as wide as the value, and
    "13.0 mm (14.1 to 16.3)" if the nominal value is outside the interval; "up to 3.8 mm" if it is below an interval wider than its own size, as for an absolute value whose
    draws are all on one side of zero; "undefined" if it is not finite.

    >>> interval_text(13.04, 8.95, 17.13, "mm")
    '13.0 ± 4.1 mm'
    """
    if not all(map(math.isfinite, (nominal, low, high))):
        return f"{_number(nominal, _DIGITS)}{_symbol(symbol)}" if math.isfinite(nominal) else "undefined"
    if max(map(abs, (nominal, low, high))) >= _BEYOND:
        return f"{_number(nominal, _DIGITS)}{_symbol(symbol)} ({_number(low, _DIGITS)} to {_number(high, _DIGITS)})"
    minus, plus = nominal - low, high - nominal
    half = max(minus, plus)
    if half <= max(abs(nominal) * _EXACT, _NOTHING):
        return f"{_number(nominal, _DIGITS)}{_symbol(symbol)}"
    places = 1 - _exponent(half)
    if min(minus, plus) < 0:
        return _beside(nominal, low, high, symbol, places)
    if abs(plus - minus) <= _UNEVEN * half:
        return f"{_rounded(nominal, places)} ± {_rounded((minus + plus) / 2, places)}{_symbol(symbol)}"
    return _uneven(nominal, low, high, symbol, places)


def _uneven(nominal: float, low: float, high: float, symbol: str, places: int) -> str:
    """A nominal value inside an interval that is wider on one side."""
    minus, plus = nominal - low, high - nominal
    if max(minus, plus) >= _FROM_TO * abs(nominal) > 0:
        places = max(places, -_exponent(nominal))
        return f"{_rounded(nominal, places)}{_symbol(symbol)} ({_rounded(low, places)} to {_rounded(high, places)})"
    return f"{_rounded(nominal, places)} +{_rounded(plus, places)}/-{_rounded(minus, places)}{_symbol(symbol)}"


def plain(value: float, places: int) -> str:
    """A number to a number of places, never "-0.0".

    >>> plain(-0.004, 2), plain(-0.372, 2)
    ('0.00', '-0.37')
    """
    text = f"{value:.{places}f}"
    return text if any(sign not in "-0." for sign in text) else text.lstrip("-")


def room_text(nominal: float, low: float, high: float, symbol: str) -> str:
    """A margin as the amount left or short, with its 95 % interval, in the unit of that symbol.

    >>> room_text(4.3, 0.9, 7.7, "mm"), room_text(-8.3, -12.4, -5.0, "mm")
    ('4.3 ± 3.4 mm left', '8.3 +4.1/-3.3 mm short')
    """
    if nominal < 0:
        return f"{interval_text(-nominal, -high, -low, symbol)} short"
    return f"{interval_text(nominal, low, high, symbol)} left"


def _beside(nominal: float, low: float, high: float, symbol: str, places: int) -> str:
    """A nominal value outside its interval."""
    if 0 <= nominal < low and nominal < high - low:
        return f"up to {_rounded(high, places)}{_symbol(symbol)}"
    return f"{_rounded(nominal, places)}{_symbol(symbol)} ({_rounded(low, places)} to {_rounded(high, places)})"


def _number(value: float, digits: int) -> str:
    if value == 0:
        return "0"
    if not _SMALL <= abs(value) < _LARGE:
        return f"{value:.{digits - 1}e}".replace("e+0", "e").replace("e-0", "e-").replace("e+", "e")
    places = max(0, digits - 1 - _exponent(value))
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _exponent(value: float) -> int:
    """The power of ten of the leading digit, after rounding to two digits: 9.96 counts as 10."""
    return int(f"{abs(value):.1e}".partition("e")[2])


def _rounded(value: float, places: int) -> str:
    text = f"{round(value, places):.{max(0, places)}f}"
    return text.removeprefix("-") if float(text) == 0 else text


def _symbol(symbol: str) -> str:
    return symbol if symbol in _NO_SPACE else f" {symbol}"
