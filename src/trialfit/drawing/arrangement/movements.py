"""What has moved or changed between two scenes of one car.

Answers   movements_of   each in words, with the numbers in mm and degrees
          ghosts         what is drawn of the earlier scene: only what has moved or is gone
          Movement       one of them
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.placement.pose import to_group

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from trialfit.book.build import Build
    from trialfit.drawing.arrangement.scene import Body, Place, Scene, Shaft

_LEAST = 0.0005
"""A movement of less than half a millimetre counts as none."""

_LEAST_TURN = np.radians(0.05)
_TURNS = (("left side up", "right side up"), ("nose down", "nose up"), ("nose to the left", "nose to the right"))
_WAYS = (("forward", "back"), ("to the left", "to the right"), ("up", "down"))


@dataclass(frozen=True)
class Movement:
    """One thing that has moved, is new or is gone; `at` is its present place, None if it is gone."""

    name: str
    says: str
    at: Place | None


def movements_of(earlier: Build, before: Scene, build: Build, now: Scene) -> tuple[Movement, ...]:
    """Options picked differently, then the drivetrain, then everything else that did not move with it."""
    found = [
        Movement(name, f"{name}: {earlier.choices[name].picked} was picked, now {choice.picked}", None)
        for name, choice in build.choices.items()
        if name in earlier.choices and earlier.choices[name].picked != choice.picked
    ]
    if before.pose and now.pose:
        says = _pose_words(np.subtract(now.pose, before.pose))
        if says:
            found.append(Movement("drivetrain", f"drivetrain: {says}", now.measuring_point))
    for name, old, new, at in _pairs(before, now):
        if old is None or new is None:
            found.append(Movement(name, f"{name}: {'new' if old is None else 'gone'}", at))
            continue
        shift = np.subtract(new, old)
        if np.abs(shift).max() > _LEAST:
            found.append(Movement(name, f"{name}: {_shift(shift)}", at))
    return tuple(found)


def _pairs(before: Scene, now: Scene) -> Iterator[tuple[str, Place | None, Place | None, Place | None]]:
    """By name: the earlier and the present place of each thing, on the drivetrain in its own axes; and its present place in the car."""
    old_bodies, new_bodies = ({body.name: body for body in scene.bodies} for scene in (before, now))
    for name in dict.fromkeys([*old_bodies, *new_bodies]):
        old, new = old_bodies.get(name), new_bodies.get(name)
        own = tuple(_own(body, scene) if body else None for body, scene in ((old, before), (new, now)))
        yield name, own[0], own[1], new.middle if new else None
    old_joints, new_joints = ({joint.name: joint.at for joint in scene.joints} for scene in (before, now))
    for name in dict.fromkeys([*old_joints, *new_joints]):
        new_at = new_joints.get(name)
        yield f"{name} joint".replace("_", " "), old_joints.get(name), new_at, new_at
    if before.wheelbase and now.wheelbase:
        new_at = (-now.wheelbase, 0.0, 0.0)
        yield "rear axle", (-before.wheelbase, 0.0, 0.0), new_at, new_at


def _own(body: Body, scene: Scene) -> Place:
    """The mean of its corners, in the axes of the part it is fixed to."""
    points = np.concatenate(body.pieces)
    if body.moves and scene.pose is not None:
        points = to_group(np.array(scene.pose), points)
    x, y, z = (float(one) for one in points.mean(axis=0))
    return x, y, z


def _pose_words(change: np.ndarray) -> str:
    """Shift and turn of the drivetrain in words; empty if it did not move."""
    turns = [
        f"{abs(np.degrees(turn)):.1f}° {ways[int(turn < 0)]}"
        for turn, ways in zip(change[3:], _TURNS, strict=True)
        if abs(turn) > _LEAST_TURN
    ]
    return ", ".join(filter(None, [_shift(change[:3]), *turns]))


def _shift(shift: Sequence[float] | np.ndarray) -> str:
    """A shift in words, axis by axis."""
    parts = [
        f"{abs(value) * 1e3:.0f} mm {ways[int(value < 0)]}"
        for value, ways in zip(shift, _WAYS, strict=True)
        if abs(value) > _LEAST
    ]
    return ", ".join(parts)


def ghosts(before: Scene, now: Scene) -> tuple[tuple[Body, ...], tuple[Shaft, ...]]:
    """Bodies and shafts of the earlier scene that have moved since."""
    here = {body.name: body for body in now.bodies}
    bodies = tuple(body for body in before.bodies if body.name not in here or not _alike(body, here[body.name]))
    shafts = {shaft.name: shaft for shaft in (*now.shafts, *now.stubs)}
    moved = tuple(
        shaft
        for shaft in (*before.shafts, *before.stubs)
        if shaft.name not in shafts or _apart(shaft, shafts[shaft.name]) > _LEAST
    )
    return bodies, moved


def _alike(one: Body, other: Body) -> bool:
    pairs = zip(one.pieces, other.pieces, strict=False)
    return len(one.pieces) == len(other.pieces) and all(
        mine.shape == theirs.shape and float(np.abs(mine - theirs).max()) <= _LEAST for mine, theirs in pairs
    )


def _apart(one: Shaft, other: Shaft) -> float:
    return float(max(np.abs(np.subtract(one.start, other.start)).max(), np.abs(np.subtract(one.end, other.end)).max()))
