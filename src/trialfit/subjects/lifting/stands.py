"""The stands under a car: what each carries where it stands, and what tips the car off.

Answers   requirements   stand_load.STANDS, push.STANDS, lean.STANDS, pair.STANDS
          masses         mass and centre of mass of the car in each state of the work
          at_place       what the stands of one end carry together, in each of them
States    The car as weighed and laden, and with everything out that comes out while it is on stands: what a lift hoists, and mass
          parts that say so, in every combination. Each of them with the wheels of the other end on the floor, and, if the other
          end has stands, on those: then a car may rock on two of four.
"""

from __future__ import annotations

from functools import partial
from itertools import combinations
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.evaluation.states import InStates, crossed
from trialfit.facts.quantity import COUNT, FORCE, MASS
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.lifting.standing import heavier_stand, lean_to_tip, load_at, push_to_tip, rocking_stand, without
from trialfit.parts import Car, Lift, MassPart, Stands
from trialfit.subjects import load_states
from trialfit.subjects.lifting.cautions import STANDING
from trialfit.subjects.placed import mass_centres

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.requirement import Worked
    from trialfit.facts.quantity import Quantity
    from trialfit.handbook.arrays import Array


PLATE = Source("the plate on the stand, for one stand, as written", SourceKind.manual)
PAIRS = Source("workshop textbook, page on stands: used in pairs", SourceKind.published)
ON_WHEELS, ON_STANDS = "other end on its wheels", "both ends on stands"
_MANY = 3  # above so many groups that come out: each alone and all together, not every combination
_PAIR = 1.5  # fewer stands than this are one
_THIN = 1e-9  # m: one stand in the middle has no left and right


class _Row(NamedTuple):
    """One requirement of a set of stands."""

    what: str
    says: str
    value: Worked
    quantity: Quantity
    limit: AtMost | AtLeast
    source: Source
    formulas: tuple[Callable[..., object], ...] = ()
    cure: str = ""
    shows: Callable[[Evaluation], str] | None = None


def requirements(build: Build) -> Iterator[Requirement]:
    """What the stands under each end must carry, and what must not tip the car off them."""
    for stands in build.all(Stands):
        for row in _rows(stands):
            yield Requirement(
                id=f"lifting.{row.what}.{stands.name}",
                about=stands.name,
                says=row.says,
                value=row.value,
                quantity=row.quantity,
                stake=Stake.safety,
                limit=row.limit,
                source=row.source,
                formulas=row.formulas,
                cure=row.cure,
                shows=row.shows,
                caution=STANDING,
            )


def _rows(stands: Stands) -> Iterator[_Row]:
    end = stands.under
    yield _Row(
        "stand_load",
        f"the most loaded one of {stands.name} is rated for what it carries where it stands",
        partial(_load, stands=stands),
        MASS,
        AtMost(lambda ev: ev(stands.rated_mass)),
        PLATE,
        (load_at, heavier_stand, rocking_stand, without),
        "Use stands with the rating it needs, for one stand and not for the pair, or set them nearer to the axle.",
        partial(_against_axle, stands=stands),
    )
    yield _Row(
        "push",
        f"a push from the side does not tip the car off {stands.name}",
        partial(_push, stands=stands),
        FORCE,
        AtLeast(lambda ev: ev(stands.push)),
        COMMON_PRACTICE,
        (push_to_tip, load_at, without),
        "Set the left and the right stand further apart, under the centre of mass, and take tight bolts loose with the wheels on the floor.",
    )
    yield _Row(
        "lean",
        f"somebody who leans on the {end} end does not tip the car over {stands.name}",
        partial(_lean, stands=stands),
        MASS,
        AtLeast(lambda ev: ev(stands.leaning_mass)),
        COMMON_PRACTICE,
        (lean_to_tip, without),
        f"Set {stands.name} nearer to the {end} axle, or put further stands under the {end} end before anything heavy comes out.",
    )
    yield _Row(
        "pair",
        f"{stands.name} are used in a pair",
        lambda ev: ev(stands.count),
        COUNT,
        AtLeast(2.0),
        PAIRS,
        cure="Put one more stand under that end, one left and one right.",
    )


def _groups(build: Build) -> list[tuple[str, tuple[MassPart, ...]]]:
    """What comes out together while the car is on stands, with its name."""
    parts = build.all(MassPart)
    lifted = [
        (f"the load of {lift.name}", tuple(one for one in parts if one.hoisted_by == lift.name))
        for lift in build.all(Lift)
    ]
    alone = [(one.name, (one,)) for one in parts if one.out_on_stands == "yes" and one.hoisted_by is None]
    return [(name, found) for name, found in (*lifted, *alone) if found]


def _taken_out(build: Build) -> list[tuple[str, tuple[MassPart, ...]]]:
    """Every combination of them, or each alone and all together if they are many."""
    groups = _groups(build)
    counts = range(1, len(groups) + 1) if len(groups) <= _MANY else (1, len(groups))
    together = [one for count in counts for one in combinations(groups, count)]
    return [
        (f"without {' and '.join(name for name, _ in one)}", tuple(part for _, parts in one for part in parts))
        for one in together
    ]


def _mass_states(build: Build) -> tuple[str, ...]:
    loads = tuple(name for name in load_states.names(build) if name != load_states.TOWING)
    return (*loads, *(name for name, _ in _taken_out(build)))


def masses(ev: Evaluation) -> Array:
    """Mass of the car and place of its centre along it in each state, (draws, states, 2): kg and m forward of the front axle."""
    wheelbase = ev(ev.part(Car).wheelbase)
    keep = [name != load_states.TOWING for name in load_states.names(ev.build)]
    whole, rear = ev.of(load_states.masses)[:, keep], ev.of(load_states.rear_axle_masses)[:, keep]
    centre = -rear / whole * wheelbase[:, None]
    found = [np.stack([whole, centre], axis=-1)]
    for _, parts in _taken_out(ev.build):
        each = np.stack(ev.each(*(part.mass for part in parts)), axis=-1)
        out = each.sum(axis=-1)
        out_centre = (each * mass_centres(ev, parts)[..., 0]).sum(axis=-1) / out
        found.append(np.stack(without(whole[:, 0], centre[:, 0], out, out_centre), axis=-1)[:, None])
    return np.concatenate(found, axis=1)


def _place(ev: Evaluation, stands: Stands) -> Array:
    """Where they stand along the car, m forward of the front axle."""
    inboard = ev(stands.inboard)
    return np.asarray(inboard - ev(ev.part(Car).wheelbase) if stands.under == "rear" else -inboard)


def _other(build: Build, stands: Stands) -> Stands | None:
    return next((one for one in build.all(Stands) if one.under != stands.under), None)


def _supports(build: Build, stands: Stands) -> tuple[str, ...]:
    return (ON_WHEELS, ON_STANDS) if _other(build, stands) else (ON_WHEELS,)


def at_place(ev: Evaluation, stands: Stands) -> Array:
    """What these stands carry together, kg, (draws, states of the masses, states of the other end)."""
    state = ev.of(masses)
    mass, centre = state[..., 0], state[..., 1]
    wheels = -ev(ev.part(Car).wheelbase) if stands.under == "front" else np.zeros(len(mass))
    other = _other(ev.build, stands)
    there = [wheels, *([_place(ev, other)] if other else [])]
    here = _place(ev, stands)[:, None]
    return np.stack([np.asarray(load_at(mass, centre, here, one[:, None])) for one in there], axis=-1)


def _in_states(ev: Evaluation, stands: Stands, values: Array) -> InStates:
    return crossed(values, _mass_states(ev.build), _supports(ev.build, stands))


def _load(ev: Evaluation, stands: Stands) -> InStates:
    """Mass on the most loaded stand of a set."""
    count = ev(stands.count)[:, None, None]
    together = np.maximum(ev.of(at_place, stands), 0.0)
    if stands.count.written and stands.count.written.si < _PAIR:
        return _in_states(ev, stands, together)
    spacing, offset = (one[:, None] for one in ev.each(stands.spacing, stands.off_centre))
    found = [np.asarray(heavier_stand(together[..., 0], offset, spacing))]
    other = _other(ev.build, stands)
    if other:
        found.append(_rocking(ev, stands, other, together[..., 1]))
    return _in_states(ev, stands, np.where(count < _PAIR, together, np.stack(found, axis=-1)))


def _rocking(ev: Evaluation, stands: Stands, other: Stands, together: Array) -> Array:
    """Mass on one of these stands where the car rocks on two of four, (draws, states); all of it if the other pair has no spacing."""
    if other.spacing.written is None:
        return together
    spacing, offset, wide, off, count = (
        one[:, None] for one in ev.each(stands.spacing, stands.off_centre, other.spacing, other.off_centre, other.count)
    )
    there = np.maximum(ev.of(at_place, other)[..., 1], 0.0)
    return np.asarray(rocking_stand(together, there, offset, spacing, off, np.where(count < _PAIR, _THIN, wide)))


def _push(ev: Evaluation, stands: Stands) -> InStates:
    """Push from the side that tips the car."""
    spacing, height, offset = ev.each(stands.spacing, stands.push_height, stands.off_centre)
    weight = np.maximum(ev.of(at_place, stands), 0.0) * STANDARD_GRAVITY
    across = (spacing - 2 * np.abs(offset))[:, None, None]
    inside = across > 0
    push = push_to_tip(weight, np.where(inside, across, 1.0), height[:, None, None])
    return _in_states(ev, stands, np.where(inside, push, 0.0))


def _lean(ev: Evaluation, stands: Stands) -> InStates:
    """Mass on the end of the car that tips it over these stands."""
    state, place = ev.of(masses), _place(ev, stands)[:, None]
    inwards = state[..., 1] - place if stands.under == "rear" else place - state[..., 1]
    beyond = (ev(stands.inboard) + ev(stands.car_end))[:, None]
    tips = np.asarray(lean_to_tip(state[..., 0], inwards, np.maximum(beyond, _THIN)))
    return InStates(tips, _mass_states(ev.build))


def _against_axle(ev: Evaluation, stands: Stands) -> str:
    """How their place changes what they carry: nominal, as weighed, with the other end on its wheels."""
    axle = float(ev.of(load_states.rear_axle_masses)[0, 0])
    axle = axle if stands.under == "rear" else float(ev.of(load_states.masses)[0, 0]) - axle
    here = float(ev.of(at_place, stands)[0, 0, 0])
    unit = display_unit(MASS)
    return f"as weighed both stands carry {show(here, unit)} together, {here / axle:.2f} times the axle's {show(axle, unit)}"
