"""The content of the drawing, in the car's axes: bodies, shafts, joints, wheels, axles; and the facts missing for more.

Answers   scene_of   everything with a known place, at its nominal values
          Scene, Body, Shaft, Wheel, Named    plain data
Not here  views (view.py); places of findings (places.py)
Axes      ISO 8855: x forward from the front axle, y to the left, z up from the ground; m
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import Evaluation, MissingFact
from trialfit.handbook.gearing.tyres import read_size
from trialfit.parts import Car, Drivetrain, HalfShaft, MassPart, Mount, Opening, Solid, Tyre
from trialfit.placement.pose import to_car, to_group
from trialfit.placement.solids import corners
from trialfit.subjects import line
from trialfit.subjects.clearance.moving import drawn_solid
from trialfit.subjects.driveline import directions
from trialfit.subjects.placed import mass_centres, pose_now
from trialfit.subjects.shaft_line import the_line

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from trialfit.book.build import Build
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef


Place = tuple[float, float, float]
_BEYOND = 0.04
_STUB = 0.12
"""Length drawn for a gearbox output or for a pinion of unknown length, m: a mark, not a size."""


@dataclass(frozen=True, eq=False)
class Body:
    """A solid: corners of each convex piece (n, 3), whether it moves with the drivetrain, and what kind of neighbour it is."""

    name: str
    pieces: tuple[Array, ...]
    moves: bool
    neighbour: str

    @property
    def middle(self) -> Place:
        """The middle of the box around it."""
        points = np.concatenate(self.pieces)
        x, y, z = (points.min(axis=0) + points.max(axis=0)) / 2
        return float(x), float(y), float(z)


@dataclass(frozen=True)
class Shaft:
    """A shaft from joint to joint, with its diameter if it is known."""

    name: str
    start: Place
    end: Place
    diameter: float | None = None


@dataclass(frozen=True)
class Wheel:
    """A wheel by its middle, its radius, and its width if it is known."""

    name: str
    middle: Place
    radius: float
    width: float | None


@dataclass(frozen=True)
class Named:
    """A point with a name: a joint, a measuring point, the centre of mass."""

    name: str
    at: Place


@dataclass(frozen=True, eq=False)
class Scene:
    """The whole content. `pose` is that of the drivetrain, m and rad; `missing` names facts that would add to it, with their meaning."""

    bodies: tuple[Body, ...] = ()
    shafts: tuple[Shaft, ...] = ()
    joints: tuple[Named, ...] = ()
    wheels: tuple[Wheel, ...] = ()
    stubs: tuple[Shaft, ...] = ()
    pose: tuple[float, ...] | None = None
    measuring_point: Place | None = None
    crank: Shaft | None = None
    points: tuple[Named, ...] = ()
    mass_centre: Place | None = None
    wheelbase: float | None = None
    tracks: Mapping[str, float] = field(default_factory=dict)
    opening: tuple[float, float, float, float] | None = None
    missing: Mapping[str, str] = field(default_factory=dict)

    @property
    def is_empty(self) -> bool:
        """Whether nothing has a place."""
        return not (self.bodies or self.shafts or self.wheels or self.joints or self.points or self.wheelbase)


def scene_of(build: Build) -> Scene:
    """Everything in a build that has a known place."""
    ev = Evaluation(build, 1)
    missing: dict[str, str] = {}
    found: dict[str, object] = {}
    pose = _try(missing, lambda: ev.of(pose_now)[0]) if build.first(Drivetrain) else None
    if pose is None and build.first(Drivetrain) is None:
        missing["drivetrain"] = "this part is missing: the place of engine and gearbox"
    bodies = tuple(_bodies(ev, pose, missing))
    found["bodies"] = bodies
    if not build.all(Solid):
        missing["solid"] = "these parts are missing: what takes up room, as boxes and cylinders"
    shafts, joints, stubs = _line(ev, missing)
    found |= {"shafts": shafts + _half_shafts(ev, missing), "joints": joints, "stubs": stubs}
    if pose is not None:
        x, y, z = (float(one) for one in pose[:3])
        ahead, behind = to_car(pose, _crank_ends(pose, bodies))
        found |= {
            "pose": tuple(float(one) for one in pose),
            "measuring_point": (x, y, z),
            "crank": Shaft("crank", _place(ahead), _place(behind)),
        }
    found["points"] = tuple(_points(ev))
    found |= _car(ev, missing)
    return Scene(**found, missing=missing)  # type: ignore[arg-type]


def _crank_ends(pose: Array, bodies: tuple[Body, ...]) -> Array:
    """Both ends of the crank's centre line in the drivetrain's axes: a little beyond the bodies on it."""
    points = [to_group(pose, piece)[:, 0] for body in bodies if body.moves for piece in body.pieces]
    along = np.concatenate(points) if points else np.array([0.3, -0.3])
    return np.array([[along.max() + _BEYOND, 0.0, 0.0], [along.min() - _BEYOND, 0.0, 0.0]])


def _try(missing: dict[str, str], work: Callable[[], Array]) -> Array | None:
    try:
        return work()
    except MissingFact as lacking:
        missing |= lacking.wanted
        return None


def _place(point: Array) -> Place:
    x, y, z = (float(one) for one in point)
    return x, y, z


def _bodies(ev: Evaluation, pose: Array | None, missing: dict[str, str]) -> list[Body]:
    found = []
    for solid in ev.build.all(Solid):
        moves = solid.fixed_to == "drivetrain"
        if moves and pose is None:
            continue
        try:
            drawn = ev.of(drawn_solid, solid)
        except MissingFact as lacking:
            missing |= lacking.wanted
            continue
        pieces = []
        for piece in drawn.pieces:
            points = corners(piece) @ drawn.turns[0, 0].T + drawn.shifts[0, 0]
            pieces.append(to_car(pose, points) if moves and pose is not None else points)
        found.append(Body(solid.name, tuple(pieces), moves, str(solid.neighbour)))
    return found


def _line(ev: Evaluation, missing: dict[str, str]) -> tuple[tuple[Shaft, ...], tuple[Named, ...], tuple[Shaft, ...]]:
    """Prop shafts, their joints, and marks for the gearbox output and the pinion."""
    try:
        drive = ev.of(the_line)
    except MissingFact as lacking:
        missing |= lacking.wanted
        return (), (), ()
    shafts, ends = [], {}
    for number, shaft in enumerate(drive.shafts):
        try:
            start, end = ev.of(directions.joint_centres, number)
        except MissingFact as lacking:
            missing |= lacking.wanted
            continue
        tube = shaft.tube_outside_diameter.known
        shafts.append(Shaft(shaft.name, _place(start[0]), _place(end[0]), tube.si if tube else None))
        ends[number], ends[number + 1] = _place(start[0]), _place(end[0])
    joints = tuple(Named(joint.place, ends[joint.behind]) for joint in drive.joints if joint.behind in ends)
    stubs = []
    for name, number, at, way in (
        (drive.gearbox.name, 0, ends.get(0), -1.0),
        (drive.final_drive.name, len(drive.shafts) + 1, ends.get(len(drive.shafts)), 1.0),
    ):
        if at is None:
            continue
        try:
            forward = ev.of(directions.member_at_ride, number)[0]
        except MissingFact as lacking:
            missing |= lacking.wanted
            continue
        length = _STUB
        if way > 0 and drive.final_drive.pinion_length.known is not None:
            length = drive.final_drive.pinion_length.known.si
        # directions point rearward along the drive, in axes whose x and y are opposite to the car's
        step = forward * np.array([-1.0, -1.0, 1.0]) * way * length
        stubs.append(Shaft(name, at, _place(np.array(at) + step)))
    return tuple(shafts), joints, tuple(stubs)


def _half_shafts(ev: Evaluation, missing: dict[str, str]) -> tuple[Shaft, ...]:
    found = []
    for one in ev.build.all(HalfShaft):
        refs = (one.inner_x, one.inner_y, one.inner_z, one.outer_x, one.outer_y, one.outer_z)
        if not any(ref.written for ref in refs):
            continue
        try:
            x, y, z, out_x, out_y, out_z = (float(value[0]) for value in ev.each(*refs))
        except MissingFact as lacking:
            missing |= lacking.wanted
            continue
        bar = one.bar_diameter.known
        found.append(Shaft(one.name, (x, y, z), (out_x, out_y, out_z), bar.si if bar else None))
    return tuple(found)


def _points(ev: Evaluation) -> Iterator[Named]:
    """Mounts and heavy parts whose places are known."""
    for mount in ev.build.all(Mount):
        x, y, z = (ref.known for ref in (mount.x, mount.y, mount.z))
        if x and y and z:
            yield Named(mount.name, (x.si, y.si, z.si))
    for part in ev.build.all(MassPart):
        try:
            x_at, y_at, z_at = mass_centres(ev, (part,))[0, 0].tolist()
        except MissingFact:
            continue
        yield Named(part.name, (x_at, y_at, z_at))


def _car(ev: Evaluation, missing: dict[str, str]) -> dict[str, object]:
    car = ev.build.first(Car)
    if car is None:
        missing["car"] = "this part is missing: wheelbase, tracks and masses"
        return {}
    found: dict[str, object] = {}
    wheelbase = _nominal(car.wheelbase, missing)
    found["wheelbase"] = wheelbase
    tracks = {"front": _nominal(car.front_track, missing), "rear": _nominal(car.rear_track, missing)}
    found["tracks"] = {axle: track for axle, track in tracks.items() if track}
    found["wheels"] = tuple(_wheels(ev, wheelbase, tracks, missing))
    height, rear, whole = (ref.known for ref in (car.centre_of_mass_height, car.rear_axle_mass, car.mass))
    if height and rear and whole and wheelbase:
        found["mass_centre"] = (-rear.si / whole.si * wheelbase, 0.0, height.si)
    opening = ev.build.first(Opening)
    if opening is not None:
        edges = [_nominal(ref, missing) for ref in (opening.front_x, opening.rear_x, opening.left_y, opening.right_y)]
        if all(edge is not None for edge in edges):
            found["opening"] = tuple(edges)
    return found


def _wheels(
    ev: Evaluation, wheelbase: float | None, tracks: Mapping[str, float | None], missing: dict[str, str]
) -> list[Wheel]:
    found = []
    for axle, at in (("front", 0.0), ("rear", -wheelbase if wheelbase else None)):
        tyre = next((tyre for tyre in ev.build.all(Tyre) if tyre.axle == axle), None)
        if tyre is None or at is None:
            missing[f"tyre on the {axle} axle"] = "its size, to draw the wheels"
            continue
        if tyre.circumference.written is not None:
            circumference = tyre.circumference.written.si
        elif tyre.size is not None:
            circumference = line.circumference_by_size(tyre.size, tyre.name)
        else:
            missing[f"{tyre.name}.size"] = "size as printed on the sidewall"
            continue
        radius = circumference / (2 * np.pi)
        width = read_size(tyre.size).section_width if tyre.size else None
        track = tracks[axle]
        sides = (track / 2, -track / 2) if track else (0.0,)
        found += [Wheel(tyre.name, (at, side, radius), radius, width if track else None) for side in sides]
    return found


def _nominal(ref: FactRef, missing: dict[str, str]) -> float | None:
    if ref.known is None:
        missing[ref.path] = ref.spec.says
        return None
    return ref.known.si
