"""What the topics of gearing share: how gears and parts are called, and values of each gear.

Answers   gear_numbers, steps, name_or_kind         names for ids and sentences
          in_gear                               one gear of a value that has all of them
          total_ratios, effective_masses        (draws, gears)
          hill_ratio, starts_in_low             of first gear on a steep hill, in low range where there is one
          launch_speed, launch_torque           what the engine does while the clutch takes up
          grip_share                            grip of the driven tyres over the weight
Not here  values that other subjects use too (../line.py)
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from trialfit.facts.quantity import ROTATIONAL_SPEED, SPEED
from trialfit.facts.units import display_unit, find_unit
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.gearing.performance import effective_mass_with_engine
from trialfit.parts import Car, Engine, Gearbox, TorqueConverter, TransferCase
from trialfit.subjects import line
from trialfit.subjects.torque_path.multiplying import multiplied, stall_speed

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.facts.units import Unit
    from trialfit.handbook.arrays import Array
    from trialfit.parts import Part


RPM: Unit = find_unit(ROTATIONAL_SPEED, "rpm")
ROAD_SPEED: Unit = display_unit(SPEED)


def name_or_kind(build: Build, kind: type[Part]) -> str:
    """The name of the part of a kind, or the kind itself while the build has none."""
    part = build.first(kind)
    return part.name if part else kind.kind


def gear_numbers(build: Build) -> tuple[int, ...]:
    """The forward gears from 1; first gear alone while no ratios are written, so that what is missing gets named."""
    gearbox = build.first(Gearbox)
    count = len(gearbox.ratios) if gearbox else 0
    return tuple(range(1, max(count, 1) + 1))


def steps(build: Build) -> tuple[tuple[int, int], ...]:
    """The upshifts as pairs of gears; none for a single gear, the first while no ratios are written."""
    gearbox = build.first(Gearbox)
    return tuple(pairwise(gear_numbers(build))) if gearbox and gearbox.ratios else ((1, 2),)


def in_gear(values: Callable[[Evaluation], Array], gear: int) -> Callable[[Evaluation], Array]:
    """The values of one gear, of a function that works out all gears at once."""

    def of_one_gear(ev: Evaluation) -> Array:
        return ev.of(values)[..., gear - 1]

    return of_one_gear


def total_ratios(ev: Evaluation) -> Array:
    """Gearbox, high range of a transfer case and final drive together, in each forward gear."""
    return ev.of(line.drive_ratios) * ev.of(line.final_ratio)[:, None]


def hill_ratio(ev: Evaluation) -> Array:
    """Engine to wheels in first gear, (draws, 1), in low range where its ratio is written: that is what a steep hill is for."""
    first, case = ev.of(total_ratios)[:, :1], ev.build.first(TransferCase)
    if case is None or not starts_in_low(ev.build):
        return np.asarray(first)
    return np.asarray(first * (ev(case.low_ratio) / ev.of(line.range_ratio))[:, None])


def starts_in_low(build: Build) -> bool:
    """Whether there is a low range with its ratio written."""
    case = build.first(TransferCase)
    return case is not None and line.has_low_range(build) and case.low_ratio.written is not None


def effective_masses(ev: Evaluation) -> Array:
    """Mass that the pull has to speed up in each gear, engine and wheels counted in, kg."""
    mass, inertia = ev.each(ev.part(Car).mass, ev.part(Engine).rotating_inertia)
    return np.asarray(
        effective_mass_with_engine(
            mass[:, None], ev.of(total_ratios), ev.of(line.rolling_radius)[:, None], inertia[:, None]
        )
    )


def launch_speed(ev: Evaluation) -> Array:
    """Engine speed held while the clutch takes up, rad/s: the stall speed of a converter; zero for a motor that pulls from rest."""
    speed = ev.part(Engine).launch_speed
    if ev.build.first(TorqueConverter):
        return ev.of(stall_speed)
    if speed.written is None and line.starts_from_rest(ev.build):
        return np.zeros(ev.draws)
    return ev(speed)


def launch_torque(ev: Evaluation) -> Array:
    """Torque into the gearbox while the clutch takes up, N·m: the engine's at full load, or what a converter makes of it."""
    if ev.build.first(TorqueConverter):
        return ev.of(multiplied)
    return np.asarray(line.torque_at(ev, ev.of(launch_speed)))


def grip_share(ev: Evaluation) -> Array:
    """Largest push of the driven tyres over the weight of the car."""
    return ev.of(line.driven_grip) / (ev(ev.part(Car).mass) * STANDARD_GRAVITY)
