"""The gears the car drives in, reverse among them, and what the tyres can push with in each.

Answers   gear_ratios      (draws, gears), reverse last where its ratio is written
          driven_axle      the axle at the end of the line: front or rear
          axle_grip        what the tyres of one axle push with, N, (draws, gears)
          whole_grip       what all driven tyres push with together
Not here  torques (loads.py)

The torque split of an all-wheel drive is unknown: each axle is assumed to get all of the torque, the worst case.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.gearing import axle_grip as handbook
from trialfit.handbook.gearing import traction
from trialfit.parts import Car, FinalDrive, Gearbox
from trialfit.subjects import line

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


REVERSE = "reverse"


def has_reverse(build: Build) -> bool:
    """Whether the ratio of reverse is written: where it is not, findings look at the forward gears alone."""
    gearbox = build.first(Gearbox)
    return gearbox is not None and gearbox.reverse_ratio.written is not None


def gear_ratios(ev: Evaluation) -> Array:
    """Ratio of each gear, (draws, gears): forward, then reverse where it is written."""
    forward = ev.of(line.ratios)
    if not has_reverse(ev.build):
        return forward
    return np.concatenate([forward, ev(ev.part(Gearbox).reverse_ratio)[:, None]], axis=1)


def driven_axle(build: Build) -> str:
    """The axle that the final drive of the build belongs to; rear where all wheels drive."""
    car = build.first(Car)
    return "front" if car is not None and car.driven_axle == "front" else "rear"


def drives_all(build: Build) -> bool:
    """Whether all wheels drive."""
    car = build.first(Car)
    return car is not None and car.driven_axle == "all"


def axle_grip(ev: Evaluation, axle: str) -> Array:
    """Largest force that the tyres of an axle push with, N, (draws, gears): in reverse the load moves the other way."""
    ev.of(_car)  # the masses and lengths first, so that a build without any hears of all of them
    forward, reverse = _formulas(ev, axle)
    return _by_gear(ev, ev.of(forward), ev.of(reverse) if has_reverse(ev.build) else None)


def whole_grip(ev: Evaluation) -> Array:
    """Largest force that all driven tyres push with together, N, (draws, gears)."""
    if drives_all(ev.build):
        grip = ev.of(line.driven_grip)
        return _by_gear(ev, grip, grip if has_reverse(ev.build) else None)
    return ev.of(axle_grip, driven_axle(ev.build))


def _by_gear(ev: Evaluation, forward: Array, reverse: Array | None) -> Array:
    gears = ev.of(line.ratios).shape[1]
    columns = [forward] * gears + ([] if reverse is None else [reverse])
    return np.stack(columns, axis=-1)


def _formulas(ev: Evaluation, axle: str) -> tuple[Callable[[Evaluation], Array], Callable[[Evaluation], Array]]:
    """Forward and reverse grip of an axle."""
    if drives_all(ev.build):
        return _ALL_DRIVEN[axle]
    reverse = _front_reversing if axle == "front" else _rear_reversing
    return line.driven_grip, reverse


def _car(ev: Evaluation) -> tuple[Array, Array, Array, Array, Array]:
    """Friction, mass, wheelbase, front axle to centre of mass, its height."""
    car = ev.part(Car)
    friction, mass, wheelbase, height, _ = ev.each(
        car.tyre_friction, car.mass, car.wheelbase, car.centre_of_mass_height, car.rear_axle_mass
    )
    return friction, mass, wheelbase, ev.of(line.rear_load_share) * wheelbase, height


def _rear_reversing(ev: Evaluation) -> Array:
    car = ev.part(Car)
    if car.rear_suspension == "live axle" and ev.part(FinalDrive).differential == "open":
        track, front = ev.each(car.rear_track, car.front_roll_share)
        radius, final_ratio = ev.of(line.rolling_radius), ev.of(line.final_ratio)
        return np.asarray(
            handbook.grip_reversing_open_solid_axle(*ev.of(_car), track, radius, final_ratio, front, 1 - front)
        )
    return np.asarray(handbook.grip_reversing_rear_drive(*ev.of(_car)))


def _front_reversing(ev: Evaluation) -> Array:
    return np.asarray(handbook.grip_reversing_front_drive(*ev.of(_car)))


def _rear_of_all(ev: Evaluation) -> Array:
    return np.asarray(handbook.grip_rear_of_all_drive(*ev.of(_car)))


def _rear_of_all_reversing(ev: Evaluation) -> Array:
    return np.asarray(handbook.grip_reversing_rear_drive(*ev.of(_car)))


def _front_of_all(ev: Evaluation) -> Array:
    return np.asarray(traction.grip_front_drive(*ev.of(_car)))


def _front_of_all_reversing(ev: Evaluation) -> Array:
    return np.asarray(handbook.grip_front_of_all_drive_reversing(*ev.of(_car)))


_ALL_DRIVEN = {
    "rear": (_rear_of_all, _rear_of_all_reversing),
    "front": (_front_of_all, _front_of_all_reversing),
}
