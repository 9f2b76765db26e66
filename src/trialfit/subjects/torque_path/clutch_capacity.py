"""Capacity of the clutch before it slips: its maker's rating, or calculated from clamp load and facing.

Answers   clutch_capacity   whichever is known; a maker's rating outranks, any other does not
          worked_out        from clamp load and facing
          is_rated, can_be_worked_out
Not here  what is required of it (clutch.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.ranks import outranked
from trialfit.handbook.torque_path import clutch as handbook
from trialfit.parts import Clutch

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef


def is_rated(clutch: Clutch) -> bool:
    """Whether its maker's rating is written."""
    return clutch.rated_torque.written is not None


def can_be_worked_out(clutch: Clutch) -> bool:
    """Whether clamp load and facing are written."""
    return all(ref.written is not None for ref in _facing(clutch))


def clutch_capacity(ev: Evaluation, side: Literal["strength", "load"] = "strength") -> Array:
    """Torque before the clutch slips, N·m, (draws,). Raises MissingFact where neither way is open.

    A maker's rating takes the place of what is worked out. Of any other rating and what is worked out the lesser counts for what
    the clutch holds, and the greater, side "load", for what it lets through.
    """
    clutch = ev.part(Clutch)
    if not is_rated(clutch) and not any(ref.written is not None for ref in _facing(clutch)):
        ref = clutch.rated_torque
        other = ", ".join(spec.spec.name for spec in _facing(clutch))
        raise MissingFact({ref.path: f"{ref.spec.says}; or {other} to work it out"})
    if not is_rated(clutch):
        return ev.of(worked_out)
    physics = (lambda ev: ev.of(worked_out)) if can_be_worked_out(clutch) else None
    return np.asarray(outranked(ev, clutch.rated_torque, physics, side))


def worked_out(ev: Evaluation) -> Array:
    """Torque before the clutch slips from clamp load and facing, N·m, (draws,)."""
    clutch = ev.part(Clutch)
    load, outside, inside, faces, friction = ev.each(*_facing(clutch), clutch.friction_faces, clutch.facing_friction)
    radius_of = handbook.facing_radius_new if clutch.condition == "new" else handbook.facing_radius_run_in
    return np.asarray(handbook.clutch_capacity(faces, friction, load, radius_of(outside / 2, inside / 2)))


def _facing(clutch: Clutch) -> tuple[FactRef, ...]:
    return clutch.clamp_load, clutch.facing_outside_diameter, clutch.facing_inside_diameter
