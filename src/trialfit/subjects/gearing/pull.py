"""Pull of each gear against tyre grip and road load.

Answers   requirements   grip, tractive_effort, grip_limited_up_to, climb
Not here  starting from rest (starting.py); pull at a cruise speed (cruising.py); time and top speed (running.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, Requirement, Stake
from trialfit.facts.quantity import FORCE, SLOPE, SPEED
from trialfit.facts.showing import show
from trialfit.handbook.gearing.climbing import SteepestClimb, steepest_climb
from trialfit.handbook.gearing.ratios import tractive_effort
from trialfit.handbook.gearing.wheelspin import grip_limited_up_to_speed
from trialfit.parts import Car, Engine, Gearbox
from trialfit.subjects import full_load, line
from trialfit.subjects.gearing.gears import (
    ROAD_SPEED,
    effective_masses,
    gear_numbers,
    grip_share,
    in_gear,
    name_or_kind,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


def requirements(build: Build) -> Iterator[Requirement]:
    """Figures of pull and grip, and for each gear whether it holds a speed at all."""
    gearbox = name_or_kind(build, Gearbox)
    yield Requirement(
        id="gearing.grip",
        about=name_or_kind(build, Car),
        says="largest drive force of the driven tyres, at full acceleration on the level",
        value=partial(_of, line.driven_grip),
        quantity=FORCE,
        stake=Stake.comfort,
        formulas=(line.grip_formula(build),),
        turned_by=AtLeast,
    )
    for gear in gear_numbers(build):
        yield Requirement(
            id=f"gearing.tractive_effort.{gear}",
            about=gearbox,
            says=f"tractive effort in gear {gear} at the engine's peak torque, steady, with enough grip",
            value=in_gear(tractive_efforts, gear),
            quantity=FORCE,
            stake=Stake.comfort,
            formulas=(tractive_effort,),
            turned_by=AtLeast,
        )
        yield Requirement(
            id=f"gearing.grip_limited_up_to.{gear}",
            about=gearbox,
            says=f"speed in gear {gear} up to which full throttle spins the driven wheels on the level; "
            "zero: they do not spin",
            value=in_gear(grip_limited_up_to, gear),
            quantity=SPEED,
            stake=Stake.comfort,
            formulas=(grip_limited_up_to_speed,),
        )
        yield Requirement(
            id=f"gearing.climb.{gear}",
            about=gearbox,
            says=f"gear {gear} holds a speed on the level; the value is the steepest slope it climbs",
            value=partial(climb_of, gear=gear),
            quantity=SLOPE,
            stake=Stake.comfort,
            limit=AtLeast(0.0),
            source=COMMON_PRACTICE,
            formulas=(steepest_climb,),
            shows=partial(how_it_climbs, gear=gear),
            cure="Fit a shorter gear or final drive, or use this gear downhill only.",
        )


def _of(function: Callable[[Evaluation], Array], ev: Evaluation) -> Array:
    return ev.of(function)


def tractive_efforts(ev: Evaluation) -> Array:
    """Pull at peak torque in each gear, N."""
    one_car = (ev.of(function)[:, None] for function in (line.final_ratio, line.efficiency, line.rolling_radius))
    return np.asarray(tractive_effort(ev.of(line.peak_torque)[:, None], ev.of(line.drive_ratios), *one_car))


def grip_limited_up_to(ev: Evaluation) -> Array:
    """Speed in each gear up to which full throttle spins the driven wheels, m/s; 0 where it never does."""
    engine = ev.part(Engine)
    curve = ev.of(full_load.torque_curve)
    return np.asarray(
        grip_limited_up_to_speed(
            engine_speeds=curve.x,
            torques=curve.y,
            torque_factor=curve.scale,
            gearbox_ratios=ev.of(line.drive_ratios),
            final_ratio=ev.of(line.final_ratio),
            efficiency=ev.of(line.efficiency)[:, None],
            rolling_radius=ev.of(line.rolling_radius),
            grip_force=ev.of(line.driven_grip),
            rev_limit=ev(engine.max_speed),
            mass_factor=ev.of(effective_masses) / ev(ev.part(Car).mass)[:, None],
        )
    )


def climbs(ev: Evaluation) -> SteepestClimb:
    """Steepest slope in each gear, by torque and by grip."""
    engine, car = ev.part(Engine), ev.part(Car)
    curve = ev.of(full_load.torque_curve)
    mass, rolling, drag_area, air = ev.each(car.mass, car.rolling_coefficient, car.drag_area, car.air_density)
    return steepest_climb(
        engine_speeds=curve.x,
        torques=curve.y,
        torque_factor=curve.scale,
        gearbox_ratios=ev.of(line.drive_ratios),
        final_ratio=ev.of(line.final_ratio),
        efficiency=ev.of(line.efficiency),
        rolling_radius=ev.of(line.rolling_radius),
        mass=mass,
        rolling=rolling,
        drag_area=drag_area,
        air_density=air,
        rev_limit=ev(engine.max_speed),
        grip_share=ev.of(grip_share),
    )


def climb_of(ev: Evaluation, gear: int) -> Array:
    """Steepest slope of one gear, as a tangent."""
    return np.asarray(np.tan(np.asarray(ev.of(climbs).slope_angle)[:, gear - 1]))


def how_it_climbs(ev: Evaluation, gear: int) -> str:
    """Whether grip or pull sets the slope, and at what speed the gear pulls best."""
    climb = ev.of(climbs)
    angle, by_torque, speed = (
        np.asarray(values)[0, gear - 1] for values in (climb.slope_angle, climb.by_torque, climb.speed)
    )
    if angle < by_torque:
        return "grip sets the slope"
    return f"pull sets the slope, best at {show(speed, ROAD_SPEED)}"
