"""The angle of each joint: not too large for its speed, large enough for its needles to roll.

Answers   requirements   working_angle, needle_roll, largest_angle for each joint; rigid_end where members meet without one;
                         difference, single_joint; side_angle and plan_angle as figures
Not here  what an angle is held against (joint_limits.py); how unevenly the line turns (evenness.py); half-shafts (half_shafts.py)

Working angles are judged at ride height, where a car spends its miles at speed, with a live axle wound up by full drive in
each gear. The stops are passed for a moment: there only its maker's limit counts, at which it binds (largest_angle), in every
combination of rise and torque.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Stake
from trialfit.evaluation.states import InStates
from trialfit.facts.quantity import ANGLE
from trialfit.handbook.driveline.joint_angle_limits import angle_for_acceleration, largest_joint_angle
from trialfit.handbook.driveline.shaft_lines import bends, direction_between, true_angle
from trialfit.subjects.driveline.axle_moving import POSITION_NAMES, formulas_of, gears_in_words, suspension
from trialfit.subjects.driveline.directions import (
    angle_moved,
    angles_in_gears,
    bend_at_ride,
    member_at_ride,
    points_by,
    the_joint,
    working_angle,
)
from trialfit.subjects.driveline.joint_limits import (
    ALONE,
    BOLTED_STRAIGHT,
    BY_SPEED,
    BY_SPEED_OR_MAKER,
    CARDAN_BINDS,
    EQUAL,
    EQUAL_WITHIN,
    IN_LINE,
    NEEDLES_ROLL,
    ONE_JOINT_ALONE,
    ROLLING,
    allowed_angle,
    bound_of_joint,
    by_speed,
    maker_or,
    possible,
    usual,
)
from trialfit.subjects.line import shaft_speeds
from trialfit.subjects.shaft_line import RUBBER_DISC, ShaftLine, find_line, is_live, joint_places, may_be_live, the_line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.subjects.shaft_line import Gap, Joint


SHAFT_BENDS = (
    "A shaft bolted up at an angle bends once a turn until it or the gearbox output breaks: it comes through the floor."
)
BINDING = "A joint that binds breaks or throws the shaft: turn it by hand at both ends of the travel before you drive."


def requirements(build: Build) -> Iterator[Requirement]:
    """Limits of the joint angles between gearbox and final drive."""
    line = find_line(build)
    joints = {joint.place: joint for joint in line.joints} if isinstance(line, ShaftLine) else {}
    for place in joint_places(build):
        joint = joints.get(place)
        wound = is_live(build) and joint is not None and _moves_with_axle(joint, line)
        yield from _of_one_joint(place, joint, line if isinstance(line, ShaftLine) else None, wound=wound)
        if may_be_live(build) and (joint is None or _moves_with_axle(joint, line)):
            yield _largest(place, joint, build)
    if isinstance(line, ShaftLine):
        yield from (_in_line(line, number) for number in line.rigid_seats)
    uneven = [place for place in joint_places(build) if place not in joints or joints[place].is_cardan]
    match uneven:
        case [front, rear]:
            yield _difference(front, rear, _about(joints.get(rear)), build)
        case [only]:
            yield _alone(only, _about(joints.get(only)), build)


def _of_one_joint(place: str, joint: Joint | None, line: ShaftLine | None, *, wound: bool) -> Iterator[Requirement]:
    cardan = joint is None or joint.is_cardan
    name = in_words(place)
    known_by = _known_by(joint, line)
    if joint is None or joint.is_cardan:
        where = ", wound up by full drive in each gear," if wound else ""
        speed = "speed of its shaft in that gear" if wound else "highest shaft speed"
        says = f"at ride height{where} the {name} stays within the angle that the {speed} allows{known_by}"
        source = BY_SPEED if joint is None or joint.angle_limit.written is None else BY_SPEED_OR_MAKER
    else:
        works = "a rubber disc" if joint.works == RUBBER_DISC else "a constant-velocity joint"
        says = f"the {name}, {works}, stays within its angle limit on a prop shaft{known_by}"
        source = maker_or(joint.angle_limit, usual(joint))
    about = _about(joint)
    yield Requirement(
        id=f"driveline.working_angle.{place}",
        about=about,
        says=says,
        value=partial(_angle_as_it_runs, place=place),
        quantity=ANGLE,
        stake=Stake.durability,
        limit=AtMost(partial(_allowed_as_it_runs, place=place)),
        source=source,
        formulas=(true_angle, direction_between, *((largest_joint_angle, angle_for_acceleration) if cardan else ())),
        cure="Bring both ends of the shaft closer to one line: move the gearbox, the centre bearing or the nose of the final drive.",
    )
    if cardan:
        yield Requirement(
            id=f"driveline.needle_roll.{place}",
            about=about,
            says=f"at ride height the {name} has enough angle for its needles to roll",
            value=lambda ev: possible(ev.of(working_angle, place)),
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
    return "".join(f"; the direction of {shaft.name} is taken {points_by(shaft)}" for shaft in beside)


def _moves_with_axle(joint: Joint, line: ShaftLine | Gap | None) -> bool:
    """Whether a joint is at one of the ends of the last shaft."""
    return isinstance(line, ShaftLine) and joint.behind >= len(line.shafts) - 1


def _largest(place: str, joint: Joint | None, build: Build) -> Requirement:
    name = in_words(place)
    return Requirement(
        id=f"driveline.largest_angle.{place}",
        about=_about(joint),
        says=f"the {name} does not bind anywhere between bump and droop, at full drive, in hard braking and in reverse",
        value=partial(largest_angle, place=place),
        quantity=ANGLE,
        stake=Stake.safety,
        limit=AtMost(partial(bound_of_joint, place=place)),
        source=maker_or(joint.angle_limit, usual(joint)) if joint else CARDAN_BINDS,
        formulas=(true_angle, *formulas_of(build)),
        caution=BINDING,
        cure="Limit the droop with straps, or fit a joint with a larger angle.",
    )


def _in_line(line: ShaftLine, number: int) -> Requirement:
    """Where two members meet without a joint they are one piece."""
    place = "front" if number == 0 else "rear" if number == len(line.shafts) else f"middle_{number}"
    shaft = line.shafts[min(number, len(line.shafts) - 1)]

    def across(ev: Evaluation) -> Array:
        return np.asarray(true_angle(ev.of(member_at_ride, number), ev.of(member_at_ride, number + 1)))

    return Requirement(
        id=f"driveline.rigid_end.{place}",
        about=shaft.name,
        says=f"{shaft.name} is in line with what it is bolted to: its {place.replace('_', ' ')} end is rigid and takes no angle",
        value=across,
        quantity=ANGLE,
        stake=Stake.safety,
        limit=AtMost(IN_LINE),
        source=BOLTED_STRAIGHT,
        formulas=(true_angle,),
        caution=SHAFT_BENDS,
        cure="Fit a joint there, or bring both into one line.",
    )


def _difference(front: str, rear: str, about: str, build: Build) -> Requirement:
    def apart(ev: Evaluation) -> Array:
        return np.abs(possible(ev.of(_angle_in_highest, front)) - possible(ev.of(_angle_in_highest, rear)))

    return Requirement(
        id="driveline.difference",
        about=about,
        says=f"the working angles of {in_words(front)} and {in_words(rear)} are nearly equal at ride height{_running(build)}",
        value=apart,
        quantity=ANGLE,
        stake=Stake.comfort,
        limit=AtMost(EQUAL_WITHIN),
        source=EQUAL,
        formulas=(true_angle,),
    )


def _alone(place: str, about: str, build: Build) -> Requirement:
    return Requirement(
        id="driveline.single_joint",
        about=about,
        says=f"the {in_words(place)} is the only joint that turns unevenly: no other joint cancels it, so its angle stays "
        f"small{_running(build)}",
        value=partial(_angle_in_highest, place=place),
        quantity=ANGLE,
        stake=Stake.comfort,
        limit=AtMost(ONE_JOINT_ALONE),
        source=ALONE,
        formulas=(true_angle,),
    )


def _running(build: Build) -> str:
    return ", at full drive in the highest gear" if is_live(build) else ""


def _winds(ev: Evaluation, place: str) -> bool:
    """Whether full drive turns a member beside a joint: it is at one of the ends of the last shaft of a live axle."""
    return is_live(ev.build) and _moves_with_axle(the_joint(ev, place), ev.of(the_line))


def _angle_in_highest(ev: Evaluation, place: str) -> Array:
    """Angle of a joint at ride height, a live axle wound up by full drive in the highest gear, rad."""
    if not _winds(ev, place):
        return ev.of(working_angle, place)
    return np.asarray(ev.of(angles_in_gears, place)[int(np.argmax(ev.of(shaft_speeds)[0]))])


def _angle_as_it_runs(ev: Evaluation, place: str) -> Array | InStates:
    """Angle of a joint at ride height; where a live axle winds up, in each gear."""
    if not _winds(ev, place):
        return ev.of(working_angle, place)
    return InStates(ev.of(angles_in_gears, place).T, gears_in_words(ev.build))


def _allowed_as_it_runs(ev: Evaluation, place: str) -> Array | InStates:
    """What is allowed at the highest shaft speed; where a live axle winds up, at that of each gear."""
    if not _winds(ev, place):
        return ev.of(allowed_angle, place)
    joint, speeds = the_joint(ev, place), ev.of(shaft_speeds)
    allowed = by_speed(ev, joint, speeds) if joint.is_cardan else bound_of_joint(ev, place)[:, None]
    return InStates(np.broadcast_to(allowed, speeds.shape), gears_in_words(ev.build))


def largest_angle(ev: Evaluation, place: str) -> Array | InStates:
    """Angle of a joint in every combination of rise and torque of a live axle, rad."""
    if suspension(ev) != "live axle":
        return working_angle(ev, place)
    return InStates(ev.of(angle_moved, place).T, POSITION_NAMES)


def in_words(place: str) -> str:
    """A place as it stands in a sentence: "front joint", "joint 4"."""
    return place.replace("_", " ") if place.startswith("joint") else f"{place} joint"


def _about(joint: Joint | None) -> str:
    return joint.shaft.name if joint else "prop_shaft"
