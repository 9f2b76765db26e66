"""Cruising in the highest gear: engine speed, and what is left for a hill.

Answers   requirements   cruise, pull_at_cruise: one of each for every speed the builder names
Not here  top speed (running.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import BUILDER, COMMON_PRACTICE, AtLeast, Between, Requirement, Stake
from trialfit.facts.quantity import ROTATIONAL_SPEED, SLOPE
from trialfit.facts.showing import show
from trialfit.handbook.gearing.ratios import engine_speed, tractive_effort
from trialfit.handbook.gearing.road_load import gradeability_by_torque
from trialfit.parts import Car, Engine, Gearbox
from trialfit.subjects import line
from trialfit.subjects.gearing.gears import name_or_kind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


GRADE_AT_CRUISE = 0.02
"""Slope that the highest gear should hold at cruise without a downshift: common practice, no source."""


def requirements(build: Build) -> Iterator[Requirement]:
    """Two findings for each cruise speed; for the first of them also while none is named."""
    for number, speed in _named_speeds(build):
        yield Requirement(
            id=f"gearing.cruise.{number}",
            about=name_or_kind(build, Gearbox),
            says=f"cruising at {speed} in the highest gear keeps the engine between the lowest speed at which it pulls "
            "cleanly and the highest comfortable speed",
            value=partial(cruise_speed, number=number),
            quantity=ROTATIONAL_SPEED,
            stake=Stake.comfort,
            limit=Between(lambda ev: ev(ev.part(Engine).cruise_low), lambda ev: ev(ev.part(Engine).cruise_high)),
            source=BUILDER,
            formulas=(engine_speed,),
            unit="rpm",
            cure="Fit a taller top gear, a taller final drive or larger tyres to lower the engine speed; a shorter gear or smaller tyres to raise it.",
        )
        yield Requirement(
            id=f"gearing.pull_at_cruise.{number}",
            about=name_or_kind(build, Gearbox),
            says=f"the highest gear holds {speed} up a slope of {100 * GRADE_AT_CRUISE:.0f} % without a downshift",
            value=partial(slope_at_cruise, number=number),
            quantity=SLOPE,
            stake=Stake.comfort,
            limit=AtLeast(GRADE_AT_CRUISE),
            source=COMMON_PRACTICE,
            formulas=(tractive_effort, gradeability_by_torque),
            cure="Fit a shorter top gear or final drive, or accept a downshift on hills.",
        )


def _named_speeds(build: Build) -> list[tuple[int, str]]:
    car = build.first(Car)
    facts = [ref.written for ref in car.cruise_speeds] if car else []
    return [(number, show(fact.si, fact.unit)) for number, fact in enumerate(facts, 1) if fact] or [
        (1, "the cruise speed")
    ]


def road_speed_at_cruise(ev: Evaluation, number: int) -> Array:
    """One of the cruise speeds, m/s. Raises MissingFact where none is named."""
    car = ev.part(Car)
    if not car.cruise_speeds:
        ev.rows(car.cruise_speeds, f"{car.name}.cruise_speeds")
    return ev(car.cruise_speeds[number - 1])


def cruise_speed(ev: Evaluation, number: int) -> Array:
    """Engine speed at a cruise speed in the highest gear, rad/s."""
    speed = road_speed_at_cruise(ev, number)
    top = ev.of(line.drive_ratios)[:, -1]
    return np.asarray(engine_speed(speed, ev.of(line.rolling_radius), top, ev.of(line.final_ratio)))


def slope_at_cruise(ev: Evaluation, number: int) -> Array:
    """Steepest slope on which the highest gear holds a cruise speed, as a tangent; nan outside of the torque curve."""
    torque = line.torque_at(ev, ev.of(cruise_speed, number))
    top, final = ev.of(line.drive_ratios)[:, -1], ev.of(line.final_ratio)
    force = tractive_effort(torque, top, final, ev.of(line.efficiency), ev.of(line.rolling_radius))
    car = ev.part(Car)
    mass, rolling, drag_area, air = ev.each(car.mass, car.rolling_coefficient, car.drag_area, car.air_density)
    speed = road_speed_at_cruise(ev, number)
    return np.tan(gradeability_by_torque(force, mass, rolling, drag_area, air, speed))
