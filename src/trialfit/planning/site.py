"""A build with its work at one moment, as the commands need it.

Answers   site_of    it all, put together
          Site       network, what was done, states, parts, readings, findings
Not here  any one of these (its own module); changes (doing.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import TYPE_CHECKING

from trialfit.planning.ground import Ground
from trialfit.planning.network import network_of
from trialfit.planning.orders import arrived, orders_of
from trialfit.planning.ready import holders, standings
from trialfit.planning.states import fold
from trialfit.planning.work import events_of
from trialfit.planning.work_readings import readings_of
from trialfit.planning.workshop import workshop_of

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from trialfit.book.build import Build
    from trialfit.evaluation.finding import Report
    from trialfit.planning.network import Network
    from trialfit.planning.orders import Order
    from trialfit.planning.ready import Holders, Standing
    from trialfit.planning.states import Status
    from trialfit.planning.work import Event
    from trialfit.planning.workshop import Workshop


@dataclass(frozen=True)
class Site:
    """The work of one build at one moment."""

    build: Build
    where: str
    network: Network
    events: tuple[Event, ...]
    status: Status
    workshop: Workshop
    orders: dict[str, Order]
    ground: Ground

    @property
    def now(self) -> datetime:
        """The moment."""
        return self.ground.now

    @cached_property
    def standings(self) -> dict[str, Standing]:
        """Every job with its present state."""
        return standings(self.network, self.status, self.ground)

    @cached_property
    def holders(self) -> dict[str, Holders]:
        """The job that has each tool and place."""
        return holders(self.network, self.status, self.ground)


def site_of(
    build: Build,
    now: datetime | None = None,
    findings: Callable[[str], Report] | None = None,
    where: str = "",
    written: Mapping[tuple[str, str], int] | None = None,
) -> Site:
    """The work of a build, put together. Raises BadInput for what cannot be read.

    `findings` works out the findings of a subject ("": of all) when they are needed; without it findings block no
    work. `written` as in network_of.
    """
    place = where or build.name or "the build"
    network = network_of(build, written, place)
    events = events_of(build.document, place)
    workshop = workshop_of(build.document, place)
    moment = now or datetime.now().astimezone()
    orders = {name: order.as_on(moment.date()) for name, order in orders_of(build.document, place).items()}
    ground = Ground(moment, workshop, arrived(orders), _promised(orders), readings_of(build), findings)
    return Site(build, place, network, events, fold(network, events), workshop, orders, ground)


def _promised(orders: dict[str, Order]) -> dict[str, str]:
    """The words for a part that has not arrived: by its newest order."""
    told = {}
    for order in orders.values():
        if order.is_there:
            continue
        if order.state:
            text = f"arrived {order.state}" if order.arrived else f"is {order.state}"
        elif order.promised:
            text = f"is promised for {order.promised:%Y-%m-%d} ± {order.promised_spread:g} days"
        else:
            text = "is ordered, without a date" if order.ordered else "is not ordered"
        told[order.part] = text
    return told
