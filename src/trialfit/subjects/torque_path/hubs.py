"""Hubs and wheel studs of the driven axle.

Answers   elements   torque_path.hub.AXLE, torque_path.studs.AXLE
Not here braking, which can load the studs more than the drive does

Where all wheels drive and front hubs are written too, their final drive and tyres are taken to be like those at the rear.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, Requirement, Stake
from trialfit.facts.quantity import FORCE, LENGTH, RATIO
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit, find_unit
from trialfit.handbook.fastening.fasteners import preload_of_torque
from trialfit.handbook.torque_path import wheel_joint
from trialfit.parts import Hub
from trialfit.subjects.torque_path import loads, sentences
from trialfit.subjects.torque_path.behind import torque_formulas
from trialfit.subjects.torque_path.element import SUBJECT, Element, Held, element_of, lacking, rating_source
from trialfit.subjects.torque_path.gears import driven_axle, drives_all
from trialfit.subjects.torque_path.loads import Load, at

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef


_CAUTION = (
    "a wheel that moves on its hub breaks its studs: the maker's tightening figure and order outrank this estimate; clean the "
    "faces, leave no paint or spacer between them, tighten the nuts again after the first drive; local codes and "
    "licensed practice decide"
)
_HUB_CAUTION = "a hub holds the wheel on the car: the maker's manual outranks this figure; local codes and licensed practice decide"


def elements(build: Build) -> Iterator[Element]:
    """The hubs of the driven axle, and of the other one too where all wheels drive and hubs are written for it."""
    for axle in _axles(build):
        hub = _hub_of(build, axle)
        yield _hub(build, hub, axle)
        yield _studs(build, hub, axle)


def _axles(build: Build) -> tuple[str, ...]:
    first = driven_axle(build)
    other = "front" if first == "rear" else "rear"
    return (first, other) if drives_all(build) and _hub_of(build, other) else (first,)


def _hub_of(build: Build, axle: str) -> Hub | None:
    return next((hub for hub in build.all(Hub) if hub.axle == axle), None)


def _written(hub: Hub | None, axle: str) -> Hub:
    """The hub, or MissingFact that names the axle whose hubs are missing."""
    if hub is None:
        raise MissingFact({Hub.kind: f'no hubs with axle = "{axle}" are written'})
    return hub


def _hub(build: Build, hub: Hub | None, axle: str) -> Element:
    def carried(ev: Evaluation) -> Array:
        return ev(_written(hub, axle).rated_torque)[:, None]

    def how(ev: Evaluation, _column: int) -> str:
        return f"rated {sentences.torque(carried(ev))}"

    return element_of(
        build,
        Held(f"hub.{axle}", at(loads.wheel, Load.steady, axle), carried, how),
        about=hub.name if hub else Hub.kind,
        title=f"the {axle} hubs",
        says=f"full torque at one wheel stays within the rating of the {axle} hubs, in every gear",
        source=rating_source(hub.rated_torque if hub else None),
        formulas=torque_formulas(build, Load.steady, axle, at_wheel=True),
        lacks=lacking(hub.rated_torque) if hub else (f"{Hub.kind}, {axle}",),
        stake=Stake.safety,
        caution=_HUB_CAUTION,
    )


def _studs(build: Build, hub: Hub | None, axle: str) -> Element:
    tightened = () if hub and hub.stud_preload.written is not None else (preload_of_torque,)
    requirement = Requirement(
        id=f"{SUBJECT}.studs.{axle}",
        about=hub.name if hub else Hub.kind,
        says=f"clamped by its studs, a {axle} wheel carries {wheel_joint.WHEEL_RESERVE} times the largest shock torque before it turns on its hub",
        value=partial(_slip_over_shock, hub=hub, axle=axle),
        quantity=RATIO,
        stake=Stake.safety,
        limit=AtLeast(wheel_joint.WHEEL_RESERVE),
        source=COMMON_PRACTICE,
        formulas=(*torque_formulas(build, Load.shock, axle, at_wheel=True), wheel_joint.wheel_slip_torque, *tightened),
        shows=partial(_studs_shown, hub=hub, axle=axle),
        caution=_CAUTION,
        cure="Clean the faces to bare metal and use the maker's torque first; then fit hubs with more or larger studs on a larger pitch circle.",
    )
    lacks = lacking(*_stud_facts(hub)) if hub else (f"{Hub.kind}, {axle}",)
    return Element(requirement, f"the {axle} wheel studs", partial(_studs_reserve, hub=hub, axle=axle), lacks)


def _stud_facts(hub: Hub) -> tuple[FactRef, ...]:
    """The facts of the clamp load of one wheel: the preload where it is known, else the tightening torque."""
    shared = hub.stud_count, hub.pitch_circle_diameter, hub.face_friction
    if hub.stud_preload.written is not None:
        return (*shared, hub.stud_preload)
    return (*shared, hub.stud_torque, hub.stud_diameter, hub.nut_factor)


def slip_torque(ev: Evaluation, hub: Hub) -> Array:
    """Torque at which one wheel turns on its hub, N·m, (draws,)."""
    count, circle, friction, *_ = ev.each(*_stud_facts(hub))
    return np.asarray(wheel_joint.wheel_slip_torque(count, ev.of(preload, hub), friction, circle / 2))


def preload(ev: Evaluation, hub: Hub) -> Array:
    """Preload of one stud, N, (draws,)."""
    if hub.stud_preload.written is not None:
        return ev(hub.stud_preload)
    torque, diameter, factor = ev.each(hub.stud_torque, hub.stud_diameter, hub.nut_factor)
    return np.asarray(preload_of_torque(torque, factor, diameter))


def _slip_over_shock(ev: Evaluation, hub: Hub | None, axle: str) -> Array:
    carried = ev.of(slip_torque, _written(hub, axle))
    return np.asarray(carried / ev.of(loads.wheel, Load.shock, axle).seen.max(axis=-1))


def _studs_reserve(ev: Evaluation, hub: Hub | None, axle: str) -> Array:
    return _slip_over_shock(ev, hub, axle) / wheel_joint.WHEEL_RESERVE


def _studs_shown(ev: Evaluation, hub: Hub | None, axle: str) -> str:
    hub = _written(hub, axle)
    sides = ev.of(loads.wheel, Load.shock, axle)
    gear = int(np.argmax(sides.seen[0]))
    gear_name = sentences.spoken(sentences.gear_names(ev.build)[gear])
    count, circle, friction = (ev(ref)[0] for ref in _stud_facts(hub)[:3])
    clamp = show(float(ev.of(preload, hub)[0]), display_unit(FORCE))
    radius = show(float(circle / 2), find_unit(LENGTH, "mm"))
    return "; ".join(
        [
            f"{sentences.ratio(count)} studs × {clamp} × {sentences.ratio(friction)} × {radius} = {sentences.torque(ev.of(slip_torque, hub))}",
            f"over {sentences.torque(sides.seen[0, gear])} at one wheel in {gear_name}, where {sentences.who_sets_it(sides, gear)}",
            *sentences.left_out(ev.build),
        ]
    )
