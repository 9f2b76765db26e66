"""A number followed by its unit, and the message if the unit is missing, wrong or unknown.

Answers   amount     "63 1/2 in", "5 ft 3 1/2 in", "2°30'" into a value and one unit
          unit_of    a spelling into a unit
          no_unit    the message about a number without a unit
Not here  the uncertainty (measure.py); the table of units (units.py)
"""

from __future__ import annotations

import math
import re
from difflib import get_close_matches
from typing import TYPE_CHECKING

from trialfit.facts.numbers import number_text, scan_number
from trialfit.facts.provenance import measured_by
from trialfit.facts.showing import show
from trialfit.facts.units import Unit, customary_unit, display_unit, find_unit, is_spelling, quantities_of, to_si
from trialfit.facts.unreadable import Fault

if TYPE_CHECKING:
    from trialfit.facts.quantity import Quantity

# Units used together in one value, largest first, each with its count per unit of the one before.
_COMPOUNDS = {"length": (("ft", 1), ("in", 12)), "angle": (("°", 1), ("'", 60), ('"', 60))}
_IN_ONE = {"length": "in", "angle": "°"}
_SECOND_NUMBER = re.compile(r"(?:^|[ °'\"])[-+]?[.,]?[0-9½¼¾⅓⅔⅛⅜⅝⅞]")
_NEAR = 8
UPRIGHT = 90  # a slope of 90° is infinite


def amount(text: str, quantity: Quantity) -> tuple[float, Unit]:
    """A number and its unit. Raises Fault."""
    number, spelling = scan_number(text)
    if is_spelling(quantity, spelling):
        return number, find_unit(quantity, spelling)
    if not spelling:
        raise no_unit(number, quantity)
    return _compound(number, spelling, quantity) or (number, unit_of(spelling, quantity))


def _compound(number: float, rest: str, quantity: Quantity) -> tuple[float, Unit] | None:
    """A value in several units, as one; None if it is not such a value."""
    steps = _COMPOUNDS.get(quantity.name)
    if steps is None or not _SECOND_NUMBER.search(rest):
        return None
    pieces: list[float] = []
    for symbol, _ in steps:
        spelling = _starts_with(rest, symbol, quantity)
        if spelling is None:
            return None
        pieces.append(number)
        rest = rest[len(spelling) :].strip()
        if not rest:
            break
        number, rest = scan_number(rest)
        if math.copysign(1, number) < 0:
            return None
    if rest:
        return None
    return _in_one(pieces, steps, quantity)


def _starts_with(rest: str, symbol: str, quantity: Quantity) -> str | None:
    ways = (spelling for spelling in quantity.spellings if find_unit(quantity, spelling).canonical == symbol)
    return max((way for way in ways if rest.startswith(way)), key=len, default=None)


def _in_one(pieces: list[float], steps: tuple[tuple[str, int], ...], quantity: Quantity) -> tuple[float, Unit]:
    for piece, (symbol, _) in zip(pieces[:-1], steps, strict=False):
        if not piece.is_integer():
            raise Fault(
                f"has a fraction before a smaller unit, {_with(number_text(piece), find_unit(quantity, symbol))}"
            )
    for piece, (symbol, most) in zip(pieces[1:], steps[1:], strict=False):
        if piece >= most:
            found, fewer = (_with(text, find_unit(quantity, symbol)) for text in (number_text(piece), str(most)))
            raise Fault(f"has {found} after a larger unit", cure=f"expected less than {fewer}")
    whole, *smaller = pieces
    unit = find_unit(quantity, _IN_ONE[quantity.name])
    if unit.canonical == steps[0][0]:  # degrees, with minutes as parts
        seconds = abs(whole) * 3600 + smaller[0] * 60 + (smaller[1] if len(smaller) > 1 else 0)
        return math.copysign(seconds / 3600, whole), unit
    return math.copysign(abs(whole) * steps[1][1] + smaller[0], whole), unit  # inches


def unit_of(spelling: str, quantity: Quantity) -> Unit:
    """The unit of a spelling. Raises Fault with the quantity of the unit, or the nearest spellings."""
    if is_spelling(quantity, spelling):
        return find_unit(quantity, spelling)
    others = quantities_of(spelling)
    if others:
        raise Fault(f'is in "{spelling}", a unit of {" or ".join(others)}')
    if _SECOND_NUMBER.search(spelling):
        raise Fault("has more than one number")
    _refuse_words_behind(spelling, quantity)
    near = _near_symbols(spelling, quantity)
    if near:
        raise Fault(f'has the unknown unit "{spelling[:40]}"', cure=f"did you mean {' or '.join(near)}?")
    known = ", ".join(dict.fromkeys(find_unit(quantity, one).canonical for one in quantity.spellings if one))
    takes = f"takes {known}" if known else "takes no unit"
    raise Fault(
        f'has the unknown unit "{spelling[:40]}"',
        cure=f'{quantity.with_article} {takes}, for example "{quantity.example}"',
    )


def _refuse_words_behind(spelling: str, quantity: Quantity) -> None:
    """Raises Fault for a known unit followed by words: mm measured."""
    words = spelling.split()
    for count in range(len(words) - 1, -1, -1):
        unit, behind = " ".join(words[:count]), " ".join(words[count:])
        known = [str(one) for one in measured_by(quantity)]
        if is_spelling(quantity, unit) and (unit or words[count] in known):
            cure = f"write how it was measured after a comma: {', '.join(known[:-1])} or {known[-1]}"
            raise Fault(
                f'has "{behind[:40]}" after its {"unit" if unit else "number"}',
                cure=f"{cure}; write anything else after a semicolon",
            )


def _near_symbols(spelling: str, quantity: Quantity) -> tuple[str, ...]:
    known = [one for one in quantity.spellings if one]
    near = [one for one in known if one.casefold() == spelling.casefold()]
    near += get_close_matches(spelling[:40], known, n=_NEAR, cutoff=0.5)
    return tuple(dict.fromkeys(f'"{find_unit(quantity, one).canonical}"' for one in near))[:3]


def no_unit(number: float, quantity: Quantity) -> Fault:
    """The message about a number without a unit, with examples in metric and in US units."""
    text, usual, other = number_text(number), display_unit(quantity), customary_unit(quantity)
    cure = f'expected {quantity.with_article}, for example "{_with(text, usual)}"'
    if other and not (other.is_tangent and abs(number) >= UPRIGHT):
        cure += f' or "{_with(text, other)}" (which is {show(to_si(number, other), usual, digits=2)})'
    return Fault("has no unit", cure=cure)


def _with(number: str, unit: Unit) -> str:
    return f"{number} {unit.canonical}" if unit.takes_space else f"{number}{unit.canonical}"
