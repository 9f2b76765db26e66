"""Half-shafts from a final drive that is fixed to the body: what their joints bear for a moment and for long, and their plunge.

Answers   requirements   half_shaft_angle and half_shaft_running_angle for SIDE.inner and SIDE.outer, half_shaft_evenness.SIDE with
                         cardan joints, plunge.SIDE.in and .out
Not here  half-shafts inside a live axle: they have no joints; strength (torque_path); geometry (half_shaft_paths.py)

An angle at which a joint binds is looked at in bump and droop, on both steering locks and with the final drive moving on its
mounts, together. What a joint bears for long is looked at at ride height, straight ahead. A swing axle has an inner joint only, and
no plunge.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.evaluation.states import InStates
from trialfit.facts.quantity import ANGLE, LENGTH, ROTATIONAL_ACCELERATION
from trialfit.handbook.driveline.axle_travel import outward_at, rise_of_nearest, swing_outward
from trialfit.handbook.driveline.joint_angle_limits import angle_for_acceleration
from trialfit.handbook.driveline.shaft_lines import residual_angle, slip_travel, torsional_acceleration, true_angle
from trialfit.handbook.driveline.steered_wheels import stub_direction
from trialfit.parts import HalfShaft
from trialfit.subjects.driveline.angles import BINDING
from trialfit.subjects.driveline.evenness import RESIDUAL, RESIDUAL_LIMIT
from trialfit.subjects.driveline.half_shaft_paths import (
    angles,
    at_ride,
    evenness,
    front_driven,
    half_shaft,
    is_steered,
    placing,
    plunges,
    shaft_speed,
)
from trialfit.subjects.driveline.joint_limits import INERTIA_LIMIT, SHAKEN, maker_or
from trialfit.subjects.shaft_line import CARDAN, RIGID, is_live

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef


PLUNGE_LEFT = 0.003
_PULLS_OUT = "A joint that pulls apart lets the shaft flail: wheels hanging, turn it by hand before you drive."
_BINDS = {
    "inner": Source("from memory: a plunging joint allows 20 to 23°", SourceKind.from_memory),
    "outer": Source("from memory: a fixed joint allows 45°", SourceKind.from_memory),
}
_RUNS = {
    "inner": Source("from memory: 6 to 12° for long life of a plunging joint", SourceKind.from_memory),
    "outer": Source("from memory: 7 to 15° for long life of a fixed joint", SourceKind.from_memory),
}
_CARDAN_BINDS = Source("from memory: a cardan joint of a half-shaft binds at 15 to 30°", SourceKind.from_memory)


def requirements(build: Build) -> Iterator[Requirement]:
    """Limits of the half-shafts of both sides; nothing where they run inside a live axle."""
    if is_live(build) and not front_driven(build):
        return
    for side in ("left", "right"):
        one = next((one for one in build.all(HalfShaft) if one.side == side), None)
        about = one.name if one else "half_shaft"
        swings = one is not None and one.outer_joint == RIGID
        ends = ("inner",) if swings else ("inner", "outer")
        for end in ends:
            yield _binds(build, side, end, one)
        for end in ends:
            yield _runs(side, end, one)
        if one is not None and CARDAN in {one.inner_joint, one.outer_joint}:
            yield _turns_evenly(side, one)
        if not swings:
            for way in ("in", "out"):
                yield _plunge(side, way, about)


def _binds(build: Build, side: str, end: str, one: HalfShaft | None) -> Requirement:
    steered = end == "outer" and is_steered(build, one)
    usual = _CARDAN_BINDS if one is not None and _joint(one, end) == CARDAN else _BINDS[end]
    swings = one is not None and one.outer_joint == RIGID
    return Requirement(
        id=f"driveline.half_shaft_angle.{side}.{end}",
        about=one.name if one else "half_shaft",
        says=f"the {end} joint of the {side} half-shaft does not bind from full bump to full droop"
        + (", straight ahead and on both locks" if steered else "")
        + ", with the final drive up and down on its mounts",
        value=partial(angles, side=side, end=end),
        quantity=ANGLE,
        stake=Stake.safety,
        limit=AtMost(lambda ev: ev(_limit_of(half_shaft(ev, side), end))),
        source=maker_or(_limit_of(one, end), usual) if one else usual,
        formulas=(true_angle, swing_outward if swings else outward_at, *((stub_direction,) if steered else ())),
        caution=BINDING,
        cure="Limit the droop or the steering lock, bring the final drive nearer to the height of the wheels, or fit joints with a "
        "larger angle.",
    )


def _runs(side: str, end: str, one: HalfShaft | None) -> Requirement:
    cardan = one is not None and _joint(one, end) == CARDAN
    source = SHAKEN if cardan else maker_or(_working_of(one, end), _RUNS[end]) if one else _RUNS[end]

    def bound(ev: Evaluation) -> Array:
        if cardan:
            return np.asarray(angle_for_acceleration(INERTIA_LIMIT, ev.of(shaft_speed)))
        return ev(_working_of(half_shaft(ev, side), end))

    return Requirement(
        id=f"driveline.half_shaft_running_angle.{side}.{end}",
        about=one.name if one else "half_shaft",
        says=f"at ride height, straight ahead, the {end} joint of the {side} half-shaft stays within the angle that it bears for long",
        value=partial(at_ride, side=side),
        quantity=ANGLE,
        stake=Stake.durability,
        limit=AtMost(bound),
        source=source,
        formulas=(true_angle, *((angle_for_acceleration,) if cardan else ())),
        cure="Bring the final drive nearer to the height of the wheels, or take out some of the drop or lift of the springs.",
    )


def _turns_evenly(side: str, one: HalfShaft) -> Requirement:
    pair = "with its two cardan joints" if one.inner_joint == one.outer_joint else "with one cardan joint"
    return Requirement(
        id=f"driveline.half_shaft_evenness.{side}",
        about=one.name,
        says=f"the {side} half-shaft, {pair}, turns its wheel evenly enough at ride height, straight ahead, at the highest speed",
        value=partial(evenness, side=side),
        quantity=ROTATIONAL_ACCELERATION,
        stake=Stake.durability,
        limit=AtMost(RESIDUAL_LIMIT),
        source=RESIDUAL,
        formulas=(torsional_acceleration, residual_angle),
        cure="Set both yokes in phase, bring the shaft nearer to level, or fit constant-velocity joints.",
    )


def _plunge(side: str, way: str, about: str) -> Requirement:
    return Requirement(
        id=f"driveline.plunge.{side}.{way}",
        about=about,
        says=f"the {side} half-shaft can still {'close' if way == 'in' else 'open'} at its {'shortest' if way == 'in' else 'longest'}, "
        "with the final drive moving on its mounts",
        value=partial(_plunge_left, side=side, way=way),
        quantity=LENGTH,
        stake=Stake.safety if way == "out" else Stake.durability,
        limit=AtLeast(PLUNGE_LEFT),
        source=COMMON_PRACTICE,
        formulas=(slip_travel, outward_at, rise_of_nearest),
        caution=_PULLS_OUT if way == "out" else "",
        cure="Fit a shaft of another length, or an inner joint with more plunge.",
    )


def _plunge_left(ev: Evaluation, side: str, way: str) -> InStates:
    one = half_shaft(ev, side)
    left, *_ = ev.each(one.plunge_in if way == "in" else one.plunge_out, *placing(one))  # all that is missing at once
    grown = ev.of(plunges, side)
    return InStates(left[:, None] + (grown.values if way == "in" else -grown.values), grown.names)


def _joint(one: HalfShaft, end: str) -> str | None:
    return one.inner_joint if end == "inner" else one.outer_joint


def _limit_of(one: HalfShaft, end: str) -> FactRef:
    return one.inner_joint_angle_limit if end == "inner" else one.outer_joint_angle_limit


def _working_of(one: HalfShaft, end: str) -> FactRef:
    return one.inner_joint_working_angle if end == "inner" else one.outer_joint_working_angle
