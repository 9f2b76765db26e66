"""One element of the line of drive that torque can break or make slip, and its requirement.

Answers   Element          a requirement, and its capacity over its load
          Held             a torque compared with a capacity, in each load state, gear and event
          element_of       an Element made of a Held
          lacking          which of some facts are missing
          rating_source    where the limit comes from
Not here  the torques (loads.py); the capacities (gear_sets.py, shafts.py, half_shafts.py, hubs.py)

A maker's rating is compared with the full torque of the engine. A capacity calculated from the yield strength is compared with
each load, with the reserve that belongs to it (reserves.py). A rating that nobody's manual or catalogue gives takes the place of
nothing: both are compared, each with its own torque. What is certain without a missing fact is said: a part that fails with what
the tyres hold at least, or holds with tyres that hold everything.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.ranks import is_from_its_maker
from trialfit.evaluation.requirement import AtMost, Requirement, Source, SourceKind, Stake
from trialfit.evaluation.states import InStates
from trialfit.evaluation.verdict import Verdict, judge, share_kept
from trialfit.facts.quantity import TORQUE
from trialfit.subjects.torque_path.gears import deciding
from trialfit.subjects.torque_path.loads import Known, Sides, state_names
from trialfit.subjects.torque_path.sentences import in_state, left_out, who_sets_it

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef

    Capacity = Callable[[Evaluation], Array]


SUBJECT = "torque_path"
_RULE = "compared with the lesser of low-gear torque and wheel-slip torque, as a driveshaft maker's installation manual does"
SHAFT_CURE = (
    "Fit a thicker one, one of better steel with its certificate or one that its maker rates; or reduce its torque: a clutch of lower "
    'capacity, car.clutch_use = "with care" if that is how it is driven, a taller first gear or final drive.'
)
CURE = "Fit a stronger part, or reduce its torque: a taller first gear or final drive, a clutch of lower capacity, less torque low down."


@dataclass(frozen=True)
class Element:
    """One thing in the line.

    requirement   what is required of it
    called        what it is called in a sentence: "the front joint"
    reserve       capacity over load, (draws,): 1 is just at its limit
    lacks         the facts missing for its capacity; empty where it is known
    may_lack      a fact that is not written and that the capacity turns on in some cars, not in all
    """

    requirement: Requirement
    title: str
    reserve: Callable[[Evaluation], Array]
    lacks: tuple[str, ...] = ()
    may_lack: str = ""


@dataclass(frozen=True)
class Compared:
    """A torque compared with a capacity at one place.

    sees      the torque, both sides of it, (draws, states); from loads.at
    carries   the capacity at the same place, N·m, (draws, gears) or (draws, 1)
    how       how the capacity came about, with numbers, for the gear of that column
    """

    sees: Callable[..., Sides]
    carries: Capacity
    how: Callable[[Evaluation, int], str]


@dataclass(frozen=True)
class Held:
    """What an element is judged by: one comparison, or one for each load, beside a rating that does not take their place.

    name      which element, the second half of the finding's id
    compared  each torque with its capacity
    place     where it is, for the gears that can decide there: "gearbox input", "gearbox output" or "pinion" and behind
    """

    name: str
    compared: tuple[Compared, ...]
    place: str = "pinion"


@dataclass(frozen=True)
class _Seen:
    """Torque and capacity of an element in each state, (draws, states)."""

    sides: Sides
    carried: Array
    names: tuple[str, ...]
    owners: tuple[int, ...]
    """Of which comparison each state is."""
    whatever: tuple[str, ...] = ()
    """The missing facts, whatever they are."""

    @property
    def torque(self) -> InStates:
        return InStates(self.sides.seen, self.names)


def held_by(
    rating: FactRef | None, rated: Compared, worked_out: Compared | None, *, can_be_worked_out: bool
) -> tuple[Compared, ...]:
    """What decides of a rating and of what is worked out: the maker's rating alone, else both, as far as they are known."""
    if worked_out is None or is_from_its_maker(rating):
        return (rated,)
    if rating is None or rating.written is None:
        return (worked_out,)
    return (rated, worked_out) if can_be_worked_out else (rated,)


def element_of(
    build: Build,
    one: Held,
    *,
    about: str,
    title: str,
    says: str,
    source: Source,
    formulas: tuple[Callable[..., Any], ...],
    lacks: tuple[str, ...] = (),
    stake: Stake = Stake.durability,
    caution: str = "",
    cure: str = CURE,
) -> Element:
    """The element whose finding says that its torque stays within its capacity."""
    identifier = f"{SUBJECT}.{one.name}"
    plain = bool(lacks)
    requirement = Requirement(
        id=identifier,
        about=about,
        says=says,
        value=partial(_torque, one=one, stake=stake, plain=plain),
        quantity=TORQUE,
        stake=stake,
        limit=AtMost(partial(_carried, one=one, stake=stake)),
        source=source,
        formulas=formulas,
        shows=partial(_shows, one=one, stake=stake, plain=plain or identifier in build.limits),
        caution=caution,
        cure=cure,
    )
    return Element(requirement, title, partial(reserve, one=one, stake=stake), lacks)


def reserve(ev: Evaluation, one: Held, stake: Stake = Stake.durability) -> Array:
    """Capacity over torque in the state that leaves the least, (draws,)."""
    seen = ev.of(_judged, one, stake)
    return np.asarray((seen.carried / seen.sides.seen).min(axis=-1))


def lacking(*refs: FactRef) -> tuple[str, ...]:
    """The paths of the facts that are neither written nor typical."""
    return tuple(ref.path for ref in refs if ref.known is None)


def rating_source(ref: FactRef | None) -> Source:
    """Where a limit comes from that is a rating: its maker, or another source where the build says so."""
    if ref is None or ref.written is None or is_from_its_maker(ref):
        return Source(f"its maker's rating; {_RULE}", SourceKind.manual)
    return Source(f"the rating as written in the build; {_RULE}", SourceKind.builder)


def _judged(ev: Evaluation, one: Held, stake: Stake) -> _Seen:
    """Torque and capacity in each state; where a fact is missing, as far as the verdict is certain without it."""
    try:
        return _seen(ev, one, Known.all)
    except MissingFact as missing:
        for known, verdict in ((Known.least, Verdict.fails), (Known.most, Verdict.holds)):
            try:
                seen = _seen(ev, one, known)
            except MissingFact:
                continue
            margin = (seen.carried - seen.sides.seen).min(axis=-1)
            if judge(share_kept(margin), stake) is verdict:
                return replace(seen, whatever=tuple(missing.wanted))
        raise missing from None


def _seen(ev: Evaluation, one: Held, known: Known) -> _Seen:
    columns = deciding(ev.build, one.place)
    found = [each.sees(ev, known).only(*columns) for each in one.compared]
    carried = [each.carries(ev) for each in one.compared]
    at_states = [
        np.broadcast_to(bears[:, sides.gears] if bears.shape[1] > 1 else bears, sides.engine.shape)
        for sides, bears in zip(found, carried, strict=True)
    ]
    sides = found[0] if len(found) == 1 else Sides.side_by_side(found)
    owners = tuple(owner for owner, each in enumerate(found) for _ in each.states)
    return _Seen(sides, np.concatenate(at_states, axis=1), state_names(ev.build, sides.states), owners)


def _torque(ev: Evaluation, one: Held, stake: Stake, *, plain: bool) -> InStates:
    if plain:  # nothing to compare it with: the largest torque is what is looked for
        columns = deciding(ev.build, one.place)
        sides = one.compared[0].sees(ev).only(*columns)
        return InStates(sides.seen, state_names(ev.build, sides.states))
    return ev.of(_judged, one, stake).torque


def _carried(ev: Evaluation, one: Held, stake: Stake) -> InStates:
    seen = ev.of(_judged, one, stake)
    return InStates(seen.carried, seen.names)


def _shows(ev: Evaluation, one: Held, stake: Stake, *, plain: bool) -> str:
    """Which state decides, which side sets the torque there, how the capacity came about, and what was left out."""
    if plain:
        columns = deciding(ev.build, one.place)
        sides = one.compared[0].sees(ev).only(*columns)
        worst = int(np.argmax(sides.seen[0]))
        said = [f"most torque {in_state(ev.build, sides, worst)}, where {who_sets_it(sides, worst)}"]
        return "; ".join([*said, *left_out(ev.build)])
    seen = ev.of(_judged, one, stake)
    margins = seen.carried - seen.sides.seen
    worst = min(range(margins.shape[1]), key=lambda at: (share_kept(margins[:, at]), margins[0, at]))
    how = one.compared[seen.owners[worst]].how(ev, int(seen.sides.gears[worst]))
    sets = (
        f"whatever {' and '.join(seen.whatever)} may be" if seen.whatever else f"where {who_sets_it(seen.sides, worst)}"
    )
    said = [f"least reserve {in_state(ev.build, seen.sides, worst)}, {sets}", how]
    return "; ".join([*said, *left_out(ev.build)])
