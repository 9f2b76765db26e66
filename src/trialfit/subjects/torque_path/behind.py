"""The formulas of a torque in this build: for `why`.

Answers   torque_formulas   of the torque at a place of the line
          clutch_formulas   of what the clutch carries
Not here  the torques themselves (loads.py), which choose among the same formulas
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from trialfit.handbook.torque_path import along_the_path as handbook
from trialfit.handbook.torque_path import clutch as clutches
from trialfit.handbook.torque_path.shocks import shock_peak
from trialfit.parts import Clutch
from trialfit.subjects import line
from trialfit.subjects.torque_path import grip, multiplying
from trialfit.subjects.torque_path.clutch_capacity import can_be_worked_out, is_rated
from trialfit.subjects.torque_path.events import Load
from trialfit.subjects.torque_path.gears import driven_axle

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.book.build import Build

    Formulas = tuple[Callable[..., Any], ...]

ALL = grip.ALL


def torque_formulas(build: Build, load: Load, axle: str = "", *, at_wheel: bool = False) -> Formulas:
    """The formulas of the torque at a place.

    `axle` is front, rear or ALL, whose tyres hold against it; the driven one where none is named. `at_wheel`: at one of its
    wheels.
    """
    end = axle or driven_axle(build)
    sent = multiplying.FORMULAS if line.has_converter(build) else clutch_formulas(build) if load is Load.shock else ()
    wheel = (handbook.half_shaft_share, *grip.wheel_formulas(build, end)) if at_wheel else ()
    held = (handbook.from_grip, *grip.grip_formulas(build, end))
    return (*sent, handbook.from_engine, *held, shock_peak, *wheel)


def clutch_formulas(build: Build) -> Formulas:
    """Formulas of the clutch capacity: none where its maker alone states it, or where there is no clutch."""
    clutch = build.first(Clutch)
    if line.starts_from_rest(build) or (clutch and is_rated(clutch) and not can_be_worked_out(clutch)):
        return ()
    return worked_out_formulas(clutch)


def worked_out_formulas(clutch: Clutch | None) -> Formulas:
    """What a clutch carries by clamp load and facing, new or run in."""
    is_new = clutch is not None and clutch.condition == "new"
    return clutches.clutch_capacity, clutches.facing_radius_new if is_new else clutches.facing_radius_run_in
