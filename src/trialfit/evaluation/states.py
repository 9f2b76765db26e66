"""One value in several states of the car.

Answers   InStates   a value with its states along the second axis, and their names
Not here  which states a car has (subjects/load_states.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from trialfit.handbook.arrays import Array


@dataclass(frozen=True)
class InStates:
    """One value in several states of the car: values (draws, states) in SI, and the names of the states in the trade's words."""

    values: Array
    names: tuple[str, ...]
