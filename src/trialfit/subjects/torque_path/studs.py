"""Wheel studs: does the wheel stay where it is on its hub, driving and braking?

Answers   elements     torque_path.studs.AXLE
          slip_torque, locked_torque, preload    of one wheel
Not here  the hubs themselves (hubs.py)

Two ways of holding are looked at, each with its own torque. Full torque and braking come always: friction of the face, and of the
seats where the nuts are conical, has to hold them with a reserve. A shock comes seldom: a wheel on conical nuts has to climb out of
the cones or shear its studs; on flat seats nothing but friction holds, and without a seat written both are looked at.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, Requirement, Stake
from trialfit.evaluation.states import InStates
from trialfit.evaluation.verdict import Verdict, judge, share_kept
from trialfit.facts.quantity import FORCE, LENGTH, RATIO
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit, find_unit
from trialfit.handbook.fastening.fasteners import nut_factor_of_friction, preload_of_torque
from trialfit.handbook.fastening.screw_threads import stress_area
from trialfit.handbook.torque_path import wheel_joint
from trialfit.parts import Hub
from trialfit.subjects import load_states
from trialfit.subjects.torque_path import braking, loads, sentences
from trialfit.subjects.torque_path.behind import torque_formulas
from trialfit.subjects.torque_path.element import SUBJECT, Element, lacking
from trialfit.subjects.torque_path.events import Load
from trialfit.subjects.torque_path.gears import deciding, driven_axle, drives_all
from trialfit.subjects.torque_path.loads import state_names

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from typing import Any

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef


CAUTION = (
    "a wheel that moves on its hub breaks its studs: the maker's tightening figure and order outrank this estimate; clean the "
    "faces, leave no paint or spacer between them, tighten the nuts again after the first drive; local codes and "
    "licensed practice decide"
)
SEAT_DIAMETER = 4 / 3
"""Mean diameter of the seat of a wheel nut over that of the stud: 16 mm of 12 mm, common practice, no source."""

_NO_TORQUE = 1.0  # N·m: a wheel that lifts brakes with nothing

CONE_RESERVE = SHOCK_RESERVE = 1.0
"""Of friction where cones hold what it does not; over a shock, whose factors span what is found: choices, no source."""


def elements(build: Build) -> Iterator[Element]:
    """The studs of the driven axle, and of every other axle whose hubs are written: a wheel brakes, too."""
    axles = (driven_axle(build), *(axle for axle in ("front", "rear") if axle != driven_axle(build)))
    for axle in axles:
        hub = hub_of(build, axle)
        if hub is not None or axle == driven_axle(build):
            yield _studs(build, hub, axle)


def hub_of(build: Build, axle: str) -> Hub | None:
    """The hubs of an axle."""
    return next((hub for hub in build.all(Hub) if hub.axle == axle), None)


def written(hub: Hub | None, axle: str) -> Hub:
    """The hub, or MissingFact that names the axle whose hubs are missing."""
    if hub is None:
        raise MissingFact({Hub.kind: f'no hubs with axle = "{axle}" are written'})
    return hub


def is_driven(build: Build, axle: str) -> bool:
    """Whether the wheels of an axle drive."""
    return drives_all(build) or axle == driven_axle(build)


def _studs(build: Build, hub: Hub | None, axle: str) -> Element:
    driven = torque_formulas(build, Load.shock, axle, at_wheel=True) if is_driven(build, axle) else ()
    requirement = Requirement(
        id=f"{SUBJECT}.studs.{axle}",
        about=hub.name if hub else Hub.kind,
        says=(
            f"clamped by its studs, a {axle} wheel does not turn on its hub under full torque or braking (on flat seats "
            f"{wheel_joint.WHEEL_RESERVE} times that), and a shock does not shear its studs"
        ),
        value=partial(over_load, hub=hub, axle=axle),
        quantity=RATIO,
        stake=Stake.safety,
        limit=AtLeast(partial(_wanted, hub=hub, axle=axle)),
        source=COMMON_PRACTICE,
        formulas=(*driven, *braking.FORMULAS, *_formulas(hub)),
        shows=partial(_shown, hub=hub, axle=axle),
        caution=CAUTION,
        cure="Clean the faces to bare metal and use the maker's torque first; then fit hubs with more or larger studs on a larger pitch circle.",
    )
    lacks = lacking(*_facts(hub)) if hub else (f"{Hub.kind}, {axle}",)
    seat = f"{hub.name}.seat" if hub and not hub.seat else ""
    return Element(requirement, f"the {axle} wheel studs", partial(reserve, hub=hub, axle=axle), lacks, seat)


def _formulas(hub: Hub | None) -> tuple[Callable[..., Any], ...]:
    known = hub is not None and hub.stud_preload.written is not None
    by_nut = () if hub and hub.nut_factor.written is not None else (nut_factor_of_friction,)
    tightened = () if known else (preload_of_torque, *by_nut)
    cone = (wheel_joint.seat_friction, wheel_joint.stud_shear_force, wheel_joint.locked_torque)
    return (wheel_joint.wheel_slip_torque, *(() if hub and hub.seat == "flat" else cone), *tightened)


def _facts(hub: Hub) -> tuple[FactRef, ...]:
    """The facts of the clamp load of one wheel: the preload where it is known, else the tightening torque."""
    shared = hub.stud_count, hub.pitch_circle_diameter, hub.face_friction
    if hub.stud_preload.written is not None:
        return (*shared, hub.stud_preload, hub.stud_diameter) if hub.seat != "flat" else (*shared, hub.stud_preload)
    by_nut = (hub.nut_factor,) if hub.nut_factor.written is not None else (hub.nut_friction,)
    return (*shared, hub.stud_torque, hub.stud_diameter, *by_nut)


def preload(ev: Evaluation, hub: Hub, seat: str) -> Array:
    """Preload of one stud, N, (draws,)."""
    return ev(hub.stud_preload) if hub.stud_preload.written is not None else preload_by_nut(ev, hub, seat)


def preload_by_nut(ev: Evaluation, hub: Hub, seat: str) -> Array:
    """The same from the tightening torque of its nut, N, (draws,)."""
    torque, diameter = ev.each(hub.stud_torque, hub.stud_diameter)
    if hub.nut_factor.written is not None:
        return np.asarray(preload_of_torque(torque, ev(hub.nut_factor), diameter))
    friction, pitch = ev.each(hub.nut_friction, hub.stud_pitch)
    arm = SEAT_DIAMETER * diameter / (np.sin(wheel_joint.HALF_CONE) if seat == "cone" else 1.0)
    factor = nut_factor_of_friction(diameter, pitch, friction, friction, arm)
    return np.asarray(preload_of_torque(torque, factor, diameter))


def slip_torque(ev: Evaluation, hub: Hub, seat: str) -> Array:
    """Torque at which the friction of face and seats gives way, N·m, (draws,)."""
    count, circle, friction, *_ = ev.each(*_facts(hub))
    if seat == "cone":
        friction = friction + np.asarray(wheel_joint.seat_friction(ev(hub.nut_friction)))
    return np.asarray(wheel_joint.wheel_slip_torque(count, ev.of(preload, hub, seat), friction, circle / 2))


def locked_torque(ev: Evaluation, hub: Hub, seat: str) -> Array:
    """Torque at which the wheel moves on its hub for good, N·m, (draws,)."""
    if seat != "cone":
        return ev.of(slip_torque, hub, seat)
    count, circle, friction = ev.each(*_facts(hub)[:3])
    diameter, pitch, strength, seats = ev.each(
        hub.stud_diameter, hub.stud_pitch, hub.stud_yield_strength, hub.nut_friction
    )
    clamp = ev.of(preload, hub, seat)
    across = wheel_joint.stud_shear_force(stress_area(diameter, pitch), strength, clamp)
    return np.asarray(wheel_joint.locked_torque(count, clamp, friction, circle / 2, across, seats))


@dataclass(frozen=True)
class _Torques:
    """Torque of one wheel, (draws, states), with the names of its states; there may be none."""

    values: Array
    names: tuple[str, ...]


def _loads(ev: Evaluation, axle: str) -> tuple[_Torques, _Torques]:
    """Torque of one wheel that comes always, full torque and braking, and that which comes seldom: a shock."""
    stops = tuple(", ".join(filter(None, (name, "braking"))) for name in load_states.names(ev.build))
    braked = _Torques(ev.of(braking.brake_torque, axle), stops)
    if not is_driven(ev.build, axle):
        return braked, _Torques(np.zeros((ev.draws, 0)), ())
    columns = deciding(ev.build)
    steady, shock = (loads.at(loads.wheel, load, axle)(ev).only(*columns) for load in (Load.steady, Load.shock))
    always = np.concatenate([steady.seen, braked.values], axis=1)
    return (
        _Torques(always, (*state_names(ev.build, steady.states), *braked.names)),
        _Torques(shock.seen, state_names(ev.build, shock.states)),
    )


def _seats(hub: Hub) -> tuple[str, ...]:
    return (hub.seat,) if hub.seat else ("cone", "flat")


def _by_seat(ev: Evaluation, hub: Hub, axle: str, seat: str) -> tuple[InStates, Array]:
    """Torque held over torque seen in each state, and what is asked of each."""
    always, seldom = ev.of(_loads, axle)
    held = ev.of(slip_torque, hub, seat)[:, None] / np.maximum(always.values, _NO_TORQUE)
    locked = ev.of(locked_torque, hub, seat)[:, None] / np.maximum(seldom.values, _NO_TORQUE)
    values = InStates(np.concatenate([held, locked], axis=1), (*always.names, *seldom.names))
    reserve = CONE_RESERVE if seat == "cone" else wheel_joint.WHEEL_RESERVE
    asked = [reserve] * len(always.names) + [SHOCK_RESERVE] * len(seldom.names)
    return values, np.broadcast_to(np.array(asked), values.values.shape)


def _decided(ev: Evaluation, hub: Hub, axle: str) -> tuple[InStates, Array]:
    """The seat as written; without it both, where they come to the same verdict. Raises MissingFact where they do not."""
    found = [_by_seat(ev, hub, axle, seat) for seat in _seats(hub)]
    verdicts = {judge(share_kept((value.values - asked).min(axis=-1)), Stake.safety) for value, asked in found}
    if len(verdicts) > 1 or (len(found) > 1 and verdicts == {Verdict.unsettled}):
        raise MissingFact({f"{hub.name}.seat": hub.specs()["seat"].says})
    return min(found, key=lambda one: float((one[0].values[0] / one[1][0]).min()))


def over_load(ev: Evaluation, hub: Hub | None, axle: str) -> InStates:
    """Torque that one wheel carries over the torque it sees, in each state."""
    return ev.of(_decided, written(hub, axle), axle)[0]


def _wanted(ev: Evaluation, hub: Hub | None, axle: str) -> InStates:
    value, asked = ev.of(_decided, written(hub, axle), axle)
    return InStates(asked, value.names)


def reserve(ev: Evaluation, hub: Hub | None, axle: str) -> Array:
    """The least of these over what is asked: 1 is just at the limit."""
    value, asked = ev.of(_decided, written(hub, axle), axle)
    return np.asarray((value.values / asked).min(axis=-1))


def _shown(ev: Evaluation, hub: Hub | None, axle: str) -> str:
    hub = written(hub, axle)
    seat = hub.seat or min(_seats(hub), key=lambda one: float(ev.of(slip_torque, hub, one)[0]))
    count, circle, friction = (ev(ref)[0] for ref in _facts(hub)[:3])
    clamp = show(float(ev.of(preload, hub, seat)[0]), display_unit(FORCE))
    radius = show(float(circle / 2), find_unit(LENGTH, "mm"))
    seats = (
        f" with {sentences.ratio(wheel_joint.seat_friction(ev(hub.nut_friction)))} of the conical seats"
        if seat == "cone"
        else ""
    )
    held = f"= {sentences.torque(ev.of(slip_torque, hub, seat))} by friction"
    said = [
        f"{sentences.ratio(count)} studs × {clamp} × {radius} × {sentences.ratio(friction)} of the face{seats} {held}"
    ]
    if seat == "cone":
        said.append(
            f"{sentences.torque(ev.of(locked_torque, hub, seat))} before it climbs out of its cones or shears its studs"
        )
    return "; ".join([*said, *sentences.left_out(ev.build)])
