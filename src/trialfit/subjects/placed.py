"""What follows from where the drivetrain sits: the pose, centres of mass, the gearbox output where its own facts are not written.

Answers   pose_now          the pose that the drivetrain has, (draws, 6)
          output_angles     inclination and heading of the gearbox output
          output_centre     the centre of the joint on it, in the car's axes
          output_of_group   the same in the drivetrain's axes
          over_floor        an inclination over the floor: what a gauge read, less the slope of the floor
          nominal_slope     that slope, where a fact as written carries it
          pinion_angles     inclination and heading of the pinion
          output_refs       the facts that the centre depends on
          mass_centres      the centres of mass of heavy parts, in the car's axes
          pan_inclination   how far the floor of the oil pan drops towards the rear
Not here  solids and gaps (clearance); the line behind the output (driveline)
A fact of the gearbox that is written counts; the drivetrain's place fills in what is not. The output shaft is taken as
parallel to the crank, which it is in a gearbox bolted to its engine.
An inclination counts up where a line drops towards the rear, which is nose up: pitch = −inclination. A heading counts up where
a line points left looking rearward, which is the car's right, so its nose points left: yaw = heading.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.facts.provenance import Provenance
from trialfit.handbook.driveline.angle_finder import inclination_over_level
from trialfit.parts import Car, Drivetrain
from trialfit.placement.pose import pose_of, turn_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef, FinalDrive, Gearbox, MassPart, OilPan


_INCLINATIONS = ("inclination", "output_inclination", "input_inclination")


def pose_now(ev: Evaluation) -> Array:
    """The pose of the drivetrain as written, (draws, 6): x, y, z, roll, pitch, yaw. Raises MissingFact."""
    part = ev.part(Drivetrain)
    x, y, z, roll, _, heading = ev.each(part.x, part.y, part.z, part.roll, part.inclination, part.heading)
    inclination = ev.of(over_floor, part.inclination)
    return np.array([x, y, z, roll, *pose_of(inclination, heading)]).T


def over_floor(ev: Evaluation, ref: FactRef) -> Array:
    """An inclination over the floor that all places are measured from, (draws,), rad. Raises MissingFact.

    A gauge reads from the level, so what was gauged carries the slope of the floor, the same in every reading; what was taped
    or worked out from places does not.
    """
    car = ev.build.first(Car)
    if car is None or not _is_gauged(ref):
        return ev(ref)
    reading, slope = ev.each(ref, car.floor_slope)
    return np.asarray(inclination_over_level(reading, slope))


def nominal_slope(build: Build, ref: FactRef) -> float:
    """The slope of the floor that an inclination as written carries, nominal, rad: nothing but for what was gauged."""
    car = build.first(Car)
    if car is None or ref.path.rpartition(".")[2] not in _INCLINATIONS or not _is_gauged(ref):
        return 0.0
    slope = car.floor_slope.known
    return slope.si if slope else 0.0


def _is_gauged(ref: FactRef) -> bool:
    return ref.written is not None and ref.written.provenance is Provenance.gauged


def pinion_angles(ev: Evaluation, final_drive: FinalDrive) -> tuple[Array, Array]:
    """Inclination over the floor and heading of the pinion at ride height, (draws,) each, rad. Raises MissingFact."""
    _, heading = ev.each(final_drive.input_inclination, final_drive.input_heading)
    return ev.of(over_floor, final_drive.input_inclination), heading


def output_angles(ev: Evaluation, gearbox: Gearbox) -> tuple[Array, Array]:
    """Inclination and heading of the gearbox output, (draws,) each, rad. Raises MissingFact."""
    inclination, heading = gearbox.output_inclination, gearbox.output_heading
    part = ev.build.first(Drivetrain)
    if part is not None and inclination.written is None and part.inclination.written is not None:
        inclination = part.inclination
    if part is not None and heading.written is None and part.heading.written is not None:
        heading = part.heading
    ev.each(inclination, heading)  # all that is missing at once
    return over_floor(ev, inclination), ev(heading)


def output_refs(build: Build, gearbox: Gearbox) -> tuple[FactRef, ...]:
    """The facts that place the centre of the joint on the output: the gearbox's own, else those of the drivetrain."""
    own = (gearbox.output_x, gearbox.output_y, gearbox.output_z)
    part = build.first(Drivetrain)
    if part is None or any(ref.written is not None for ref in own):
        return own
    there = (part.output_x, part.output_y, part.output_z)
    if any(ref.known is None for ref in there):
        return own
    return there


def output_centre(ev: Evaluation, gearbox: Gearbox) -> Array:
    """The centre of the joint on the gearbox output in the car's axes, (draws, 3), m. Raises MissingFact."""
    refs = output_refs(ev.build, gearbox)
    point = np.stack(ev.each(*refs), axis=-1)
    if refs[0].path == gearbox.output_x.path:
        return point
    pose = ev.of(pose_now)
    turn = turn_of(pose[:, 3], pose[:, 4], pose[:, 5])
    return np.asarray((turn @ point[..., None])[..., 0] + pose[:, :3])


def mass_centres(ev: Evaluation, parts: Sequence[MassPart]) -> Array:
    """Centres of mass in the car's axes, (draws, parts, 3), m; a part that is fixed to the drivetrain is at the pose it has.

    Raises MissingFact, naming all that is missing.
    """
    each = ev.each(*(ref for part in parts for ref in (part.x, part.y, part.z)))
    found = np.stack(each, axis=-1).reshape(ev.draws, len(parts), 3)
    moves = [part.fixed_to == "drivetrain" for part in parts]
    if any(moves):
        pose = ev.of(pose_now)
        turn = turn_of(pose[:, 3], pose[:, 4], pose[:, 5])[:, None]
        found[:, moves] = (turn @ found[:, moves][..., None])[..., 0] + pose[:, None, :3]
    return found


def pan_inclination(ev: Evaluation, pan: OilPan) -> Array:
    """How far the floor of the pan drops towards the rear, (draws,), rad: as written, else that of the drivetrain.

    In the second case the floor is taken as parallel to the crank, within the spread that is typical of the fact.
    Raises MissingFact.
    """
    own, part = over_floor(ev, pan.inclination), ev.build.first(Drivetrain)
    if pan.inclination.written is not None or part is None or part.inclination.written is None:
        return own
    return own + ev.of(over_floor, part.inclination)


def output_of_group(ev: Evaluation, gearbox: Gearbox) -> Array:
    """The same in the drivetrain's own axes, (draws, 3), m: as written there, else from where it is in the car. Raises MissingFact."""
    refs = output_refs(ev.build, gearbox)
    point = np.stack(ev.each(*refs), axis=-1)
    if refs[0].path != gearbox.output_x.path:
        return point
    pose = ev.of(pose_now)[0]
    return np.asarray((point - pose[:3]) @ turn_of(*pose[3:]))
