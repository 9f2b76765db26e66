"""What the tyres hold at their best, in each load state: what a drivetrain has to bear, not what the road gives today.

Answers   upper_grip       grip coefficient for strength, (draws,)
          axle_grip        what the tyres of one axle push with, N, (draws, load states, 2): forward, reverse
          whole_grip       what all driven tyres push with together, the same
          braking_grip     what the tyres of one axle brake with, N, (draws, load states)
          standing_grip    what they push with before the load has moved, N, (draws, load states, 2)
          least_grip       what they hold at least, by the mass on the axle alone
          best_wheel_share    share of an axle's grip that one wheel can drive or brake with
          grip_formulas, wheel_formulas    by which formulas
Not here  grip of the road in use, for comfort (../line.py)

Rain, ice or a guess never make a shaft strong: below 1.1 an upper grip counts only from a manual or a catalogue, and where
somebody writes a higher grip of the road in use, that counts. The torque split of an all-wheel drive is unknown: each axle is
assumed to get all of the torque, the worst case.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from trialfit.evaluation.ranks import is_from_its_maker
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.gearing import axle_grip as handbook
from trialfit.handbook.gearing import traction
from trialfit.parts import Car, FinalDrive
from trialfit.subjects import line, load_states
from trialfit.subjects.torque_path.gears import driven_axle, drives_all, gear_list, has_reverse

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array

    Formulas = tuple[Callable[..., Any], ...]

LEAST_UPPER_GRIP = 1.1
"""Grip that every road tyre finds some day: from memory, 1.0 to 1.1 on dry asphalt."""

LEAST_SHARE = 0.7
"""What the driven tyres hold at least of their upper grip times the load at rest: load transfer off a front axle that drives, or
the lifted wheel of a live axle, takes no more, from the formulas of grip over all usual cars."""

ALL = "all"
"""In place of an axle: all driven tyres together."""


def upper_grip(ev: Evaluation) -> Array:
    """The best grip that the tyres ever find."""
    car = ev.part(Car)
    grip = ev(car.upper_grip)
    if not is_from_its_maker(car.upper_grip):
        grip = np.maximum(grip, LEAST_UPPER_GRIP)
    return np.maximum(grip, ev(car.tyre_friction)) if car.tyre_friction.written else grip


def axle_grip(ev: Evaluation, axle: str) -> Array:
    """Largest force that the tyres of an axle push with, N, (draws, load states, 2): forward, reverse."""
    forward, reverse = ev.of(_both_ways, axle)
    return np.stack([forward, reverse], axis=-1)


def whole_grip(ev: Evaluation) -> Array:
    """Largest force that all driven tyres push with together, N, (draws, load states, 2)."""
    if not drives_all(ev.build):
        return ev.of(axle_grip, driven_axle(ev.build))
    grip = np.asarray(traction.grip_all_drive(ev.of(upper_grip)[:, None], ev.of(load_states.masses)))
    return np.stack([grip, grip], axis=-1)


def standing_grip(ev: Evaluation, axle: str) -> Array:
    """What the tyres of an axle, or all driven ones, push with under the load that they bear at rest, N, (draws, load states, 2).

    A shock is over in half a swing of the shafts, 0.05 s; the car pitches at 1 to 2 Hz.
    """
    mass, rear = ev.of(load_states.masses), ev.of(load_states.rear_axle_masses)
    if axle == ALL:
        axle = "" if drives_all(ev.build) else driven_axle(ev.build)
    on_axle = {"rear": rear, "front": mass - rear}.get(axle, mass)
    held = ev.of(upper_grip)[:, None] * on_axle * STANDARD_GRAVITY
    return np.stack([held, held], axis=-1)


def braking_grip(ev: Evaluation, axle: str) -> Array:
    """Largest force that the tyres of an axle brake with while all brake, N, (draws, load states)."""
    friction, mass, wheelbase, to_centre, height = ev.of(_car)
    slows = -friction * STANDARD_GRAVITY
    front, rear = traction.axle_loads(mass, wheelbase, to_centre, height, acceleration=slows)[:2]
    on_axle = np.asarray(front if axle == "front" else rear)
    whole = mass * STANDARD_GRAVITY  # where the rear axle would lift
    return np.asarray(friction * np.where(np.isfinite(on_axle), on_axle, whole if axle == "front" else 0.0))


def least_grip(ev: Evaluation, axle: str) -> Array:
    """What the tyres of an axle, or of all driven ones, hold at least, N, (draws, 1, 1); nothing is known without the masses."""
    car = ev.build.first(Car)
    if car is None or car.mass.written is None or car.rear_axle_mass.written is None:
        return np.zeros((ev.draws, 1, 1))
    mass, rear = ev.each(car.mass, car.rear_axle_mass)
    on_axle = mass if axle == ALL and drives_all(ev.build) else rear
    if driven_axle(ev.build) == "front" if axle == ALL else axle == "front":
        on_axle = mass - rear
    return np.asarray(LEAST_SHARE * ev.of(upper_grip) * on_axle * STANDARD_GRAVITY)[:, None, None]


def best_wheel_share(ev: Evaluation, end: str) -> Array:
    """Share of an axle's grip that one wheel can drive or brake with, (draws,); all of it where the track is not written."""
    car = ev.part(Car)
    track = car.front_track if end == "front" else car.rear_track
    if track.written is None:
        return np.ones(ev.draws)
    return np.asarray(traction.best_wheel_share(ev.of(upper_grip), *ev.each(car.centre_of_mass_height, track)))


def by_gear(ev: Evaluation, grip: Array) -> Array:
    """A grip (draws, load states, 2) by the direction of each gear: (draws, load states, gears)."""
    backwards = [int(gear.is_reverse) for gear in gear_list(ev.build)]
    return np.asarray(grip[..., backwards])


def _car(ev: Evaluation) -> tuple[Array, Array, Array, Array, Array]:
    """Friction, mass, wheelbase, front axle to centre of mass, its height: (draws, load states) or (draws, 1)."""
    car = ev.part(Car)
    ev.each(car.mass, car.wheelbase, car.rear_axle_mass)
    wheelbase, height = (one[:, None] for one in ev.each(car.wheelbase, car.centre_of_mass_height))
    mass = ev.of(load_states.masses)
    to_centre = ev.of(load_states.rear_axle_masses) / mass * wheelbase
    return ev.of(upper_grip)[:, None], mass, wheelbase, to_centre, height


def _both_ways(ev: Evaluation, axle: str) -> tuple[Array, Array]:
    car = ev.of(_car)
    forward, reverse = _by_axle(ev.build, axle)
    axle_facts = ev.of(_live_axle) if _lifts_a_wheel(ev.build) else ()
    whole = car[0] * car[1] * STANDARD_GRAVITY  # where the other axle would lift, this one bears the whole car
    ways = (forward, reverse) if _goes_both_ways(ev.build) else (forward,)
    pushes = [np.asarray(way(*car, *axle_facts)) for way in ways]
    found = [np.where(np.isfinite(push), push, whole) for push in pushes]
    return found[0], found[-1]


def _by_axle(build: Build, axle: str) -> tuple[Callable[..., Any], Callable[..., Any]]:
    """Formulas of the forward and the reverse grip of an axle."""
    if drives_all(build) and axle == "front":
        return traction.grip_front_drive, handbook.grip_front_of_all_drive_reversing
    if drives_all(build):
        return handbook.grip_rear_of_all_drive, handbook.grip_reversing_rear_drive
    if axle == "front":
        return traction.grip_front_drive, handbook.grip_reversing_front_drive
    if _lifts_a_wheel(build):
        return traction.grip_open_solid_axle, handbook.grip_reversing_open_solid_axle
    return traction.grip_rear_drive, handbook.grip_reversing_rear_drive


def _goes_both_ways(build: Build) -> bool:
    """Whether the grip of reversing is needed: in reverse, and where a motor brakes the axle that it drives."""
    return has_reverse(build) or line.is_electric(build)


def _lifts_a_wheel(build: Build) -> bool:
    """Whether the prop shaft's torque lifts one wheel of a driven live axle, and an open differential lets it spin."""
    car, final_drive = build.first(Car), build.first(FinalDrive)
    if car is None or final_drive is None or car.driven_axle != "rear":
        return False
    return car.rear_suspension == "live axle" and final_drive.differential == "open"


def _live_axle(ev: Evaluation) -> tuple[Array, ...]:
    car = ev.part(Car)
    track, front = (one[:, None] for one in ev.each(car.rear_track, car.front_roll_share))
    return track, ev.of(line.rolling_radius)[:, None], ev.of(line.final_ratio)[:, None], front, 1 - front


def grip_formulas(build: Build, axle: str) -> Formulas:
    """Formulas of the grip, forward, and backwards where that is needed."""
    if axle == ALL and drives_all(build):
        return (traction.grip_all_drive,)
    forward, reverse = _by_axle(build, driven_axle(build) if axle == ALL else axle)
    return (forward, reverse) if _goes_both_ways(build) else (forward,)


def wheel_formulas(build: Build, axle: str) -> Formulas:
    """What one wheel holds, where the track is written."""
    car = build.first(Car)
    track = (car.front_track if axle == "front" else car.rear_track) if car else None
    return (traction.best_wheel_share,) if track and track.written is not None else ()
