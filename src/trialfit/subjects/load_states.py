"""The load states of a car: what it weighs, what it moves and what its axles bear, in each of them.

Answers   names        "as weighed", and of "driver only", "laden", "towing" those that the build has
          mass         mass on the car's own wheels in each of them
          moved_mass   what the drive has to move in each of them: with the trailer behind
          axle_mass    mass on one axle in each of them
          masses, moved_masses, front_axle_masses, rear_axle_masses    the same as arrays (draws, states)
Not here  which requirement looks at which state: comfort at the usual one, "as weighed", strength at the worst
Rule      Every car can be laden. "driver only" is there where car.driver_only_mass is written (a car is weighed with its driver
          in it), "towing" where car.trailer_mass is. A car that tows is laden too.
All arrays SI, of shape (draws, states), the states in the order of `names`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.states import InStates
from trialfit.handbook.gearing import load_states
from trialfit.parts import Car

if TYPE_CHECKING:
    from typing import Literal

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array

    Axle = Literal["front", "rear"]

AS_WEIGHED, DRIVER_ONLY, LADEN, TOWING = "as weighed", "driver only", "laden", "towing"


def names(build: Build) -> tuple[str, ...]:
    """The load states of a car, the usual one first: by which facts are written, never by their values."""
    car = build.first(Car)
    found = [AS_WEIGHED]
    if car and car.driver_only_mass.written:
        found.append(DRIVER_ONLY)
    found.append(LADEN)
    if car and car.trailer_mass.written:
        found.append(TOWING)
    return tuple(found)


def mass(ev: Evaluation) -> InStates:
    """Mass on the car's own wheels in each load state, kg; a trailer's nose mass counts."""
    return InStates(ev.of(masses), names(ev.build))


def moved_mass(ev: Evaluation) -> InStates:
    """Mass that the drive has to move in each load state, kg: of a car that tows with all of the trailer."""
    return InStates(ev.of(moved_masses), names(ev.build))


def axle_mass(ev: Evaluation, axle: Axle) -> InStates:
    """Mass on the wheels of one axle together, at rest on the level, in each load state, kg."""
    return InStates(ev.of(rear_axle_masses if axle == "rear" else front_axle_masses), names(ev.build))


def laden(ev: Evaluation) -> Array:
    """Mass of the laden car, kg: as written, else by its seats, else a share above the mass as weighed."""
    car = ev.part(Car)
    if car.laden_mass.written:
        return ev(car.laden_mass)
    if car.seats.written:
        return np.asarray(load_states.laden_mass(*ev.each(car.mass, car.seats, car.load_per_seat)))
    weighed, share = ev.each(car.mass, car.load_share)
    return np.asarray(weighed * (1 + share))


def nose(ev: Evaluation) -> Array:
    """What the trailer puts on the ball, kg."""
    car = ev.part(Car)
    if car.nose_mass.written:
        return ev(car.nose_mass)
    return np.asarray(load_states.nose_mass(*ev.each(car.trailer_mass, car.nose_share)))


def masses(ev: Evaluation) -> Array:
    """Mass on the car's own wheels in each load state, kg."""
    of_state = {AS_WEIGHED: _weighed, DRIVER_ONLY: _driver_only, LADEN: laden, TOWING: _towing}
    return np.stack([ev.of(of_state[name]) for name in names(ev.build)], axis=-1)


def moved_masses(ev: Evaluation) -> Array:
    """Mass that the drive has to move in each load state, kg."""
    moved = ev.of(masses)
    if TOWING not in names(ev.build):
        return moved
    trailer = ev(ev.part(Car).trailer_mass) - ev.of(nose)
    behind = np.array([name == TOWING for name in names(ev.build)], float)
    return np.asarray(moved + trailer[:, None] * behind)


def rear_axle_masses(ev: Evaluation) -> Array:
    """Mass on the rear wheels in each load state, kg."""
    car = ev.part(Car)
    of_state = {AS_WEIGHED: _weighed_rear, DRIVER_ONLY: _driver_only_rear, LADEN: _laden_rear, TOWING: _towing_rear}
    ev.each(car.mass, car.rear_axle_mass)
    return np.stack([ev.of(of_state[name]) for name in names(ev.build)], axis=-1)


def front_axle_masses(ev: Evaluation) -> Array:
    """Mass on the front wheels in each load state, kg: what the rear wheels leave, or what is written for the laden car.

    A trailer lifts the nose of the car: the laden axle less that.
    """
    car = ev.part(Car)
    front = ev.of(masses) - ev.of(rear_axle_masses)
    if car.laden_front_axle_mass.written is None:
        return front
    is_laden = np.array([name in {LADEN, TOWING} for name in names(ev.build)])
    over = ev(car.laden_front_axle_mass) - front[:, names(ev.build).index(LADEN)]
    return np.asarray(front + over[:, None] * is_laden)


def _weighed(ev: Evaluation) -> Array:
    return ev(ev.part(Car).mass)


def _driver_only(ev: Evaluation) -> Array:
    return ev(ev.part(Car).driver_only_mass)


def _towing(ev: Evaluation) -> Array:
    return ev.of(laden) + ev.of(nose)


def _weighed_rear(ev: Evaluation) -> Array:
    return ev(ev.part(Car).rear_axle_mass)


def _rear_of(ev: Evaluation, new_mass: Array) -> Array:
    car = ev.part(Car)
    weighed, rear, share = ev.each(car.mass, car.rear_axle_mass, car.load_on_rear)
    return np.asarray(load_states.rear_axle_mass(weighed, rear, new_mass, share))


def _driver_only_rear(ev: Evaluation) -> Array:
    return _rear_of(ev, ev.of(_driver_only))


def _laden_rear(ev: Evaluation) -> Array:
    car = ev.part(Car)
    if car.laden_rear_axle_mass.written:
        return ev(car.laden_rear_axle_mass)
    return _rear_of(ev, ev.of(laden))


def _towing_rear(ev: Evaluation) -> Array:
    car = ev.part(Car)
    overhang, wheelbase = ev.each(car.ball_overhang, car.wheelbase)
    carried = ev.of(laden)
    return np.asarray(
        load_states.rear_axle_mass(carried, ev.of(_laden_rear), carried, 0.0, ev.of(nose), overhang / wheelbase)
    )
