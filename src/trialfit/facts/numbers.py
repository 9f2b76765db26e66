"""Numbers as typed: 12.5, 12,5, 3/4, 1 3/8, 1-3/8, 1½, 2.06e11.

Answers   scan_number    the number at the start of a text, and what follows it
          number_text    a float as text that reads back to the same float
Not here  units (measure.py)
"""

from __future__ import annotations

import re
from fractions import Fraction

from trialfit.facts.unreadable import Fault

LARGEST = 1e15
_VULGAR = {
    "½": (1, 2), "⅓": (1, 3), "⅔": (2, 3), "¼": (1, 4), "¾": (3, 4), "⅕": (1, 5), "⅖": (2, 5), "⅗": (3, 5), "⅘": (4, 5),
    "⅙": (1, 6), "⅚": (5, 6), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8), "⅐": (1, 7), "⅑": (1, 9), "⅒": (1, 10),
}  # fmt: skip
_ONES = "".join(_VULGAR)
NUMBER = (
    r"(?:[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+"
    rf"|[0-9]+[ -]?[{_ONES}]|[{_ONES}]"
    r"|[0-9]*[.,]?[0-9]+(?:[eE][+-]?[0-9]+)?)"
)
_START = re.compile(rf"([+-]?) ?({NUMBER})")
_MIXED = re.compile(rf"(?:([0-9]+)[ -]?)?([{_ONES}])|(?:([0-9]+)[ -])?([0-9]+)/([0-9]+)")
_THOUSANDS = re.compile(r"0*[1-9][0-9]{0,2},[0-9]{3}")
_NOT_FINITE = re.compile(r"[+-]? ?(nan|inf|infinity|∞)\b", re.IGNORECASE)
_LONGEST_WHOLE = 16
_SHORT = 12


def scan_number(text: str) -> tuple[float, str]:
    """The number at the start of a plain text, and the rest without spaces at its ends. Raises Fault."""
    found = _START.match(text)
    if not found:
        if _NOT_FINITE.match(text) or text.startswith("∞"):
            raise Fault("is not a finite number")
        raise Fault("does not begin with a number" if text else "has no number")
    sign, digits = found.groups()
    rest = text[found.end() :].strip()
    _refuse_more_digits(digits, rest)
    value = _value(digits)
    if value > LARGEST:
        raise _beyond()
    return (-value if sign == "-" else value), rest


def _refuse_more_digits(digits: str, rest: str) -> None:
    if rest[:1] in {".", ","} and rest[1:2].isdigit():
        raise Fault(
            "has more than one point or comma",
            cure="write one number, without marks between thousands, for example 1234.5",
        )
    if _THOUSANDS.fullmatch(digits):
        point, none = digits.replace(",", "."), digits.replace(",", "")
        raise Fault(f"can be {point} or {none}", cure=f"write {point} or {none}, without a comma")
    if rest[:1] == "/" and rest[1:2].isdigit():
        raise Fault("is not a single fraction", cure='write for example "1 3/8"')


def _value(digits: str) -> float:
    mixed = _MIXED.fullmatch(digits)
    if mixed:
        vulgar = _VULGAR.get(mixed[2] or "")
        whole = mixed[1] or mixed[3] or "0"
        above, below = map(str, vulgar) if vulgar else (mixed[4], mixed[5])
        if max(map(len, (whole, above, below))) > _LONGEST_WHOLE:
            raise _beyond()
        if int(below) == 0:
            raise Fault("divides by zero", cure='write for example "3/4"')
        return float(int(whole) + Fraction(int(above), int(below)))
    value = float(digits.replace(",", "."))
    if value == 0 and re.search("[1-9]", re.split("[eE]", digits)[0]):
        raise Fault("is a number too close to zero", cure="write 0, or a number that can be measured")
    return value


def _beyond() -> Fault:
    return Fault("is a number too large", cure=f"write a number below {LARGEST:g}")


def number_text(value: float) -> str:
    """A float as text that reads back to the same float; a long one as a fraction if possible: 41/11.

    >>> number_text(76.2), number_text(3.0), number_text(41 / 11)
    ('76.2', '3', '41/11')
    """
    text = repr(float(value)).removesuffix(".0")
    if len(text) > _SHORT and "e" not in text:
        simple = Fraction(value).limit_denominator(200)
        if simple and float(simple) == value:
            return f"{simple.numerator}/{simple.denominator}"
    return text
