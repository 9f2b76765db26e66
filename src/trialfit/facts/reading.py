"""The text of one fact, read strictly: ambiguous text or a wrong dimension is refused in one sentence.

    value [± uncertainty] unit [± uncertainty [unit]] [, provenance [date]] [; note]

    "76.2 ± 0.1 mm, calipered"    "1 3/8 in, taped 2024-05-18"    "38 lbf·ft, manual; oiled threads"    "12,5 mm"    "85 °C"

Answers   read_fact     a text into a Fact
          Unreadable    the error for text that is not a fact
Not here  numbers (numbers.py); value, unit and uncertainty (measure.py); curves (curve.py)
"""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace
from typing import TYPE_CHECKING

from trialfit.facts.fact import Fact
from trialfit.facts.measure import read_measure
from trialfit.facts.plain_text import plain
from trialfit.facts.provenance import Provenance, check_pair, measured_by
from trialfit.facts.unreadable import Fault, Unreadable, nearest, unreadable

if TYPE_CHECKING:
    from trialfit.facts.quantity import Quantity

__all__ = ["Unreadable", "read_fact", "read_provenance", "split_provenance"]

LONGEST = 500
_DECIMAL_COMMA = re.compile(r"(?:[0-9]|^),(?=[0-9])")
_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


def read_fact(text: str, quantity: Quantity, example: str = "") -> Fact:
    """The fact in the text. Raises Unreadable, which shows `example` in place of the quantity's example.

    >>> from trialfit.facts.quantity import TORQUE
    >>> fact = read_fact("38 ft-lb, manual; oiled", TORQUE)
    >>> str(fact), round(fact.si, 3)
    ('38 lbf·ft, manual; oiled', 51.521)
    """
    asked = replace(quantity, example=example) if example else quantity
    try:
        return _read(text, quantity, asked)
    except Fault as fault:
        raise unreadable(text, fault, asked) from None


def _read(text: str, quantity: Quantity, asked: Quantity) -> Fact:
    """The fact; `asked` is the quantity with an example that fits the part."""
    if len(text) > LONGEST:
        raise Fault(f"is {len(text)} characters long", cure=f"expected at most {LONGEST}: a value and a short note")
    head, _, note = text.partition(";")
    stated, came_from = split_provenance(plain(head))
    if not stated:
        raise Fault("has no value" if came_from or note.strip() else "")
    provenance, date = read_provenance(came_from, quantity)
    measure = read_measure(stated, asked)
    if provenance is Provenance.typical and measure.spread is None:
        raise Fault("is a typical value without an uncertainty")
    return Fact(quantity, measure.value, measure.unit, measure.spread, provenance, date, note.strip())


def split_provenance(head: str) -> tuple[str, str | None]:
    """The text before the comma and the text after it; a comma between digits belongs to the number."""
    decimal = {found.end() - 1 for found in _DECIMAL_COMMA.finditer(head)}
    comma = next((place for place, letter in enumerate(head) if letter == "," and place not in decimal), None)
    if comma is None:
        return head, None
    return head[:comma].strip(), head[comma + 1 :].strip()


def read_provenance(text: str | None, quantity: Quantity) -> tuple[Provenance, dt.date | None]:
    """Where a fact came from, and when. Raises Fault."""
    if text is None:
        return Provenance.unstated, None
    word, _, day = text.partition(" ")
    try:
        provenance = Provenance(word.casefold())
    except ValueError:
        raise _no_provenance(text, quantity) from None
    try:
        check_pair(quantity, provenance)
    except ValueError as wrong:
        raise Fault(f"says {provenance}", cure=str(wrong)) from None
    return provenance, _date(day) if day else None


def _no_provenance(text: str, quantity: Quantity) -> Fault:
    known = [str(one) for one in measured_by(quantity)]
    near = nearest(text.partition(" ")[0].casefold(), known, count=1)
    cure = (
        f"did you mean {near}?"
        if near
        else f"expected {', '.join(known[:-1])} or {known[-1]}; write anything else after a semicolon"
    )
    what = f'has "{text[:40]}" after the comma, which is not a provenance' if text else "ends with a comma"
    return Fault(what, cure=cure)


def _date(text: str) -> dt.date:
    if _DATE.fullmatch(text):
        try:
            return dt.date.fromisoformat(text)
        except ValueError:
            pass
    raise Fault(
        f'has "{text[:40]}" after the provenance, which is not a date',
        cure='write it as in "76.2 mm, calipered 2024-05-18"; write anything else after a semicolon',
    )
