"""What senders measure: temperature, pressure and level, and the dangerous side of each.

Answers   Medium, medium_of     what a gauge measures, with the facts of gauge and sender that belong to it
          sender_of, is_lamp    the sender behind a gauge
          earth_return          resistance of a sender's way to earth
Not here  what the needle shows (needle.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import Stake
from trialfit.facts.quantity import PRESSURE, SHARE, TEMPERATURE, TEMPERATURE_DIFFERENCE, Quantity
from trialfit.parts import Fitting, Gauge, Port, Sender

if TYPE_CHECKING:
    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import CurveRef, FactRef


@dataclass(frozen=True)
class Medium:
    """One thing that is measured. `danger_above`: too much of it does harm; else too little.

    `tolerance` (SI) is how much a gauge may play the danger down where the driver must act: common practice, no source.
    """

    word: str
    quantity: Quantity
    difference: Quantity
    danger_above: bool
    tolerance: float
    stake: Stake

    def curve(self, part: Gauge | Sender) -> CurveRef:
        """The curve of a gauge or sender."""
        ref: CurveRef = getattr(part, f"{self.word}_curve")
        return ref

    def limit(self, gauge: Gauge) -> FactRef:
        """Where the driver must act."""
        ref: FactRef = getattr(gauge, f"limit_{self.word}")
        return ref

    def normal(self, gauge: Gauge) -> FactRef:
        """Where all is well, on the side of the danger."""
        ref: FactRef = getattr(gauge, f"normal_{self.word}")
        return ref

    def threshold(self, sender: Sender) -> FactRef:
        """Where a switch acts."""
        ref: FactRef = getattr(sender, f"switch_{self.word}")
        return ref

    @property
    def is_temperature(self) -> bool:
        """Whether curves bend as those of thermistors do."""
        return self.quantity is TEMPERATURE


_MEDIA = {
    "temperature": Medium("temperature", TEMPERATURE, TEMPERATURE_DIFFERENCE, True, 5.0, Stake.durability),  # noqa: FBT003
    "pressure": Medium("pressure", PRESSURE, PRESSURE, False, 0.3e5, Stake.durability),  # noqa: FBT003
    "level": Medium("level", SHARE, SHARE, False, 0.05, Stake.comfort),  # noqa: FBT003
}


def medium_of(gauge: Gauge) -> Medium:
    """What a gauge measures."""
    return _MEDIA[gauge.measures or "temperature"]


def is_lamp(build: Build, gauge: Gauge) -> bool:
    """Whether a switch moves it, and not a resistance."""
    sender = build.named(gauge.sender)
    return isinstance(sender, Sender) and sender.is_switch


def sender_of(ev: Evaluation, gauge: Gauge) -> Sender:
    """The sender that moves a gauge. Raises MissingFact."""
    sender = ev.build.named(gauge.sender)
    if not isinstance(sender, Sender):
        raise MissingFact({f"{gauge.name}.sender": Gauge.sender.says})
    return sender


def earth_return(ev: Evaluation, sender: Sender) -> Array:
    """Resistance of a sender's way to earth, Ω. Raises MissingFact where tape is on its thread and nobody has measured it."""
    holders: list[Port | Fitting] = [*ev.build.all(Port), *ev.build.all(Fitting)]
    if sender.earth_resistance.written is None and any(
        ev.build.named(holder.fitted) is sender and holder.sealant == "tape" for holder in holders
    ):
        raise MissingFact({sender.earth_resistance.path: f"{Sender.earth_resistance.says}; there is tape on this one"})
    return ev(sender.earth_resistance)
