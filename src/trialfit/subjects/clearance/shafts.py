"""Prop shafts and half-shafts as bodies: a round bar from joint to joint that moves with the axle, the wheel and the drivetrain.

Answers   the_shafts   those of a build that have a place of their own
          body         one in some of its states, in the car's axes
          ways, said   its movements, and a level in words
          ends         the joint centres at rest
Not here  solids (shapes.py); angles and lengths (driveline)
Levels    of a prop shaft (axle risen, pinion wound up) and the drivetrain (rocked, lifted, moved forward) at its front end; of a
          half-shaft (wheel risen) and the drivetrain at its inner end, where the final drive is in one case with it
Left out  joints, yokes and gaiters, which are thicker than the bar; a bar inside a live axle: write the axle as a solid that travels
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.driveline.axle_travel import outward_at
from trialfit.parts import Car, Drivetrain, FinalDrive, Gearbox, HalfShaft, PropShaft
from trialfit.placement import solids
from trialfit.placement.drawn import Drawn
from trialfit.placement.pose import turn_of
from trialfit.placement.rocking import in_words, rocking, word
from trialfit.subjects.clearance.few import steady
from trialfit.subjects.clearance.mounted import motion
from trialfit.subjects.driveline.axle_moving import pinion_positions
from trialfit.subjects.driveline.directions import joint_centres
from trialfit.subjects.placed import pose_now
from trialfit.subjects.shaft_line import ShaftLine, find_line, is_live, the_line

if TYPE_CHECKING:
    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.placement.rocking import Level

Shaft = PropShaft | HalfShaft

_AXLE = (
    ("with the axle at full bump", "with the axle at full droop"),
    ("with the pinion wound up", "with the pinion wound down"),
)
_WHEEL = (("with its wheel at full bump", "with its wheel at full droop"),)


def the_shafts(build: Build) -> tuple[Shaft, ...]:
    """Prop shafts, and half-shafts that do not run inside a live axle."""
    car = build.first(Car)
    front = car is not None and car.driven_axle == "front"
    half = () if is_live(build) and not front else build.all(HalfShaft)
    line = find_line(build)
    driven = {shaft.name for shaft in line.shafts} if isinstance(line, ShaftLine) else None
    return (*(shaft for shaft in build.all(PropShaft) if driven is None or shaft.name in driven), *half)


def ways(ev: Evaluation, part: Shaft) -> tuple[bool, ...]:
    """Which of its movements there are, in the order of a level. Raises MissingFact."""
    if isinstance(part, HalfShaft):
        travels = any(travel.any() for travel in ev.each(part.bump_travel, part.droop_travel))
        return (travels, *_with_the_drivetrain(ev, at_its_end=_in_one_case(ev.build)))
    number, last = _number(ev, part)
    rises, winds = False, False
    if last and is_live(ev.build):
        drive = ev.of(the_line).final_drive
        bump, droop, wind_up = ev.each(drive.bump_travel, drive.droop_travel, drive.wind_up)
        rises, winds = bool(bump.any() or droop.any()), bool(wind_up.any())
    return (rises, winds, *_with_the_drivetrain(ev, at_its_end=number == 0))


def _with_the_drivetrain(ev: Evaluation, *, at_its_end: bool) -> tuple[bool, ...]:
    if not at_its_end or ev.build.first(Drivetrain) is None:
        return (False, False, False)
    return ev.of(motion).moves


def said(ev: Evaluation, part: Shaft, level: Level) -> str:
    """A level in words."""
    pairs = _WHEEL if isinstance(part, HalfShaft) else _AXLE
    own = [
        word(gone, pair).replace("partly with", "with").replace("full ", "part of its ")
        if abs(gone) < 1
        else word(gone, pair)
        for gone, pair in zip(level[: len(pairs)], pairs, strict=True)
    ]
    with_it = in_words(ev.of(motion), level[len(pairs) :]) if any(level[len(pairs) :]) else ""
    return ", ".join(filter(None, [*own, with_it and f"the drivetrain {with_it}"]))


def body(ev: Evaluation, part: Shaft, levels: tuple[Level, ...]) -> Drawn:
    """A shaft in some of its states, in the car's axes; draws × levels. Raises MissingFact."""
    front, rear = (
        _half_shaft_ends(ev, part, levels) if isinstance(part, HalfShaft) else _prop_shaft_ends(ev, part, levels)
    )
    diameter = ev(part.bar_diameter if isinstance(part, HalfShaft) else part.tube_outside_diameter)
    along = front - rear
    length = np.linalg.norm(along, axis=-1)
    sizes = np.stack([diameter / 2, length[:, 0] / 2], axis=-1)
    piece = solids.cylinder(2 * float(sizes[0, 0]), 2 * float(sizes[0, 1]), along="z")
    return Drawn((piece,), _pointing(along / length[..., None]), (front + rear) / 2, sizes)


def ends(ev: Evaluation, part: Shaft) -> tuple[Array, Array]:
    """The joint centres at rest, front or inner first, (draws, 3) each, m. Raises MissingFact."""
    at_rest = ((0.0,) * (4 if isinstance(part, HalfShaft) else 5),)
    front, rear = (
        _half_shaft_ends(ev, part, at_rest) if isinstance(part, HalfShaft) else _prop_shaft_ends(ev, part, at_rest)
    )
    return front[:, 0], rear[:, 0]


def _pointing(along: Array) -> Array:
    """Turns (..., 3, 3) that take z to a direction (..., 3)."""
    across = np.where(np.abs(along[..., :1]) < 0.9, [1.0, 0.0, 0.0], [0.0, 1.0, 0.0])  # noqa: PLR2004 - not in line with it
    x = np.cross(across, along)
    x /= np.linalg.norm(x, axis=-1, keepdims=True)
    return np.stack([x, np.cross(along, x), along], axis=-1)


def _half_shaft_ends(ev: Evaluation, part: HalfShaft, levels: tuple[Level, ...]) -> tuple[Array, Array]:
    refs = (part.inner_x, part.inner_y, part.inner_z, part.outer_x, part.outer_y, part.outer_z)
    places = np.stack(ev.each(*refs), axis=-1)
    travels = (part.bump_travel, part.droop_travel, part.outward_at_bump, part.outward_at_droop)
    bump, droop, at_bump, at_droop = (steady(ev, travel) for travel in ev.each(*travels))
    gone = np.asarray(levels)[:, 0]
    rises = np.where(gone > 0, bump[:, None], droop[:, None]) * gone
    outward = np.asarray(outward_at(rises, bump[:, None], droop[:, None], at_bump[:, None], at_droop[:, None]))
    leftward = 1.0 if places[0, 4] >= places[0, 1] else -1.0
    outer = places[:, None, 3:] + np.stack([np.zeros(rises.shape), leftward * outward, rises], axis=-1)
    return _carried(ev, places[:, :3], tuple(level[1:] for level in levels)), outer


def _prop_shaft_ends(ev: Evaluation, part: PropShaft, levels: tuple[Level, ...]) -> tuple[Array, Array]:
    number, last = _number(ev, part)
    front, rear = ev.of(joint_centres, number)
    behind = np.broadcast_to(rear[:, None], (ev.draws, len(levels), 3))
    if last and is_live(ev.build):
        drive, gone = ev.of(the_line).final_drive, np.asarray(levels)[:, :2, None]
        bump, droop, wind_up = (
            steady(ev, each) for each in ev.each(drive.bump_travel, drive.droop_travel, drive.wind_up)
        )
        rises = np.where(gone[:, 0] > 0, bump, droop) * gone[:, 0]
        behind = pinion_positions(ev, rises, gone[:, 1] * wind_up).points.transpose(1, 0, 2)
    return _carried(ev, front, tuple(level[2:] for level in levels)), behind


def _carried(ev: Evaluation, point: Array, levels: tuple[Level, ...]) -> Array:
    """A point (draws, 3) of the car's axes where the drivetrain carries it, (draws, levels, 3), m; where it is, if that stays."""
    if not any(any(level) for level in levels):
        return np.broadcast_to(point[:, None], (ev.draws, len(levels), 3))
    pose = ev.of(pose_now)
    turn = turn_of(*pose[:, 3:].T)
    own = np.einsum("dji,dj->di", turn, point - pose[:, :3])
    turned, shifted = rocking(ev.of(motion), levels)
    moved = np.einsum("ijsd,dj->dsi", turned, own) + shifted.transpose(2, 1, 0)
    return np.asarray(np.einsum("dij,dsj->dsi", turn, moved) + pose[:, None, :3])


def _number(ev: Evaluation, part: PropShaft) -> tuple[int, bool]:
    """Which shaft of the line it is, from the front, and whether it is the last. Raises MissingFact where the line has a gap."""
    names = [shaft.name for shaft in ev.of(the_line).shafts]
    number = names.index(part.name) if part.name in names else 0
    return number, number == len(names) - 1


def _in_one_case(build: Build) -> bool:
    final_drive = build.first(FinalDrive)
    return final_drive is not None and isinstance(build.named(final_drive.after), Gearbox)
