"""How the drivetrain moves on its mounts: which axis it rocks about, how far, and where that axis is.

Answers   motion          rock, heave and fore-and-aft travel in draws, with their axis, for placement/rocking.py
          rock            how far it rocks either way
          rock_worked_out the same from torque and mounts alone
          rocks_across    whether it rocks about an axis across the car
          requirements    the rock as a figure
Not here  loads on the mounts (subjects/power_unit.py); the states themselves (placement/rocking.py)
Method    What turns a unit is the torque that leaves it. Of one along the car that is the torque of its prop shaft, about the
          crank: engine torque times lowest gear. Of one across the car, or in one case with its final drive, it is the torque
          of both half-shafts, about the axle line: that times the final ratio. Both ways, as in reverse and on the overrun.
          Where every mount is written with stiffness and place the rock follows from these; a rock that is written then counts
          where it is larger, or from a manual. Otherwise what is written counts, or the wide typical value.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.ranks import outranked
from trialfit.evaluation.requirement import Requirement, Stake
from trialfit.facts.quantity import ANGLE
from trialfit.handbook.structure.mounts import STRAIGHT, elastic_centre, rock_on_mounts
from trialfit.parts import Drivetrain, FinalDrive, Gearbox, PowerUnit
from trialfit.placement.pose import turn_of
from trialfit.placement.rocking import ACROSS, ALONG, Motion
from trialfit.subjects import line
from trialfit.subjects.clearance.few import steady
from trialfit.subjects.placed import pose_now
from trialfit.subjects.power_unit import the_mounts

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array

_HALF_ACROSS = np.radians(45)


def requirements(build: Build) -> Iterator[Requirement]:
    """How far it rocks, as a figure, where that is worked out."""
    part = build.first(Drivetrain)
    if part is not None and mounts_are_known(build):
        yield Requirement(
            id="clearance.rock",
            about=part.name,
            says=f"how far the drivetrain rocks on its mounts either way about an axis {_about(build)}, at full torque in its lowest gear",
            value=rock,
            quantity=ANGLE,
            stake=Stake.durability,
            formulas=(rock_on_mounts,),
        )


def _about(build: Build) -> str:
    return "across the car" if rocks_across(build) else "along the car"


def motion(ev: Evaluation) -> Motion:
    """How the drivetrain moves on its mounts, in its own axes. Raises MissingFact."""
    part = ev.part(Drivetrain)
    axis, (heave, fore_aft) = _own_axis(ev.build), ev.each(part.heave, part.fore_aft)
    return Motion(steady(ev, ev.of(rock)), steady(ev, heave), steady(ev, fore_aft), at=ev.of(_axis_at, axis), axis=axis)


def rock(ev: Evaluation) -> Array:
    """How far it rocks either way, (draws,), rad. Raises MissingFact."""
    written = ev.part(Drivetrain).rock
    if not mounts_are_known(ev.build):
        return ev(written)
    return np.asarray(outranked(ev, written, lambda known: known.of(rock_worked_out), side="load"))


def rock_worked_out(ev: Evaluation) -> Array:
    """How far the mounts let it rock at full torque in its lowest gear, (draws,), rad; no further than 17°. Raises MissingFact."""
    places, stiffness = ev.of(_mount_places), ev.of(_mount_stiffness)
    across = int(not rocks_across(ev.build))  # the levers are along y about an axis along the car, else along x
    found = np.asarray(rock_on_mounts(ev.of(_torque), places[..., across], stiffness))
    # Beyond its range the unit is on the stops of its mounts, wherever these are.
    return np.where(np.isfinite(found), found, STRAIGHT)


def mounts_are_known(build: Build) -> bool:
    """Whether there are mounts, and all are written with place and stiffness."""
    mounts = the_mounts(build)
    written = (ref.written for mount in mounts for ref in (mount.x, mount.y, mount.z, mount.stiffness))
    return len(mounts) > 1 and all(each is not None for each in written)


def rocks_across(build: Build) -> bool:
    """Whether it rocks about an axis across the car: it lies across, or its final drive is in one case with it."""
    final_drive = build.first(FinalDrive)
    in_one_case = final_drive is not None and isinstance(build.named(final_drive.after), Gearbox)
    return in_one_case or lies_across(build)


def lies_across(build: Build) -> bool:
    """Whether the crank lies across the car: its layout says so, or the heading of the drivetrain."""
    unit = build.first(PowerUnit)
    return (unit is not None and unit.layout == "transverse") or _is_turned(build)


def _is_turned(build: Build) -> bool:
    """Whether the drivetrain's own axes are turned with it, its x across the car."""
    part = build.first(Drivetrain)
    heading = part.heading.written if part else None
    return heading is not None and abs(np.sin(heading.si)) > np.sin(_HALF_ACROSS)


def _own_axis(build: Build) -> int:
    """The axis it rocks about, of the drivetrain's own: x along its crank where its axes are turned with it."""
    return ALONG if rocks_across(build) == _is_turned(build) else ACROSS


def _torque(ev: Evaluation) -> Array:
    """Torque that leaves the unit at full torque in the lower of first gear and reverse, N·m."""
    lowest = ev.of(line.lowest_ratio)
    final = ev.of(line.final_ratio) if rocks_across(ev.build) else 1.0
    return np.asarray(ev.of(line.peak_torque) * lowest * final)


def _mount_places(ev: Evaluation) -> Array:
    """Where the mounts are in the car, (draws, mounts, 3), m."""
    refs = [ref for mount in the_mounts(ev.build) for ref in (mount.x, mount.y, mount.z)]
    return np.stack(ev.each(*refs), axis=-1).reshape(ev.draws, -1, 3)


def _mount_stiffness(ev: Evaluation) -> Array:
    return np.stack(ev.each(*(mount.stiffness for mount in the_mounts(ev.build))), axis=-1)


def _axis_at(ev: Evaluation, axis: int) -> Array:
    """A point of the axis it rocks about, in the drivetrain's own axes, (3, draws), m: as written, else the middle of its mounts.

    Its height is that of the mounts within what is typical: how stiff they are sideways is not known.
    """
    part = ev.part(Drivetrain)
    beside = part.roll_axis_y if axis == ALONG else part.roll_axis_x
    across, above = (np.array(each) for each in ev.each(beside, part.roll_axis_z))
    number = 1 if axis == ALONG else 0
    if mounts_are_known(ev.build) and None in (beside.written, part.roll_axis_z.written):
        middle = ev.of(_middle_of_mounts)
        if beside.written is None:
            across = middle[:, number]
        if part.roll_axis_z.written is None:
            above = above + middle[:, 2]
    found = np.zeros((3, ev.draws))
    found[number], found[2] = across, above
    return found


def _middle_of_mounts(ev: Evaluation) -> Array:
    """Where the mounts carry without turning, in the drivetrain's own axes, (draws, 3), m."""
    places, stiffness, pose = ev.of(_mount_places), ev.of(_mount_stiffness), ev.of(pose_now)
    centre = np.stack([np.asarray(elastic_centre(places[..., n], stiffness)) for n in range(3)], axis=-1)
    away = centre - pose[:, :3]
    return np.asarray(np.einsum("dji,dj->di", turn_of(*pose[:, 3:].T), away))
