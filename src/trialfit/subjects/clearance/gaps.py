"""Gaps between drivetrain and car at the pose of the build, to the ground, and during removal of a sump.

Answers   requirements   gap.SOLID.NEIGHBOUR for every pair; place.SOLID; ground.SOLID; removal.SOLID
Not here  the hoist (way_out.py); lever, attitude, axle load (place.py); the best pose (placing.py)
Which pairs there are follows from the parts alone. How far each pair is apart is asked when a build is worked out: those that
are near are listed, the nearest first, the others are counted. Where a place is unknown, place.SOLID replaces the pairs.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import Evaluation, MissingFact
from trialfit.evaluation.requirement import BUILDER, COMMON_PRACTICE, AtLeast, Requirement, Stake
from trialfit.facts.quantity import LENGTH
from trialfit.parts import Drivetrain
from trialfit.placement.draws import boxes_apart, gap_draws, lowest_draws, nominal_gap
from trialfit.subjects.clearance.shapes import (
    drawn_solid,
    group,
    placed_solid,
    surroundings,
    way_off,
)
from trialfit.subjects.clearance.wanted import wanted
from trialfit.subjects.placed import pose_now
from trialfit.subjects.shaft_line import name_in_ids

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from trialfit.book.build import Build
    from trialfit.evaluation.requirement import Source
    from trialfit.handbook.arrays import Array
    from trialfit.parts import Solid
    from trialfit.placement.draws import Drawn


NEAR = 0.08
"""Pairs further apart than their required clearance by this much are not listed, m."""

PLAY = 0.04
"""Largest movement of two solids towards each other in any draw, m."""

WAY_OFF = 0.003
HANGING = "Never lie or reach under a drivetrain that hangs on a hoist: support it on stands first."


def requirements(build: Build) -> Iterator[Requirement]:
    """What the drivetrain must keep clear of: every pair that is not bolted together has its gap, near or far."""
    for one in group(build):
        for other in surroundings(build):
            if not are_joined(build, one, other):
                yield _gap(build, one, other)
    for solid in (*group(build), *surroundings(build)):
        yield _not_known(build, solid)
    for solid in group(build):
        if solid.neighbour != "access":
            yield _ground(build, solid)
        if solid.removal_drop.written is not None:
            yield _removal(build, solid)


@dataclass(frozen=True)
class _Seen:
    """How much further apart than its required clearance each pair is, m, by name; and the solids whose place is not known."""

    excess: Mapping[tuple[str, str], float]
    unknown: frozenset[str]


def _seen(ev: Evaluation) -> _Seen:
    """Every pair at the nominal of the pose that the build has; where it is far, a bound."""
    build, nominal = ev.build, Evaluation(ev.build, 1)
    unknown: set[str] = set()
    shapes = {}
    for solid in (*group(build), *surroundings(build)):
        try:
            shapes[solid.name] = nominal.of(drawn_solid, solid)
        except MissingFact:
            unknown.add(solid.name)
    try:
        pose = nominal.of(pose_now)
    except MissingFact:
        return _Seen({}, frozenset(unknown | {solid.name for solid in group(build)}))
    excess = {}
    for one in group(build):
        if one.name not in shapes:
            continue
        shape = shapes[one.name].at(pose)
        for other in surroundings(build):
            if other.name in shapes and not are_joined(build, one, other):
                gap = wanted(one, other).gap
                excess[one.name, other.name] = nominal_gap(shape, shapes[other.name], gap + NEAR) - gap
    return _Seen(excess, frozenset(unknown))


def _how_far(ev: Evaluation, one: Solid, other: Solid) -> float | None:
    """How much further apart than its required clearance a pair is, m; infinite where it is far; None where a place is not known."""
    excess = ev.of(_seen).excess.get((one.name, other.name))
    return excess if excess is None or excess < NEAR else np.inf


def _where_not_known(ev: Evaluation, solid: Solid) -> float | None:
    """After the pairs, and only where the place of the solid is not known."""
    return NEAR if solid.name in ev.of(_seen).unknown else None


def are_joined(build: Build, one: Solid, other: Solid) -> bool:
    """Whether one is bolted to the other."""
    return build.named(one.touches) is other or build.named(other.touches) is one


def gap_between(ev: Evaluation, one: Solid, other: Solid) -> Array:
    """The smallest gap of a solid of the drivetrain and one of the car over all their movements, (draws,), m."""
    moving = ev.of(placed_solid, one)
    return gap_draws(moving, ev.of(drawn_solid, other), wanted(one, other).gap)


def _gap(build: Build, one: Solid, other: Solid) -> Requirement:
    want = wanted(one, other)
    why = f": {want.why}" if want.why else ""
    return Requirement(
        id=f"clearance.gap.{name_in_ids(build, one)}.{name_in_ids(build, other)}",
        about=one.name,
        says=f"{in_words(one.name)} keeps its required clearance to {in_words(other.name)}, with the drivetrain rocking on its mounts{why}",
        value=partial(gap_between, one=one, other=other),
        quantity=LENGTH,
        stake=want.stake,
        limit=AtLeast(want.gap if want.written is None else partial(_own_gap, one=one, other=other)),
        source=want.source,
        formulas=(gap_draws,),
        caution=HANGING,
        away=partial(_how_far, one=one, other=other),
    )


def _own_gap(ev: Evaluation, one: Solid, other: Solid) -> Array | float:
    want = wanted(one, other)
    return want.gap if want.written is None else ev(want.written)


def _not_known(build: Build, solid: Solid) -> Requirement:
    return Requirement(
        id=f"clearance.place.{name_in_ids(build, solid)}",
        about=solid.name,
        says=f"{in_words(solid.name)} keeps its required clearance to its neighbours",
        value=partial(_place_of, solid=solid),
        quantity=LENGTH,
        stake=Stake.durability,
        limit=AtLeast(0.0),
        source=COMMON_PRACTICE,
        away=partial(_where_not_known, solid=solid),
    )


def _place_of(ev: Evaluation, solid: Solid) -> Array:
    """Fails by the fact that is missing: of the solid, else of the drivetrain."""
    ev.of(drawn_solid, solid)
    return np.asarray(ev.of(pose_now)[:, 0])


def _ground(build: Build, solid: Solid) -> Requirement:
    return Requirement(
        id=f"clearance.ground.{name_in_ids(build, solid)}",
        about=solid.name,
        says=f"the lowest point of {in_words(solid.name)} keeps the required ground clearance, as driven",
        value=partial(lowest, solid=solid),
        quantity=LENGTH,
        stake=Stake.durability,
        limit=AtLeast(lambda ev: ev(ev.part(Drivetrain).ground_clearance)),
        source=_ground_source(build),
        formulas=(lowest_draws,),
    )


def _ground_source(build: Build) -> Source:
    part = build.first(Drivetrain)
    return BUILDER if part and part.ground_clearance.written else COMMON_PRACTICE


def lowest(ev: Evaluation, solid: Solid) -> Array:
    """The height of the lowest point of a solid of the drivetrain over all its movements, (draws,), m."""
    return lowest_draws(ev.of(placed_solid, solid))


def _removal(build: Build, solid: Solid) -> Requirement:
    return Requirement(
        id=f"clearance.removal.{name_in_ids(build, solid)}",
        about=solid.name,
        says=f"{in_words(solid.name)} comes off straight down with the engine in place: the smallest gap on its way, checked every 10 mm",
        value=partial(narrowest, solid=solid),
        quantity=LENGTH,
        stake=Stake.comfort,
        limit=AtLeast(WAY_OFF),
        source=COMMON_PRACTICE,
        formulas=(gap_draws,),
        caution=HANGING,
    )


def narrowest(ev: Evaluation, solid: Solid) -> Array:
    """The smallest gap of a solid on its way down to anything of the car, (draws,), m."""
    path = ev.of(way_off, solid).at(ev.of(pose_now))
    return narrowest_way(ev, solid, path, surroundings(ev.build), WAY_OFF)


def narrowest_way(ev: Evaluation, solid: Solid, path: Drawn, others: tuple[Solid, ...], limit: float) -> Array:
    """The smallest gap of a solid in all states of a path in the car's axes to any of the others, (draws,), m. Raises MissingFact."""
    shapes = [ev.of(drawn_solid, other) for other in others if not are_joined(ev.build, solid, other)]
    if not shapes:
        raise MissingFact({"solid": "at least one solid of the car that can be in the way"})
    bounds = [boxes_apart(path, shape) for shape in shapes]
    first = int(np.argmin(bounds))
    gaps = [gap_draws(path, shapes[first], limit)]
    enough = float(gaps[0].max()) + PLAY
    gaps += [
        gap_draws(path, shape, limit)
        for number, shape in enumerate(shapes)
        if number != first and bounds[number] < enough
    ]
    return np.asarray(np.min(gaps, axis=0))


def in_words(name: str) -> str:
    """The name of a part as it stands in a sentence."""
    return name.replace("_", " ").replace("-", " ")
