"""Whatever takes up room, in the states it moves into: solids of the car and of the drivetrain, and the shafts.

Answers   body           one in some of its states, in the car's axes or in those it is fixed to
          corner_levels  the levels of the states that decide; ways: which movements there are
          said           a level in words
          more_movement  how much further it may move than at the nominal
          drawn_solid    a solid in all of these states, in the axes of what it is fixed to; state_names: in words
Not here  size and place at rest (shapes.py); the shafts' own facts (shafts.py); which states of a pair matter (gaps.py)
Levels    a level gives for each movement the share that is gone, from −1 to 1: of a solid of the car its travel along x, y, z; of
          one on the drivetrain (rocked, lifted, moved forward) and then its own travel. All of them come together.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from trialfit.parts import Solid
from trialfit.placement.drawn import Drawn, carried, turned_by
from trialfit.placement.pose import turn_of
from trialfit.placement.rocking import corners, in_words, rocking, word
from trialfit.subjects.clearance import shafts
from trialfit.subjects.clearance.few import FewDraws, steady
from trialfit.subjects.clearance.mounted import motion
from trialfit.subjects.clearance.shapes import at_rest
from trialfit.subjects.placed import pose_now

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.placement.rocking import Level
    from trialfit.subjects.clearance.shafts import Shaft

CAR, OWN = "car", "own"
"""The axes that a body is given in: those of the car, or those of what it is fixed to."""

_WAYS = (("moved forward", "moved back"), ("moved to the left", "moved to the right"), ("moved up", "moved down"))
_ON_MOUNTS = 3


def ways(ev: Evaluation, part: Solid | Shaft) -> tuple[bool, ...]:
    """Which of its movements there are, in the order of a level. Raises MissingFact."""
    if not isinstance(part, Solid):
        return shafts.ways(ev, part)
    own = tuple(bool(plus.any() or minus.any()) for plus, minus in ev.of(_travels, part))
    return (*ev.of(motion).moves, *own) if part.fixed_to == "drivetrain" else own


def corner_levels(ev: Evaluation, part: Solid | Shaft) -> tuple[Level, ...]:
    """The levels that decide: at rest, and all its movements at once, each at either end. Raises MissingFact."""
    return corners(ev.of(ways, part))


def said(ev: Evaluation, part: Solid | Shaft, level: Level) -> str:
    """A level in words, such as "rolled with its left side up, lifted"; nothing at rest."""
    if not isinstance(part, Solid):
        return shafts.said(ev, part, level)
    own = level[-3:]
    words = [in_words(ev.of(motion), level[:_ON_MOUNTS])] if part.fixed_to == "drivetrain" else []
    return ", ".join(filter(None, [*words, *(word(gone, pair) for gone, pair in zip(own, _WAYS, strict=True))]))


def body(ev: Evaluation, part: Solid | Shaft, levels: Sequence[Level], axes: str = CAR) -> Drawn:
    """One body in some of its states; draws × levels. Raises MissingFact."""
    if not isinstance(part, Solid):
        return shafts.body(ev, part, tuple(levels))
    still = ev.of(at_rest, part)
    travel = _travelled(ev, part, levels)
    if part.fixed_to != "drivetrain":  # no state of it turns it
        turns = np.broadcast_to(still.turns, (ev.draws, len(levels), 3, 3))
        return replace(still, turns=turns, shifts=still.shifts + travel)
    turns, shifts = _group_at(ev, tuple(level[:_ON_MOUNTS] for level in levels), axes)
    return still.moving(turns, shifts + carried(turns, travel) if travel.any() else shifts)


def _group_at(ev: Evaluation, levels: tuple[Level, ...], axes: str) -> tuple[Array, Array]:
    """The drivetrain in some states: turns (draws, states, 3, 3) and shifts (draws, states, 3)."""
    if isinstance(ev, FewDraws):  # many states in few draws: all at once
        return _group_in(ev, levels, axes)
    features = np.stack([ev.of(_features_in, level, axes) for level in levels], axis=1)
    turns = features[:9].reshape(3, 3, len(levels), ev.draws).transpose(3, 2, 0, 1)
    return turns, features[9:].transpose(2, 1, 0)


def _features_in(ev: Evaluation, level: Level, axes: str) -> Array:
    """The drivetrain in one state, as `Drawn.features` counts it, (12, draws): worked out once for all its solids."""
    turns, shifts = _group_in(ev, (level,), axes)
    found = np.empty((12, ev.draws))
    found[:9] = turns[:, 0].transpose(1, 2, 0).reshape(9, -1)
    found[9:] = shifts[:, 0].T
    return found


def _group_in(ev: Evaluation, levels: tuple[Level, ...], axes: str) -> tuple[Array, Array]:
    turned, shifted = rocking(ev.of(motion), levels)
    turns, shifts = turned.transpose(3, 2, 0, 1), shifted.transpose(2, 1, 0)
    if axes == OWN:
        return turns, shifts
    turn = ev.of(_turn_now)
    shifts = carried(turn, shifts)
    shifts += ev.of(pose_now)[:, None, :3]
    return turned_by(turn, turns), shifts


def _turn_now(ev: Evaluation) -> Array:
    return turn_of(*ev.of(pose_now)[:, 3:].T)[:, None]


def _travelled(ev: Evaluation, solid: Solid, levels: Sequence[Level]) -> Array:
    """How far a solid has travelled by itself, (draws, levels, 3), m."""
    gone = np.asarray([level[-3:] for level in levels], float)
    found = np.zeros((ev.draws, len(levels), 3))
    for axis, (plus, minus) in enumerate(ev.of(_travels, solid)):
        if gone[:, axis].any():
            found[..., axis] = np.where(gone[:, axis] > 0, plus[:, None], minus[:, None]) * gone[:, axis]
    return found


def _travels(ev: Evaluation, solid: Solid) -> tuple[tuple[Array, Array], ...]:
    """How far a solid travels by itself along x, y and z: forth and back, (draws,) each, m. Raises MissingFact."""
    both = (solid.travel_x, solid.travel_y, solid.travel_z)
    other_way = (solid.travel_back, solid.travel_right, solid.travel_down)
    return tuple(
        (steady(ev, ev(ref)), steady(ev, ev(ref if other.written is None else other)))
        for ref, other in zip(both, other_way, strict=True)
    )


def more_movement(ev: Evaluation, part: Solid | Shaft, reach: float) -> float:
    """How much further than at the nominal a body may move in any draw, m; `reach` from the axis it rocks about. Raises MissingFact."""
    if not isinstance(part, Solid):
        return 0.0
    more = [float((each - each[0]).max()) for travel in ev.of(_travels, part) for each in travel]
    if part.fixed_to == "drivetrain":
        on_mounts = ev.of(motion)
        more += [float((each - each[0]).max()) for each in (on_mounts.heave, on_mounts.fore_aft)]
        more.append(reach * float((on_mounts.rock - on_mounts.rock[0]).max()))
    return sum(more)


def drawn_solid(ev: Evaluation, solid: Solid) -> Drawn:
    """A solid in every state that decides, in the axes of what it is fixed to; at rest first. Raises MissingFact."""
    return body(ev, solid, ev.of(corner_levels, solid), OWN)


def state_names(ev: Evaluation, solid: Solid) -> tuple[str, ...]:
    """The states of `drawn_solid` in words, in the same order."""
    return tuple(said(ev, solid, level) for level in ev.of(corner_levels, solid))
