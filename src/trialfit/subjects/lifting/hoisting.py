"""What hangs on a hook: its mass and centre, how it tilts, whether it can roll over, and where to hook it instead.

Answers   requirements   tilt.LIFT, side_tilt.LIFT, roll_over.LIFT, and the figures mass.LIFT, centre.LIFT, hook.LIFT
          mass, weight, centre, hook, hung_hook, eyes_of    of a lift, for its other topics
Not here  sling legs (legs.py), every tilt on the way and levellers (way.py), the crane (crane.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import ANGLE, LENGTH, MASS
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.lifting import hoisting as handbook
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts import Lift, MassPart, SlingLeg
from trialfit.subjects.lifting.cautions import HOISTING
from trialfit.subjects.placed import mass_centres

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


ROLLS = Source(
    f"statics: a load that hangs by eyes below its centre of mass rolls over; the 50 mm are {NO_SOURCE}",
    SourceKind.common_practice,
)
BELOW_THE_EYES = 0.050
STEPS_TO_AIM = 25
PAIR = 2
"""So many eyes or fewer let the load turn: about its one eye, or about the line of the two."""

_PENDULUM = (
    "Use three or four eyes round the centre of mass: on one eye, or about the line of two, the load turns until its centre is below, "
    "wherever the hook is."
)
_MOVE = "Move the hook to the place that the figure of the hook gives, or use a leveller."
_TILT_CURES = {
    0: _MOVE,
    1: _PENDULUM,
    2: "Use eyes in front of the centre of mass and behind it, and move the hook to the place that the figure of the hook gives, or use "
    "a leveller; about a line of two eyes left and right the load turns, wherever the hook is.",
    3: _MOVE,
}


def requirements(build: Build) -> Iterator[Requirement]:
    """How each load hangs."""
    for lift in build.all(Lift):
        yield from _figures(lift)
        if lift.leveller_travel.written is None:  # a leveller is screwed to its tilt (way.py)
            yield _tilt(lift, len(legs_of(build, lift)))
        number = len(legs_of(build, lift))
        if number:
            yield _side(lift, number)
        if number <= PAIR or lift.leveller_travel.written is not None:
            yield _roll_over(lift)


def _tilt(lift: Lift, number: int) -> Requirement:
    return Requirement(
        id=f"lifting.tilt.{lift.name}",
        about=lift.name,
        says="the load hangs at its target tilt along the car, within its tolerance",
        value=partial(_off_tilt, lift=lift),
        quantity=ANGLE,
        stake=Stake.safety,
        limit=AtMost(lambda ev: ev(lift.tilt_tolerance)),
        source=COMMON_PRACTICE,
        formulas=(handbook.hang_angle, handbook.hook_for_angle, handbook.hook_as_it_hangs),
        shows=partial(_where_to_hook, lift=lift),
        caution=HOISTING,
        cure=_TILT_CURES[min(number, 3)],
    )


def _roll_over(lift: Lift) -> Requirement:
    return Requirement(
        id=f"lifting.roll_over.{lift.name}",
        about=lift.name,
        says="the centre of mass lies below the line of the eyes, so that the load cannot roll over",
        value=partial(_below_the_eyes, lift=lift),
        quantity=LENGTH,
        stake=Stake.safety,
        limit=AtLeast(BELOW_THE_EYES),
        source=ROLLS,
        formulas=(handbook.centre_of_mass,),
        caution=HOISTING,
        cure="Use lifting eyes higher up, well above the centre of mass.",
    )


def _side(lift: Lift, number: int) -> Requirement:
    return Requirement(
        id=f"lifting.side_tilt.{lift.name}",
        about=lift.name,
        says="the load hangs level across the car, within its tolerance",
        value=partial(_side_tilt, lift=lift),
        quantity=ANGLE,
        stake=Stake.safety,
        limit=AtMost(lambda ev: ev(lift.tilt_tolerance)),
        source=COMMON_PRACTICE,
        formulas=(handbook.hang_angle, handbook.hook_as_it_hangs),
        shows=partial(_low_side, lift=lift),
        caution=HOISTING,
        cure=_PENDULUM if number <= PAIR else "Shorten the legs of the side that hangs low.",
    )


def _figures(lift: Lift) -> Iterator[Requirement]:
    for what, says, value, quantity in (
        ("mass", "total mass on the hook", mass, MASS),
        ("centre", "centre of mass of the load, forward of the front axle", _centre_x, LENGTH),
        ("hook", "place of the hook for the target tilt, forward of the front axle", hook_wanted, LENGTH),
    ):
        if what == "hook" and lift.leveller_travel.written is not None:
            continue  # its screw moves it
        yield Requirement(
            id=f"lifting.{what}.{lift.name}",
            about=lift.name,
            says=says,
            value=partial(value, lift=lift),
            quantity=quantity,
            stake=Stake.safety,
            formulas=(handbook.centre_of_mass, handbook.hook_for_angle),
            caution=HOISTING,
        )


def legs_of(build: Build, lift: Lift) -> tuple[SlingLeg, ...]:
    """The sling legs of a lift."""
    only = len(build.all(Lift)) == 1
    return tuple(leg for leg in build.all(SlingLeg) if leg.lift == lift.name or (leg.lift is None and only))


def _masses(build: Build, lift: Lift) -> tuple[MassPart, ...]:
    found = tuple(part for part in build.all(MassPart) if part.hoisted_by == lift.name)
    if not found:
        raise MissingFact({MassPart.kind: f'no mass part has hoisted_by = "{lift.name}"'})
    return found


def mass(ev: Evaluation, lift: Lift) -> Array:
    """Mass on the hook, kg."""
    return np.asarray(np.sum(ev.each(*(part.mass for part in _masses(ev.build, lift))), axis=0))


def weight(ev: Evaluation, lift: Lift) -> Array:
    """Weight on the hook, dynamic factor included, N."""
    return np.asarray(ev.of(mass, lift) * STANDARD_GRAVITY * ev(lift.dynamic_factor))


def centre(ev: Evaluation, lift: Lift) -> Array:
    """Centre of mass of the load, m, (draws, 3)."""
    parts = _masses(ev.build, lift)
    masses = np.stack(ev.each(*(part.mass for part in parts)), axis=-1)
    at = mass_centres(ev, parts)
    return np.stack([np.asarray(handbook.centre_of_mass(masses, at[..., axis])) for axis in range(3)], axis=-1)


def hook(ev: Evaluation, lift: Lift) -> Array:
    """Place of the hook over the level load, m, (draws, 3)."""
    return np.stack(ev.each(lift.hook_x, lift.hook_y, lift.hook_z), axis=-1)


def eyes_of(ev: Evaluation, legs: tuple[SlingLeg, ...]) -> Array:
    """Places of the eyes on the level load, m, (draws, legs, 3)."""
    return np.stack([np.stack(ev.each(leg.eye_x, leg.eye_y, leg.eye_z), axis=-1) for leg in legs], axis=-2)


def hung_hook(ev: Evaluation, lift: Lift) -> Array:
    """Place of the hook over the load as it hangs, in the axes of the load, m, (draws, 3): on one or two eyes the load has turned."""
    legs = legs_of(ev.build, lift)
    if not 0 < len(legs) <= PAIR:
        return ev.of(hook, lift)
    place, at = ev.of(hook, lift), ev.of(centre, lift)
    return np.asarray(handbook.hook_as_it_hangs(eyes_of(ev, legs), place, at))


def tilt(ev: Evaluation, lift: Lift) -> Array:
    """How far the rear end hangs lower than the front, rad; more than a right angle where it turns upside down."""
    hang = ev.of(hung_hook, lift) - ev.of(centre, lift)
    return _hangs(hang[:, 0], hang[:, 2], lift, ev)


def _hangs(aside: Array, depth: Array, lift: Lift, ev: Evaluation) -> Array:
    if (
        0 < len(legs_of(ev.build, lift)) <= PAIR
    ):  # below the hook it always comes to rest: the load may be the wrong way up
        return np.asarray(np.arctan2(aside, depth))
    return np.asarray(handbook.hang_angle(aside, depth))


def _off_tilt(ev: Evaluation, lift: Lift) -> Array:
    return np.asarray(np.abs(ev.of(tilt, lift) - ev(lift.target_tilt)))


def _side_tilt(ev: Evaluation, lift: Lift) -> Array:
    return np.asarray(np.abs(ev.of(_leans_left, lift)))


def _leans_left(ev: Evaluation, lift: Lift) -> Array:
    """How far the right side hangs lower than the left, rad."""
    hang = ev.of(hung_hook, lift) - ev.of(centre, lift)
    return _hangs(hang[:, 1], hang[:, 2], lift, ev)


def _low_side(ev: Evaluation, lift: Lift) -> str:
    leans = float(ev.of(_leans_left, lift)[0])
    if not np.isfinite(leans):
        return ""
    return f"hangs {show(abs(leans), display_unit(ANGLE))}, {'right' if leans > 0 else 'left'} side low"


def _hook_steers(ev: Evaluation, lift: Lift) -> bool:
    """Whether the hook can set the tilt along the car: not on one eye, nor on two that are more across the car than along it."""
    legs = legs_of(ev.build, lift)
    if not 0 < len(legs) <= PAIR:
        return True
    if len(legs) == 1:
        return False
    between = np.abs(np.subtract(*ev.of(eyes_of, legs).swapaxes(0, 1))[0])
    return bool(between[0] >= between[1])


def hook_wanted(ev: Evaluation, lift: Lift) -> Array:
    """Place of the hook along the car for the target tilt, m; nan where the load turns about its eyes wherever the hook is."""
    at, place = ev.of(centre, lift), ev.of(hook, lift)
    if not ev.of(_hook_steers, lift):
        return np.full(ev.draws, np.nan)
    aim, depth = ev(lift.target_tilt), place[:, 2] - at[:, 2]
    found = np.asarray(handbook.hook_for_angle(at[:, 0], depth, -aim))
    legs = legs_of(ev.build, lift)
    if len(legs) != PAIR:
        return found
    eyes = ev.of(eyes_of, legs)
    for _ in range(STEPS_TO_AIM):  # on two eyes it hangs turned about their line: step until it hangs at the target
        moved = np.stack([found, place[:, 1], place[:, 2]], axis=-1)
        hang = np.asarray(handbook.hook_as_it_hangs(eyes, moved, at)) - at
        found = found + (np.tan(aim) - hang[:, 0] / hang[:, 2]) * depth
    return np.asarray(found)


def _centre_x(ev: Evaluation, lift: Lift) -> Array:
    return np.asarray(ev.of(centre, lift)[:, 0])


def _where_to_hook(ev: Evaluation, lift: Lift) -> str:
    hangs = float(np.asarray(ev.of(tilt, lift))[0])
    if not ev.of(_hook_steers, lift):
        end, angle = "rear" if hangs > 0 else "front", show(abs(hangs), display_unit(ANGLE))
        return f"hangs {angle}, {end} end low: the load turns about its eyes until its centre of mass is below them, wherever the hook is"
    moved = float((ev.of(hook_wanted, lift) - ev.of(hook, lift)[:, 0])[0])
    way = "forward" if moved > 0 else "rearward"
    end = "rear" if hangs > 0 else "front"
    angle, shift = show(abs(hangs), display_unit(ANGLE)), show(abs(moved), display_unit(LENGTH))
    return f"hangs {angle}, {end} end low; the hook {shift} further {way} gives the target tilt"


def _below_the_eyes(ev: Evaluation, lift: Lift) -> Array:
    """Depth of the centre of mass below the eyes, m: below the line of two, at the place along it where the centre is."""
    legs = legs_of(ev.build, lift)
    if not legs:
        raise MissingFact({SlingLeg.kind: f"no sling leg of {lift.name} is written"})
    at = ev.of(centre, lift)
    eyes = ev.of(eyes_of, legs).swapaxes(0, 1)
    if len(legs) == 1:
        return np.asarray(eyes[0, :, 2] - at[:, 2])
    if len(legs) > 2:  # noqa: PLR2004 - on a leveller: below the lowest of them
        return np.asarray(eyes[..., 2].min(axis=0) - at[:, 2])
    along = eyes[1] - eyes[0]
    share = ((at - eyes[0]) * along).sum(axis=-1) / (along**2).sum(axis=-1)
    return np.asarray(eyes[0, :, 2] + share * along[:, 2] - at[:, 2])
