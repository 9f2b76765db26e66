"""The legs of the sling: tension of each leg as the load hangs, and its angle.

Answers   requirements   leg_tension.LEG, leg_angle.LEG
Not here  how the load tilts (hoisting.py)

One leg carries all. Two are worked out in the plane through their eyes, three in space. Of four or more a stiff load may hang on
two: each leg is taken with the one whose eye is furthest from its own, as if these two carried all of it.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import ANGLE, FORCE
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.lifting import hoisting as handbook
from trialfit.parts import Lift, SlingLeg
from trialfit.subjects.lifting.cautions import HOISTING
from trialfit.subjects.lifting.hoisting import centre, hook, legs_of, weight

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
    )


def _angle(lift: Lift, leg: SlingLeg) -> Requirement:
    return Requirement(
        id=f"lifting.leg_angle.{leg.name}",
        about=leg.name,
        says=f"{leg.name} is steep enough against the horizontal as the load hangs",
        value=partial(leg_angle, lift=lift, leg=leg),
        quantity=ANGLE,
        stake=Stake.safety,
        limit=AtLeast(handbook.FLATTEST_LEG),
        source=FLAT,
        formulas=(handbook.symmetric_leg, handbook.hang_angle),
        shows=partial(_load_factor, lift=lift, leg=leg),
        caution=HOISTING,
    )


def _rating(ev: Evaluation, leg: SlingLeg | None) -> Array:
    if leg is None:
        raise MissingFact({SlingLeg.kind: SlingLeg.rated_mass.says})
    return np.asarray(ev(leg.rated_mass) * STANDARD_GRAVITY)


def _eye(ev: Evaluation, leg: SlingLeg) -> Array:
    return np.stack(ev.each(leg.eye_x, leg.eye_y, leg.eye_z), axis=-1)


def _tension_of(ev: Evaluation, lift: Lift, leg: SlingLeg | None) -> Array:
    legs = legs_of(ev.build, lift)
    if leg is None:
        raise MissingFact({SlingLeg.kind: f"no sling leg of {lift.name} is written"})
    return np.asarray(ev.of(tensions, lift)[:, [one.name for one in legs].index(leg.name)])


def tensions(ev: Evaluation, lift: Lift) -> Array:
    """Tension of each leg, N, (draws, legs)."""
    legs = legs_of(ev.build, lift)
    load = ev.of(weight, lift)
    eyes = np.stack([_eye(ev, leg) for leg in legs], axis=-2) if len(legs) > 1 else None
    if eyes is None:
        return load[:, None]
    if len(legs) == SPACE:
        return np.asarray(handbook.three_legs(load, eyes, ev.of(hook, lift), ev.of(centre, lift)))
    found = []
    for number in range(len(legs)):
        apart = np.linalg.norm(eyes[0] - eyes[0, number], axis=-1)
        pair = eyes[:, number], eyes[:, int(np.argmax(apart))]
        found.append(_of_pair(load, *pair, ev.of(hook, lift), ev.of(centre, lift)))
    return np.stack(found, axis=-1)


def _of_pair(load: Array, eye: Array, other: Array, place: Array, at: Array) -> Array:
    """Tension of the leg to `eye` where it and the one to `other` carry all, in the plane in which they hang."""
    between = other - eye
    length = np.linalg.norm(between, axis=-1)
    along = between / length[:, None]
    to_hook, to_centre = place - eye, at - eye
    before = (to_hook * along).sum(axis=-1)
    height = np.linalg.norm(to_hook - before[:, None] * along, axis=-1)
    where = (to_centre * along).sum(axis=-1)
    side = to_centre - where[:, None] * along
    below = np.where(side[:, 2] < 0, 1.0, -1.0) * np.linalg.norm(side, axis=-1)
    first, _ = handbook.two_legs(load, before, length - before, height, before - where, below)
    return np.asarray(first)


def leg_angle(ev: Evaluation, lift: Lift, leg: SlingLeg) -> Array:
    """Angle of a leg from the horizontal as the load hangs, rad."""
    up = ev.of(hook, lift) - ev.of(centre, lift)
    run = ev.of(hook, lift) - _eye(ev, leg)
    if len(legs_of(ev.build, lift)) == PLANE:
        return _angle_in_plane(ev, lift, leg)
    steep = (run * up).sum(axis=-1) / np.linalg.norm(run, axis=-1) / np.linalg.norm(up, axis=-1)
    return np.asarray(np.arcsin(np.minimum(steep, 1.0)))  # a leg straight up may come out a rounding above 1


def _angle_in_plane(ev: Evaluation, lift: Lift, leg: SlingLeg) -> Array:
    """The same for two legs: the load turns about the line of its eyes until its centre is in the plane of the legs."""
    (other,) = (one for one in legs_of(ev.build, lift) if one.name != leg.name)
    eye, far = _eye(ev, leg), _eye(ev, other)
    along = (far - eye) / np.linalg.norm(far - eye, axis=-1)[:, None]
    to_hook, to_centre = ev.of(hook, lift) - eye, ev.of(centre, lift) - eye
    before, where = (to_hook * along).sum(axis=-1), (to_centre * along).sum(axis=-1)
    height = np.linalg.norm(to_hook - before[:, None] * along, axis=-1)
    side = to_centre - where[:, None] * along
    below = np.where(side[:, 2] < 0, 1.0, -1.0) * np.linalg.norm(side, axis=-1)
    tilt = np.asarray(handbook.hang_angle(before - where, height + below))
    return np.asarray(np.arcsin(np.sin(np.arctan2(height, before) + tilt)))  # past the upright it is flatter again


def _load_factor(ev: Evaluation, lift: Lift, leg: SlingLeg) -> str:
    angle = float(leg_angle(ev, lift, leg)[0])
    factor = 1 / np.sin(angle) if angle > 0 else np.inf
    aim = "" if angle >= handbook.GOOD_LEG else "; aim for 60° or steeper: use longer legs or a spreader beam"
    return f"its tension is {factor:.2f} times that of a vertical leg{aim}"
