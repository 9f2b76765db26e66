"""Joint angles and slip of the shaft behind the gearbox at any pose: what a search needs of the line of drive.

Answers   angles_and_length    of the first shaft, at any poses
          joint_measures       the measures with their limits, as far as the facts are written
          shaft_at             its length and slip at a pose
          output_at            where the gearbox output sits and points at a pose, as its facts are written
Not here  the angles at the pose the build has (driveline), which judges them with every draw
The output moves with the group; its place in the group's axes follows from where it is written to be at the pose the
build has now.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.driveline.shaft_lines import true_angle
from trialfit.placement.pose import direction_rearward, inclination_and_heading, turn_of
from trialfit.placement.problem import Measures
from trialfit.subjects import placed
from trialfit.subjects.driveline.joint_limits import EQUAL_WITHIN, NEEDLES_ROLL, allowed_angle
from trialfit.subjects.driveline.lengths import AGREES_WITHIN, GAP_LEFT, OVERLAP_IN_DIAMETERS, gap_left, overlap_left
from trialfit.subjects.placed import pose_now
from trialfit.subjects.shaft_line import name_in_ids, the_line

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FinalDrive, PropShaft
    from trialfit.placement.problem import Sort


def output_of_group(ev: Evaluation) -> tuple[Array, Array]:
    """The gearbox output in the group's axes: point and rearward direction, (draws, 3). Raises MissingFact."""
    gearbox = ev.of(the_line).gearbox
    direction = direction_rearward(*placed.output_angles(ev, gearbox))
    pose = ev.of(pose_now)[0]
    return placed.output_of_group(ev, gearbox), direction @ turn_of(*pose[3:])


def output_at(ev: Evaluation, pose: Array) -> dict[str, float]:
    """The facts of the gearbox output that are written, at a pose, by name, SI; the others follow from the drivetrain. Raises MissingFact."""
    point, direction = ev.of(output_of_group)
    turn = turn_of(*pose[3:])
    there = turn @ point[0] + pose[:3]
    inclination, heading = inclination_and_heading(turn @ direction[0])
    names = ("output_x", "output_y", "output_z", "output_inclination", "output_heading")
    gearbox = ev.of(the_line).gearbox
    values = zip(names, (*map(float, there), float(inclination), float(heading)), strict=True)
    return {name: value for name, value in values if getattr(gearbox, name).written is not None}


def shaft_end(ev: Evaluation) -> tuple[Array, Array]:
    """Where the first shaft ends and what the member behind that joint points along, (draws, 3). Raises MissingFact."""
    line, drive = ev.of(the_line), ev.of(the_line).final_drive
    centres = ev.of(joint_ends)
    if len(line.shafts) == 1:
        return centres[0], direction_rearward(*placed.pinion_angles(ev, drive))
    onward = centres[1] - centres[0]
    return centres[0], onward / np.linalg.norm(onward, axis=-1, keepdims=True)


def joint_ends(ev: Evaluation) -> list[Array]:
    """The rear end of every shaft, front to rear, (draws, 3) each, m; the last is the joint on the pinion. Raises MissingFact."""
    line = ev.of(the_line)
    return [*(_rear(ev, shaft) for shaft in line.shafts[:-1]), _pinion(ev, line.final_drive)]


def _rear(ev: Evaluation, shaft: PropShaft) -> Array:
    return np.stack(ev.each(shaft.rear_x, shaft.rear_y, shaft.rear_z), axis=-1)


def _pinion(ev: Evaluation, drive: FinalDrive) -> Array:
    return np.stack(ev.each(drive.input_x, drive.input_y, drive.input_z), axis=-1)


def angles_and_length(poses: Array, output: Array, axis: Array, end: Array, onward: Array) -> Array:
    """Angle of the front joint, of the one behind, and length of the first shaft, (k, 3), rad and m."""
    turn = turn_of(poses[:, 3], poses[:, 4], poses[:, 5])
    begin = (turn @ output[..., None])[..., 0] + poses[:, :3]
    shaft = end - begin
    length = np.linalg.norm(shaft, axis=-1)
    along = shaft / length[:, None]
    front = true_angle((turn @ axis[..., None])[..., 0], along)
    rear = true_angle(along, np.broadcast_to(onward, along.shape))
    return np.stack([np.asarray(front), np.asarray(rear), length], axis=-1)


def shaft_at(ev: Evaluation, pose: Array) -> tuple[str, dict[str, float]]:
    """The first shaft's name, and what its length and slip joint become at a pose, by fact, SI. Raises MissingFact."""
    line = ev.of(the_line)
    shaft = line.shafts[0]
    if len(line.shafts) > 1 and not (shaft.spline_overlap.written and shaft.slip_gap.written):
        return shaft.name, {}  # without a slip joint it is as long as it is
    facts = [array[:1] for array in (*ev.of(output_of_group), *ev.of(shaft_end))]
    both = np.stack([ev.of(pose_now)[0], pose])
    before, after = angles_and_length(both, *facts)[:, 2]
    by = {"length": 1, "slip_gap": 1, "spline_overlap": -1}
    return shaft.name, {
        name: float(ev(getattr(shaft, name))[0] + sign * (after - before))
        for name, sign in by.items()
        if getattr(shaft, name).written is not None
    }


def joint_measures(ev: Evaluation) -> Measures:
    """Working angles, their equality and the slip left, as measures of the pose. Raises MissingFact."""
    line = ev.of(the_line)
    output, axis = ev.of(output_of_group)
    end, onward = ev.of(shaft_end)
    pose = ev.of(pose_now)[:1]
    drawn = angles_and_length(np.repeat(pose, ev.draws, axis=0), output, axis, end, onward)
    nominal = tuple(fact[:1] for fact in (output, axis, end, onward))
    length_now = drawn[0, 2]
    rows: list[tuple[str, int, int, float, float, float, Sort]] = []
    for number, joint in enumerate(line.joints[:2]):
        most = ev.of(allowed_angle, joint.place)
        rows.append(
            (
                f"driveline.working_angle.{joint.place}",
                number,
                0,
                float(most[0]),
                -1.0,
                _sigma(drawn[:, number] - most),
                "angle",
            )
        )
        if joint.is_cardan:
            rows.append(
                (
                    f"driveline.needle_roll.{joint.place}",
                    number,
                    0,
                    NEEDLES_ROLL,
                    1.0,
                    _sigma(drawn[:, number]),
                    "angle",
                )
            )
    if len(line.cardans) == len(line.joints) == 2:  # noqa: PLR2004 - a pair that cancels
        apart = _sigma(drawn[:, 0] - drawn[:, 1])
        rows += [("driveline.difference", 0, sign, EQUAL_WITHIN, -1.0, apart, "angle") for sign in (1, -1)]
    shaft = line.shafts[0]
    alone = len(line.shafts) == 1
    if shaft.spline_overlap.written and shaft.slip_gap.written:
        suffix = "" if alone else f".{name_in_ids(ev.build, shaft)}"
        deep = overlap_left(ev, shaft) - OVERLAP_IN_DIAMETERS * ev(shaft.spline_diameter)
        free = gap_left(ev, shaft) - GAP_LEFT
        rows.append(
            (f"driveline.slip.overlap{suffix}", 2, 0, length_now + float(deep[0]), -1.0, _sigma(deep), "length")
        )
        rows.append((f"driveline.slip.gap{suffix}", 2, 0, length_now - float(free[0]), 1.0, _sigma(free), "length"))
    elif not alone and shaft.length.written:
        off = drawn[:, 2] - ev(shaft.length)
        name, length = f"driveline.length.{name_in_ids(ev.build, shaft)}", float(ev(shaft.length)[0])
        rows += [(name, 2, 0, length + way * AGREES_WITHIN, -way, _sigma(off), "length") for way in (1.0, -1.0)]
    return _block(rows, nominal)


def _block(rows: list[tuple[str, int, int, float, float, float, Sort]], nominal: tuple[Array, ...]) -> Measures:
    columns = np.array([row[1] for row in rows])
    signs = np.array([row[2] for row in rows])

    def values(poses: Array) -> Array:
        raw = angles_and_length(poses, *nominal)
        apart = (raw[:, 0] - raw[:, 1])[:, None] * signs
        return np.where(signs != 0, apart, raw[:, columns])

    return Measures(
        tuple(row[0] for row in rows),
        values,
        np.array([row[3] for row in rows]),
        np.array([row[4] for row in rows]),
        np.array([row[5] for row in rows]),
        tuple(row[6] for row in rows),
    )


def _sigma(drawn: Array) -> float:
    return float(np.std(drawn[1:]))
