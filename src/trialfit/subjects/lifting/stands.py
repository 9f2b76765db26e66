"""The stands under a car: what each carries, and how hard a push tips the car off.

Answers   requirements   stand_load.STANDS, push.STANDS, pair.STANDS
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import COUNT, FORCE, MASS
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.lifting.hoisting import push_to_tip, stand_load
from trialfit.parts import Car, Stands
from trialfit.subjects.lifting.cautions import STANDING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


PLATE = Source("the plate on the stand, for one stand, as written", SourceKind.manual)
PAIRS = Source("workshop textbook, page on stands: used in pairs", SourceKind.published)


def requirements(build: Build) -> Iterator[Requirement]:
    """What the stands under each end must carry."""
    for stands in build.all(Stands):
        for what, says, value, quantity, limit, source in (
            (
                "stand_load",
                f"one of {stands.name} carries its share of the {stands.under} end, as driven",
                partial(_load, stands=stands),
                MASS,
                AtMost(partial(_rated, stands=stands)),
                PLATE,
            ),
            (
                "push",
                f"a push from the side does not tip the car off {stands.name}",
                partial(_push, stands=stands),
                FORCE,
                AtLeast(partial(_wanted_push, stands=stands)),
                COMMON_PRACTICE,
            ),
            (
                "pair",
                f"{stands.name} are used in a pair",
                partial(_count, stands=stands),
                COUNT,
                AtLeast(2.0),
                PAIRS,
            ),
        ):
            yield Requirement(
                id=f"lifting.{what}.{stands.name}",
                about=stands.name,
                says=says,
                value=value,
                quantity=quantity,
                stake=Stake.safety,
                limit=limit,
                source=source,
                formulas=(stand_load, push_to_tip) if what != "pair" else (),
                caution=STANDING,
            )


def _axle_mass(ev: Evaluation, stands: Stands) -> Array:
    car = ev.part(Car)
    rear, whole = ev.each(car.rear_axle_mass, car.mass)
    return np.asarray(rear if stands.under == "rear" else whole - rear)


def _load(ev: Evaluation, stands: Stands) -> Array:
    return np.asarray(stand_load(_axle_mass(ev, stands), ev(stands.count)))


def _rated(ev: Evaluation, stands: Stands) -> Array:
    return ev(stands.rated_mass)


def _push(ev: Evaluation, stands: Stands) -> Array:
    spread, height = ev.each(stands.spacing, stands.push_height)
    return np.asarray(push_to_tip(_axle_mass(ev, stands) * STANDARD_GRAVITY, spread, height))


def _wanted_push(ev: Evaluation, stands: Stands) -> Array:
    return ev(stands.push)


def _count(ev: Evaluation, stands: Stands) -> Array:
    return ev(stands.count)
