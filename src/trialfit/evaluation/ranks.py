"""What outranks what: a maker's figure, what the program works out, and what somebody wrote down.

Answers   is_from_its_maker   whether a written fact may take the place of what is worked out
          outranked           the value to use of one that is written and one that is worked out
Rule      Only a manual or a catalogue takes the place of what is worked out. Of anything else that is written and what is worked
          out the lesser counts on the side of strength and the greater on the side of load, draw by draw. What is missing on
          one side leaves the other. Common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.states import InStates
from trialfit.facts.provenance import Provenance

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts.declaring import FactRef

    Value = Array | InStates

FROM_ITS_MAKER = frozenset({Provenance.manual, Provenance.catalogue})


def is_from_its_maker(ref: FactRef | None) -> bool:
    """Whether a fact is written from a manual or a catalogue."""
    return ref is not None and ref.written is not None and ref.written.provenance in FROM_ITS_MAKER


def outranked(
    ev: Evaluation,
    written: FactRef | None,
    worked_out: Callable[[Evaluation], Value] | Value | None,
    side: Literal["strength", "load"] = "strength",
) -> Value:
    """The value to use, (draws,), or with an axis of states or gears as `worked_out` has it.

    written      the fact that a builder may have written: a rating; None where there is none
    worked_out   what the physics gives: an array, or better a function of the evaluation, which is asked only where it
                 counts and may miss facts of its own; None where nothing can be worked out
    side         "strength" for what a part bears, "load" for what it must bear

    A typical value of the fact counts only where nothing can be worked out. Raises MissingFact, which names the facts of both,
    where neither is there.
    """
    if written is not None and is_from_its_maker(written):
        return ev(written)
    try:
        physics = worked_out(ev) if callable(worked_out) else worked_out
    except MissingFact as missing:
        return _written_alone(ev, written, missing)
    if physics is None:
        return _written_alone(ev, written, MissingFact({}))
    if written is None or written.written is None:
        return physics
    return _lesser_or_greater(physics, ev(written), np.minimum if side == "strength" else np.maximum)


def _written_alone(ev: Evaluation, written: FactRef | None, missing: MissingFact) -> Array:
    if written is None:
        raise missing
    try:
        return ev(written)
    except MissingFact as too:
        raise MissingFact({**too.wanted, **missing.wanted}) from missing


def _lesser_or_greater(physics: Value, written: Array, of_both: np.ufunc) -> Value:
    if isinstance(physics, InStates):
        return InStates(of_both(physics.values, written[:, None]), physics.names)
    beside = written.reshape((-1,) + (1,) * (np.ndim(physics) - 1)) if np.ndim(physics) else written
    return np.asarray(of_both(physics, beside))
