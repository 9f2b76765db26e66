"""How the car goes: times from rest, and the top speed of each gear.

Answers   requirements   time.0_100_kmh, time.0_60_mph, time.400_m, speed_at_400_m, top_speed
Not here  pulling away (starting.py); cruising (cruising.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Stake
from trialfit.facts.quantity import SPEED, TIME
from trialfit.facts.showing import show
from trialfit.handbook.constants import KILOMETRE_PER_HOUR, MILE_PER_HOUR
from trialfit.handbook.gearing.performance import (
    AccelerationRun,
    TopSpeedLimit,
    acceleration_run,
    effective_mass,
    top_speed,
)
from trialfit.handbook.gearing.ratios import engine_speed
from trialfit.parts import Car, Engine, Gearbox
from trialfit.subjects import full_load, line
from trialfit.subjects.gearing.gears import RPM, effective_masses, gear_numbers, launch_speed, name_or_kind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


SPEEDS = (100 * KILOMETRE_PER_HOUR, 60 * MILE_PER_HOUR)
DISTANCES = (400.0,)

_FAST = (
    "a calculated figure: tyres, shafts, brakes and steering have their own limits; the makers' manuals come first; "
    "never try it on a public road"
)
_WHY = {
    TopSpeedLimit.NONE: "the gear has no pull at any speed",
    TopSpeedLimit.PULL: "road load equals the pull there",
    TopSpeedLimit.REV_LIMIT: "the engine is at its speed limit there",
    TopSpeedLimit.END_OF_CURVE: "the torque curve ends there, below the engine's limit",
}


def requirements(build: Build) -> Iterator[Requirement]:
    """Figures; a limit of the builder's own makes a finding of each."""
    yield from _times(build)
    for gear in gear_numbers(build):
        yield Requirement(
            id=f"gearing.top_speed.{gear}",
            about=name_or_kind(build, Gearbox),
            says=f"highest speed held in gear {gear} on the level",
            value=partial(top_speed_in, gear=gear),
            quantity=SPEED,
            stake=Stake.comfort,
            formulas=(top_speed,),
            turned_by=AtLeast,
            shows=partial(why_not_faster, gear=gear),
            caution=_FAST,
        )
    yield Requirement(
        id="gearing.top_speed",
        about=name_or_kind(build, Car),
        says="highest speed held in any gear on the level",
        value=lambda ev: ev.of(line.top_speed),
        quantity=SPEED,
        stake=Stake.comfort,
        formulas=(top_speed,),
        turned_by=AtLeast,
        shows=fastest_gear,
        caution=_FAST,
    )


def _times(build: Build) -> Iterator[Requirement]:
    times = (
        ("time.0_100_kmh", "time from rest to 100 km/h", lambda ev: ev.of(run).time_to_speed[:, 0]),
        ("time.0_60_mph", "time from rest to 60 mph", lambda ev: ev.of(run).time_to_speed[:, 1]),
        ("time.400_m", "time for 400 m from rest", lambda ev: ev.of(run).time_to_distance[:, 0]),
    )
    for which, words, value in times:
        yield Requirement(
            id=f"gearing.{which}",
            about=name_or_kind(build, Car),
            says=f"{words}, full throttle, shifting where the next gear pulls harder",
            value=value,
            quantity=TIME,
            stake=Stake.comfort,
            formulas=(acceleration_run,),
            turned_by=AtMost,
            caution=_FAST,
        )
    yield Requirement(
        id="gearing.speed_at_400_m",
        about=name_or_kind(build, Car),
        says="speed 400 m from rest",
        value=lambda ev: ev.of(run).speed_at_distance[:, 0],
        quantity=SPEED,
        stake=Stake.comfort,
        formulas=(acceleration_run,),
        turned_by=AtLeast,
        caution=_FAST,
    )


def run(ev: Evaluation) -> AccelerationRun:
    """A standing start at full throttle through the gears."""
    engine, car = ev.part(Engine), ev.part(Car)
    curve = ev.of(full_load.torque_curve)
    mass, rolling, drag_area, air, shift_time = ev.each(
        car.mass, car.rolling_coefficient, car.drag_area, car.air_density, car.shift_time
    )
    return acceleration_run(
        engine_speeds=curve.x,
        torques=curve.y,
        torque_factor=curve.scale,
        gearbox_ratios=ev.of(line.drive_ratios),
        final_ratio=ev.of(line.final_ratio),
        efficiency=ev.of(line.efficiency)[:, None],
        rolling_radius=ev.of(line.rolling_radius),
        mass=mass,
        effective_mass=ev.of(effective_masses),
        decoupled_mass=effective_mass(mass, 0.0),
        grip_force=ev.of(line.driven_grip),
        rolling=rolling,
        drag_area=drag_area,
        air_density=air,
        rev_limit=ev(engine.max_speed),
        launch_speed=ev.of(launch_speed),
        shift_time=shift_time,
        speeds=SPEEDS,
        distances=DISTANCES,
    )


def top_speed_in(ev: Evaluation, gear: int) -> Array:
    """Highest speed in one gear, m/s."""
    return ev.of(line.top_speeds).speed[:, gear - 1]


def why_not_faster(ev: Evaluation, gear: int) -> str:
    """What limits one gear, and whether the curve reaches that far."""
    why = _WHY[TopSpeedLimit(int(ev.of(line.top_speeds).limited_by[0, gear - 1]))]
    speed = float(top_speed_in(ev, gear)[0])
    ratio, final, radius = (
        ev.of(line.drive_ratios)[0, gear - 1],
        ev.of(line.final_ratio)[0],
        ev.of(line.rolling_radius)[0],
    )
    last = full_load.last_known_speed(ev)
    if float(engine_speed(speed, radius, ratio, final)) <= last:
        return why
    return f"{why}; the torque curve ends at {show(last, RPM)}, below it: what the engine gives beyond is assumed"


def fastest_gear(ev: Evaluation) -> str:
    """The gear with the highest speed, and what limits it."""
    gear = int(ev.of(line.top_speeds).fastest_gear[0]) + 1
    return f"in gear {gear}: {why_not_faster(ev, gear)}"
