"""From draws to what is shown: the nominal and the interval that holds 95 % of them, in a unit.

Answers   middle              nominal and interval of some draws, SI
          middle_of_margin    the same of a margin
          interval            the same in a unit, as a finding shows it
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.finding import Interval
from trialfit.evaluation.requirement import AtMost, Between
from trialfit.facts.units import from_si, from_si_difference

if TYPE_CHECKING:
    from trialfit.evaluation.requirement import Side
    from trialfit.facts.units import Unit
    from trialfit.handbook.arrays import Array


@dataclass(frozen=True)
class Middle:
    """The nominal of some draws and the ends of the interval that holds 95 % of them, SI."""

    nominal: float
    low: float
    high: float


def middle(values: Array | None) -> Middle | None:
    """None if the nominal itself is outside the range of a formula."""
    if values is None or not np.isfinite(values[0]):
        return None
    nominal = float(values[0])
    if values.strides == (0,) or values.size == 1:  # one exact value, stretched over the draws
        return Middle(nominal, nominal, nominal)
    drawn = values[1:]
    if not (sound := np.isfinite(drawn)).all():
        drawn = drawn[sound]
    return Middle(nominal, *_middle_95(drawn)) if drawn.size else Middle(nominal, nominal, nominal)


def middle_of_margin(margin: Array | None, value: Middle | None, bound: Array | None, side: Side) -> Middle | None:
    """The same of a margin; against one exact bound it is that of the value, counted from the bound."""
    if value is None or bound is None or bound.strides != (0,) or isinstance(side, Between):
        return middle(margin)
    exact = float(bound[0])
    if isinstance(side, AtMost):
        return Middle(exact - value.nominal, exact - value.high, exact - value.low)
    return Middle(value.nominal - exact, value.low - exact, value.high - exact)


def _middle_95(drawn: Array) -> tuple[float, float]:
    """The quantiles of 2.5 % and 97.5 %, interpolated linearly as by numpy.quantile, but faster."""
    places = [share * (drawn.size - 1) for share in (0.025, 0.975)]
    below = [int(place) for place in places]
    above = [min(place + 1, drawn.size - 1) for place in below]
    ordered = np.partition(drawn, sorted({*below, *above}))
    low, high = (
        float(ordered[left] + (place - left) * (ordered[right] - ordered[left]))
        for place, left, right in zip(places, below, above, strict=True)
    )
    return low, high


def interval(shown: Middle | None, unit: Unit, *, difference: bool = False) -> Interval | None:
    """Nominal and 95 % interval in a unit."""
    if shown is None:
        return None
    convert = from_si_difference if difference else from_si
    nominal, low, high = (float(convert(value, unit)) for value in (shown.nominal, shown.low, shown.high))
    return Interval(nominal=nominal, low=low, high=high, unit=unit.spelling)
