"""Gaps between all that takes up room at the pose of the build, to the ground, and during removal of a sump.

Answers   requirements   gap.ONE.OTHER for every pair; place.BODY; ground.SOLID; removal.SOLID
Not here  which pairs there are (pairs.py); which states bring them nearest (worst.py); the hoist (way_out.py); lever, attitude,
          axle load (place.py); the best pose (placing.py)
Which pairs there are follows from the parts alone. How far each pair is apart is asked when a build is worked out: those that
are near, or that the spread of their place could bring near, are listed, the nearest first, the others are counted. Where a
place is unknown, place.BODY replaces the pairs.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import BUILDER, COMMON_PRACTICE, AtLeast, Requirement, Stake
from trialfit.evaluation.states import InStates
from trialfit.facts.quantity import LENGTH
from trialfit.parts import Drivetrain, Solid
from trialfit.placement.draws import boxes_apart, gap_draws, gaps_in_states, lowest_draws, nominal_gap
from trialfit.subjects.clearance.few import first_draws
from trialfit.subjects.clearance.moving import body, corner_levels, drawn_solid, said
from trialfit.subjects.clearance.pairs import ACCESS, are_joined, ask_sort, the_pairs
from trialfit.subjects.clearance.shapes import group, surroundings, way_off
from trialfit.subjects.clearance.wanted import usual_too, wanted
from trialfit.subjects.clearance.worst import (
    at_ends,
    is_housed,
    lowest_levels,
    names_of,
    play,
    smallest_at_nominal,
    worst_states,
)
from trialfit.subjects.placed import pose_now
from trialfit.subjects.shaft_line import name_in_ids

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.requirement import Source
    from trialfit.handbook.arrays import Array
    from trialfit.placement.draws import Drawn
    from trialfit.subjects.clearance.pairs import Pair
    from trialfit.subjects.clearance.shafts import Shaft


NEAR = 0.08
"""Pairs further apart than their required clearance by this much are not listed, m, unless their spread could bring them near."""

PLAY = 0.04
"""Largest movement of two solids towards each other in any draw, m."""

WAY_OFF = 0.003
HANGING = "Never lie or reach under a drivetrain that hangs on a hoist: support it on stands first."


def requirements(build: Build) -> Iterator[Requirement]:
    """What must keep clear of what: every pair that is looked at has its gap, near or far."""
    pairs = tuple(the_pairs(build))
    for pair in pairs:
        yield _gap(build, pair)
    paired = {part.name: part for pair in pairs for part in (pair.one, pair.other)}
    solids = (*group(build), *surroundings(build))
    for part in (*solids, *(part for part in paired.values() if not isinstance(part, Solid))):
        yield _not_known(
            part, build, at_safety=any(_at_safety(pair) for pair in pairs if part in (pair.one, pair.other))
        )
    for solid in group(build):
        if solid.neighbour != ACCESS:
            yield _ground(build, solid)
        if solid.removal_drop.written is not None:
            yield _removal(build, solid)


@dataclass(frozen=True)
class _Seen:
    """How much further apart than its required clearance each pair is, m, by its id; and the bodies whose place is not known."""

    excess: Mapping[str, float]
    unknown: frozenset[str]


def _seen(ev: Evaluation) -> _Seen:
    """Every pair at the nominal of the pose that the build has, in the worst states; where it is far, a bound.

    A pair is far where no draw could bring it near enough: how far its bodies go in the first draws counts, with a reserve.
    """
    few = ev.of(first_draws)
    with few.recording() as read:
        found = _looked_at(ev, few)
    ev.inherit(read)
    return found


def _looked_at(ev: Evaluation, few: Evaluation) -> _Seen:
    unknown: set[str] = set()
    excess: dict[str, float] = {}
    placed: dict[tuple[str, str], Drawn | None] = {}
    plays: dict[tuple[str, str], float] = {}
    for pair in the_pairs(few.build):
        keys = [(part.name, pair.axes) for part in (pair.one, pair.other)]
        for part, key in zip((pair.one, pair.other), keys, strict=True):
            if key not in placed:
                placed[key] = _placed(few, part, pair.axes)
        one, other = (placed[key] for key in keys)
        if one is None or other is None:
            unknown |= {key[0] for key in keys if placed[key] is None}
            continue
        gap = wanted(pair.one, pair.other).gap
        left = nominal_gap(one, other, gap + NEAR) - gap
        if NEAR < left < NEAR + one.sway + other.sway and boxes_apart(one, other) < gap + NEAR:
            left = smallest_at_nominal(ev, pair) - gap  # it may come nearer on its way than at either end
        if left > NEAR:  # beyond what is listed, unless the spread of its place can bring it near
            for part, key in zip((pair.one, pair.other), keys, strict=True):
                if key not in plays:
                    plays[key] = play(ev, few, part, pair.axes)
            left = left if left > sum(plays[key] for key in keys) else 0.0
        excess[pair.id(few.build)] = np.inf if left < NEAR and is_housed(few, pair) else left
    return _Seen(excess, frozenset(unknown))


def _placed(few: Evaluation, part: Solid | Shaft, axes: str) -> Drawn | None:
    """A body at the ends of its movements; None where its place is not known."""
    try:
        return few.of(at_ends, part, axes)
    except MissingFact:
        return None


def _how_far(ev: Evaluation, name: str) -> float | None:
    """How much further apart than its required clearance a pair is, m; infinite where it is far; None where a place is not known."""
    excess = ev.of(_seen).excess.get(name)
    return excess if excess is None or excess < NEAR else np.inf


def _where_not_known(ev: Evaluation, part: Solid | Shaft) -> float | None:
    """After the pairs, and only where the place of the body is not known."""
    return NEAR if part.name in ev.of(_seen).unknown else None


def gap_between(ev: Evaluation, pair: Pair) -> InStates:
    """The smallest gap of two bodies in the states that can bring them nearest, (draws, states), m. Raises MissingFact."""
    ask_sort(pair.one, pair.other)
    ours, theirs = worst_states(ev, pair)
    found = gaps_in_states(
        body(ev, pair.one, ours, pair.axes), body(ev, pair.other, theirs, pair.axes), wanted(pair.one, pair.other).gap
    )
    by_name: dict[str, Array] = {}
    names = names_of(ev, pair, [(ours[first], theirs[second]) for first, second in found.states])
    for name, gaps in zip(names, found.gaps.T, strict=True):
        by_name[name] = np.minimum(by_name[name], gaps) if name in by_name else gaps
    return InStates(np.stack(list(by_name.values()), axis=-1), tuple(by_name))


def _gap(build: Build, pair: Pair) -> Requirement:
    one, other = pair.one, pair.other
    want = wanted(one, other)
    why = f": {want.why}" if want.why else ""
    name = pair.id(build)
    return Requirement(
        id=name,
        about=one.name,
        says=f"{in_words(one.name)} keeps its required clearance to {in_words(other.name)} in all their movements together{why}",
        value=partial(gap_between, pair=pair),
        quantity=LENGTH,
        stake=want.stake,
        limit=AtLeast(want.gap if want.written is None else partial(_own_gap, one=one, other=other)),
        source=want.source,
        also=usual_too(one, other),
        formulas=(gap_draws,),
        caution=HANGING,
        away=partial(_how_far, name=name),
    )


def _own_gap(ev: Evaluation, one: Solid | Shaft, other: Solid) -> Array | float:
    want = wanted(one, other)
    return want.gap if want.written is None else ev(want.written)


def _at_safety(pair: Pair) -> bool:
    return wanted(pair.one, pair.other).stake is Stake.safety


def _not_known(part: Solid | Shaft, build: Build, *, at_safety: bool) -> Requirement:
    return Requirement(
        id=f"clearance.place.{name_in_ids(build, part)}",
        about=part.name,
        says=f"{in_words(part.name)} keeps its required clearance to its neighbours",
        value=partial(_place_of, part=part),
        quantity=LENGTH,
        stake=Stake.safety if at_safety else Stake.durability,
        limit=AtLeast(0.0),
        source=COMMON_PRACTICE,
        away=partial(_where_not_known, part=part),
    )


def _place_of(ev: Evaluation, part: Solid | Shaft) -> Array:
    """Fails by the fact that is missing: of the body, else of the drivetrain."""
    return np.asarray(body(ev, part, ev.of(corner_levels, part)).shifts[:, 0, 0])


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


def lowest(ev: Evaluation, solid: Solid) -> InStates:
    """The height of the lowest point of a solid of the drivetrain, sunk and rocked to either side, (draws, states), m."""
    levels = ev.of(lowest_levels, solid)
    heights = lowest_draws(body(ev, solid, levels), each=True)
    return InStates(heights, tuple(said(ev, solid, level) for level in levels))


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
