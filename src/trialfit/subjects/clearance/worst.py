"""Which states of two bodies can bring them nearest: looked for in a few draws, so that the many need no others.

Answers   worst_states    the levels of either body that matter; names_of  states in words
          smallest_at_nominal    the smallest gap of two bodies, on their way too
          at_ends         a body in the states at the ends of its movements, in the first draws
          lowest_levels   those in which a solid of the drivetrain comes lowest
          is_housed       whether a shaft comes out of a solid
          play            how far a body may go from where it is at the nominal
Not here  the search itself (placement/worst_states.py); the gaps (gaps.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.parts import Solid
from trialfit.placement import solids
from trialfit.placement.drawn import Drawn
from trialfit.placement.draws import part_distances
from trialfit.placement.worst_states import Movable, simplest, smallest_gap, worst_levels
from trialfit.subjects.clearance import shafts
from trialfit.subjects.clearance.few import first_draws, nominal
from trialfit.subjects.clearance.moving import OWN, body, corner_levels, more_movement, said, ways
from trialfit.subjects.clearance.pairs import kind_of
from trialfit.subjects.placed import pose_now

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.placement.rocking import Level
    from trialfit.subjects.clearance.pairs import Pair
    from trialfit.subjects.clearance.shafts import Shaft

AT_REST = "at rest"
"""The name of the state in which nothing has moved."""
_ON_MOUNTS = 3
RESERVE = 2.0
"""Of thousands of draws the farthest goes so many times as far as the farthest of the first 32, at most: 4 against 2.1 s."""
HOUSED = {"car": 0.0, "drivetrain": 0.1}
"""A plain solid that the end of a shaft lies in, or of the drivetrain one so near to it, m, is what it comes out of: a choice, no source."""


def at_ends(few: Evaluation, part: Solid | Shaft, axes: str) -> Drawn:
    """A body in the states at the ends of its movements. Raises MissingFact."""
    return body(few, part, few.of(_corners, part, axes), axes)


def play(ev: Evaluation, few: Evaluation, part: Solid | Shaft, axes: str) -> float:
    """How far any point of a body may be from where it is at the nominal, in the draws that few draws stand for, m."""
    placed = few.of(at_ends, part, axes)
    return RESERVE * float(placed.moved.max()) + more_movement(ev, part, reach=float(np.abs(placed.shifts[0]).max()))


def _corners(few: Evaluation, part: Solid | Shaft, axes: str) -> tuple[Level, ...]:
    """In the drivetrain's own axes what it does on its mounts does not count."""
    levels = few.of(corner_levels, part)
    if axes == OWN:
        return tuple(dict.fromkeys((0.0,) * _ON_MOUNTS + level[_ON_MOUNTS:] for level in levels))
    return levels


def _moves(few: Evaluation, part: Solid | Shaft, axes: str) -> tuple[bool, ...]:
    moves = few.of(ways, part)
    return (False,) * _ON_MOUNTS + moves[_ON_MOUNTS:] if axes == OWN else moves


def _movable(few: Evaluation, part: Solid | Shaft, axes: str) -> Movable:
    exact = few.of(nominal)
    return Movable(
        few.of(_moves, part, axes),
        few.of(_corners, part, axes),
        partial(body, few, part, axes=axes),
        partial(body, exact, part, axes=axes),
        few.of(at_ends, part, axes),
    )


def worst_states(ev: Evaluation, pair: Pair) -> tuple[tuple[Level, ...], tuple[Level, ...]]:
    """The levels of either body that can bring them nearest in some draw. Raises MissingFact."""
    return worst_levels(*_two(ev, pair))


def smallest_at_nominal(ev: Evaluation, pair: Pair) -> float:
    """The smallest gap of two bodies at the nominal, at the ends of their movements and between them, m. Raises MissingFact."""
    return smallest_gap(*_two(ev, pair))


def names_of(ev: Evaluation, pair: Pair, states: Sequence[tuple[Level, Level]]) -> list[str]:
    """States of two bodies in words, by the movements that make a difference: "sump sunk; rack moved up"."""
    few, parts = ev.of(first_draws), (pair.one, pair.other)
    return [
        "; ".join(
            f"{part.name.replace('_', ' ')} {how}"
            for part, level in zip(parts, levels, strict=True)
            if (how := said(few, part, level))
        )
        or AT_REST
        for levels in simplest(*_two(ev, pair), states)
    ]


def _two(ev: Evaluation, pair: Pair) -> tuple[Movable, Movable]:
    few = ev.of(first_draws)
    return few.of(_movable, pair.one, pair.axes), few.of(_movable, pair.other, pair.axes)


def lowest_levels(ev: Evaluation, solid: Solid) -> tuple[Level, ...]:
    """The levels in which a solid of the drivetrain comes lowest: sunk, rocked to either side, moved to where it leans down."""
    moves = ev.of(ways, solid)
    leans = -np.sign(np.sin(ev.of(pose_now)[0, 4]))  # nose down: forward is down
    level = [0.0, -1.0, -float(leans), 0.0, 0.0, -1.0]
    rocked = (1.0, -1.0) if moves[0] else (0.0,)
    return tuple(
        tuple(share if moved else 0.0 for share, moved in zip([rock, *level[1:]], moves, strict=True))
        for rock in rocked
    )


def is_housed(few: Evaluation, pair: Pair) -> bool:
    """Whether a shaft comes out of a solid: one of its ends lies in it, or near it on the drivetrain, and its middle does not."""
    if isinstance(pair.one, Solid) or kind_of(pair.other) != "plain":
        return False
    exact = few.of(nominal)
    front, rear = exact.of(shafts.ends, pair.one)
    other = body(exact, pair.other, few.of(_corners, pair.other, pair.axes)[:1], pair.axes)
    points = np.stack([front[0], rear[0], (front[0] + rear[0]) / 2])
    states = np.broadcast_to(np.eye(3), (1, 3, 3, 3))
    _, _, distance = part_distances(Drawn((_POINT,), states, points[None]), other)
    near = distance.reshape(3, -1).min(axis=1) - _POINT.size[0]
    return bool(near[:2].min() <= HOUSED[str(pair.other.fixed_to)] and near[2] > 0)


_POINT = solids.capsule(2e-4, 4e-4, along="z")
