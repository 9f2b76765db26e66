"""The torque at each place in the line, gear by gear: limited by the engine, or by the tyres' grip.

Answers   Load     steady (the engine's full torque) or shock (pulses, a dropped clutch)
          Sides    engine side and grip side of one place
          gearbox_input, pinion, axle, wheel    both sides at each place
          at       one of these places, ready to be asked for
Not here  what a part carries (element.py and the modules of the parts)

All arrays N·m, of shape (draws, gears); the gears are those of gears.gear_ratios.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import TYPE_CHECKING, Concatenate, ParamSpec

import numpy as np

from trialfit.handbook.gearing import traction
from trialfit.handbook.torque_path import along_the_path as handbook
from trialfit.parts import Car, Engine, FinalDrive, Gearbox
from trialfit.subjects import line
from trialfit.subjects.torque_path import gears
from trialfit.subjects.torque_path.clutch_capacity import clutch_capacity

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array, Numbers


Args = ParamSpec("Args")


class Load(StrEnum):
    """Which torque of the engine: its full torque, or the most that can come through the clutch for a moment."""

    steady = "steady"
    shock = "shock"


@dataclass(frozen=True)
class Sides:
    """Torque at one place, N·m, (draws, gears): what the engine can send there, and at what the tyres slip."""

    engine: Array
    grip: Array

    @cached_property
    def seen(self) -> Array:
        """The torque on the element: the smaller of both."""
        return np.asarray(handbook.governing(self.engine, self.grip)[0])

    @cached_property
    def grip_governs(self) -> NDArray[np.bool_]:
        """Whether the tyres' grip sets it."""
        return handbook.governing(self.engine, self.grip)[1]


def at(
    place: Callable[Concatenate[Evaluation, Args], Sides], *args: Args.args, **kwargs: Args.kwargs
) -> Callable[[Evaluation], Sides]:
    """Both sides of a place, to be asked for with the evaluation alone: the wheel, a shock, the rear axle."""

    def sides(ev: Evaluation) -> Sides:
        return ev.of(place, *args, **kwargs)

    return sides


def into_gearbox(ev: Evaluation, load: Load) -> Array:
    """The most that comes through the clutch, N·m, (draws,). Raises MissingFact for a shock through an unknown clutch."""
    if load is Load.steady:
        return ev.of(line.peak_torque)
    held = 0.0 if line.starts_from_rest(ev.build) else ev.of(clutch_capacity)
    factor = ev(ev.part(Engine).application_factor)
    return np.asarray(handbook.torque_into_gearbox(ev.of(line.peak_torque), held, factor))


def gearbox_input(ev: Evaluation, load: Load) -> Sides:
    """At the clutch and the gearbox's input. All driven tyres hold against it."""
    engine = ev.of(_from_engine, load).gearbox_input
    grip = ev.of(_from_grip, "all").gearbox_input
    return _sides(engine, grip)


def pinion(ev: Evaluation, load: Load) -> Sides:
    """At the prop shaft and the pinion of the final drive."""
    return _sides(ev.of(_from_engine, load).pinion, ev.of(_from_grip, gears.driven_axle(ev.build)).pinion)


def axle(ev: Evaluation, load: Load, end: str) -> Sides:
    """At both wheels of an axle together: `end` is front or rear."""
    return _sides(ev.of(_from_engine, load).axle, ev.of(_from_grip, end).axle)


def wheel(ev: Evaluation, load: Load, end: str) -> Sides:
    """At one half-shaft and one wheel of an axle: at the wheel that gets the more, which drives with no more than its own grip."""
    both, share = ev.of(axle, load, end), ev.of(wheel_share)[:, None]
    return Sides(both.engine * share, both.grip * np.minimum(share, ev.of(best_wheel_share, end)[:, None]))


def wheel_share(ev: Evaluation) -> Array:
    """Share of the axle's torque that one wheel can get, (draws,)."""
    final_drive = ev.part(FinalDrive)
    works = final_drive.differential or "open"
    bias = ev(final_drive.bias_ratio) if works == "limited slip" else np.ones(ev.draws)
    return np.broadcast_to(np.asarray(handbook.half_shaft_share(works, bias)), ev.draws)


def best_wheel_share(ev: Evaluation, end: str) -> Array:
    """Share of an axle's grip that one wheel can drive with, (draws,); all of it where the track is not written."""
    car = ev.part(Car)
    track = car.front_track if end == "front" else car.rear_track
    if track.written is None:
        return np.ones(ev.draws)
    return np.asarray(traction.best_wheel_share(*ev.each(car.tyre_friction, car.centre_of_mass_height, track)))


def _sides(engine: Numbers, grip: Numbers) -> Sides:
    return Sides(np.asarray(engine), np.asarray(grip))


def _from_engine(ev: Evaluation, load: Load) -> handbook.Torques:
    box, final = ev.part(Gearbox), ev.part(FinalDrive)
    return handbook.from_engine(
        ev.of(into_gearbox, load)[:, None],
        ev.of(gears.gear_ratios),
        ev.of(line.final_ratio)[:, None],
        ev(box.efficiency)[:, None],
        ev(final.efficiency)[:, None],
    )


def _from_grip(ev: Evaluation, end: str) -> handbook.Torques:
    """`end`: front, rear, or all for every driven tyre together."""
    box, final = ev.part(Gearbox), ev.part(FinalDrive)
    return handbook.from_grip(
        ev.of(gears.whole_grip) if end == "all" else ev.of(gears.axle_grip, end),
        ev.of(line.rolling_radius)[:, None],
        ev.of(gears.gear_ratios),
        ev.of(line.final_ratio)[:, None],
        ev(box.efficiency)[:, None],
        ev(final.efficiency)[:, None],
    )
