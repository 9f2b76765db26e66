"""The crane: what its plate allows at the reach of the lift, and whether it reaches at all.

Answers   requirements   boom.LIFT, and reach.LIFT where the reach that is needed is written
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import LENGTH, MASS
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.lifting.hoisting import boom_rating, centre_of_mass
from trialfit.parts import Crane, Lift
from trialfit.subjects.lifting.cautions import HOISTING
from trialfit.subjects.lifting.hoisting import mass

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


PLATE = Source("the plate on the crane, at the next longer hole of the boom, as written", SourceKind.manual)
JERK = 1.5
"""Pull over weight where the release valve is opened and shut again suddenly: common practice, no source; up to 1.25 for a hand pump."""
TOO_HEAVY = (
    "Use a shorter hole of the boom, take parts off the load, or use a crane whose plate allows it at this reach."
)
TOO_SHORT = "Use a longer hole whose rating is enough, take parts off at the nose, or lift over the wing."
OVER_THE_PLACE = Source("set by the car: the hook must come over the place", SourceKind.builder)


def requirements(build: Build) -> Iterator[Requirement]:
    """What the crane of each lift must carry."""
    for lift in build.all(Lift):
        yield Requirement(
            id=f"lifting.boom.{lift.name}",
            about=lift.name,
            says=f"the crane is rated for the load of {lift.name}, dynamic factor included, at the reach of the boom",
            value=lambda ev, one=lift: ev.of(mass, one) * ev(one.dynamic_factor),  # type: ignore[misc]
            quantity=MASS,
            stake=Stake.safety,
            limit=AtMost(partial(allowed, lift=lift)),
            source=PLATE,
            formulas=(boom_rating, centre_of_mass),
            shows=partial(_other_holes, lift=lift),
            caution=HOISTING,
            cure=" ".join(filter(None, (_no_such_hole(build, lift), TOO_HEAVY))),
        )
        if lift.required_reach.written:
            yield Requirement(
                id=f"lifting.reach.{lift.name}",
                about=lift.name,
                says=f"the boom reaches over the place of the load of {lift.name}",
                value=partial(reach, lift=lift),
                quantity=LENGTH,
                stake=Stake.durability,
                limit=AtLeast(lambda ev, one=lift: ev(one.required_reach)),  # type: ignore[misc]
                source=OVER_THE_PLACE,
                cure=" ".join(filter(None, (_no_such_hole(build, lift), TOO_SHORT))),
                caution=HOISTING,
            )


def crane_of(ev: Evaluation, lift: Lift) -> Crane:
    """The crane of a lift: the one it names, or the only one there is. Raises MissingFact."""
    found = find_crane(ev.build, lift)
    if found is None:
        raise MissingFact({f"{lift.name}.crane": lift.specs()["crane"].says})
    return found


def find_crane(build: Build, lift: Lift) -> Crane | None:
    """The same; None where a lift names no crane and there is not exactly one."""
    named = build.named(lift.crane)
    cranes = build.all(Crane)
    if isinstance(named, Crane):
        return named
    return cranes[0] if len(cranes) == 1 else None


def _no_such_hole(build: Build, lift: Lift) -> str:
    """A sentence where the hole that is written is not on the plate; nothing else."""
    hole, crane = lift.hole.written, find_crane(build, lift)
    holes = min(len(crane.hole_reaches), len(crane.hole_ratings)) if crane else 0
    if hole is None or not holes or 1 <= round(hole.si) <= holes:
        return ""
    return f"{crane.name if crane else ''} has {holes} holes: hole {hole.si:g} does not exist, and no load is allowed there."


def _plate(ev: Evaluation, lift: Lift) -> tuple[Array, Array]:
    """Reaches [m] and ratings [kg] of the holes, as the plate prints them."""
    crane = crane_of(ev, lift)
    reaches = ev.rows(crane.hole_reaches, f"{crane.name}.hole_reaches")
    ratings = ev.rows(crane.hole_ratings, f"{crane.name}.hole_ratings")
    return reaches[0], ratings[0]


def hole_of(ev: Evaluation, lift: Lift) -> Array:
    """The hole that is used, counted from 1; that at the measured reach, or beyond the last."""
    if lift.hole.written is not None:
        return np.rint(ev(lift.hole)).astype(int)
    reaches, _ = _plate(ev, lift)
    return np.asarray(np.searchsorted(reaches, ev(lift.reach) - 1e-9) + 1)


def _hole(ev: Evaluation, lift: Lift) -> tuple[Array, Array]:
    """Reach and rating of the hole that is used, m and kg: nothing for a hole that the plate does not have."""
    plate = _plate(ev, lift)
    hole = hole_of(ev, lift)
    holes = min(one.size for one in plate)
    is_there = (hole >= 1) & (hole <= holes)
    at_hole = np.clip(hole, 1, max(holes, 1)) - 1
    return tuple(np.where(is_there, one[at_hole], 0.0) for one in plate)  # type: ignore[return-value]


def reach(ev: Evaluation, lift: Lift) -> Array:
    """Reach of the boom, m: that of the hole that is used, as the plate prints it, or as measured."""
    return ev(lift.reach) if lift.hole.written is None else _hole(ev, lift)[0]


def allowed(ev: Evaluation, lift: Lift) -> Array:
    """What the plate allows at the reach of the lift, kg; nothing beyond the longest hole, or in one that does not exist."""
    if lift.hole.written is not None:
        return _hole(ev, lift)[1]
    reaches, ratings = _plate(ev, lift)
    return np.asarray(boom_rating(ev.of(reach, lift), reaches, ratings))


def _other_holes(ev: Evaluation, lift: Lift) -> str:
    reaches, ratings = _plate(ev, lift)
    holes = ", ".join(
        f"{show(float(rating), display_unit(MASS))} at {show(float(reach), display_unit(LENGTH))}"
        for reach, rating in zip(reaches, ratings, strict=True)
    )
    jerk = show(float(ev.of(mass, lift)[0]) * JERK, display_unit(MASS))
    return f"the plate gives {holes}; no load is allowed beyond; a sudden stop on the way down pulls like {jerk}"
