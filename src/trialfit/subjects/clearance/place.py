"""What the place of the drivetrain must satisfy besides gaps: lever in its opening, level, and what the rear axle carries.

Answers   requirements    lever.EDGE, level, rear_share
          lever_room      how far the lever is from each edge of its opening, at any poses
          rear_share_at   the share of the rear axle, at any poses
Not here  gaps (gaps.py); joint angles (driveline, and shaft_joints.py for the search)
Symbols   poses (k, 6) in SI, of which facts may have k draws or one
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import (
    BUILDER,
    COMMON_PRACTICE,
    AtLeast,
    AtMost,
    Requirement,
    Source,
    SourceKind,
    Stake,
)
from trialfit.facts.quantity import ANGLE, LENGTH, SHARE
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts import Car, Drivetrain, Opening
from trialfit.placement.pose import turn_of
from trialfit.subjects.line import rear_load_share
from trialfit.subjects.placed import over_floor, pose_now

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


EDGES = ("front", "rear", "left", "right")
LEVEL_SOURCE = Source(f"{NO_SOURCE}: use the maker's own figure where there is one", SourceKind.common_practice)


def requirements(build: Build) -> Iterator[Requirement]:
    """What lever, level and axle load must satisfy; only those for which facts are written."""
    drivetrain, opening = build.first(Drivetrain), build.first(Opening)
    if opening is not None:
        for number, edge in enumerate(EDGES):
            yield Requirement(
                id=f"clearance.lever.{edge}",
                about=opening.name,
                says=f"the gear lever stays clear of the {edge} edge of its opening",
                value=partial(_lever_now, number=number),
                quantity=LENGTH,
                stake=Stake.comfort,
                limit=AtLeast(lambda ev: ev(ev.part(Opening).lever_clearance)),
                source=BUILDER if opening.lever_clearance.written else COMMON_PRACTICE,
            )
    if drivetrain is not None and drivetrain.level_inclination.written is not None:
        yield Requirement(
            id="clearance.level",
            about=drivetrain.name,
            says="the crank is level within the tolerance of carburettor and sump",
            value=_off_level,
            quantity=ANGLE,
            stake=Stake.durability,
            limit=AtMost(lambda ev: ev(ev.part(Drivetrain).level_tolerance)),
            source=BUILDER if drivetrain.level_tolerance.written else LEVEL_SOURCE,
        )
    if drivetrain is not None and drivetrain.minimum_rear_share.written is not None:
        yield Requirement(
            id="clearance.rear_share",
            about=drivetrain.name,
            says="the rear axle carries its target share of the mass",
            value=lambda ev: ev.of(rear_load_share),
            quantity=SHARE,
            stake=Stake.comfort,
            limit=AtLeast(lambda ev: ev(ev.part(Drivetrain).minimum_rear_share)),
            source=BUILDER,
        )


def lever_room(poses: Array, lever: Array, edges: Array) -> Array:
    """How far the lever point is inside each edge, (k, 4), m; `lever` (k or 1, 3) of the group, `edges` (k or 1, 4)."""
    point = (turn_of(poses[:, 3], poses[:, 4], poses[:, 5]) @ lever[..., None])[..., 0] + poses[:, :3]
    x, y = point[:, 0], point[:, 1]
    return np.stack([edges[:, 0] - x, x - edges[:, 1], edges[:, 2] - y, y - edges[:, 3]], axis=-1)


def lever_facts(ev: Evaluation) -> tuple[Array, Array]:
    """The lever point of the group, (draws, 3), and the edges of the opening, (draws, 4). Raises MissingFact."""
    part, opening = ev.part(Drivetrain), ev.part(Opening)
    lever = ev.each(part.lever_x, part.lever_y, part.lever_z)
    edges = ev.each(opening.front_x, opening.rear_x, opening.left_y, opening.right_y)
    return np.stack(lever, axis=-1), np.stack(edges, axis=-1)


def _lever_now(ev: Evaluation, number: int) -> Array:
    return lever_room(ev.of(pose_now), *ev.of(lever_facts))[:, number]


def _off_level(ev: Evaluation) -> Array:
    part = ev.part(Drivetrain)
    _, level = ev.each(part.inclination, part.level_inclination)
    return np.abs(ev.of(over_floor, part.inclination) - level)


def rear_share_at(poses: Array, share: Array, mass: Array, drivetrain: Array, wheelbase: Array, x_now: Array) -> Array:
    """The share of the rear axle with the drivetrain moved along the car, (k,).

    share_new = share + (m/M)·(x_now − x)/L: what moves back by the wheelbase moves wholly onto the rear axle.

    >>> at = rear_share_at(np.array([[-0.24, 0, 0, 0, 0, 0]]), *map(np.array, (0.5, 1000.0, 250.0, 2.4, 0.0)))
    >>> at.round(4).tolist()
    [0.525]
    """
    return np.asarray(share + drivetrain / mass * (x_now - poses[:, 0]) / wheelbase)


def share_facts(ev: Evaluation) -> tuple[Array, Array, Array, Array, Array]:
    """What `rear_share_at` needs besides poses, each (draws,). Raises MissingFact."""
    car, part = ev.part(Car), ev.part(Drivetrain)
    mass, wheelbase, own = ev.each(car.mass, car.wheelbase, part.mass)
    return ev.of(rear_load_share), mass, own, wheelbase, ev(part.x)
