"""The angle of each joint: not too large for its speed, large enough for its needles to roll.

Answers   requirements   working_angle, needle_roll, largest_angle for each joint; difference, single_joint; side_angle and
                         plan_angle as figures
Not here  how unevenly the line turns (evenness.py); half-shafts (half_shafts.py)

Working angles are judged at ride height, where a car spends its miles at speed. The stops and wind-up are passed at
lower speed and for a moment: there only its maker's limit counts, at which it binds (largest_angle).
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.provenance import Provenance
from trialfit.facts.quantity import ANGLE
from trialfit.handbook.driveline.joint_angle_limits import angle_for_acceleration, largest_joint_angle
from trialfit.handbook.driveline.shaft_lines import bends, direction_between, true_angle
from trialfit.subjects.driveline.directions import (
    angle_moved,
    bend_at_ride,
    points_by,
    suspension,
    the_joint,
    working_angle,
)
from trialfit.subjects.line import highest_shaft_speed
from trialfit.subjects.shaft_line import ShaftLine, find_line, is_live, joint_places

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef
    from trialfit.subjects.shaft_line import Gap, Joint


INERTIA_LIMIT = 1000.0
"""ω²β² [rad/s²] up to which a joint maker's printed angles go."""

CONSTANT_VELOCITY_LIMIT = np.radians(10.0)
NEEDLES_ROLL = np.radians(0.5)
EQUAL_WITHIN = np.radians(1.0)
ONE_JOINT_ALONE = np.radians(1.5)

BY_SPEED = Source(
    "joint maker's largest angle by shaft speed, printed from 1500 to 5000 rpm; for a slower or faster shaft the 1000 rad/s² "
    "of ω²β² behind it, common practice",
    SourceKind.common_practice,
)
SHAKEN = Source(
    "joint maker's largest angle by shaft speed: its rows are 855 to 1024 rad/s² of ω²β², 1000 taken",
    SourceKind.published,
)
BY_SPEED_OR_MAKER = Source(f"{BY_SPEED.text}; the joint's own limit where that is smaller", BY_SPEED.kind)
ON_A_PROP_SHAFT = Source(
    "car workshop manual: constant-velocity joint on a propeller shaft, below 10°", SourceKind.published
)
ROLLING = Source(
    "joint maker's angle rules, and car workshop manual, propeller-shaft angle: 0.5°", SourceKind.published
)
EQUAL = Source(
    "joint maker's angle rules: 1°; an axle maker's manual allows 1.5°; the accelerations decide", SourceKind.published
)
ALONE = Source("car workshop manual, propeller-shaft angle: 1.5° where there is one joint only", SourceKind.published)
BINDING = "A joint that binds breaks or throws the shaft: turn it by hand at both ends of the travel before you drive."


def requirements(build: Build) -> Iterator[Requirement]:
    """Limits of the joint angles between gearbox and final drive."""
    line = find_line(build)
    joints = {joint.place: joint for joint in line.joints} if isinstance(line, ShaftLine) else {}
    for place in joint_places(build):
        joint = joints.get(place)
        yield from _of_one_joint(place, joint, line if isinstance(line, ShaftLine) else None)
        if is_live(build) and (joint is None or _moves_with_axle(joint, line)):
            yield _largest(place, joint)
    uneven = [place for place in joint_places(build) if place not in joints or joints[place].is_cardan]
    match uneven:
        case [front, rear]:
            yield _difference(front, rear, _about(joints.get(rear)))
        case [only]:
            yield _alone(only, _about(joints.get(only)))


def _of_one_joint(place: str, joint: Joint | None, line: ShaftLine | None) -> Iterator[Requirement]:
    cardan = joint is None or joint.is_cardan
    name = in_words(place)
    known_by = _known_by(joint, line)
    if cardan:
        says = f"at ride height the {name} stays within the angle that the highest shaft speed allows{known_by}"
        source = BY_SPEED if joint is None or joint.angle_limit.written is None else BY_SPEED_OR_MAKER
    else:
        says = f"the {name}, a constant-velocity joint, stays within its angle limit on a prop shaft{known_by}"
        source = maker_or(joint.angle_limit, ON_A_PROP_SHAFT) if joint else ON_A_PROP_SHAFT
    angle = partial(working_angle, place=place)
    about = _about(joint)
    yield Requirement(
        id=f"driveline.working_angle.{place}",
        about=about,
        says=says,
        value=angle,
        quantity=ANGLE,
        stake=Stake.durability,
        limit=AtMost(partial(allowed_angle, place=place)),
        source=source,
        formulas=(true_angle, direction_between, *((largest_joint_angle, angle_for_acceleration) if cardan else ())),
    )
    if cardan:
        yield Requirement(
            id=f"driveline.needle_roll.{place}",
            about=about,
            says=f"at ride height the {name} has enough angle for its needles to roll",
            value=angle,
            quantity=ANGLE,
            stake=Stake.durability,
            limit=AtLeast(NEEDLES_ROLL),
            source=ROLLING,
            formulas=(true_angle,),
        )
    yield Requirement(
        id=f"driveline.side_angle.{place}",
        about=about,
        says=f"side-view part of the angle of the {name}; positive where the member behind it points further up",
        value=lambda ev: -ev.of(bend_at_ride, place).real,
        quantity=ANGLE,
        stake=Stake.comfort,
        formulas=(bends,),
    )
    yield Requirement(
        id=f"driveline.plan_angle.{place}",
        about=about,
        says=f"plan-view part of the angle of the {name}; positive where the member behind it points more to the left, "
        "looking rearward",
        value=lambda ev: ev.of(bend_at_ride, place).imag,
        quantity=ANGLE,
        stake=Stake.comfort,
        formulas=(bends,),
    )


def _known_by(joint: Joint | None, line: ShaftLine | None) -> str:
    """How the shafts in front of and behind a joint are known, as the end of a sentence."""
    if joint is None or line is None:
        return ""
    beside = line.shafts[max(joint.behind - 1, 0) : joint.behind + 1]
    return "".join(f"; the direction of {shaft.name} is used {points_by(shaft)}" for shaft in beside)


def _moves_with_axle(joint: Joint, line: ShaftLine | Gap | None) -> bool:
    """Whether a joint is at one of the ends of the last shaft."""
    return isinstance(line, ShaftLine) and joint.behind >= len(line.shafts) - 1


def _largest(place: str, joint: Joint | None) -> Requirement:
    limited = joint is not None and (joint.angle_limit.written is not None or not joint.is_cardan)
    name = in_words(place)
    return Requirement(
        id=f"driveline.largest_angle.{place}",
        about=_about(joint),
        says=f"the {name} does not bind anywhere between bump and droop, with and without wind-up"
        if limited
        else f"largest angle of the {name} between bump and droop, with and without wind-up; its maker's limit is missing",
        value=partial(largest_angle, place=place),
        quantity=ANGLE,
        stake=Stake.safety,
        limit=AtMost(partial(bound_of_joint, place=place)) if limited else None,
        source=maker_or(joint.angle_limit, ON_A_PROP_SHAFT) if joint and limited else None,
        formulas=(true_angle,),
        caution=BINDING,
    )


def _difference(front: str, rear: str, about: str) -> Requirement:
    def apart(ev: Evaluation) -> Array:
        return np.abs(ev.of(working_angle, front) - ev.of(working_angle, rear))

    return Requirement(
        id="driveline.difference",
        about=about,
        says=f"the working angles of {in_words(front)} and {in_words(rear)} are nearly equal at ride height",
        value=apart,
        quantity=ANGLE,
        stake=Stake.comfort,
        limit=AtMost(EQUAL_WITHIN),
        source=EQUAL,
        formulas=(true_angle,),
    )


def _alone(place: str, about: str) -> Requirement:
    return Requirement(
        id="driveline.single_joint",
        about=about,
        says=f"the {in_words(place)} is the only joint that turns unevenly: no other joint cancels it, so its angle stays small",
        value=partial(working_angle, place=place),
        quantity=ANGLE,
        stake=Stake.comfort,
        limit=AtMost(ONE_JOINT_ALONE),
        source=ALONE,
        formulas=(true_angle,),
    )


def allowed_angle(ev: Evaluation, place: str) -> Array:
    """Largest working angle of a joint at the highest shaft speed, rad; its maker's limit where that is smaller."""
    joint = the_joint(ev, place)
    if not joint.is_cardan:
        return bound_of_joint(ev, place)
    speed = ev.of(highest_shaft_speed)
    printed = np.asarray(largest_joint_angle(speed))
    by_speed = np.where(np.isnan(printed), angle_for_acceleration(INERTIA_LIMIT, speed), printed)
    return by_speed if joint.angle_limit.written is None else np.minimum(by_speed, ev(joint.angle_limit))


def bound_of_joint(ev: Evaluation, place: str) -> Array:
    """What the joint itself allows, rad: as written, else what is usual for a constant-velocity joint."""
    joint = the_joint(ev, place)
    if joint.is_cardan or joint.angle_limit.written is not None:
        return ev(joint.angle_limit)
    return np.full(ev.draws, CONSTANT_VELOCITY_LIMIT)


def largest_angle(ev: Evaluation, place: str) -> Array:
    """Largest angle of a joint over the travel of a live axle, rad."""
    if suspension(ev) != "live axle":
        return working_angle(ev, place)
    return np.asarray(ev.of(angle_moved, place).max(axis=0))


def maker_or(ref: FactRef, usual: Source) -> Source:
    """The source of a limit that is a fact of the part: its maker or the builder, or the usual one while it is not written."""
    if ref.written is None:
        return usual
    by_maker = ref.written.provenance in {Provenance.manual, Provenance.catalogue}
    return Source(f"{ref.path} as written", SourceKind.manual if by_maker else SourceKind.builder)


def in_words(place: str) -> str:
    """A place as it stands in a sentence: "front joint", "joint 4"."""
    return place.replace("_", " ") if place.startswith("joint") else f"{place} joint"


def _about(joint: Joint | None) -> str:
    return joint.shaft.name if joint else "prop_shaft"
