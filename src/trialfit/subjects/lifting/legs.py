"""The legs of the sling: tension of each leg as the load hangs, and its angle.

Answers   requirements   leg_tension.LEG, leg_angle.LEG
          leg_angle      the least angle of a leg, which is that at which it pulls on its eye
Not here  how the load tilts (hoisting.py), the tilts it passes through (way.py)

Each is looked at at every tilt of the way up and in (way.py); on a leveller the chains hang nearly upright. One leg carries all. Two are worked out in the plane through their eyes, three in space. Of four or more a stiff load may hang on
two: each leg is taken with the one whose eye is furthest from its own, as if these two carried all of it.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.evaluation.states import InStates
from trialfit.facts.quantity import ANGLE, FORCE
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.lifting import hoisting as handbook
from trialfit.parts import Lift, SlingLeg
from trialfit.subjects.lifting.cautions import HOISTING
from trialfit.subjects.lifting.hoisting import centre, eyes_of, legs_of, weight
from trialfit.subjects.lifting.way import has_leveller, hooks, names, shares

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


FLAT = Source(
    "rigging-safety pages quoting ASME B30.9 and OSHA 1910.184: no leg flatter than 30° from the level",
    SourceKind.published,
)
RATING = Source("what leg, shackle and eye are rated for, as written", SourceKind.builder)
PLANE, SPACE = 2, 3


def requirements(build: Build) -> Iterator[Requirement]:
    """What each leg must carry, and its least angle."""
    for lift in build.all(Lift):
        legs = legs_of(build, lift)
        if not legs:
            yield _tension(lift, None)
        for leg in legs:
            yield _tension(lift, leg)
            if len(legs) > 1:
                yield _angle(lift, leg)


def _tension(lift: Lift, leg: SlingLeg | None) -> Requirement:
    name = leg.name if leg else lift.name
    return Requirement(
        id=f"lifting.leg_tension.{name}",
        about=name,
        says=f"{name} carries its share of the load of {lift.name}, dynamic factor included, as the load hangs",
        value=partial(_tension_of, lift=lift, leg=leg),
        quantity=FORCE,
        stake=Stake.safety,
        limit=AtMost(partial(_rating, leg=leg)),
        source=RATING,
        formulas=(handbook.two_legs, handbook.three_legs),
        caution=HOISTING,
        cure="Use legs and shackles with a higher rating in line with the leg, longer legs, or a hook nearer to above the middle.",
    )


def _angle(lift: Lift, leg: SlingLeg) -> Requirement:
    return Requirement(
        id=f"lifting.leg_angle.{leg.name}",
        about=leg.name,
        says=f"{leg.name} is steep enough against the horizontal as the load hangs",
        value=partial(leg_angles, lift=lift, leg=leg),
        quantity=ANGLE,
        stake=Stake.safety,
        limit=AtLeast(handbook.FLATTEST_LEG),
        source=FLAT,
        formulas=(handbook.symmetric_leg, handbook.hang_angle),
        shows=partial(_load_factor, lift=lift, leg=leg),
        caution=HOISTING,
        cure="Use longer legs, or a spreader beam or leveller.",
    )


def _rating(ev: Evaluation, leg: SlingLeg | None) -> Array:
    if leg is None:
        raise MissingFact({SlingLeg.kind: SlingLeg.rated_mass.says})
    return np.asarray(ev(leg.rated_mass) * STANDARD_GRAVITY)


def _tension_of(ev: Evaluation, lift: Lift, leg: SlingLeg | None) -> InStates:
    legs = legs_of(ev.build, lift)
    if leg is None:
        raise MissingFact({SlingLeg.kind: f"no sling leg of {lift.name} is written"})
    return InStates(ev.of(tensions, lift)[..., [one.name for one in legs].index(leg.name)], names(lift))


def tensions(ev: Evaluation, lift: Lift) -> Array:
    """Tension of each leg at each tilt of the way, N, (draws, steps, legs)."""
    legs = legs_of(ev.build, lift)
    load = ev.of(weight, lift)[:, None]
    if len(legs) == 1:
        return np.repeat(load, len(names(lift)), axis=1)[..., None]
    eyes, place, at = eyes_of(ev, legs), ev.of(hooks, lift), ev.of(centre, lift)
    if len(legs) == SPACE and not has_leveller(lift):
        return np.asarray(handbook.three_legs(load, eyes[:, None], place, at[:, None]))
    found = []
    for number in range(len(legs)):
        apart = np.linalg.norm(eyes[0] - eyes[0, number], axis=-1)
        eye, other = eyes[:, number], eyes[:, int(np.argmax(apart))]
        if has_leveller(lift):
            share = np.clip(shares(ev, eye, other, lift), 0.0, 1.0)
            found.append(load * share / np.cos(ev(lift.chain_lean))[:, None])
        else:
            found.append(_of_pair(load, eye, other, place, at))
    return np.stack(found, axis=-1)


def _in_plane(eye: Array, other: Array, place: Array, at: Array) -> tuple[Array, Array, Array, Array, Array]:
    """Hook and centre of mass in the plane through two eyes, in which they hang: along their line, and from it; and its length."""
    between = other - eye
    length = np.linalg.norm(between, axis=-1)
    along = between / length[:, None]
    to_hook, to_centre = place - eye[:, None], at - eye
    before = (to_hook * along[:, None]).sum(axis=-1)
    height = np.linalg.norm(to_hook - before[..., None] * along[:, None], axis=-1)
    where = (to_centre * along).sum(axis=-1)
    side = to_centre - where[:, None] * along
    below = np.where(side[:, 2] < 0, 1.0, -1.0) * np.linalg.norm(side, axis=-1)
    return before, height, where[:, None], below[:, None], length[:, None]


def _of_pair(load: Array, eye: Array, other: Array, place: Array, at: Array) -> Array:
    """Tension of the leg to `eye` where it and the one to `other` carry all, in the plane in which they hang.

    A leg that is slack leaves all of the load to the other one.
    """
    before, height, where, below, length = _in_plane(eye, other, place, at)
    first, _ = handbook.two_legs(load, before, length - before, height, before - where, below)
    crosses = before + (where - before) * height / (height + below)
    return np.select([crosses > length, crosses < 0], [0.0, load], np.asarray(first))


def leg_angle(ev: Evaluation, lift: Lift, leg: SlingLeg) -> Array:
    """Least angle of a leg from the horizontal on the way up and in, rad, (draws,)."""
    return np.asarray(leg_angles(ev, lift, leg).values.min(axis=-1))


def leg_angles(ev: Evaluation, lift: Lift, leg: SlingLeg) -> InStates:
    """Angle of a leg from the horizontal at each tilt of the way, rad."""
    if has_leveller(lift):
        return InStates((np.pi / 2 - ev(lift.chain_lean))[:, None], ("",))
    place, at = ev.of(hooks, lift), ev.of(centre, lift)
    legs = legs_of(ev.build, lift)
    eye = eyes_of(ev, (leg,))[:, 0]
    if len(legs) == PLANE:
        (other,) = (one for one in legs if one.name != leg.name)
        return InStates(_angle_in_plane(eye, eyes_of(ev, (other,))[:, 0], place, at), names(lift))
    up, run = place - at[:, None], place - eye[:, None]
    steep = (run * up).sum(axis=-1) / np.linalg.norm(run, axis=-1) / np.linalg.norm(up, axis=-1)
    return InStates(np.arcsin(np.minimum(steep, 1.0)), names(lift))  # a leg straight up may come out a rounding above 1


def _angle_in_plane(eye: Array, far: Array, place: Array, at: Array) -> Array:
    """The same for two legs: the load turns about the line of its eyes until its centre is in the plane of the legs."""
    before, height, where, below, _ = _in_plane(eye, far, place, at)
    lean = np.asarray(handbook.hang_angle(before - where, height + below))
    return np.asarray(np.arcsin(np.sin(np.arctan2(height, before) + lean)))  # past the upright it is flatter again


def _load_factor(ev: Evaluation, lift: Lift, leg: SlingLeg) -> str:
    angle = float(leg_angle(ev, lift, leg)[0])
    if angle <= 0:
        return "it lies level or points down: no leg holds a load like that; use longer legs or a spreader beam"
    factor = 1 / np.sin(angle)
    aim = "" if angle >= handbook.GOOD_LEG else "; aim for 60° or steeper: use longer legs or a spreader beam"
    return f"its tension is {factor:.2f} times that of a vertical leg{aim}"
