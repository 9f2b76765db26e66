"""How evenly the line of shafts turns at any pose, whatever the number of its shafts: what a search needs of it.

Answers   residual_measure    the residual angle of the whole line against the limit of the final drive, as a measure of the pose
          residual_at         that angle at any poses
Not here  single joints and slip (shaft_joints.py); the verdict at the pose the build has (driveline.residual)
The first shaft goes from the gearbox output, which moves with the drivetrain, to its rear end, which the car holds; the
members behind it stay as they are placed, the pinion of a live axle wound up by full drive in the highest gear.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.driveline.shaft_lines import residual_angle, torsional_acceleration
from trialfit.placement.pose import direction_rearward, turn_of
from trialfit.placement.problem import Measures
from trialfit.subjects.clearance.shaft_joints import joint_ends, output_of_group
from trialfit.subjects.driveline.axle_moving import pinion_positions, wound_in_highest
from trialfit.subjects.driveline.evenness import RESIDUAL_LIMIT, twists, uneven
from trialfit.subjects.line import highest_shaft_speed
from trialfit.subjects.placed import pinion_angles, pose_now
from trialfit.subjects.shaft_line import is_live, the_line

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


_TO_DRIVE_AXES = np.array([-1.0, -1.0, 1.0])


def residual_measure(ev: Evaluation) -> Measures | None:
    """The residual angle with the limit that keeps the final drive's acceleration; None without a cardan joint. Raises MissingFact."""
    if not any(uneven(ev)):
        return None
    output, axis = ev.of(output_of_group)
    ends, rest = ev.of(_ends_in_use), _behind(ev)
    pose = ev.of(pose_now)[:1]
    turned, flags = ev.of(twists), uneven(ev)
    drawn = residual_at(np.repeat(pose, ev.draws, axis=0), output, axis, ends[0], rest, turned, flags)
    most = np.sqrt(RESIDUAL_LIMIT / np.asarray(torsional_acceleration(1.0, ev.of(highest_shaft_speed))))
    nominal = output[:1], axis[:1], ends[0][:1], rest[:, :1], turned[:, :1]
    return Measures(
        ("driveline.residual",),
        lambda poses: residual_at(poses, *nominal, flags)[:, None],
        np.array([float(most[0])]),
        -np.ones(1),
        np.array([float(np.std((drawn - most)[1:]))]),
        ("angle",),
    )


def residual_at(
    poses: Array, output: Array, axis: Array, end: Array, rest: Array, turned: Array, flags: tuple[bool, ...]
) -> Array:
    """Angle of the one joint that would turn as unevenly as the whole line, (k,), rad.

    output, axis    of the group: centre of the first joint and rearward direction, (k or 1, 3)
    end, rest       of the car: the rear end of the first shaft (k or 1, 3), the members behind it (members, k or 1, 3)
    turned, flags   twist of each tube (shafts, k or 1), and where a cardan joint is
    """
    turn = turn_of(poses[:, 3], poses[:, 4], poses[:, 5])
    first = (turn @ axis[..., None])[..., 0]
    shaft = end - (turn @ output[..., None])[..., 0] - poses[:, :3]
    shaft /= np.linalg.norm(shaft, axis=-1, keepdims=True)
    members = [first, shaft, *(np.broadcast_to(each, shaft.shape) for each in rest)]
    return np.asarray(residual_angle(np.stack(members) * _TO_DRIVE_AXES, turned, flags))


def _ends_in_use(ev: Evaluation) -> list[Array]:
    """The rear end of every shaft, (draws, 3) each, m: that on the pinion of a live axle as full drive in the highest gear lifts it."""
    ends = ev.of(joint_ends)
    if not is_live(ev.build):
        return ends
    wound = ev.of(wound_in_highest)[None]
    return [*ends[:-1], pinion_positions(ev, np.zeros(wound.shape), wound).points[0]]


def _behind(ev: Evaluation) -> Array:
    """The members behind the first shaft, (members, draws, 3): the other shafts between their ends, then the pinion."""
    ends, drive = ev.of(_ends_in_use), ev.of(the_line).final_drive
    members = [there - here for here, there in pairwise(ends)]
    inclination, heading = pinion_angles(ev, drive)
    wound = ev.of(wound_in_highest) if is_live(ev.build) else 0.0
    members.append(direction_rearward(inclination + wound, heading))
    found = np.stack(members)
    return np.asarray(found / np.linalg.norm(found, axis=-1, keepdims=True))
