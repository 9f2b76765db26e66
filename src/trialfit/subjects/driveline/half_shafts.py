"""Half-shafts from a final drive that is fixed to the body: the angle of their joints, and the remaining plunge.

Answers   requirements   half_shaft_angle.SIDE.inner and .outer, plunge.SIDE.in and .out
          angle_over     the angle of their joints at any rise of the wheel
Not here  half-shafts inside a live axle: they have no joints; strength (torque_path)

Worked out at ride height, full bump, full droop and where the shaft lies level. The joints' own axes are taken square to the
car: camber and toe are left out, and so both joints of a shaft work at the same angle.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import ANGLE, LENGTH
from trialfit.handbook.driveline.axle_travel import outward_at, rise_to_level
from trialfit.handbook.driveline.shaft_lines import direction, direction_between, slip_travel, true_angle
from trialfit.parts import Car, HalfShaft
from trialfit.subjects.driveline.angles import BINDING, maker_or
from trialfit.subjects.driveline.directions import suspension
from trialfit.subjects.shaft_line import is_live

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef


PLUNGE_LEFT = 0.003
USUAL = {
    "inner": Source("from memory: a plunging joint allows 20 to 23°", SourceKind.from_memory),
    "outer": Source("from memory: a fixed joint allows 45°", SourceKind.from_memory),
}


def requirements(build: Build) -> Iterator[Requirement]:
    """Limits of the half-shafts of both sides; nothing where they run inside a live axle."""
    if is_live(build) and not _front_driven(build):
        return
    for side in ("left", "right"):
        half_shaft = next((one for one in build.all(HalfShaft) if one.side == side), None)
        about = half_shaft.name if half_shaft else "half_shaft"
        for end in ("inner", "outer"):
            yield _angle(side, end, about, half_shaft)
        for way in ("in", "out"):
            yield _plunge(side, way, about)


def _angle(side: str, end: str, about: str, half_shaft: HalfShaft | None) -> Requirement:
    source = USUAL[end]
    if half_shaft is not None:
        source = maker_or(_limit_of(half_shaft, end), source)
    return Requirement(
        id=f"driveline.half_shaft_angle.{side}.{end}",
        about=about,
        says=f"the {end} joint of the {side} half-shaft stays within its angle from full bump to full droop",
        value=partial(_largest_angle, side=side),
        quantity=ANGLE,
        stake=Stake.durability,
        limit=AtMost(lambda ev: ev(_limit_of(_half_shaft(ev, side), end))),
        source=source,
        formulas=(true_angle, outward_at),
        caution=BINDING,
    )


def _plunge(side: str, way: str, about: str) -> Requirement:
    return Requirement(
        id=f"driveline.plunge.{side}.{way}",
        about=about,
        says=f"the {side} half-shaft can still {'close' if way == 'in' else 'open'} at its {'shortest' if way == 'in' else 'longest'}",
        value=partial(_plunge_left, side=side, way=way),
        quantity=LENGTH,
        stake=Stake.durability,
        limit=AtLeast(PLUNGE_LEFT),
        source=COMMON_PRACTICE,
        formulas=(slip_travel, outward_at, rise_to_level),
    )


@dataclass(frozen=True)
class _Path:
    """Angle of a half-shaft against its joints' axes, rad, and its growth over ride height, m; (positions, draws)."""

    angles: Array
    grown: Array


def _path(ev: Evaluation, side: str) -> _Path:
    _, _, z, _, _, out_z, bump, droop, _, _ = ev.each(*_placing(_half_shaft(ev, side)))
    rises = np.stack([np.zeros(bump.shape), bump, -droop, np.asarray(rise_to_level(z, out_z, bump, droop))])
    return _at_rises(ev, side, rises)


def angle_over(ev: Evaluation, side: str, rises: Array) -> Array:
    """Angle of the joints of a half-shaft, rad, at rises of its wheel; both (positions, draws)."""
    return _at_rises(ev, side, rises).angles


def _at_rises(ev: Evaluation, side: str, rises: Array) -> _Path:
    x, y, z, out_x, out_y, out_z, bump, droop, at_bump, at_droop = ev.each(*_placing(_half_shaft(ev, side)))
    inner, outer = np.stack([x, y, z], axis=-1), np.stack([out_x, out_y, out_z], axis=-1)
    leftward = 1.0 if side == "left" else -1.0
    outward = np.asarray(outward_at(rises, bump, droop, at_bump, at_droop))
    moved = outer + np.stack([np.zeros(rises.shape), leftward * outward, rises], axis=-1)
    axis = direction(0.0, -leftward * np.pi / 2)  # looking rearward, the car's left is at the right hand
    angles = true_angle(axis, direction_between(inner, moved))
    return _Path(np.asarray(angles), np.asarray(slip_travel(inner, outer, moved)))


def _placing(one: HalfShaft) -> tuple[FactRef, ...]:
    """The facts that say where a half-shaft is and where it goes."""
    return (
        *(one.inner_x, one.inner_y, one.inner_z, one.outer_x, one.outer_y, one.outer_z),
        *(one.bump_travel, one.droop_travel, one.outward_at_bump, one.outward_at_droop),
    )


def _largest_angle(ev: Evaluation, side: str) -> Array:
    return np.asarray(ev.of(_path, side).angles.max(axis=0))


def _plunge_left(ev: Evaluation, side: str, way: str) -> Array:
    one = _half_shaft(ev, side)
    left, *_ = ev.each(one.plunge_in if way == "in" else one.plunge_out, *_placing(one))  # all that is missing at once
    grown = ev.of(_path, side).grown
    return np.asarray(left + grown.min(axis=0) if way == "in" else left - grown.max(axis=0))


def _half_shaft(ev: Evaluation, side: str) -> HalfShaft:
    """The half-shaft of a side. Raises MissingFact where it is not written, or not known whether there are such."""
    if not _front_driven(ev.build):
        suspension(ev)
    for one in ev.build.all(HalfShaft):
        if one.side == side:
            return one
    for one in ev.build.all(HalfShaft):
        if one.side is None:
            raise MissingFact({f"{one.name}.side": 'which wheel it drives: "left" or "right"'})
    raise MissingFact({"half_shaft": f'missing for this side: write kind = "half_shaft", side = "{side}"'})


def _front_driven(build: Build) -> bool:
    car = build.first(Car)
    return car is not None and car.driven_axle == "front"


def _limit_of(half_shaft: HalfShaft, end: str) -> FactRef:
    return half_shaft.inner_joint_angle_limit if end == "inner" else half_shaft.outer_joint_angle_limit
