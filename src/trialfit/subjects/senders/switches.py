"""Warning lamps: does the switch act in time, not too early, and the right way round.

Answers   requirements   warning, sense, false_alarm
Not here  gauges with a needle (needle.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import COUNT
from trialfit.parts import Sender
from trialfit.subjects.senders.media import medium_of, sender_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import Gauge


_WIRING = Source("how the lamp is wired", SourceKind.builder)
_CAUTION = "Test it before the first start: earth the wire of a lamp that lights when closed, and check that it lights."


def requirements(gauge: Gauge) -> Iterator[Requirement]:
    """Two or three findings for a lamp."""
    medium = medium_of(gauge)
    limit = medium.limit(gauge)
    yield Requirement(
        id=f"senders.{gauge.name}.warning",
        about=gauge.name,
        says=f"the switch acts before the {medium.word} at which the driver must act",
        value=partial(threshold, gauge=gauge),
        quantity=medium.quantity,
        stake=medium.stake,
        limit=AtMost(lambda ev: ev(limit)) if medium.danger_above else AtLeast(lambda ev: ev(limit)),
        source=COMMON_PRACTICE,
        cure="Fit a switch with another threshold.",
        caution=_CAUTION,
    )
    yield Requirement(
        id=f"senders.{gauge.name}.sense",
        about=gauge.name,
        says="the contact works the right way: the lamp is lit on the dangerous side of the threshold; "
        "the value is 1 if it is",
        value=partial(lights_in_danger, gauge=gauge),
        quantity=COUNT,
        stake=medium.stake,
        limit=AtLeast(1.0),
        source=_WIRING,
        shows=partial(how_it_is_wired, gauge=gauge),
        cure="Fit a switch whose contact closes the other way, or put a relay between.",
        caution=_CAUTION,
    )
    normal = medium.normal(gauge)
    if normal.written:
        yield Requirement(
            id=f"senders.{gauge.name}.false_alarm",
            about=gauge.name,
            says="the lamp stays off in normal running",
            value=partial(threshold, gauge=gauge),
            quantity=medium.quantity,
            stake=Stake.comfort,
            limit=AtLeast(lambda ev: ev(normal)) if medium.danger_above else AtMost(lambda ev: ev(normal)),
            source=COMMON_PRACTICE,
            cure="Fit a switch with another threshold.",
        )


def threshold(ev: Evaluation, gauge: Gauge) -> Array:
    """Where the switch acts."""
    return ev(medium_of(gauge).threshold(sender_of(ev, gauge)))


def lights_in_danger(ev: Evaluation, gauge: Gauge) -> float:
    """1 where the lamp is lit on the dangerous side, else 0."""
    sender = sender_of(ev, gauge)
    if sender.contact is None:
        raise MissingFact({f"{sender.name}.contact": Sender.contact.says})
    closed_in_danger = (sender.contact == "closed above") == medium_of(gauge).danger_above
    return float(closed_in_danger == (gauge.lamp_on != "open"))


def how_it_is_wired(ev: Evaluation, gauge: Gauge) -> str:
    """Contact and lamp in words."""
    sender = sender_of(ev, gauge)
    return f"the contact of {sender.name} is {sender.contact} its threshold, and the lamp is lit when it is {gauge.lamp_on}"
