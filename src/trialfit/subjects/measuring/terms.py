"""What the names in parentheses of ways.csv stand for: values that are worked out from facts of several parts.

Answers   TERMS    all of them, by name
Not here  how an expression is read (expressions.py); which of them are compared (twice.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.draws import draws_of
from trialfit.facts.spread import Shape, Spread
from trialfit.handbook.driveline.shaft_lines import direction_between, heading_of, inclination_of
from trialfit.handbook.fastening.fasteners import nut_factor_of_friction
from trialfit.handbook.gearing.curve_shape import with_bulge
from trialfit.handbook.gearing.tyres import free_diameter, read_size, static_radius
from trialfit.parts import (
    AngleReadings,
    BoltedJoint,
    Bracket,
    Car,
    Clutch,
    Crane,
    Drivetrain,
    Engine,
    FinalDrive,
    Gearbox,
    Hub,
    Lift,
    MassPart,
    PropShaft,
    Weld,
)
from trialfit.placement.pose import turn_of
from trialfit.subjects.clearance import mounted
from trialfit.subjects.driveline.directions import ends_written, joint_centres
from trialfit.subjects.driveline.setting import STAGES
from trialfit.subjects.fastening.joints import thread_of
from trialfit.subjects.line import circumference_by_size
from trialfit.subjects.measuring.expressions import Term
from trialfit.subjects.placed import over_floor, pose_now
from trialfit.subjects.power_unit import the_mounts
from trialfit.subjects.shaft_line import ShaftLine, find_line
from trialfit.subjects.torque_path import clutch_capacity, studs

if TYPE_CHECKING:
    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef, Part, Speedometer, Tyre

    Refs = tuple[FactRef, ...] | None


def about(ev: Evaluation, _: Part | None, middle: float, half: float) -> Array:
    """A figure that is only known to lie within `half` of `middle`: common practice, as the row says."""
    return draws_of(f"about {middle} {half}", middle, Spread(half, half, Shape.rectangular), ev.draws, ev.block)


def span(_ev: Evaluation, _: Part | None, places: Array) -> Array:
    """From the first to the last place."""
    return np.asarray(places.max(axis=-1) - places.min(axis=-1))


def circle(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Diameter of the circle on which the places of the bolts lie, m."""
    x, y = (np.stack(ev.each(*refs), axis=-1) for refs in (joint.places_x, joint.places_y))
    out = np.hypot(x - x.mean(axis=-1, keepdims=True), y - y.mean(axis=-1, keepdims=True))
    return np.asarray(2 * out.mean(axis=-1))


def _circle_reads(_: Build, joint: Part | None) -> Refs:
    return (*joint.places_x, *joint.places_y) or None if isinstance(joint, BoltedJoint) else None


def friction_factor(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Nut factor from both frictions."""
    thread = thread_of(joint)
    in_thread, head, face, hole = ev.each(*_frictions(joint))
    return np.asarray(nut_factor_of_friction(thread.diameter, thread.pitch, in_thread, head, (face + hole) / 2))


def _frictions(joint: BoltedJoint) -> tuple[FactRef, ...]:
    return joint.thread_friction, joint.head_friction, joint.bearing_diameter, joint.hole_diameter


def _friction_reads(_: Build, joint: Part | None) -> Refs:
    known = isinstance(joint, BoltedJoint) and joint.thread and joint.thread_friction.written
    return _frictions(joint) if known else None  # type: ignore[arg-type]


def placed_output(ev: Evaluation, _: Part | None, *, axis: int) -> Array:
    """Where the pose of the drivetrain puts the joint on the gearbox output, in the car's axes, m."""
    part = ev.part(Drivetrain)
    point = np.stack(ev.each(part.output_x, part.output_y, part.output_z), axis=-1)
    pose = ev.of(pose_now)
    turn = turn_of(pose[:, 3], pose[:, 4], pose[:, 5])
    return np.asarray((turn @ point[..., None])[:, axis, 0] + pose[:, axis])


def _placed_reads(build: Build, _: Part | None) -> Refs:
    part = build.first(Drivetrain)
    if part is None or build.first(Gearbox) is None:
        return None
    pose = (part.x, part.y, part.z, part.roll, part.inclination, part.heading)
    return (*pose, part.output_x, part.output_y, part.output_z)


def by_ends(ev: Evaluation, shaft: Part | None, *, plan: bool) -> Array:
    """Where a shaft points by the places of its two ends, rad: its inclination, or its heading in plan."""
    line = find_line(ev.build)
    if not isinstance(line, ShaftLine) or not isinstance(shaft, PropShaft):
        return np.full(ev.draws, np.nan)
    number = [one.name for one in line.shafts].index(shaft.name)
    points = direction_between(*ev.of(joint_centres, number))
    return np.asarray(heading_of(points) if plan else inclination_of(points))


def _ends_reads(build: Build, shaft: Part | None) -> Refs:
    line = find_line(build)
    if not isinstance(line, ShaftLine) or not isinstance(shaft, PropShaft) or shaft not in line.shafts:
        return None
    return () if ends_written(build, line, line.shafts.index(shaft)) else None


def latest_reading(ev: Evaluation, _: Part | None, *, of: str) -> Array:
    """The last angle that was gauged there, less the slope of the floor, rad."""
    reading, slope = ev.each(*(_latest_reads(ev.build, None, of=of) or ()))
    return reading - slope


def _latest_reads(build: Build, _: Part | None, *, of: str) -> Refs:
    sets = {one.stage or STAGES[0]: one for one in build.all(AngleReadings)}
    latest = max(sets, key=STAGES.index, default=None)
    if latest is None or getattr(sets[latest], of).written is None:
        return None
    car, slope = build.first(Car), sets[latest].floor_slope
    return getattr(sets[latest], of), slope if slope.written or car is None else car.floor_slope


def inclined(ev: Evaluation, part: Part | None, *, kind: type[Part], fact: str) -> Array:
    """An inclination over the floor, as all places are, rad."""
    (ref,) = _inclined_reads(ev.build, part, kind=kind, fact=fact) or ()
    return over_floor(ev, ref)


def _inclined_reads(build: Build, part: Part | None, *, kind: type[Part], fact: str) -> Refs:
    found = part if isinstance(part, kind) else build.first(kind)
    return (getattr(found, fact),) if found is not None else None


def _inclination(kind: type[Part], fact: str) -> Term:
    return Term(partial(inclined, kind=kind, fact=fact), partial(_inclined_reads, kind=kind, fact=fact))


def circumference_of_size(_ev: Evaluation, part: Tyre) -> float:
    """Rolling circumference by the size of a tyre, m."""
    return circumference_by_size(part.size, part.name)


def circumference_set_up_for(_ev: Evaluation, part: Speedometer) -> float:
    """The same of the size that a speedometer was set up for, m."""
    return circumference_by_size(part.original_tyre_size, part.name)


def radius_of_size(_ev: Evaluation, part: Tyre) -> float:
    """Height of the wheel centre on the standing, loaded car by the size of its tyre, m."""
    size = read_size(part.size or "")
    return float(static_radius(free_diameter(size.section_width, size.aspect, size.rim_diameter)))


def _code_reads(_: Build, part: Part | None, *, code: str) -> Refs:
    return () if part is not None and part.values.get(code) else None


def of_points(ev: Evaluation, _: Part | None, speed: Array) -> Array:
    """Torque at an engine speed by the written points of the curve alone, N·m; nan beyond its ends."""
    engine = ev.part(Engine)
    curve = ev.curve(engine.torque_curve)
    torques = curve.y * curve.scale[:, None]
    speeds, filled = with_bulge(curve.x, torques, ev(engine.curve_bulge))
    at = float(speed[0])
    if not speeds[0] <= at <= speeds[-1]:
        return np.full(ev.draws, np.nan)
    after = min(max(int(np.searchsorted(speeds, at)), 1), len(speeds) - 1)
    share = (at - speeds[after - 1]) / (speeds[after] - speeds[after - 1])
    return np.asarray(filled[:, after - 1] * (1 - share) + filled[:, after] * share)


def _curve_reads(build: Build, _: Part | None) -> Refs:
    engine = build.first(Engine)
    return (engine.curve_bulge,) if engine and engine.torque_curve.written else None


def highest_point(ev: Evaluation, _: Part | None) -> Array:
    """The highest written point of the torque curve, N·m."""
    curve = ev.curve(ev.part(Engine).torque_curve)
    return np.asarray(curve.y.max() * curve.scale)


def of_facing(ev: Evaluation, _: Part | None) -> Array:
    """Torque before the clutch slips, from clamp load and facing, N·m."""
    return clutch_capacity.worked_out(ev)


def _facing_reads(build: Build, _: Part | None) -> Refs:
    clutch = build.first(Clutch)
    if clutch is None or not clutch_capacity.can_be_worked_out(clutch):
        return None
    return clutch.clamp_load, clutch.facing_outside_diameter, clutch.facing_inside_diameter


def by_nut(ev: Evaluation, hub: Hub) -> Array:
    """Preload of one stud from the torque of its nut, N."""
    return studs.preload_by_nut(ev, hub, hub.seat or "flat")


def _nut_reads(_: Build, hub: Part | None) -> Refs:
    if not isinstance(hub, Hub) or (hub.nut_factor.written is None and hub.seat is None):
        return None
    by = (hub.nut_factor,) if hub.nut_factor.written is not None else (hub.nut_friction, hub.stud_pitch)
    return hub.stud_torque, hub.stud_diameter, *by


def masses_of_drivetrain(ev: Evaluation, _: Part | None) -> Array:
    """Sum of the heavy parts that are fixed to the drivetrain, kg."""
    return np.asarray(sum(ev.each(*(_mass_reads(ev.build, None) or ()))))


def _mass_reads(build: Build, _: Part | None) -> Refs:
    parts = [one for one in build.all(MassPart) if one.fixed_to == "drivetrain"]
    return tuple(one.mass for one in parts) or None


def rock_of_mounts(ev: Evaluation, _: Part | None) -> Array:
    """How far torque and mounts let the drivetrain rock either way, rad."""
    return mounted.rock_worked_out(ev)


def _mount_reads(build: Build, _: Part | None) -> Refs:
    return tuple(one.stiffness for one in the_mounts(build)) if mounted.mounts_are_known(build) else None


def reach_of_hole(ev: Evaluation, lift: Lift) -> Array:
    """Reach of the hole of the boom that a lift names, m; nan for a hole that the boom does not have."""
    hole, *reaches = _hole_reads(ev.build, lift) or ()
    number = round(float(ev(hole)[0]))
    return ev(reaches[number - 1]) if 1 <= number <= len(reaches) else np.full(ev.draws, np.nan)


def _hole_reads(build: Build, lift: Part | None) -> Refs:
    crane = build.named(lift.crane) if isinstance(lift, Lift) else None
    if not isinstance(lift, Lift) or not isinstance(crane, Crane) or not crane.hole_reaches:
        return None
    return (lift.hole, *crane.hole_reaches)


def of_bracket(ev: Evaluation, weld: Part | None, *, fact: str) -> Array:
    """A fact of the bracket that a weld holds."""
    return ev(getattr(_bracket(ev.build, weld), fact))


def _bracket(build: Build, weld: Part | None) -> Bracket | None:
    found = build.named(weld.carries) if isinstance(weld, Weld) else None
    return found if isinstance(found, Bracket) else None


def _bracket_reads(build: Build, weld: Part | None, *, fact: str) -> Refs:
    bracket = _bracket(build, weld)
    return (getattr(bracket, fact),) if bracket else None


TERMS = {
    "about": Term(about),
    "span": Term(span),
    "circle": Term(circle, _circle_reads),
    "friction_factor": Term(friction_factor, _friction_reads),
    "placed_output_x": Term(partial(placed_output, axis=0), _placed_reads),
    "placed_output_y": Term(partial(placed_output, axis=1), _placed_reads),
    "placed_output_z": Term(partial(placed_output, axis=2), _placed_reads),
    "output": _inclination(Gearbox, "output_inclination"),
    "crank": _inclination(Drivetrain, "inclination"),
    "tube": _inclination(PropShaft, "inclination"),
    "pinion": _inclination(FinalDrive, "input_inclination"),
    "inclination_by_ends": Term(partial(by_ends, plan=False), _ends_reads),
    "heading_by_ends": Term(partial(by_ends, plan=True), _ends_reads),
    "gauged_gearbox": Term(partial(latest_reading, of="gearbox"), partial(_latest_reads, of="gearbox")),
    "gauged_shaft": Term(partial(latest_reading, of="shaft"), partial(_latest_reads, of="shaft")),
    "gauged_final_drive": Term(partial(latest_reading, of="final_drive"), partial(_latest_reads, of="final_drive")),
    "circumference_of_size": Term(circumference_of_size, partial(_code_reads, code="size")),
    "circumference_set_up_for": Term(circumference_set_up_for, partial(_code_reads, code="original_tyre_size")),
    "radius_of_size": Term(radius_of_size, partial(_code_reads, code="size")),
    "of_points": Term(of_points, _curve_reads),
    "highest_point": Term(highest_point, _curve_reads),
    "of_facing": Term(of_facing, _facing_reads),
    "by_nut": Term(by_nut, _nut_reads),
    "masses_of_drivetrain": Term(masses_of_drivetrain, _mass_reads),
    "rock_of_mounts": Term(rock_of_mounts, _mount_reads),
    "reach_of_hole": Term(reach_of_hole, _hole_reads),
    "reach_of_bracket": Term(partial(of_bracket, fact="reach"), partial(_bracket_reads, fact="reach")),
    "thickness_of_bracket": Term(partial(of_bracket, fact="thickness"), partial(_bracket_reads, fact="thickness")),
}
"""By the name that ways.csv uses."""
