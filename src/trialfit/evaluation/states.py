"""One value in several states of the car, and the worst of them.

Answers   InStates     a value in several states, as a subject gives it: laden, in each gear, at droop and on lock
          crossed      states of two sorts that come together, as one row of states: "laden, 1st gear"
          is_in        whether a joined name belongs to a state: "laden, 1st gear" to "laden"
          as_states    a value as draws in states; a plain value has one state without a name
Not here  the states there are (the subjects); what is judged of them (limits.py)
Method    States run along the second axis, so that no state costs a loop. A requirement must be kept in all of them at once:
          each draw is a car, and it is judged by its own worst state.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike

    from trialfit.handbook.arrays import Array

_BETWEEN = ", "


@dataclass(frozen=True)
class InStates:
    """One value in several states of the car: values (draws, states) in SI, and the names of the states in the trade's words."""

    values: Array
    names: tuple[str, ...]

    def __post_init__(self) -> None:
        if not self.names or np.ndim(self.values) != 2 or np.shape(self.values)[1] != len(self.names):  # noqa: PLR2004 - draws, states
            msg = f"values of shape {np.shape(self.values)} for {len(self.names)} states: expected (draws, states)"
            raise ValueError(msg)


def crossed(values: Array, outer: Sequence[str], inner: Sequence[str]) -> InStates:
    """Values (draws, outer, inner) of states that come together, as one row of states with joined names.

    >>> crossed(np.zeros((1, 2, 2)), ("driver only", "laden"), ("1st gear", "reverse")).names
    ('driver only, 1st gear', 'driver only, reverse', 'laden, 1st gear', 'laden, reverse')
    """
    names = tuple(_BETWEEN.join(filter(None, (one, other))) for one in outer for other in inner)
    return InStates(np.reshape(values, (len(values), -1)), names)


def is_in(name: str, state: str) -> bool:
    """Whether a state, by its joined name, is one of those called `state`.

    >>> is_in("laden, 1st gear", "laden"), is_in("laden, 1st gear", "towing")
    (True, False)
    """
    return state in name.split(_BETWEEN)


def as_states(value: ArrayLike | InStates, draws: int) -> InStates:
    """A value as draws (draws, states): one number counts for all draws."""
    if isinstance(value, InStates):
        if len(value.values) == draws:
            return value
        return InStates(np.broadcast_to(value.values, (draws, len(value.names))), value.names)
    values = np.asarray(value, float)
    return InStates((values if values.shape == (draws,) else np.broadcast_to(values, draws))[:, None], ("",))
