"""Where a half-shaft goes and how its joints bend: bump and droop, steering lock, and the final drive on its mounts, together.

Answers   angles           of one joint in every state, and at_ride straight ahead
          plunges          how much longer the shaft becomes, in states
          angle_over       the angle of the inner joint at any rise of the wheel
          evenness         angular acceleration of the wheel from cardan joints
          half_shaft       of a side; is_steered, front_driven
Not here  limits (half_shafts.py); formulas (handbook axle_travel, steered_wheels, shaft_lines)

The inner joint's own axis is square to the car, and the stub's too while the wheel points straight ahead: camber and toe are left
out. The stub turns about the steering axis, on which the outer joint is taken to lie.
Shapes    (positions, draws) and (positions, draws, 3)
"""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.states import InStates
from trialfit.handbook.driveline.axle_travel import outward_at, rise_of_nearest, swing_outward
from trialfit.handbook.driveline.shaft_lines import (
    direction,
    direction_between,
    residual_angle,
    slip_travel,
    torsional_acceleration,
    true_angle,
)
from trialfit.handbook.driveline.steered_wheels import stub_direction
from trialfit.parts import Car, HalfShaft
from trialfit.subjects.driveline.axle_moving import suspension
from trialfit.subjects.line import final_ratio, highest_shaft_speed
from trialfit.subjects.shaft_line import CARDAN, RIGID

if TYPE_CHECKING:
    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef

_TO_DRIVE_AXES = np.array([-1.0, -1.0, 1.0])
_RISES = ("ride height", "full bump", "full droop")
_STEERED = ("straight ahead", "left lock", "right lock")
_MOVED = ("", "final drive lifted", "final drive sunk")
_ASIDE = ("final drive moved in", "final drive moved out")


def angles(ev: Evaluation, side: str, end: str) -> InStates:
    """Angle of the inner or outer joint, rad: rise, steering lock for the outer joint, and the final drive up and down."""
    one = ev.of(half_shaft, side)
    rises = _rises(ev, one)
    up = ev(one.inner_movement)
    lifted = np.stack([np.zeros(up.shape), up, -up])
    shafts = _directions(ev, side, np.repeat(rises, len(_MOVED), axis=0), np.tile(lifted, (len(_RISES), 1)))
    moved = tuple(", ".join(filter(None, both)) for both in product(_RISES, _MOVED))
    if end == "inner" or not is_steered(ev.build, one):
        return InStates(np.asarray(true_angle(_axis(side), shafts)).T, moved)
    stubs = ev.of(_stubs, side)
    found = np.asarray(true_angle(stubs[:, None], shafts[None]))
    names = tuple(f"{state}, {steer}" for steer in _STEERED for state in moved)
    return InStates(found.reshape(-1, ev.draws).T, names)


def at_ride(ev: Evaluation, side: str) -> Array:
    """Angle of both joints at ride height, straight ahead, rad."""
    still = np.zeros((1, ev.draws))
    return np.asarray(true_angle(_axis(side), _directions(ev, side, still, still))[0])  # type: ignore[index]


def angle_over(ev: Evaluation, side: str, rises: Array) -> Array:
    """Angle of the joints of a half-shaft straight ahead, rad, at rises of its wheel; both (positions, draws)."""
    return np.asarray(true_angle(_axis(side), _directions(ev, side, rises, np.zeros(rises.shape))))


def plunges(ev: Evaluation, side: str) -> InStates:
    """How much longer than at ride height a half-shaft becomes, m: rise, and the final drive moving along it."""
    one = ev.of(half_shaft, side)
    rises = np.stack([*_rises(ev, one), *_nearest(ev, side)])
    inner, moved = _ends(ev, side, rises)
    outer = _ends(ev, side, np.zeros((1, ev.draws)))[1][0]
    aside = ev(one.inner_movement)[:, None] * [0.0, 1.0 if side == "left" else -1.0, 0.0]
    grown = np.asarray(slip_travel(inner, outer, moved[:, None], np.stack([inner - aside, inner + aside])[None]))
    where = (*_RISES, "between ride height and bump", "between ride height and droop")
    return InStates(grown.reshape(-1, ev.draws).T, tuple(", ".join(both) for both in product(where, _ASIDE)))


def _nearest(ev: Evaluation, side: str) -> tuple[Array, Array]:
    """The rises at which the shaft is shortest above and below ride height, within the travel."""
    _, y, z, _, out_y, out_z, bump, droop, at_bump, at_droop = ev.each(*placing(ev.of(half_shaft, side)))
    out, up = np.abs(out_y - y), out_z - z
    above = rise_of_nearest(out, up, at_bump / np.where(bump > 0, bump, np.inf))
    below = rise_of_nearest(out, up, -at_droop / np.where(droop > 0, droop, np.inf))
    return np.clip(above, 0, bump), np.clip(below, -droop, 0)


def evenness(ev: Evaluation, side: str) -> Array:
    """Angular acceleration that the cardan joints of a half-shaft cause at its wheel, at ride height, straight ahead, rad/s²."""
    one = ev.of(half_shaft, side)
    still = np.zeros((1, ev.draws))
    axis = np.broadcast_to(_axis(side), (ev.draws, 3))
    members = [axis, _directions(ev, side, still, still)[0]]
    uneven = [one.inner_joint == CARDAN]
    if one.outer_joint != RIGID:
        members.append(axis)
        uneven.append(one.outer_joint == CARDAN)
    twists = ev(one.yoke_twist)[None] if all(uneven) and len(uneven) > 1 else 0.0
    return np.asarray(torsional_acceleration(residual_angle(np.stack(members), twists, uneven), ev.of(shaft_speed)))


def shaft_speed(ev: Evaluation) -> Array:
    """Highest speed of the half-shafts, rad/s."""
    return ev.of(highest_shaft_speed) / ev.of(final_ratio)


def half_shaft(ev: Evaluation, side: str) -> HalfShaft:
    """The half-shaft of a side. Raises MissingFact where it is not written, or not known whether there are such."""
    if not front_driven(ev.build):
        suspension(ev)
    for one in ev.build.all(HalfShaft):
        if one.side == side:
            return one
    for one in ev.build.all(HalfShaft):
        if one.side is None:
            raise MissingFact({f"{one.name}.side": 'which wheel it drives: "left" or "right"'})
    raise MissingFact({"half_shaft": f'missing for this side: write kind = "half_shaft", side = "{side}"'})


def front_driven(build: Build) -> bool:
    """Whether only the front wheels are driven."""
    car = build.first(Car)
    return car is not None and car.driven_axle == "front"


def is_steered(build: Build, one: HalfShaft | None) -> bool:
    """Whether the wheel of a half-shaft is steered: those of a driven front axle are, and both wheels of an axle or neither.

    A "no" at one of them counts only where the other says so too.
    """
    said = [shaft.steered for shaft in build.all(HalfShaft)] or [None if one is None else one.steered]
    return any(word == "yes" or (word is None and front_driven(build)) for word in said)


def placing(one: HalfShaft) -> tuple[FactRef, ...]:
    """The facts that say where a half-shaft is and where it goes."""
    return (
        *(one.inner_x, one.inner_y, one.inner_z, one.outer_x, one.outer_y, one.outer_z),
        *(one.bump_travel, one.droop_travel, one.outward_at_bump, one.outward_at_droop),
    )


def _rises(ev: Evaluation, one: HalfShaft) -> Array:
    bump, droop = ev.each(*placing(one))[6:8]
    return np.stack([np.zeros(bump.shape), bump, -droop])


def _axis(side: str) -> Array:
    """The axis of the final drive's output, in the axes of the drive: looking rearward, the car's left is at the right hand."""
    return direction(0.0, -np.pi / 2 if side == "left" else np.pi / 2)


def _stubs(ev: Evaluation, side: str) -> Array:
    """Where the stub of a steered wheel points in each of _STEERED, in the axes of the drive, (ways, draws, 3)."""
    car = ev.part(Car)
    inside, outside, kingpin, caster = ev.each(
        car.steering_lock, car.steering_lock_outside, car.kingpin_inclination, car.caster
    )
    if car.steering_lock_outside.written is None:
        outside = np.minimum(inside, outside)
    elif car.steering_lock.written is None:
        inside = np.maximum(inside, outside)
    left, right = (inside, outside) if side == "left" else (outside, inside)
    steer = np.stack([np.zeros(inside.shape), left, -right])
    return np.asarray(stub_direction(steer, 1.0 if side == "left" else -1.0, kingpin, caster) * _TO_DRIVE_AXES)


def _ends(ev: Evaluation, side: str, rises: Array) -> tuple[Array, Array]:
    """The inner joint at rest, (draws, 3), and the outer one at each rise, (positions, draws, 3), m."""
    one = ev.of(half_shaft, side)
    x, y, z, out_x, out_y, out_z, bump, droop, at_bump, at_droop = ev.each(*placing(one))
    inner, outer = np.stack([x, y, z], axis=-1), np.stack([out_x, out_y, out_z], axis=-1)
    leftward = 1.0 if side == "left" else -1.0
    if one.outer_joint == RIGID:
        outward = np.asarray(swing_outward((out_y - y) * leftward, out_z - z, rises))
    else:
        outward = np.asarray(outward_at(rises, bump, droop, at_bump, at_droop))
    return inner, outer + np.stack([np.zeros(rises.shape), leftward * outward, rises], axis=-1)


def _directions(ev: Evaluation, side: str, rises: Array, lifted: Array) -> Array:
    """The shaft from its inner joint, lifted with the final drive, to its outer one at a rise, (positions, draws, 3)."""
    inner, outer = _ends(ev, side, rises)
    up = np.stack([np.zeros(lifted.shape), np.zeros(lifted.shape), lifted], axis=-1)
    return direction_between(inner + up, outer)
