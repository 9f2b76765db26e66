"""Parts that were ordered: price, arrival, storage place. No supplier is named.

Answers   orders_of   those of a build
          Order       one of them
          arrived     the orders by the part that they bring, as far as it is there and sound
Not here  sums of money (money.py); what waits for a part (ready.py)

[order.gasket]  price "85 ± 5 EUR", ordered "2026-03-01", promised "2026-03-20 ± 5 d", arrived "2026-03-24", lies "shelf 2", state
"broken" or "sent back"; part: the prerequisite that it meets, if not its own name; serves: the part or option it is for.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from trialfit.book.problems import BadInput, Located
from trialfit.planning.in_reason import FIRST, LAST, MOST_DAYS, MOST_MONEY, day_of

if TYPE_CHECKING:
    from datetime import date

    from trialfit.book.document import Document

    Entry = str | tuple[str, ...]

_NUMBER = r"[0-9]+(?:[.,][0-9]+)?"
_PRICE = re.compile(rf"({_NUMBER})(?:\s*(?:±|\+/-)\s*({_NUMBER})\s*(%)?)?\s*([A-Za-z€$£]{{1,4}})(?:\s*;.*)?")
_PROMISED = re.compile(rf"([0-9]{{4}}-[0-9]{{2}}-[0-9]{{2}})(?:\s*(?:±|\+/-)\s*({_NUMBER})\s*(?:d|days?))?(?:\s*;.*)?")
STATES = ("", "broken", "wrong", "sent back")
DEFAULT_SPREAD = 0.15
"""Half-width of a price without one, relative: common practice, no source. A price paid is exact."""
LATE = 3.0
"""Half-width of a promised date without one, days: common practice, no source."""


@dataclass(frozen=True)
class Price:
    """An amount with the limits it lies in, in one currency."""

    amount: float
    low: float
    high: float
    currency: str


@dataclass(frozen=True)
class Order:
    """One order. Dates are None where nothing is written; `promised_spread` in days."""

    name: str
    part: str
    serves: str = ""
    price: Price | None = None
    ordered: date | None = None
    promised: date | None = None
    promised_spread: float = LATE
    arrived: date | None = None
    lies: str = ""
    state: str = ""

    @property
    def is_there(self) -> bool:
        """Whether the part is in the workshop and sound."""
        return self.arrived is not None and not self.state

    def as_on(self, day: date) -> Order:
        """The state of the order on a day: a part that arrives later is not there yet and is expected for its day."""
        if self.arrived is None or self.arrived <= day:
            return self
        return replace(self, arrived=None, promised=self.arrived, promised_spread=0.0, lies="")


def orders_of(document: Document, where: str = "") -> dict[str, Order]:
    """The orders by name. Raises BadInput, with everything that cannot be read."""
    found, problems = {}, []
    for name, entries in document.orders.items():
        values: dict[str, object] = {"name": name, "part": str(entries.get("part", name))}
        for key, entry in entries.items():
            text = entry if isinstance(entry, str) else ", ".join(entry)
            try:
                values |= _read(key, text, is_paid="arrived" in entries)
            except ValueError as wrong:
                problems.append(Located(f"order.{name}.{key}", str(wrong)))
        order = found[name] = Order(**values)  # type: ignore[arg-type]
        if order.ordered and order.arrived and order.arrived < order.ordered:
            says = f"is {order.arrived}, before it was ordered on {order.ordered}: one of the two dates is wrong"
            problems.append(Located(f"order.{name}.arrived", says))
    if problems:
        raise BadInput(where or document.name or "the build", problems)
    return found


def arrived(orders: dict[str, Order]) -> frozenset[str]:
    """The parts that are there and sound."""
    return frozenset(order.part for order in orders.values() if order.is_there)


def _read(key: str, text: str, *, is_paid: bool) -> dict[str, object]:
    if key == "price":
        return {"price": _price(text, is_paid=is_paid)}
    if key in ("ordered", "arrived"):
        return {key: _date(text)}
    if key == "promised":
        found = _PROMISED.fullmatch(text.strip())
        if not found:
            raise ValueError(f'is "{text}": expected a date, for example "2026-03-20 ± 5 d"')
        spread = _float(found[2]) if found[2] else LATE
        if spread > MOST_DAYS:
            raise ValueError(
                f'is "{text}": expected a spread of at most {MOST_DAYS:.0f} days, for example "2026-03-20 ± 5 d"'
            )
        return {"promised": _date(found[1]), "promised_spread": spread}
    if key == "state" and text not in STATES:
        raise ValueError(f'is "{text}": expected one of {", ".join(STATES[1:])}; leave it out if the part is sound')
    return {key: text} if key in ("serves", "lies", "state") else {}


def _price(text: str, *, is_paid: bool) -> Price:
    found = _PRICE.fullmatch(text.strip())
    if not found:
        raise ValueError(f'is "{text}": expected an amount with its currency, for example "85 ± 5 EUR"')
    amount = _float(found[1])
    half = 0.0 if is_paid else DEFAULT_SPREAD * amount
    if found[2]:
        half = _float(found[2]) * (amount / 100 if found[3] else 1.0)
    if amount + half > MOST_MONEY:
        raise ValueError(f'is "{text}": expected an amount of at most {MOST_MONEY:,.0f}, for example "85 ± 5 EUR"')
    return Price(amount, max(0.0, amount - half), amount + half, found[4])


def _date(text: str) -> date:
    day = day_of(text.partition(";")[0])
    if day is None:
        raise ValueError(f'is "{text}": expected a date from {FIRST.year} to {LAST.year}, for example 2026-03-20')
    return day


def _float(text: str) -> float:
    return float(text.replace(",", "."))
