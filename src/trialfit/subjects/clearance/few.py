"""A build in a few draws, in which everything moves exactly as far as at the nominal: it says which states can be the nearest.

Answers   FewDraws   an evaluation of that sort
          steady     how far something moves, as such an evaluation has it
          first_draws, nominal    of a build
Why       How much nearer one state is than another grows with the movement and vanishes with it: its sign is that at the nominal
          movement. Where each thing sits can turn it, and that is drawn.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import Evaluation
from trialfit.placement.draws import LOOKED_AT

if TYPE_CHECKING:
    from trialfit.handbook.arrays import Array


class FewDraws(Evaluation):
    """Few draws of the places and sizes of a build; what moves, moves by the nominal."""


def first_draws(ev: Evaluation) -> Evaluation:
    """The same build in few draws."""
    return _as_read_by(ev, FewDraws(ev.build, LOOKED_AT))


def nominal(ev: Evaluation) -> Evaluation:
    """The same build at its nominal."""
    return _as_read_by(ev, FewDraws(ev.build, 1))


def _as_read_by(ev: Evaluation, few: FewDraws) -> Evaluation:
    """With the usual value of each factor that is laxer, where the many draws have it."""
    return few.by_ours() if ev.is_by_ours else few


def steady(ev: Evaluation, movement: Array) -> Array:
    """How far something moves, (draws,): in few draws by the nominal."""
    return np.broadcast_to(movement[:1], movement.shape) if isinstance(ev, FewDraws) else movement
