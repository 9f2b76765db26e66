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
                caution=HOISTING,
            )


def crane_of(ev: Evaluation, lift: Lift) -> Crane:
    """The crane of a lift: the one it names, or the only one there is. Raises MissingFact."""
    named = ev.build.named(lift.crane)
    cranes = ev.build.all(Crane)
    if isinstance(named, Crane):
        return named
    if len(cranes) == 1:
        return cranes[0]
    raise MissingFact({f"{lift.name}.crane": lift.specs()["crane"].says})


def _plate(ev: Evaluation, lift: Lift) -> tuple[Array, Array]:
    """Reaches [m] and ratings [kg] of the holes, as the plate prints them."""
    crane = crane_of(ev, lift)
    reaches = ev.rows(crane.hole_reaches, f"{crane.name}.hole_reaches")
    ratings = ev.rows(crane.hole_ratings, f"{crane.name}.hole_ratings")
    return reaches[0], ratings[0]


def reach(ev: Evaluation, lift: Lift) -> Array:
    """Reach of the boom, m: that of the hole that is used, as the plate prints it, or as measured."""
    if lift.hole.written is None:
        return ev(lift.reach)
    reaches, _ = _plate(ev, lift)
    hole = np.rint(ev(lift.hole)).astype(int)
    return np.where(hole <= reaches.size, reaches[np.minimum(hole, reaches.size) - 1], np.nan)


def allowed(ev: Evaluation, lift: Lift) -> Array:
    """What the plate allows at the reach of the lift, kg; nothing beyond the longest hole."""
    reaches, ratings = _plate(ev, lift)
    return np.asarray(boom_rating(ev.of(reach, lift), reaches, ratings))


def _other_holes(ev: Evaluation, lift: Lift) -> str:
    reaches, ratings = _plate(ev, lift)
    holes = ", ".join(
        f"{show(float(rating), display_unit(MASS))} at {show(float(reach), display_unit(LENGTH))}"
        for reach, rating in zip(reaches, ratings, strict=True)
    )
    return f"the plate gives {holes}; no load is allowed beyond"
