"""The uncertainty of a value.

Answers   Spread          half-widths in SI, with the shape of the distribution
          WithSpread      a value written with or without one
          WrittenSpread   the figure after the ± of a fact: in its own unit, or in percent of the value
Sources   JCGM 100 (GUM): 4.3.7 for limits without a known shape, a/√3; 6.2 for the expanded uncertainty, k = 2 (clauses from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum


class Shape(StrEnum):
    """Normal: the half-width is an expanded uncertainty, k = 2, 95 %. Rectangular: it is a limit that is never exceeded."""

    normal = "normal"
    rectangular = "rectangular"


@dataclass(frozen=True)
class Spread:
    """Half-widths below and above the value, in SI, not negative."""

    minus: float
    plus: float
    shape: Shape

    def __post_init__(self) -> None:
        if not (0 <= self.minus < math.inf and 0 <= self.plus < math.inf):
            msg = f"the uncertainty is -{self.minus} and +{self.plus}: expected two finite half-widths of at least 0"
            raise ValueError(msg)

    @property
    def is_zero(self) -> bool:
        """Whether the value is exact."""
        return self.minus == 0 == self.plus

    @property
    def standard_uncertainty(self) -> float:
        """One standard deviation, SI.

        Normal: U/2. Rectangular: (a₋ + a₊)/√12, which is a/√3 for equal limits.

        >>> Spread(0.1, 0.1, Shape.normal).standard_uncertainty
        0.05
        """
        if self.shape is Shape.normal:
            return self.plus / 2
        return (self.minus + self.plus) / math.sqrt(12)


@dataclass(frozen=True)
class WrittenSpread:
    """Half-widths as written: in the unit of the value, or in percent of it if `is_relative`."""

    minus: float
    plus: float
    is_relative: bool = False

    @property
    def is_even(self) -> bool:
        """Whether both half-widths are equal."""
        return self.minus == self.plus


class WithSpread:
    """A fact or a curve, written with or without an uncertainty."""

    written_spread: WrittenSpread | None

    @property
    def spread_is_written(self) -> bool:
        """Whether the uncertainty was written; else it is the default of the provenance."""
        return self.written_spread is not None
