"""What was spent, what is committed, what is still to come, with its spread.

Answers   money_of     the sums of a build, by currency, by choice and by job
          sums_text    sums as they are shown
          Sum          an amount with the limits it lies in
Not here  the entries of an order (orders.py)

Spent: arrived and kept. Committed: ordered, not yet arrived. To come: written down, not yet ordered. An order for an
option that was not picked is left out of the sums and listed with its choice. Half-widths are added as the root of the
sum of their squares: the errors of prices are independent.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING

from trialfit.planning.job import NeedKind

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from typing import Protocol

    from trialfit.book.build import Build
    from trialfit.planning.network import Network
    from trialfit.planning.orders import Order

    class Amount(Protocol):
        """Anything that has an amount, its limits and a currency: a sum, a price, the sum of a report."""

        @property
        def amount(self) -> float:
            """The amount itself."""

        @property
        def low(self) -> float:
            """The least it may be."""

        @property
        def high(self) -> float:
            """The most it may be."""

        @property
        def currency(self) -> str:
            """As it was written."""


SPENT, COMMITTED, TO_COME = "spent", "committed", "to come"


@dataclass(frozen=True)
class Sum:
    """An amount with its limits, in one currency."""

    amount: float
    low: float
    high: float
    currency: str


@dataclass(frozen=True)
class Money:
    """Sums by what they are; by choice and option; by job; orders without a price."""

    totals: Mapping[str, tuple[Sum, ...]]
    by_choice: Mapping[str, Mapping[str, tuple[Sum, ...]]]
    by_job: Mapping[str, tuple[Sum, ...]]
    without_price: tuple[str, ...]


def money_of(build: Build, network: Network, orders: Mapping[str, Order]) -> Money:
    """The sums of a build."""
    spare = {name for choice in build.choices.values() for name in choice.options if name != choice.picked}
    counted = [order for order in orders.values() if order.serves not in spare]
    totals = {kind: add(order for order in counted if kind_of(order) == kind) for kind in (SPENT, COMMITTED, TO_COME)}
    by_choice = {
        name: {option: add(order for order in orders.values() if order.serves == option) for option in choice.options}
        for name, choice in build.choices.items()
    }
    by_job = {}
    for job in network.jobs.values():
        parts = job.needed(NeedKind.part)
        sums = add(order for order in counted if order.part in parts)
        if sums:
            by_job[job.id] = sums
    return Money(totals, by_choice, by_job, tuple(order.name for order in counted if order.price is None))


def kind_of(order: Order) -> str:
    """Whether an order was spent, is committed, or is still to come."""
    if order.arrived is not None and order.state != "sent back":
        return SPENT
    return COMMITTED if order.ordered is not None and order.state != "sent back" else TO_COME


def add(orders: Iterable[Order]) -> tuple[Sum, ...]:
    """The sum for each currency: amounts added, half-widths as the root of the sum of their squares."""
    sums: dict[str, Sum] = {}
    for order in orders:
        price = order.price
        if price is None:
            continue
        old = sums.get(price.currency, Sum(0.0, 0.0, 0.0, price.currency))
        amount = old.amount + price.amount
        below = hypot(old.amount - old.low, price.amount - price.low)
        above = hypot(old.high - old.amount, price.high - price.amount)
        sums[price.currency] = Sum(amount, amount - below, amount + above, price.currency)
    return tuple(sums.values())


def sums_text(sums: Iterable[Amount]) -> str:
    """Amounts as they are shown, with their limits where these differ.

    >>> sums_text([Sum(310, 290, 330, "EUR"), Sum(40, 40, 40, "USD")])
    '310 EUR (290 to 330), 40 USD'
    """
    return ", ".join(
        f"{one.amount:.0f} {one.currency}" + (f" ({one.low:.0f} to {one.high:.0f})" if one.low < one.high else "")
        for one in sums
    )
