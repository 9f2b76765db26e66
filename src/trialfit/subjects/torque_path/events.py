"""What loads the line: full torque, a dropped clutch, wheels that grip again, a snatch, a motor that brakes; with their factors.

Answers   Load      steady (the engine's full torque), shock, or one half of the shocks: careful, peak
          Event     one of them: its name, the torque that it sends into the gearbox, its factor on the tyres' grip
          events    those of a build, by its parts and words alone
          drops_the_clutch    whether a dropped clutch counts
          into_gearbox, least_into_gearbox    full torque at the gearbox's input, and what it is at least
Not here  the torque at each place (loads.py)

A clutch or a converter is the fuse of the line: without either nobody knows what comes through. A converter multiplies and
softens: it cannot be dropped. A motor without a clutch has no fuse but its tyres where they grip again.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.parts import Car, Clutch, Engine
from trialfit.subjects import line
from trialfit.subjects.torque_path.clutch_capacity import clutch_capacity
from trialfit.subjects.torque_path.multiplying import multiplied

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef


class Load(StrEnum):
    """Which torque: the engine's full torque, or the most that comes for a moment: with care, without it, or either."""

    steady = "steady"
    shock = "shock"
    careful = "careful"
    peak = "peak"


@dataclass(frozen=True)
class Event:
    """One event that loads the line.

    name      in the trade's words, as it stands in the name of a state
    sends     torque into the gearbox, N·m, (draws,); its factor included
    holds     factor on what the tyres hold, (draws,)
    coasts    whether the motor brakes the car
    sudden    whether its peak is over before the car's load has moved: what the tyres hold at rest counts, as in the draws
              from which its factor comes
    """

    name: str
    sends: Callable[[Evaluation], Array]
    holds: Callable[[Evaluation], Array]
    coasts: bool = False
    sudden: bool = False


def events(build: Build, load: Load) -> tuple[Event, ...]:
    """The events of a load, the hardest first."""
    braked = (BRAKES_BY_MOTOR,) if line.is_electric(build) else ()
    if load is Load.steady:
        return FULL_TORQUE, *braked
    peak = (*((DROPPED_CLUTCH,) if drops_the_clutch(build) else ()), GRIPS_AGAIN, SNATCHED)
    careful = (WITH_CARE, *braked)
    return {Load.peak: peak, Load.careful: careful}.get(load, (*peak, *careful))


def drops_the_clutch(build: Build) -> bool:
    """Whether somebody may drop the clutch: there is one, or may be, and the builder does not write that it is used with care."""
    car = build.first(Car)
    if line.starts_from_rest(build) or line.has_converter(build):
        return False
    return car is None or car.clutch_use is None


def into_gearbox(ev: Evaluation) -> Array:
    """Full torque at the gearbox's input, N·m, (draws,). Raises MissingFact where neither clutch nor converter is written."""
    if line.has_converter(ev.build):
        return ev.of(multiplied)
    if ev.build.first(Clutch) is None and not line.starts_from_rest(ev.build):
        says = "neither a clutch nor a torque_converter is written: a converter multiplies the engine's torque"
        raise MissingFact({Clutch.kind: says})
    return ev.of(line.peak_torque)


def least_into_gearbox(ev: Evaluation) -> Array:
    """The same whatever is missing of clutch or converter: no less than the engine's torque, N·m, (draws,)."""
    try:
        return ev.of(into_gearbox)
    except MissingFact:
        return ev.of(line.peak_torque)


def through_clutch(ev: Evaluation) -> Array:
    """The most that a slipping clutch or a converter passes on, N·m, (draws,); without limit for a motor that has neither."""
    if line.starts_from_rest(ev.build):
        return np.full(ev.draws, np.inf)
    if line.has_converter(ev.build):
        return ev.of(multiplied)
    held = np.maximum(ev.of(clutch_capacity, "load"), ev.of(line.peak_torque))
    return np.asarray(held * ev(ev.part(Car).clutch_drop_factor))


def _up_to_the_clutch(ev: Evaluation, factor: FactRef) -> Array:
    """Full torque times a factor, as far as the clutch passes it on; a converter softens it."""
    over = 1.0 if line.has_converter(ev.build) else np.maximum(ev(factor), 1.0)
    return np.asarray(np.minimum(ev.of(into_gearbox) * over, ev.of(through_clutch)))


def _with_care(ev: Evaluation) -> Array:
    return _up_to_the_clutch(ev, ev.part(Car).careful_factor)


def _snatched(ev: Evaluation) -> Array:
    return _up_to_the_clutch(ev, ev.part(Engine).application_factor)


def _regeneration(ev: Evaluation) -> Array:
    written = ev.part(Engine).regeneration_torque
    return ev(written) if written.written else ev.of(line.peak_torque)


def _one(ev: Evaluation) -> Array:
    return np.ones(ev.draws)


FULL_TORQUE = Event("full torque", into_gearbox, _one)
DROPPED_CLUTCH = Event(
    "dropped clutch", through_clutch, lambda ev: ev(ev.part(Car).clutch_drop_grip_factor), sudden=True
)
GRIPS_AGAIN = Event("low to high grip", through_clutch, lambda ev: ev(ev.part(Car).regained_grip_factor), sudden=True)
SNATCHED = Event("throttle snatched open", _snatched, lambda ev: ev(ev.part(Car).careful_grip_factor))
WITH_CARE = Event("driven with care", _with_care, lambda ev: ev(ev.part(Car).careful_grip_factor))
BRAKES_BY_MOTOR = Event("motor braking", _regeneration, _one, coasts=True)
