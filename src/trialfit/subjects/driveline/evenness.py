"""How evenly the line turns: the residual angle of all joints together, and the torsional vibration of the shafts between.

Answers   requirements   residual, inertia.drive, inertia.coast; residual_angle at ride height and over the travel of a live
                         axle as figures
Not here  the angle of one joint (angles.py); whirling (whirl.py)

Judged at ride height and at the highest shaft speed, which is that of the engine's limit in the highest gear. A live axle is
judged as it runs: wound up by full drive in each gear, at the highest shaft speed of that gear. Unwound, at bump and at
droop its residual angle is shown without a limit: it passes through these at lower speed.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import AtMost, Requirement, Source, SourceKind, Stake
from trialfit.evaluation.states import InStates
from trialfit.facts.quantity import ANGLE, ROTATIONAL_ACCELERATION
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.driveline.axle_travel import wound_by_gear
from trialfit.handbook.driveline.shaft_lines import inertia_angles, residual_angle, torsional_acceleration
from trialfit.subjects.driveline.axle_moving import POSITION_NAMES, formulas_of, gears_in_words
from trialfit.subjects.driveline.directions import directions_at_ride, directions_in_gears, directions_moved
from trialfit.subjects.driveline.joint_limits import INERTIA_LIMIT, SHAKEN
from trialfit.subjects.line import highest_shaft_speed, shaft_speeds
from trialfit.subjects.shaft_line import ShaftLine, find_line, is_live, the_line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


RESIDUAL_LIMIT = 400.0
RESIDUAL = Source(
    "general engineering reference, design guidelines for drive-shaft installation angles, table by speed: 396 to 408 rad/s²",
    SourceKind.published,
)
_SHOWN = {
    "ride_height": ("ride height, no torque", "at ride height without torque"),
    "bump": ("full bump, no torque", "at full bump"),
    "droop": ("full droop, no torque", "at full droop"),
    "wind_up": ("ride height, full drive", "at ride height and wound up by full drive in the lowest gear"),
}


CURE = (
    "Bring the joint angles closer to cancelling each other: shim or turn the final drive (driveline.setting says by how much "
    "where readings are written), move a centre bearing, or turn the yokes."
)


def requirements(build: Build) -> Iterator[Requirement]:
    """Limits of the evenness of the line; nothing for a line with constant-velocity joints only."""
    line = find_line(build)
    if line is None or (isinstance(line, ShaftLine) and not line.cardans):
        return
    about = line.shafts[-1].name if isinstance(line, ShaftLine) else "prop_shaft"
    live = is_live(build)
    wound = ", a live axle wound up by full drive in each gear" if live else ""
    yield Requirement(
        id="driveline.residual",
        about=about,
        says="the residual speed fluctuation stays within the limit of the final drive, at ride height and the "
        f"highest shaft speed{wound}",
        value=residual,
        quantity=ROTATIONAL_ACCELERATION,
        stake=Stake.durability,
        limit=AtMost(RESIDUAL_LIMIT),
        source=RESIDUAL,
        formulas=(torsional_acceleration, residual_angle, *((wound_by_gear,) if live else ())),
        shows=_both_shown if live else None,
        cure=CURE,
    )
    for way, end in (("drive", "gearbox"), ("coast", "final drive")):
        yield Requirement(
            id=f"driveline.inertia.{way}",
            about=about,
            says=f"the torsional vibration of the shafts stays within its limit, driven from the {end} at the highest shaft speed",
            value=partial(inertia, way=way),
            quantity=ROTATIONAL_ACCELERATION,
            stake=Stake.durability,
            limit=AtMost(INERTIA_LIMIT),
            source=SHAKEN,
            formulas=(torsional_acceleration, inertia_angles),
            cure=CURE,
        )
    for position in _SHOWN if live else ("ride_height",):
        yield Requirement(
            id=f"driveline.residual_angle.{position}",
            about=about,
            says=f"angle of the one joint that would turn as unevenly as the whole line, {_SHOWN[position][1]}",
            value=partial(_residual_angle_at, position=position),
            quantity=ANGLE,
            stake=Stake.durability,
            formulas=(residual_angle, *(formulas_of(build) if position in {"bump", "droop"} else ())),
        )


def residual(ev: Evaluation) -> Array | InStates:
    """Angular acceleration that the whole line causes at the final drive, rad/s²; with a live axle in each gear."""
    if is_live(ev.build):
        shaken = torsional_acceleration(ev.of(_residual_angles_in_gears), ev.of(shaft_speeds).T)
        return InStates(np.asarray(shaken).T, gears_in_words(ev.build))
    return np.asarray(torsional_acceleration(ev.of(_residual_angle), ev.of(highest_shaft_speed)))


def inertia(ev: Evaluation, way: str) -> Array | InStates:
    """Angular acceleration of the hardest shaken shaft between the joints, driving or coasting, rad/s².

    Driving, a live axle is wound up by full drive in each gear; coasting, it is not.
    """
    if way == "drive" and is_live(ev.build):
        angles = inertia_angles(ev.of(directions_in_gears), ev.of(twists)[:, None], uneven(ev))[0]
        return InStates(np.asarray(torsional_acceleration(angles, ev.of(shaft_speeds).T)).T, gears_in_words(ev.build))
    drive, coast = ev.of(_inertia_angles)
    return np.asarray(torsional_acceleration(drive if way == "drive" else coast, ev.of(highest_shaft_speed)))


def _both_shown(ev: Evaluation) -> str:
    """The residual angle without torque and wound up, in numbers."""
    unit = display_unit(ANGLE)
    still, wound = ev.of(_residual_angle)[0], ev.of(_residual_angles_in_gears)[:, 0]
    return (
        f"residual angle at ride height {show(float(still), unit)} without torque, {show(float(wound[0]), unit)} at full drive "
        f"in the lowest gear, {show(float(wound[-1]), unit)} in the highest"
    )


def _residual_angle(ev: Evaluation) -> Array:
    return np.asarray(residual_angle(ev.of(directions_at_ride), ev.of(twists), uneven(ev)))


def _residual_angles_in_gears(ev: Evaluation) -> Array:
    return np.asarray(residual_angle(ev.of(directions_in_gears), ev.of(twists)[:, None], uneven(ev)))


def _inertia_angles(ev: Evaluation) -> tuple[Array, Array]:
    drive, coast = inertia_angles(ev.of(directions_at_ride), ev.of(twists), uneven(ev))
    return np.asarray(drive), np.asarray(coast)


def _residual_angle_at(ev: Evaluation, position: str) -> Array:
    if position == "ride_height":
        return ev.of(_residual_angle)
    if position == "wind_up":
        return np.asarray(ev.of(_residual_angles_in_gears)[ev.of(_lowest)])
    return np.asarray(ev.of(_residual_angles_moved)[("bump", "droop").index(position)])


def _lowest(ev: Evaluation) -> int:
    """Which gear is the lowest, by its ratio."""
    return int(np.argmin(ev.of(shaft_speeds)[0]))


def _residual_angles_moved(ev: Evaluation) -> Array:
    shown = [POSITION_NAMES.index(_SHOWN[position][0]) for position in ("bump", "droop")]
    return np.asarray(residual_angle(ev.of(directions_moved)[:, shown], ev.of(twists)[:, None], uneven(ev)))


def twists(ev: Evaluation) -> Array:
    """How far each tube's yokes are turned against each other, rad, (shafts, draws)."""
    return np.stack([ev(shaft.yoke_twist) for shaft in ev.of(the_line).shafts])


def uneven(ev: Evaluation) -> tuple[bool, ...]:
    """For each meeting of two members, whether it is a cardan joint."""
    line = ev.of(the_line)
    behind = {joint.behind for joint in line.cardans}
    return tuple(number in behind for number in range(len(line.shafts) + 1))
