"""Eye bolts: does each bear the pull of its leg at the angle at which the leg leaves it?

Answers   requirements   eye_bolt.LEG, where the leg names an eye bolt
Not here  the tension of the leg (legs.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import FORCE
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.fastening import eye_bolts as handbook
from trialfit.parts import Lift
from trialfit.subjects.lifting.cautions import HOISTING
from trialfit.subjects.lifting.hoisting import hung_hook, legs_of
from trialfit.subjects.lifting.legs import tensions

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import SlingLeg

_BY_ANGLE = Source(
    "DIN 580 annex A, table A.1, as a product leaflet prints it; plain ones by inch practice on a supplier's page",
    SourceKind.published,
)
_AXES = {"along the car": 0, "across the car": 1, "upright": 2}


def requirements(build: Build) -> Iterator[Requirement]:
    """What each eye bolt must bear."""
    for lift in build.all(Lift):
        for leg in legs_of(build, lift):
            if leg.eye is not None:
                yield _bears(lift, leg)


def _bears(lift: Lift, leg: SlingLeg) -> Requirement:
    return Requirement(
        id=f"lifting.eye_bolt.{leg.name}",
        about=leg.name,
        says=f"the {leg.eye} eye bolt of {leg.name} bears the pull of its leg at the angle at which it leaves, dynamic factor included",
        value=partial(pull, lift=lift, leg=leg),
        quantity=FORCE,
        stake=Stake.safety,
        limit=AtMost(partial(allowed, lift=lift, leg=leg)),
        source=_BY_ANGLE,
        formulas=(handbook.share_at_angle, handbook.rating_without_a_mark),
        shows=partial(_shown, lift=lift, leg=leg),
        caution=HOISTING,
        cure="a longer sling or a spreader beam so that the leg leaves along the bolt, a larger collar eye bolt, or a swivel hoist ring",
    )


def pull(ev: Evaluation, lift: Lift, leg: SlingLeg) -> Array:
    """Largest tension of its leg, N."""
    number = [one.name for one in legs_of(ev.build, lift)].index(leg.name)
    return np.asarray(ev.of(tensions, lift)[..., number].reshape(ev.draws, -1).max(axis=-1))


def angle_off_axis(ev: Evaluation, lift: Lift, leg: SlingLeg) -> Array:
    """Angle between a leg and the axis of its eye bolt, rad: both turn with the load."""
    run = ev.of(hung_hook, lift) - np.stack(ev.each(leg.eye_x, leg.eye_y, leg.eye_z), axis=-1)
    along = np.abs(run[:, _AXES[leg.eye_axis or "upright"]]) / np.linalg.norm(run, axis=-1)
    return np.asarray(np.arccos(np.minimum(along, 1.0)))


def _rating(ev: Evaluation, leg: SlingLeg) -> Array:
    """Along the axis, N: written, else all that a collar eye bolt of that thread may bear. Raises MissingFact."""
    return np.asarray(ev(leg.eye_rated_mass) * STANDARD_GRAVITY)


def allowed(ev: Evaluation, lift: Lift, leg: SlingLeg) -> Array:
    """Pull that it bears at its angle, N; nothing across its eye."""
    rated = ev.of(_rating, leg)
    if leg.eye_plane == "across it":
        return np.zeros(ev.draws)
    share = handbook.share_at_angle(leg.eye or "plain", ev.of(angle_off_axis, lift, leg), ev(leg.eye_share_at_45))
    return np.asarray(rated * share)


def _shown(ev: Evaluation, lift: Lift, leg: SlingLeg) -> str:
    if leg.eye_plane == "across it":
        return "pulled across its eye: no eye bolt is rated for that; turn it with a shim, or use a swivel hoist ring"
    angle = float(np.degrees(ev.of(angle_off_axis, lift, leg)[0]))
    share = float(ev.of(allowed, lift, leg)[0] / ev.of(_rating, leg)[0])
    said = f"{angle:.0f}° off its axis leaves {100 * share:.0f} % of {float(ev.of(_rating, leg)[0]) / STANDARD_GRAVITY:.0f} kg"
    if leg.eye_rated_mass.written is not None:
        return said
    return f"{said}; read the mark on the eye, its norm or its rating, and write eye_rated_mass: without a mark do not lift with it"
