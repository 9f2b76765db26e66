"""Where each member of the line points, and the angle of each joint, at ride height and over the travel of a live axle.

Answers   directions_at_ride, directions_moved   all members, at ride height and over the travel of a live axle
          directions_in_gears                    all members at ride height, the axle wound up by full drive in each gear
          member_at_ride, member_moved           one of them
          shaft_direction                        one shaft, by gauge or by its ends
          bend_at_ride, working_angle, angles_in_gears, angle_moved, angle_over   of one joint
          joint_centres, ends_written            the two ends of a shaft, and whether they are known
          points_by                              in words: what the direction of a shaft was taken from
Not here  limits (angles.py, evenness.py); where a live axle goes (axle_moving.py); formulas (handbook shaft_lines)

A tube that was gauged is taken as gauged: ± 0.2° on the tube is better than two taped ends on a short shaft. Gearbox and pinion
are taken by their inclination and heading.
Shapes    (members, draws, 3), (positions, draws, 3) and (members, positions, draws, 3)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.driveline.shaft_lines import (
    bends,
    direction,
    direction_between,
    heading_of,
    inclination_of,
    true_angle,
)
from trialfit.subjects.driveline.axle_moving import axle_positions, pinion_positions, wound_in_gears
from trialfit.subjects.placed import output_angles, output_centre, output_refs, over_floor, pinion_angles
from trialfit.subjects.shaft_line import Joint, the_line

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef, PropShaft
    from trialfit.subjects.driveline.axle_moving import AxlePositions
    from trialfit.subjects.shaft_line import ShaftLine


def directions_at_ride(ev: Evaluation) -> Array:
    """Unit vectors of gearbox output, shafts and pinion, (members, draws, 3)."""
    return np.stack([ev.of(member_at_ride, number) for number in range(len(ev.of(the_line).shafts) + 2)])


def member_at_ride(ev: Evaluation, number: int) -> Array:
    """Unit vectors of one member, (draws, 3); number 0 is the gearbox output, the one after the last shaft the pinion."""
    line = ev.of(the_line)
    if number == 0:
        return direction(*output_angles(ev, line.gearbox))
    if number > len(line.shafts):
        return direction(*pinion_angles(ev, line.final_drive))
    return ev.of(shaft_direction, number - 1)


def bend_at_ride(ev: Evaluation, place: str) -> NDArray[np.complex128]:
    """Angle of one joint at ride height, rad, (draws,): real part in side view, imaginary part in plan."""
    behind = the_joint(ev, place).behind
    return np.asarray(bends(np.stack([ev.of(member_at_ride, behind), ev.of(member_at_ride, behind + 1)]))[0])


def working_angle(ev: Evaluation, place: str) -> Array:
    """Angle of one joint in space at ride height, rad."""
    behind = the_joint(ev, place).behind
    return np.asarray(true_angle(ev.of(member_at_ride, behind), ev.of(member_at_ride, behind + 1)))


def angle_moved(ev: Evaluation, place: str) -> Array:
    """Angle of one joint in space at each of POSITION_NAMES, rad, (positions, draws)."""
    behind = the_joint(ev, place).behind
    return np.asarray(true_angle(ev.of(member_moved, behind), ev.of(member_moved, behind + 1)))


def the_joint(ev: Evaluation, place: str) -> Joint:
    """The joint at a place. Raises MissingFact where the line has a gap."""
    return next(joint for joint in ev.of(the_line).joints if joint.place == place)


def joint_centres(ev: Evaluation, number: int) -> tuple[Array, Array]:
    """The ends of shaft `number` (from 0, front to rear) at ride height, (draws, 3) each. Raises MissingFact naming all."""
    line = ev.of(the_line)
    refs = (*_centre(ev.build, line, number), *_centre(ev.build, line, number + 1))
    x, y, z, far_x, far_y, far_z = ev.each(*refs)
    near = ev.of(output_centre, line.gearbox) if number == 0 else np.stack([x, y, z], axis=-1)
    return near, np.stack([far_x, far_y, far_z], axis=-1)


def ends_written(build: Build, line: ShaftLine, number: int) -> bool:
    """Whether both ends of shaft `number` are written."""
    return all(ref.written is not None for ref in (*_centre(build, line, number), *_centre(build, line, number + 1)))


def points_by(shaft: PropShaft) -> str:
    """In words: what the direction of a shaft was taken from."""
    inclined, headed = shaft.inclination.written is not None, shaft.heading.written is not None
    if inclined and headed:
        return "as its inclination and heading were measured"
    if inclined or headed:
        return f"from its measured {'inclination' if inclined else 'heading'}, else from its ends"
    return "from its ends"


def _centre(build: Build, line: ShaftLine, number: int) -> tuple[FactRef, ...]:
    """Where the centre of the joint in front of shaft `number` is written; behind the last: the joint on the pinion."""
    if number == 0:
        return output_refs(build, line.gearbox)
    if number == len(line.shafts):
        return line.final_drive.input_x, line.final_drive.input_y, line.final_drive.input_z
    shaft = line.shafts[number - 1]
    return shaft.rear_x, shaft.rear_y, shaft.rear_z


def shaft_direction(ev: Evaluation, number: int) -> Array:
    """Unit vectors of shaft `number` at ride height, (draws, 3): as gauged, else between its ends."""
    shaft = ev.of(the_line).shafts[number]
    if shaft.inclination.written is None:
        between = direction_between(*ev.of(joint_centres, number))
        if shaft.heading.written is None:
            return between
        return direction(inclination_of(between), ev(shaft.heading))
    heading = ev(shaft.heading) if shaft.heading.written is not None else ev.of(_heading_in_plan, number)
    return direction(ev.of(over_floor, shaft.inclination), heading)


def _heading_in_plan(ev: Evaluation, number: int) -> Array:
    """Heading of a shaft from its ends in plan: their heights are not needed."""
    line = ev.of(the_line)
    refs = (*_centre(ev.build, line, number)[:2], *_centre(ev.build, line, number + 1)[:2])
    x, y, far_x, far_y = ev.each(*refs)
    if number == 0 and refs[0].path != line.gearbox.output_x.path:  # of the drivetrain, whose height turns with it
        x, y = ev.of(output_centre, line.gearbox)[:, :2].T
    level = np.zeros(x.shape)
    front, rear = np.stack([x, y, level], axis=-1), np.stack([far_x, far_y, level], axis=-1)
    return np.asarray(heading_of(direction_between(front, rear)))


def directions_moved(ev: Evaluation) -> Array:
    """The members at each of POSITION_NAMES, (members, positions, draws, 3)."""
    return np.stack([ev.of(member_moved, number) for number in range(len(ev.of(the_line).shafts) + 2)])


def member_moved(ev: Evaluation, number: int) -> Array:
    """One member at each of POSITION_NAMES, (positions, draws, 3): the pinion and the last shaft move, the others stay."""
    return _member_at(ev, number, ev.of(axle_positions))


def directions_in_gears(ev: Evaluation) -> Array:
    """The members at ride height, the axle wound up by full drive in each forward gear, (members, gears, draws, 3)."""
    return np.stack([ev.of(member_in_gears, number) for number in range(len(ev.of(the_line).shafts) + 2)])


def member_in_gears(ev: Evaluation, number: int) -> Array:
    """One of them, (gears, draws, 3)."""
    return _member_at(ev, number, ev.of(_in_gears))


def _in_gears(ev: Evaluation) -> AxlePositions:
    wound = ev.of(wound_in_gears)
    return pinion_positions(ev, np.zeros(wound.shape), wound)


def angles_in_gears(ev: Evaluation, place: str) -> Array:
    """Angle of one joint in space at ride height, the axle wound up by full drive in each forward gear, rad, (gears, draws)."""
    behind = the_joint(ev, place).behind
    return np.asarray(true_angle(ev.of(member_in_gears, behind), ev.of(member_in_gears, behind + 1)))


def angle_over(ev: Evaluation, place: str, rises: Array, wound: Array) -> Array:
    """Angle of one joint in space, rad, after the axle has risen and wound up so far; all (positions, draws)."""
    behind, positions = the_joint(ev, place).behind, pinion_positions(ev, rises, wound)
    return np.asarray(true_angle(_member_at(ev, behind, positions), _member_at(ev, behind + 1, positions)))


def _member_at(ev: Evaluation, number: int, positions: AxlePositions) -> Array:
    """The last shaft turns from where it points at ride height by as much as the line between its ends turns."""
    line = ev.of(the_line)
    if number > len(line.shafts):
        return direction(positions.inclinations, ev(line.final_drive.input_heading))
    at_ride = ev.of(member_at_ride, number)
    if number < len(line.shafts):
        return np.broadcast_to(at_ride, (len(positions.rises), *at_ride.shape))
    front, rear = ev.of(joint_centres, number - 1)
    before, after = direction_between(front, rear), direction_between(front, positions.points)
    return direction(
        inclination_of(at_ride) + inclination_of(after) - inclination_of(before),
        heading_of(at_ride) + heading_of(after) - heading_of(before),
    )
