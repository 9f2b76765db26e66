"""The solids of a build as shapes in draws: size, place, movement, each from its facts.

Answers   drawn_solid    one solid with all its states, in the axes of what it is fixed to; through `ev.of`
          pose_now       the pose that the drivetrain has, (draws, 6)
          way_off        a solid on its way down, for a sump that must come off; way_out: one on the hoist
          group, surroundings    the solids of the drivetrain, and those of the car
Not here  gaps (gaps.py); the problem that a search works on (placing.py)
An inclination counts up where a line drops towards the rear, which is nose up: pitch = −inclination. A heading counts up where
a line points left looking rearward, which is the car's right, so its nose points left: yaw = heading.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.parts import Drivetrain, Solid
from trialfit.parts.solids import SHAPES
from trialfit.placement import solids
from trialfit.placement.draws import Drawn
from trialfit.placement.pose import pose_of, turn_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.placement.solids import Piece

    Array = NDArray[np.float64]

STEP_DOWN, STEP_UP = 0.01, 0.02


def group(build: Build) -> tuple[Solid, ...]:
    """The solids that move with the drivetrain."""
    return tuple(solid for solid in build.all(Solid) if solid.fixed_to == "drivetrain")


def surroundings(build: Build) -> tuple[Solid, ...]:
    """The solids of the car."""
    return tuple(solid for solid in build.all(Solid) if solid.fixed_to == "car")


def pose_now(ev: Evaluation) -> Array:
    """The pose of the drivetrain as written, (draws, 6): x, y, z, roll, pitch, yaw."""
    part = ev.part(Drivetrain)
    x, y, z, roll, inclination, heading = ev.each(part.x, part.y, part.z, part.roll, part.inclination, part.heading)
    return np.stack([x, y, z, roll, *pose_of(inclination, heading)], axis=-1)


def drawn_solid(ev: Evaluation, solid: Solid) -> Drawn:
    """A solid in every state it moves into. Raises MissingFact, BadSolid."""
    pieces, sizes = _pieces(ev, solid)
    place, turn = _place(ev, solid)
    turns, shifts = _states(ev, solid)
    together = turns @ turn[:, None]
    moved = (turns @ place[:, None, :, None])[..., 0] + shifts
    return Drawn(pieces, together, moved, sizes)


def way_off(ev: Evaluation, solid: Solid) -> Drawn:
    """A solid on its way straight down off the engine, sampled every 10 mm. Raises MissingFact."""
    drop = float(ev(solid.comes_off_down)[0])
    return _on_a_way(ev, solid, np.array([state.shift for state in solids.path_down(drop, STEP_DOWN)]))


def way_out(ev: Evaluation, solid: Solid) -> Drawn:
    """A solid of the drivetrain on the hoist, straight up, sampled every 20 mm. Raises MissingFact."""
    lift = float(ev(ev.part(Drivetrain).lift_out)[0])
    return _on_a_way(ev, solid, -np.array([state.shift for state in solids.path_down(lift, STEP_UP)]))


def _on_a_way(ev: Evaluation, solid: Solid, steps: Array) -> Drawn:
    pieces, sizes = _pieces(ev, solid)
    place, turn = _place(ev, solid)
    turns = np.broadcast_to(turn[:, None], (ev.draws, len(steps), 3, 3))
    return Drawn(pieces, turns, place[:, None] + steps, sizes)


def _place(ev: Evaluation, solid: Solid) -> tuple[Array, Array]:
    x, y, z, roll, inclination, heading = ev.each(
        solid.x, solid.y, solid.z, solid.roll, solid.inclination, solid.heading
    )
    return np.stack([x, y, z], axis=-1), turn_of(roll, *pose_of(inclination, heading))


def _pieces(ev: Evaluation, solid: Solid) -> tuple[tuple[Piece, ...], Array | None]:
    """The pieces in the solid's own axes, and the drawn sizes of a box or round shape."""
    if solid.shape == "mesh":
        from trialfit.placement.meshes import read_pieces

        if solid.file is None:
            raise MissingFact({f"{solid.name}.file": "the file that trialfit mesh wrote"})
        return read_pieces(solid.file), None
    if solid.shape == "hull":
        axes = [
            ev.rows(refs, f"{solid.name}.points_{axis}")[0]
            for refs, axis in ((solid.points_x, "x"), (solid.points_y, "y"), (solid.points_z, "z"))
        ]
        return (solids.hull(np.stack(axes, axis=-1)),), None
    sizes = ev.each(*(getattr(solid, name) for name in SHAPES[str(solid.shape)]))
    nominal = [float(size[0]) for size in sizes]
    along = str(solid.along)
    if solid.shape == "box":
        length, width, height = nominal
        return (solids.box(length, width, height),), np.stack(sizes, axis=-1) / 2
    length, diameter = nominal[:2]
    if solid.shape == "cone":
        return (solids.cone(diameter, nominal[2], length, along=along),), None
    drawn = np.stack([sizes[1] / 2, sizes[0] / 2], axis=-1)
    if solid.shape == "cylinder":
        return (solids.cylinder(diameter, length, along=along),), drawn
    drawn[:, 1] -= drawn[:, 0]
    return (solids.capsule(diameter, length, along=along),), drawn


def _states(ev: Evaluation, solid: Solid) -> tuple[Array, Array]:
    """The movements: (draws, states, 3, 3) and (draws, states, 3)."""
    turns, shifts = [np.broadcast_to(np.eye(3), (ev.draws, 3, 3))], [np.zeros((ev.draws, 3))]
    if solid.fixed_to == "drivetrain":
        drivetrain = ev.part(Drivetrain)
        rock, heave, y, z = ev.each(drivetrain.rock, drivetrain.heave, drivetrain.mount_y, drivetrain.mount_z)
        axis = np.stack([np.zeros_like(y), y, z], axis=-1)
        for sign in (1, -1):
            turned = turn_of(sign * rock, 0 * rock, 0 * rock)
            turns.append(turned)
            shifts.append(axis - (turned @ axis[..., None])[..., 0])
            turns.append(turns[0])
            shifts.append(np.stack([0 * heave, 0 * heave, sign * heave], axis=-1))
    for axis_number, ref in enumerate((solid.moves_x, solid.moves_y, solid.moves_z)):
        travel = ev(ref)
        if travel.any():
            for sign in (1, -1):
                turns.append(turns[0])
                shifts.append(sign * travel[:, None] * np.eye(3)[axis_number])
    return np.stack(turns, axis=1), np.stack(shifts, axis=1)


STATES_OF_GROUP = ("", "rolled with its left side up", "lifted", "rolled with its right side up", "sunk")
_WAYS = (("forward", "back"), ("to the left", "to the right"), ("up", "down"))


def state_names(ev: Evaluation, solid: Solid) -> tuple[str, ...]:
    """The states of `drawn_solid` in words, in the same order."""
    names = list(STATES_OF_GROUP) if solid.fixed_to == "drivetrain" else [""]
    for words, ref in zip(_WAYS, (solid.moves_x, solid.moves_y, solid.moves_z), strict=True):
        if ev(ref).any():
            names += [f"moved {word}" for word in words]
    return tuple(names)
