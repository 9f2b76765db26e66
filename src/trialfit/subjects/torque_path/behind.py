"""The formulas of a torque in this build: for `why`.

Answers   torque_formulas   of the torque at a place of the line
          clutch_formulas   of what the clutch carries
Not here  the torques themselves (loads.py), which choose among the same formulas
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from trialfit.handbook.gearing import axle_grip, traction
from trialfit.handbook.torque_path import along_the_path as handbook
from trialfit.handbook.torque_path import clutch as clutches
from trialfit.parts import Car, Clutch, FinalDrive
from trialfit.subjects import line
from trialfit.subjects.torque_path.clutch_capacity import is_rated
from trialfit.subjects.torque_path.gears import driven_axle, drives_all, has_reverse
from trialfit.subjects.torque_path.loads import Load

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.book.build import Build

    Formulas = tuple[Callable[..., Any], ...]

ALL = "all"
"""In place of an axle: all driven tyres together."""


def torque_formulas(build: Build, load: Load, axle: str = "", *, at_wheel: bool = False) -> Formulas:
    """The formulas of the torque at a place.

    `axle` is front, rear or ALL, whose tyres hold against it; the driven one where none is named. `at_wheel`: at one of its
    wheels.
    """
    shock = (handbook.torque_into_gearbox, *clutch_formulas(build)) if load is Load.shock else ()
    grip = _grip_formulas(build, axle or driven_axle(build))
    wheel = _wheel_formulas(build, axle or driven_axle(build)) if at_wheel else ()
    return (*shock, handbook.from_engine, handbook.from_grip, *grip, handbook.governing, *wheel)


def clutch_formulas(build: Build) -> Formulas:
    """Formulas of the clutch capacity: none where its maker states it, or where there is no clutch."""
    clutch = build.first(Clutch)
    if line.starts_from_rest(build) or (clutch and is_rated(clutch)):
        return ()
    return worked_out_formulas(clutch)


def worked_out_formulas(clutch: Clutch | None) -> Formulas:
    """What a clutch carries by clamp load and facing, new or run in."""
    is_new = clutch is not None and clutch.condition == "new"
    return clutches.clutch_capacity, clutches.facing_radius_new if is_new else clutches.facing_radius_run_in


def _grip_formulas(build: Build, axle: str) -> Formulas:
    """Forward, and in reverse where its ratio is written."""
    if drives_all(build):
        if axle == ALL:
            return (traction.grip_all_drive,)
        forward, reverse = {
            "rear": (axle_grip.grip_rear_of_all_drive, axle_grip.grip_reversing_rear_drive),
            "front": (traction.grip_front_drive, axle_grip.grip_front_of_all_drive_reversing),
        }[axle]
        return (forward, reverse) if has_reverse(build) else (forward,)
    forward = line.grip_formula(build)
    return (forward, _reversing(build)) if has_reverse(build) else (forward,)


def _reversing(build: Build) -> Callable[..., Any]:
    car, final_drive = build.first(Car), build.first(FinalDrive)
    if driven_axle(build) == "front":
        return axle_grip.grip_reversing_front_drive
    if car and car.rear_suspension == "live axle" and final_drive and final_drive.differential == "open":
        return axle_grip.grip_reversing_open_solid_axle
    return axle_grip.grip_reversing_rear_drive


def _wheel_formulas(build: Build, axle: str) -> Formulas:
    """How the differential shares, and what one wheel holds where the track is written."""
    car = build.first(Car)
    track = (car.front_track if axle == "front" else car.rear_track) if car else None
    holds = (traction.best_wheel_share,) if track and track.written is not None else ()
    return (handbook.half_shaft_share, *holds)
