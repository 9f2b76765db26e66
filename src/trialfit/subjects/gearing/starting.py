"""Pulling away: heat of the clutch on the level and on a hill, and the steepest hill the car starts on.

Answers   requirements   hill_start.grade, hill_start.heat, hill_start.heat_rise, launch.time, launch.heat, launch.heat_rise
Not here  what torque the clutch carries (../torque_path/); the run after the start (running.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import BUILDER, COMMON_PRACTICE, AtLeast, Requirement, Source, Stake
from trialfit.evaluation.states import InStates
from trialfit.facts.quantity import ENERGY, SLOPE, TEMPERATURE_DIFFERENCE, TIME
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.gearing.clutch_heat import EASY_START, heat_rise, torque_to_pull_away
from trialfit.handbook.gearing.hill_grip import grip_share_on_hill
from trialfit.handbook.gearing.launch import ClutchSlip, HillStart, clutch_slip, steepest_hill_start
from trialfit.handbook.gearing.performance import effective_mass
from trialfit.parts import Car, Clutch
from trialfit.subjects import line, load_states
from trialfit.subjects.gearing.gears import (
    hill_ratio,
    launch_speed,
    launch_torque,
    name_or_kind,
    starts_in_low,
    total_ratios,
)
from trialfit.subjects.gearing.loaded import grip_forces, grip_shares

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from numpy.typing import ArrayLike

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array

    Start = Callable[[Evaluation], ClutchSlip]

_HOT = "a slipping clutch gets hot enough to burn and to smoke: one try, then let it cool; the maker's manual outranks this"
_ROLLS = "calculated only: on a real slope hold the car with the brake, and keep people away from behind it"


def requirements(build: Build) -> Iterator[Requirement]:
    """A finding for the hill the builder names, and the heat of two starts where there is a clutch."""
    yield Requirement(
        id="gearing.hill_start.grade",
        about=name_or_kind(build, Car),
        says="the car pulls away on the steepest hill it must start on, as it is loaded",
        value=steepest_start,
        quantity=SLOPE,
        stake=Stake.durability,
        limit=AtLeast(lambda ev: ev(ev.part(Car).hill_grade)),
        source=_source_of_hill(build),
        formulas=(steepest_hill_start, grip_share_on_hill),
        shows=what_sets_the_hill,
        cure="If torque is the limit, fit a shorter first gear or final drive. If grip is the limit, fit other tyres or put more load on the driven axle. The remark that why shows names the limit.",
        caution=_ROLLS,
    )
    if line.starts_from_rest(build) or line.has_converter(build):
        return
    yield Requirement(
        id="gearing.launch.time",
        about=name_or_kind(build, Clutch),
        says="slip time of the clutch in a start on the level with full torque at launch speed",
        value=lambda ev: _in_states(ev, ev.of(hard_start).time),
        quantity=TIME,
        stake=Stake.durability,
        formulas=(clutch_slip,),
    )
    yield from _heat(build, "launch", hard_start, "a start on the level with full torque at launch speed")
    yield from _heat(
        build,
        "hill_start",
        easy_hill_start,
        f"an easy start, at {EASY_START} m/s², on the steepest hill it must start on",
    )


def _heat(build: Build, which: str, start: Start, words: str) -> Iterator[Requirement]:
    yield Requirement(
        id=f"gearing.{which}.heat",
        about=name_or_kind(build, Clutch),
        says=f"heat into the clutch in {words}",
        value=partial(_heat_of, start=start),
        quantity=ENERGY,
        stake=Stake.durability,
        formulas=(clutch_slip, torque_to_pull_away),
        caution=_HOT,
    )
    yield Requirement(
        id=f"gearing.{which}.heat_rise",
        about=name_or_kind(build, Clutch),
        says=f"temperature rise of flywheel and pressure plate in {words}",
        value=partial(_rise_of, start=start),
        quantity=TEMPERATURE_DIFFERENCE,
        stake=Stake.durability,
        formulas=(clutch_slip, heat_rise),
        caution=_HOT,
    )


def _source_of_hill(build: Build) -> Source:
    car = build.first(Car)
    return BUILDER if car and car.hill_grade.written else COMMON_PRACTICE


def hill_starts(ev: Evaluation) -> HillStart:
    """Steepest hill with the easy acceleration left, by torque and by grip, in each load state."""
    return steepest_hill_start(
        clutch_torque=ev.of(launch_torque)[:, None],
        total_ratio=ev.of(hill_ratio),
        efficiency=ev.of(line.efficiency)[:, None],
        rolling_radius=ev.of(line.rolling_radius)[:, None],
        mass=ev.of(load_states.moved_masses),
        rolling=ev(ev.part(Car).rolling_coefficient)[:, None],
        grip_share=ev.of(grip_shares),
        acceleration=EASY_START,
    )


def steepest_start(ev: Evaluation) -> InStates:
    """Steepest hill the car starts on, as a tangent."""
    return _in_states(ev, np.tan(ev.of(hill_starts).slope_angle))


def _in_states(ev: Evaluation, values: ArrayLike) -> InStates:
    return InStates(np.asarray(values, float), load_states.names(ev.build))


def what_sets_the_hill(ev: Evaluation) -> str:
    """The slopes by torque and by grip, in the state in which it climbs least."""
    starts = ev.of(hill_starts)
    worst = int(np.argmin(np.asarray(starts.slope_angle)[0]))
    by_torque, by_grip = np.asarray(starts.by_torque)[0, worst], np.asarray(starts.by_grip)[0, worst]
    grip = f"grip is enough for {show(np.tan(by_grip), display_unit(SLOPE))}"
    grip += ", in low range" if starts_in_low(ev.build) else ""
    if by_torque >= np.pi / 2:
        return f"torque is enough for any slope, {grip}"
    return f"torque is enough for {show(np.tan(by_torque), display_unit(SLOPE))}, {grip}"


def hard_start(ev: Evaluation) -> ClutchSlip:
    """A start on the level with the engine's torque at launch speed, or what the tyres carry."""
    return _start(ev, ev.of(launch_torque)[:, None], np.zeros((ev.draws, 1)), ev.of(total_ratios)[:, :1])


def easy_hill_start(ev: Evaluation) -> ClutchSlip:
    """A start on the builder's hill with just the torque for an easy acceleration, or with full torque."""
    car, mass = ev.part(Car), ev.of(load_states.moved_masses)
    rolling, grade = (one[:, None] for one in ev.each(car.rolling_coefficient, car.hill_grade))
    slope = np.arctan(grade)
    wanted = torque_to_pull_away(
        acceleration=EASY_START,
        total_ratio=ev.of(hill_ratio),
        efficiency=ev.of(line.efficiency)[:, None],
        rolling_radius=ev.of(line.rolling_radius)[:, None],
        mass=mass,
        decoupled_mass=effective_mass(mass, 0.0),
        rolling=rolling,
        slope_angle=slope,
    )
    return _start(ev, np.minimum(wanted, ev.of(launch_torque)[:, None]), slope, ev.of(hill_ratio))


def _start(ev: Evaluation, torque: Array, slope: Array, ratio: Array) -> ClutchSlip:
    mass = ev.of(load_states.moved_masses)
    return clutch_slip(
        engine_speed=ev.of(launch_speed)[:, None],
        clutch_torque=torque,
        total_ratio=ratio,
        efficiency=ev.of(line.efficiency)[:, None],
        rolling_radius=ev.of(line.rolling_radius)[:, None],
        mass=mass,
        decoupled_mass=effective_mass(mass, 0.0),
        rolling=ev(ev.part(Car).rolling_coefficient)[:, None],
        slope_angle=slope,
        grip_force=ev.of(grip_forces),
    )


def _heat_of(ev: Evaluation, start: Start) -> InStates:
    return _in_states(ev, ev.of(start).heat)


def _rise_of(ev: Evaluation, start: Start) -> InStates:
    return _in_states(ev, heat_rise(ev.of(start).heat, ev(ev.part(Clutch).thermal_mass)[:, None]))
