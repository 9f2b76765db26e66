"""Setting help from sets of angle-gauge readings: the angles as read, the correction at the final drive, and the change caused by welding.

Answers   requirements   setting.STAGE.difference for the latest stage, drift.STAGE for each; setting.STAGE.front_angle,
                         .rear_angle, .change and .shim as figures; STAGE is trial_fit, tacked or welded
Not here  angles from measured points, in space (angles.py): readings with a gauge are side view only

A sloping floor adds the same to all readings and drops out of the angles. It counts where a tube was not read and its
inclination is taken from its ends instead.
"""

from __future__ import annotations

from functools import partial
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import COMMON_PRACTICE, AtMost, Requirement, Stake
from trialfit.facts.quantity import ANGLE, LENGTH
from trialfit.handbook.driveline.angle_finder import cancelling_angle, shim_thickness, working_angles
from trialfit.handbook.driveline.shaft_lines import inclination_of
from trialfit.parts import AngleReadings, Car, PropShaft
from trialfit.subjects.driveline.axle_moving import wound_in_highest
from trialfit.subjects.driveline.directions import ends_written, shaft_direction
from trialfit.subjects.driveline.joint_limits import EQUAL, EQUAL_WITHIN
from trialfit.subjects.shaft_line import ShaftLine, find_line, is_live, the_line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


STAGES = ("trial fit", "tacked", "welded")
DRIFT_LIMIT = np.radians(0.5)
CARE = (
    "Read with the car's weight on its wheels, from a pit or ramps, never under a jack. Before welding: battery and control "
    "units off, fuel and its lines well away. The maker's manual outranks a computed figure."
)


def requirements(build: Build) -> Iterator[Requirement]:
    """What the sets of readings say; nothing where none is written."""
    sets = {readings.stage: readings for readings in build.all(AngleReadings)}
    latest = max(sets, key=lambda stage: STAGES.index(stage or STAGES[0]), default=None)
    for number, stage in enumerate(STAGES):
        if stage in sets:
            yield from _angles(sets[stage])
            if _pinion_cancels(build):
                yield from _change(sets[stage], live=is_live(build), judged=stage == latest)
            if number:
                before = next((sets[one] for one in reversed(STAGES[:number]) if one in sets), None)
                yield _drift(sets[stage], before, STAGES[number - 1])


def _angles(readings: AngleReadings) -> Iterator[Requirement]:
    for index, end in ((0, "front"), (-1, "rear")):
        yield Requirement(
            id=f"driveline.setting.{key(readings)}.{end}_angle",
            about=readings.name,
            says=f"angle of the {end} joint in side view, {readings.stage}; positive where the member behind it points further up",
            value=partial(_side_angle, readings=readings, index=index),
            quantity=ANGLE,
            stake=Stake.comfort,
            formulas=(working_angles,),
        )


def _change(readings: AngleReadings, *, live: bool, judged: bool) -> Iterator[Requirement]:
    stage = key(readings)
    allowing = ", with what the axle winds up at full drive in the highest gear allowed for" if live else ""
    yield Requirement(
        id=f"driveline.setting.{stage}.difference",
        about=readings.name,
        says=f"{readings.stage}: the final drive is near the inclination at which the joints cancel each other{allowing}"
        + ("" if judged else "; a later set replaces it, so it gets no verdict"),
        value=lambda ev: np.abs(ev.of(change, readings)),
        quantity=ANGLE,
        stake=Stake.comfort,
        limit=AtMost(EQUAL_WITHIN) if judged else None,
        source=EQUAL if judged else None,
        formulas=(working_angles, cancelling_angle),
        caution=CARE,
        cure=f"Turn the final drive as driveline.setting.{stage}.change says; .shim gives the wedge.",
    )
    yield Requirement(
        id=f"driveline.setting.{stage}.change",
        about=readings.name,
        says=f"{readings.stage}: turn the final drive by this much for its joint to cancel the others, yokes in phase: positive "
        f"is nose up, negative is nose down{allowing}; read again afterwards",
        value=lambda ev: ev.of(change, readings),
        quantity=ANGLE,
        stake=Stake.comfort,
        formulas=(working_angles, cancelling_angle),
        caution=CARE,
    )
    yield Requirement(
        id=f"driveline.setting.{stage}.shim",
        about=readings.name,
        says=f"{readings.stage}: thickness, at its thick end, of a wedge as long as the base that turns the final drive so far; for nose up the "
        "thick end goes to the front on an axle above its springs, to the rear on one below them",
        value=lambda ev: shim_thickness(ev(readings.base_length), ev.of(change, readings)),
        quantity=LENGTH,
        stake=Stake.comfort,
        formulas=(shim_thickness,),
        caution=CARE,
    )


def _drift(readings: AngleReadings, before: AngleReadings | None, stage_before: str) -> Requirement:
    def moved(ev: Evaluation) -> Array:
        if before is None:
            raise MissingFact({"angle_readings": f'missing for the stage before: stage = "{stage_before}"'})
        now, then = ev.of(_three, readings), ev.of(_three, before)
        return np.asarray(np.abs(now - then).max(axis=0))

    return Requirement(
        id=f"driveline.drift.{key(readings)}",
        about=readings.name,
        says=f"the angles between gearbox, shaft and final drive have not changed since {before.stage if before else stage_before}",
        value=moved,
        quantity=ANGLE,
        stake=Stake.durability,
        limit=AtMost(DRIFT_LIMIT),
        source=COMMON_PRACTICE,
        formulas=(working_angles,),
        caution=CARE,
    )


def key(readings: AngleReadings) -> str:
    """The stage as it stands in an id."""
    return (readings.stage or STAGES[0]).replace(" ", "_")


def change(ev: Evaluation, readings: AngleReadings) -> Array:
    """How far the final drive must turn, nose up, for its joint to cancel the others, rad; nan where no angle does.

    Of the two angles that do, the one nearer to the nominal readings. A live axle cancels as it runs: wound up by full drive in the
    highest gear.
    """
    angles = ev.of(side_angles, readings)
    line = find_line(ev.build)
    uneven = [joint.behind for joint in line.cardans] if isinstance(line, ShaftLine) else list(range(len(angles)))
    wound = ev.of(wound_in_highest) if is_live(ev.build) else 0.0
    last, others = angles[uneven[-1]] - wound, angles[uneven[:-1]]
    way = np.sign(last[0]) or -np.sign(others[-1, 0]) or 1.0
    return np.asarray(last - way * cancelling_angle(others))


def side_angles(ev: Evaluation, readings: AngleReadings) -> Array:
    """Angle between each member and the next in side view, rad, (members − 1, draws); positive: the latter points further up."""
    gearbox, shaft, final_drive = ev.each(readings.gearbox, readings.shaft, readings.final_drive)
    members = [gearbox, *_tubes_before_last(ev, readings), shaft, final_drive]
    return np.stack([working_angles(front, rear, rear)[0] for front, rear in pairwise(members)])


def _tubes_before_last(ev: Evaluation, readings: AngleReadings) -> list[Array]:
    """What the gauge would show on the tubes in front of the last: as read, else from their ends and the floor's slope."""
    if not ev.build.all(PropShaft)[1:]:
        return []
    line = ev.of(the_line)
    shown = []
    for number in range(len(line.shafts) - 1):
        if number == 0 and readings.front_shaft.written is not None:
            shown.append(ev(readings.front_shaft))
        elif line.shafts[number].inclination.written is None and not ends_written(ev.build, line, number):
            raise MissingFact({readings.front_shaft.path: readings.front_shaft.spec.says})
        else:
            inclination = np.asarray(inclination_of(ev.of(shaft_direction, number)))
            shown.append(inclination + _slope(ev, readings))
    return shown


def _slope(ev: Evaluation, readings: AngleReadings) -> Array:
    """How far the floor dropped towards the rear when the gauge was read: as written for the set, else that of the car."""
    car = ev.build.first(Car)
    return ev(readings.floor_slope if readings.floor_slope.written or car is None else car.floor_slope)


def _three(ev: Evaluation, readings: AngleReadings) -> Array:
    return np.stack(working_angles(*ev.each(readings.gearbox, readings.shaft, readings.final_drive)))


def _side_angle(ev: Evaluation, readings: AngleReadings, index: int) -> Array:
    return np.asarray(ev.of(side_angles, readings)[index])


def _pinion_cancels(build: Build) -> bool:
    """Whether turning the pinion can even the line out: its own joint is a cardan joint, and so is one before it."""
    line = find_line(build)
    if not isinstance(line, ShaftLine):
        return True
    return len(line.cardans) > 1 and line.cardans[-1].behind == len(line.shafts)
