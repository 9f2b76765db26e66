"""The solids of a build as shapes in draws: size and place, each from its facts.

Answers   at_rest        one solid at rest, in the axes of what it is fixed to; through `ev.of`
          way_off        a solid on its way down, for a sump that must come off; on_a_way: on any way
          group, surroundings    the solids of the drivetrain, and those of the car
Not here  their movements (moving.py); gaps (gaps.py); the problem that a search works on (placing.py)
What is hot is as long as it gets at full heat: it may grow from either end.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.facts.spread import Shape, Spread
from trialfit.parts import Solid, TapedPoint
from trialfit.parts.clearance.solids import SHAPES
from trialfit.placement import solids
from trialfit.placement.drawn import Drawn, carried, farthest, turned_by
from trialfit.placement.pose import pose_of, turn_of
from trialfit.subjects.clearance.taped import place_of

if TYPE_CHECKING:
    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.placement.meshes import Triangles
    from trialfit.placement.solids import Piece

STEP_DOWN = 0.01


def group(build: Build) -> tuple[Solid, ...]:
    """The solids that move with the drivetrain."""
    return tuple(solid for solid in build.all(Solid) if solid.fixed_to == "drivetrain")


def surroundings(build: Build) -> tuple[Solid, ...]:
    """The solids of the car."""
    return tuple(solid for solid in build.all(Solid) if solid.fixed_to == "car")


def at_rest(ev: Evaluation, solid: Solid) -> Drawn:
    """A solid where it is at rest, in the axes of what it is fixed to: one state. Raises MissingFact."""
    size = _size(ev, solid)
    place, turn = _place(ev, solid)
    return size.drawn(turn[:, None], place[:, None])


def way_off(ev: Evaluation, solid: Solid) -> Drawn:
    """A solid on its way straight down off the engine, sampled every 10 mm. Raises MissingFact."""
    drop = float(ev(solid.removal_drop)[0])
    return _on_a_way(ev, solid, np.array([state.shift for state in solids.path_down(drop, STEP_DOWN)]))


def on_a_way(ev: Evaluation, solid: Solid, turns: Array, shifts: Array, pose: Array) -> Drawn:
    """A solid of the drivetrain at every step of a way, in the car's axes: turned about the drivetrain's point, then shifted."""
    there = _on_a_way(ev, solid, np.zeros((1, 3))).at(pose)
    about = pose[:, None, :3]
    moved = carried(turns, there.shifts - about) + about + shifts
    return replace(there, turns=turned_by(turns[None], there.turns), shifts=moved)


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
    sizes = _hot(ev, solid, list(ev.each(*(getattr(solid, name) for name in SHAPES[str(solid.shape)]))))
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


def _growth(ev: Evaluation, solid: Solid) -> Array | None:
    """How much longer a hot solid may get at either end, as a share of its length, (draws,); None for one that is not hot.

    A travel that is written for it counts in its place.
    """
    travels = (solid.travel_x, solid.travel_y, solid.travel_z, solid.travel_back, solid.travel_right, solid.travel_down)
    if solid.neighbour != "hot" or any(ref.written is not None for ref in travels):
        return None
    return ev(solid.hot_growth)


def _hot(ev: Evaluation, solid: Solid, sizes: list[Array]) -> list[Array]:
    """The sizes of a box or round shape when it is hot: the longest, or the one along the axis, has grown at both ends."""
    growth = _growth(ev, solid)
    if growth is not None:
        longest = int(np.argmax([size[0] for size in sizes])) if solid.shape == "box" else 0
        sizes[longest] = sizes[longest] * (1 + 2 * growth)
    return sizes


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
    growth = _growth(ev, solid)
    if growth is not None:
        points = points * (1 + 2 * growth)[:, None, None]
    return _Size((solids.hull(points[0]),), vertices=points)


def _scanned(ev: Evaluation, solid: Solid) -> _Size:
    from trialfit.placement.splitting import read_shape

    if solid.file is None:
        raise MissingFact({f"{solid.name}.file": "the file that trialfit mesh wrote"})
    shape = read_shape(ev.reads_file((ev.build.folder or Path()) / solid.file))
    off = ev.spread_around(f"{solid.name}.file", 0.0, Spread(shape.off, shape.off, Shape.rectangular))
    growth = _growth(ev, solid)
    if growth is not None:
        off = off + growth * max(float(np.abs(piece.position).max()) + farthest(piece) for piece in shape.pieces)
    return _Size(shape.pieces, grown=off, surface=shape.surface)
