"""How evenly the line turns: the residual angle of all joints together, and the torsional vibration of the shafts between.

Answers   requirements   residual, inertia.drive, inertia.coast; residual_angle at ride height and over the travel of a live
                         axle as figures
Not here  the angle of one joint (angles.py); whirling (whirl.py)

Judged at ride height and at the highest shaft speed, where the car runs for hours. The residual angle at bump, droop
and wind-up is shown without a limit: a live axle passes through these at lower speed.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import ANGLE, ROTATIONAL_ACCELERATION
from trialfit.handbook.driveline.shaft_lines import inertia_angles, residual_angle, torsional_acceleration
from trialfit.subjects.driveline.angles import INERTIA_LIMIT, SHAKEN
from trialfit.subjects.driveline.directions import POSITIONS, directions_at_ride, directions_moved
from trialfit.subjects.line import highest_shaft_speed
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
_AT = ("at ride height", "at full bump", "at full droop", "at ride height and wound up by full drive")
_SHOWN = dict(zip(POSITIONS, _AT, strict=False))


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
    yield Requirement(
        id="driveline.residual",
        about=about,
        says="the residual speed fluctuation stays within the limit of the final drive, at ride height and the "
        "highest shaft speed",
        value=residual,
        quantity=ROTATIONAL_ACCELERATION,
        stake=Stake.durability,
        limit=AtMost(RESIDUAL_LIMIT),
        source=RESIDUAL,
        formulas=(torsional_acceleration, residual_angle),
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
        )
    for position in _SHOWN if is_live(build) else ("ride_height",):
        yield Requirement(
            id=f"driveline.residual_angle.{position}",
            about=about,
            says=f"angle of the one joint that would turn as unevenly as the whole line, {_SHOWN[position]}",
            value=partial(_residual_angle_at, position=position),
            quantity=ANGLE,
            stake=Stake.durability,
            formulas=(residual_angle,),
        )


def residual(ev: Evaluation) -> Array:
    """Angular acceleration that the whole line causes at the final drive, rad/s²."""
    return np.asarray(torsional_acceleration(ev.of(_residual_angle), ev.of(highest_shaft_speed)))


def inertia(ev: Evaluation, way: str) -> Array:
    """Angular acceleration of the hardest shaken shaft between the joints, driving or coasting, rad/s²."""
    drive, coast = ev.of(_inertia_angles)
    return np.asarray(torsional_acceleration(drive if way == "drive" else coast, ev.of(highest_shaft_speed)))


def _residual_angle(ev: Evaluation) -> Array:
    return np.asarray(residual_angle(ev.of(directions_at_ride), ev.of(twists), uneven(ev)))


def _inertia_angles(ev: Evaluation) -> tuple[Array, Array]:
    drive, coast = inertia_angles(ev.of(directions_at_ride), ev.of(twists), uneven(ev))
    return np.asarray(drive), np.asarray(coast)


def _residual_angle_at(ev: Evaluation, position: str) -> Array:
    if position == "ride_height":
        return ev.of(_residual_angle)
    return np.asarray(ev.of(_residual_angles_moved)[POSITIONS.index(position)])


def _residual_angles_moved(ev: Evaluation) -> Array:
    shown = ev.of(directions_moved)[:, : len(_SHOWN)]
    return np.asarray(residual_angle(shown, ev.of(twists)[:, None], uneven(ev)))


def twists(ev: Evaluation) -> Array:
    """How far each tube's yokes are turned against each other, rad, (shafts, draws)."""
    return np.stack([ev(shaft.yoke_twist) for shaft in ev.of(the_line).shafts])


def uneven(ev: Evaluation) -> tuple[bool, ...]:
    """For each meeting of two members, whether it is a cardan joint."""
    line = ev.of(the_line)
    behind = {joint.behind for joint in line.cardans}
    return tuple(number in behind for number in range(len(line.shafts) + 1))
