"""Hubs of the driven axle: their splines under the torque of one wheel.

Answers   elements   torque_path.hub.AXLE
Not here  the studs (studs.py); the bearings behind them, which carry the car and no drive torque

Asked where a hub from a weaker car stays, or where nobody says which car it comes from. A rating is compared with full torque, a
spline that is worked out with each load: its flanks, and the bar at its root with the reserves of a shaft (reserves.py).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.ranks import is_from_its_maker
from trialfit.evaluation.requirement import Source, SourceKind, Stake
from trialfit.facts.quantity import STRESS
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.torque_path import splines
from trialfit.parts import Hub
from trialfit.subjects.torque_path import loads, reserves, sentences
from trialfit.subjects.torque_path.behind import torque_formulas
from trialfit.subjects.torque_path.element import Compared, Element, Held, element_of, lacking, rating_source
from trialfit.subjects.torque_path.events import Load
from trialfit.subjects.torque_path.gears import driven_axle, drives_all
from trialfit.subjects.torque_path.loads import at
from trialfit.subjects.torque_path.reserves import YIELD, against_each
from trialfit.subjects.torque_path.studs import hub_of, written

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef
    from trialfit.subjects.torque_path.loads import Sides


_STRESS = display_unit(STRESS)
_CAUTION = "a hub holds the wheel on the car: the maker's manual outranks this figure; local codes and licensed practice decide"
_SPLINE = Source(
    "pressure on three quarters of the flanks (textbooks of machine elements), and the root of the spline as a bar: "
    f"{YIELD.text}",
    SourceKind.common_practice,
)
FORMULAS = (splines.flank_torque, *reserves.FORMULAS)

_TO_MEASURE = 4
"""How many facts of a spline are measured; the others have typical values."""


def elements(build: Build) -> Iterator[Element]:
    """The hubs of the driven axle, and of the other one too where all wheels drive and hubs are written for it."""
    for axle in _axles(build):
        hub = hub_of(build, axle)
        if hub is None or hub.origin != "as strong a car" or _has_figures(hub):
            yield _hub(build, hub, axle)


def _has_figures(hub: Hub) -> bool:
    """Whether a rating or the whole of a spline is written: then it is judged, whatever car it comes from."""
    return hub.rated_torque.written is not None or not lacking(*spline_facts(hub)[:_TO_MEASURE])


def _axles(build: Build) -> tuple[str, ...]:
    first = driven_axle(build)
    other = "front" if first == "rear" else "rear"
    return (first, other) if drives_all(build) and hub_of(build, other) else (first,)


def spline_facts(hub: Hub) -> tuple[FactRef, ...]:
    """Teeth, diameters and length, what the flanks bear, the steel and its notch."""
    return (
        hub.spline_teeth,
        hub.spline_outside_diameter,
        hub.spline_inside_diameter,
        hub.spline_length,
        hub.spline_pressure,
        hub.spline_yield_strength,
        hub.spline_notch_factor,
    )


def spline_capacity(ev: Evaluation, hub: Hub, load: Load) -> Array:
    """Torque that the spline in the hub carries of a load, by its flanks or by the bar at its root, N·m, (draws,)."""
    if len(lacking(*spline_facts(hub)[:_TO_MEASURE])) == _TO_MEASURE:  # nothing of it is written: one answer does
        raise MissingFact(_asked(hub))
    teeth, outside, inside, length, pressure, strength, notch = ev.each(*spline_facts(hub))
    flanks = splines.flank_torque(pressure, teeth, outside, inside, length)
    root = reserves.section_capacity(load, inside, np.zeros(ev.draws), strength, notch)
    return np.asarray(np.minimum(flanks, root))


def _asked(hub: Hub) -> dict[str, str]:
    spec = hub.specs()["origin"]
    spline = ", ".join(ref.spec.name for ref in spline_facts(hub)[:_TO_MEASURE])
    if hub.origin == "weaker car":
        return {hub.rated_torque.path: f"{hub.rated_torque.spec.says}; or {spline} to work it out"}
    return {f"{hub.name}.origin": f"{spec.says}; or {hub.rated_torque.spec.name}; or {spline} to work it out"}


def _hub(build: Build, hub: Hub | None, axle: str) -> Element:
    known = hub is not None and not lacking(*spline_facts(hub))

    def rating(ev: Evaluation) -> Array:
        return ev(written(hub, axle).rated_torque)[:, None]

    def carried(ev: Evaluation, load: Load) -> Array:
        return ev.of(spline_capacity, written(hub, axle), load)

    def rated_as(ev: Evaluation, _column: int) -> str:
        said = f"rated {sentences.torque(rating(ev))}"
        outranks = known and is_from_its_maker(written(hub, axle).rated_torque)
        return f"{said}; worked out beside it: {worked_out_as(ev, Load.steady)}" if outranks else said

    def worked_out_as(ev: Evaluation, load: Load) -> str:
        of = written(hub, axle)
        pressure, strength = (
            show(float(ev(ref)[0]), _STRESS) for ref in (of.spline_pressure, of.spline_yield_strength)
        )
        root = reserves.asked(load, sentences.ratio(ev(of.spline_notch_factor)))
        said = f"spline, {pressure} on its flanks; its root, yield {strength}, {root}"
        return f"{said}: {sentences.torque(carried(ev, load))} allowed"

    def sees(load: Load) -> Callable[..., Sides]:
        return at(loads.wheel, load, axle)

    by_rating = Compared(at(loads.wheel, Load.steady, axle), rating, rated_as)
    by_spline = against_each(sees, carried, worked_out_as)
    has_rating = hub is not None and hub.rated_torque.written is not None
    if has_rating and (not known or is_from_its_maker(hub.rated_torque if hub else None)):
        compared: tuple[Compared, ...] = (by_rating,)
    else:
        compared = (by_rating, *by_spline) if has_rating else by_spline
    lacks = (f"{Hub.kind}, {axle}",) if hub is None else () if has_rating or known else tuple(_asked(hub))
    return element_of(
        build,
        Held(f"hub.{axle}", compared),
        about=hub.name if hub else Hub.kind,
        title=f"the {axle} hubs",
        says=f"torque at one wheel stays within what the {axle} hubs carry, in every gear",
        source=rating_source(hub.rated_torque if hub else None) if compared == (by_rating,) else _SPLINE,
        formulas=(
            *torque_formulas(build, Load.shock, axle, at_wheel=True),
            *(() if compared == (by_rating,) else FORMULAS),
        ),
        lacks=lacks,
        stake=Stake.safety,
        caution=_CAUTION,
    )
