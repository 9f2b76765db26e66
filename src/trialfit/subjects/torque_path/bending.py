"""Semi-floating shafts of a live axle: the bar that turns the wheel carries the car, and where it breaks the wheel leaves.

Answers   requirements   torque_path.half_shaft_bending.SIDE
Not here  torsion alone (half_shafts.py); axle tubes

Looked at in each load state: over a bump with full torque, in a bend on the best grip on the outer and on the inner wheel, and every
day: the load at rest with a gentle bend, fully reversed with each turn of the wheel.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import COMMON_PRACTICE, AtMost, Requirement, Stake
from trialfit.evaluation.states import crossed
from trialfit.facts.quantity import LENGTH, STRESS
from trialfit.facts.showing import show
from trialfit.facts.units import find_unit
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.torque_path import semi_floating as handbook
from trialfit.handbook.torque_path import torsion
from trialfit.parts import Car, HalfShaft
from trialfit.subjects import load_states
from trialfit.subjects.shaft_line import may_be_live
from trialfit.subjects.torque_path import braking, grip, loads
from trialfit.subjects.torque_path.element import SUBJECT
from trialfit.subjects.torque_path.events import Load
from trialfit.subjects.torque_path.gears import deciding, driven_axle

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.states import InStates
    from trialfit.handbook.arrays import Array


SIDES = ("left", "right")
CASES = ("bump at full torque", "outer wheel in a bend", "inner wheel in a bend", "every day")
GENTLE = 0.3
"""Side force over wheel load in the bends of every day: common practice, no source."""

_CAUTION = (
    "where such a shaft breaks at its bearing the wheel leaves the car: look for a polished ring, rust pits and oil there once a year; "
    "the maker's manual outranks this figure; local codes and licensed practice decide"
)


def requirements(build: Build) -> Iterator[Requirement]:
    """Both shafts of a driven live axle, unless a hub with bearings of its own carries the wheel."""
    car = build.first(Car)
    if car is None or not may_be_live(build) or driven_axle(build) != "rear":
        return
    if car.rear_suspension is None and not build.all(HalfShaft):
        return
    for side in SIDES:
        shaft = next((one for one in build.all(HalfShaft) if one.side == side), None)
        if shaft is not None and shaft.bearing == "full-floating":
            continue
        yield Requirement(
            id=f"{SUBJECT}.half_shaft_bending.{side}",
            about=shaft.name if shaft else HalfShaft.kind,
            says=f"bent by the wheel's load and turned by its torque, the {side} half-shaft stays below yield at its bearing, and below its fatigue strength every day",
            value=partial(stress, shaft=shaft, side=side),
            quantity=STRESS,
            stake=Stake.safety,
            limit=AtMost(partial(allowed, shaft=shaft, side=side)),
            source=COMMON_PRACTICE,
            formulas=(handbook.bearing_moment, handbook.bending_stress, torsion.shear_stress, handbook.combined_stress),
            shows=partial(_shown, shaft=shaft),
            caution=_CAUTION,
            cure="Fit wheels with less outward offset, a thicker or stronger shaft, or an axle with full-floating hubs.",
        )


def _written(shaft: HalfShaft | None, side: str) -> HalfShaft:
    if shaft is None:
        raise MissingFact({HalfShaft.kind: f'no half-shaft with side = "{side}" is written'})
    return shaft


def _moments(ev: Evaluation, shaft: HalfShaft) -> Array:
    """Bending moment at the bearing, N·m, (draws, load states, cases)."""
    car = ev.part(Car)
    _, offset = ev.each(shaft.bearing_diameter, shaft.bearing_offset)
    at_rest = ev.of(load_states.rear_axle_masses) * STANDARD_GRAVITY / 2
    friction, offset, radius = (one[:, None] for one in (ev.of(grip.upper_grip), offset, ev.of(braking.radius, "rear")))
    height, track = (one[:, None] for one in ev.each(car.centre_of_mass_height, car.rear_track))
    moved = np.minimum(2 * friction * height / track, 1.0)  # until the inner wheel lifts
    outer, inner = at_rest * (1 + moved), at_rest * (1 - moved)
    moments = (
        handbook.bearing_moment(handbook.BUMP * at_rest, offset),
        handbook.bearing_moment(outer, offset, friction * outer, radius),
        handbook.bearing_moment(inner, offset, -friction * inner, radius),
        handbook.bearing_moment(at_rest, offset, -GENTLE * at_rest, radius),
    )
    return np.asarray(np.abs(np.stack([np.asarray(one) for one in moments], axis=-1)))


def stress(ev: Evaluation, shaft: HalfShaft | None, side: str) -> InStates:
    """Stress at the bearing in each load state and case, Pa: with full torque over a bump, without any in a bend."""
    car = ev.part(Car)
    if car.rear_suspension is None:
        raise MissingFact({f"{car.name}.rear_suspension": 'type of rear suspension: "independent" or "live axle"'})
    shaft = _written(shaft, side)
    diameter = ev(shaft.bearing_diameter)[:, None, None]
    bent = np.asarray(handbook.bending_stress(ev.of(_moments, shaft), diameter))
    sides = loads.at(loads.wheel, Load.steady, "rear")(ev).only(*deciding(ev.build))
    turned = np.asarray(torsion.shear_stress(sides.seen.max(axis=-1), diameter[:, 0, 0]))[:, None, None]
    with_torque = np.array([name == CASES[0] for name in CASES])
    whole = np.asarray(handbook.combined_stress(bent, turned * with_torque))
    return crossed(whole, load_states.names(ev.build), CASES)


def allowed(ev: Evaluation, shaft: HalfShaft | None, side: str) -> InStates:
    """What the steel bears in each of them, Pa: yield with its reserve, or what it bears for good."""
    strength = ev(_written(shaft, side).yield_strength)
    seldom, always = strength / torsion.YIELD_RESERVE, strength * handbook.FATIGUE_SHARE
    bears = np.stack([seldom, seldom, seldom, always], axis=-1)[:, None]
    names = load_states.names(ev.build)
    return crossed(np.broadcast_to(bears, (ev.draws, len(names), len(CASES))), names, CASES)


def _shown(ev: Evaluation, shaft: HalfShaft | None) -> str:
    if shaft is None:
        return ""
    bar, out = (
        show(float(ev(ref)[0]), find_unit(LENGTH, "mm")) for ref in (shaft.bearing_diameter, shaft.bearing_offset)
    )
    return f"bar of {bar}, tyre {out} outside of its bearing"
