"""The solids of a build as shapes in draws: size, place, movement, each from its facts.

Answers   drawn_solid    one solid with all its states, in the axes of what it is fixed to; through `ev.of`
          placed_solid   one of the drivetrain in the car's axes, at the pose that it has
          way_off        a solid on its way down, for a sump that must come off; on_a_way: on any way
          group, surroundings    the solids of the drivetrain, and those of the car
Not here  gaps (gaps.py); the problem that a search works on (placing.py)
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.facts.spread import Shape, Spread
from trialfit.parts import Drivetrain, Solid, TapedPoint
from trialfit.parts.clearance.solids import SHAPES
from trialfit.placement import solids
from trialfit.placement.drawn import Drawn, carried, turned_by
from trialfit.placement.pose import pose_of, turn_of
from trialfit.placement.rocking import STATES, rocking
from trialfit.subjects.clearance.taped import place_of
from trialfit.subjects.placed import pose_now

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.placement.meshes import Triangles
    from trialfit.placement.solids import Piece

    _States = tuple[list[Array], list[Array]]

STEP_DOWN = 0.01


def group(build: Build) -> tuple[Solid, ...]:
    """The solids that move with the drivetrain."""
    return tuple(solid for solid in build.all(Solid) if solid.fixed_to == "drivetrain")


def surroundings(build: Build) -> tuple[Solid, ...]:
    """The solids of the car."""
    return tuple(solid for solid in build.all(Solid) if solid.fixed_to == "car")


def drawn_solid(ev: Evaluation, solid: Solid) -> Drawn:
    """A solid in every state it moves into. Raises MissingFact."""
    at_rest = _at_rest(ev, solid)
    turns, shifts = _states(ev, solid)
    if solid.fixed_to != "drivetrain":  # no state of it turns it
        return replace(at_rest, turns=np.broadcast_to(at_rest.turns, turns.shape), shifts=at_rest.shifts + shifts)
    return at_rest.moving(turns, shifts)


def placed_solid(ev: Evaluation, solid: Solid) -> Drawn:
    """A solid of the drivetrain in the car's axes, at the pose that it has. Raises MissingFact."""
    at_rest = _at_rest(ev, solid)
    states = _states(ev, solid)
    all_alike = states is ev.of(_with_travels, _group_states)
    return at_rest.moving(*(ev.of(_group_now) if all_alike else _now(ev, *states)))


def _at_rest(ev: Evaluation, solid: Solid) -> Drawn:
    """A solid where it is, in its first state alone."""
    size = _size(ev, solid)
    place, turn = _place(ev, solid)
    return size.drawn(turn[:, None], place[:, None])


def _group_now(ev: Evaluation) -> tuple[Array, Array]:
    """The states of what moves with the drivetrain alone, in the car's axes: worked out once for all its solids."""
    return _now(ev, *ev.of(_with_travels, _group_states))


def _now(ev: Evaluation, turns: Array, shifts: Array) -> tuple[Array, Array]:
    """States of the drivetrain at the pose that it has: (draws, states, 3, 3) and (draws, states, 3)."""
    pose = ev.of(pose_now)
    turn = turn_of(*pose[:, 3:].T)[:, None]
    shifts = carried(turn, shifts)
    shifts += pose[:, None, :3]
    return turned_by(turn, turns), shifts


def way_off(ev: Evaluation, solid: Solid) -> Drawn:
    """A solid on its way straight down off the engine, sampled every 10 mm. Raises MissingFact."""
    drop = float(ev(solid.removal_drop)[0])
    return _on_a_way(ev, solid, np.array([state.shift for state in solids.path_down(drop, STEP_DOWN)]))


def on_a_way(ev: Evaluation, solid: Solid, turns: Array, shifts: Array, pose: Array) -> Drawn:
    """A solid of the drivetrain at every step of a way, in the car's axes: turned about the drivetrain's point, then shifted."""
    at_rest = _on_a_way(ev, solid, np.zeros((1, 3))).at(pose)
    about = pose[:, None, :3]
    moved = carried(turns, at_rest.shifts - about) + about + shifts
    return replace(at_rest, turns=turned_by(turns[None], at_rest.turns), shifts=moved)


def _on_a_way(ev: Evaluation, solid: Solid, steps: Array) -> Drawn:
    size = _size(ev, solid)
    place, turn = _place(ev, solid)
    turns = np.broadcast_to(turn[:, None], (ev.draws, len(steps), 3, 3))
    return size.drawn(turns, place[:, None] + steps)


def _place(ev: Evaluation, solid: Solid) -> tuple[Array, Array]:
    roll, inclination, heading = ev.each(solid.roll, solid.inclination, solid.heading)
    turn = turn_of(roll, *pose_of(inclination, heading))
    point = ev.build.named(solid.place_taped)
    if isinstance(point, TapedPoint) and all(ref.written is None for ref in (solid.x, solid.y, solid.z)):
        return ev.of(place_of, point), turn
    return np.array(ev.each(solid.x, solid.y, solid.z)).T, turn


@dataclass(frozen=True, eq=False)
class _Size:
    """What `Drawn` holds of a solid besides where it is."""

    pieces: tuple[Piece, ...]
    sizes: Array | None = None
    grown: Array | None = None
    vertices: Array | None = None
    surface: Triangles | None = None

    def drawn(self, turns: Array, shifts: Array) -> Drawn:
        """The solid with where it is."""
        return Drawn(self.pieces, turns, shifts, self.sizes, self.grown, self.vertices, self.surface)


def _size(ev: Evaluation, solid: Solid) -> _Size:
    """The pieces in the solid's own axes, the drawn sizes of a box or round shape, and how far other shapes stand out.

    Raises MissingFact where a size is missing and where what is there makes no solid: a scan that did not come along, a sheet
    without thickness. Its finding is unknown and names what to get, and all others are worked out.
    """
    try:
        return _sound_size(ev, solid)
    except solids.BadSolid as wrong:
        raise MissingFact({f"{solid.name}.{SHAPES[str(solid.shape)][0]}": str(wrong)}) from None


def _sound_size(ev: Evaluation, solid: Solid) -> _Size:
    """The same. Raises MissingFact, BadSolid."""
    if solid.shape == "mesh":
        return _scanned(ev, solid)
    if solid.shape == "hull":
        return _hull(ev, solid)
    sizes = ev.each(*(getattr(solid, name) for name in SHAPES[str(solid.shape)]))
    nominal = [float(size[0]) for size in sizes]
    along = str(solid.axis)
    if solid.shape == "box":
        length, width, height = nominal
        return _Size((solids.box(length, width, height),), np.stack(sizes, axis=-1) / 2)
    length, diameter = nominal[:2]
    if solid.shape == "cone":
        return _Size((solids.cone(diameter, nominal[2], length, along=along),), grown=_cone_grown(*sizes))
    drawn = np.stack([sizes[1] / 2, sizes[0] / 2], axis=-1)
    if solid.shape == "cylinder":
        return _Size((solids.cylinder(diameter, length, along=along),), drawn)
    drawn[:, 1] -= drawn[:, 0]
    return _Size((solids.capsule(diameter, length, along=along),), drawn)


def _cone_grown(length: Array, diameter: Array, end: Array) -> Array:
    """How far a stump stands further out than its nominal, (draws,), m: at its thicker end, or by half its length where that is more."""
    thick = (diameter if diameter[0] >= end[0] else end) / 2
    by_length, across = (length - length[0]) / 2, thick - thick[0]
    return np.asarray(np.where(np.abs(by_length) > np.abs(across), by_length, across))


def _hull(ev: Evaluation, solid: Solid) -> _Size:
    """Taped points, each with its own spread."""
    axes = [
        ev.rows(refs, f"{solid.name}.points_{axis}")
        for refs, axis in ((solid.points_x, "x"), (solid.points_y, "y"), (solid.points_z, "z"))
    ]
    points = np.stack(axes, axis=-1)
    return _Size((solids.hull(points[0]),), vertices=points)


def _scanned(ev: Evaluation, solid: Solid) -> _Size:
    from trialfit.placement.splitting import read_shape

    if solid.file is None:
        raise MissingFact({f"{solid.name}.file": "the file that trialfit mesh wrote"})
    shape = read_shape(ev.reads_file((ev.build.folder or Path()) / solid.file))
    off = ev.spread_around(f"{solid.name}.file", 0.0, Spread(shape.off, shape.off, Shape.rectangular))
    return _Size(shape.pieces, grown=off, surface=shape.surface)


def _states(ev: Evaluation, solid: Solid) -> tuple[Array, Array]:
    """The movements: (draws, states, 3, 3) and (draws, states, 3)."""
    states = _group_states if solid.fixed_to == "drivetrain" else _no_states
    at_rest = ev.of(_with_travels, states)
    travels = _travels(ev, solid)
    return _with_travels(ev, states, travels) if travels else at_rest


def _with_travels(
    ev: Evaluation, states: Callable[[Evaluation], _States], travels: Iterable[tuple[int, int, Array]] = ()
) -> tuple[Array, Array]:
    turns, shifts = (list(each) for each in ev.of(states))
    for axis, sign, travel in travels:
        turns.append(turns[0])
        shifts.append(sign * np.eye(3)[axis][:, None] * travel)
    return np.transpose(np.stack(turns, axis=2), (3, 2, 0, 1)), np.transpose(np.stack(shifts, axis=1), (2, 1, 0))


def _no_states(ev: Evaluation) -> _States:
    """What does not move: its one turn (3, 3, draws) and shift (3, draws)."""
    return [np.broadcast_to(np.eye(3)[..., None], (3, 3, ev.draws))], [np.zeros((3, ev.draws))]


def _group_states(ev: Evaluation) -> _States:
    """How the drivetrain moves on its mounts."""
    part = ev.part(Drivetrain)
    return rocking(*ev.each(part.rock, part.heave, part.roll_axis_y, part.roll_axis_z))


_WAYS = (("forward", "back"), ("to the left", "to the right"), ("up", "down"))


def state_names(ev: Evaluation, solid: Solid) -> tuple[str, ...]:
    """The states of `drawn_solid` in words, in the same order."""
    names = list(STATES) if solid.fixed_to == "drivetrain" else [""]
    names += [f"moved {_WAYS[axis][0 if sign > 0 else 1]}" for axis, sign, _ in _travels(ev, solid)]
    return tuple(names)


def _travels(ev: Evaluation, solid: Solid) -> list[tuple[int, int, Array]]:
    """Every way that a solid moves: the axis, the direction, and how far in each draw. Raises MissingFact."""
    both = (solid.travel_x, solid.travel_y, solid.travel_z)
    other_way = (solid.travel_back, solid.travel_right, solid.travel_down)
    found = []
    for axis, (ref, other) in enumerate(zip(both, other_way, strict=True)):
        for sign, one in ((1, ref), (-1, ref if other.written is None else other)):
            travel = ev(one)
            if travel.any():
                found.append((axis, sign, travel))
    return found
