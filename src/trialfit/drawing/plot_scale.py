"""Axes: the place of a number on the paper, the numbers at its ticks, and their text.

Answers   Scale       from numbers to mm, with its ticks
          scale_of    the scale of an axis that holds certain numbers
          tick_words  a tick as text
Not here  the picture (plot_picture.py, row_picture.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from math import ceil, floor, isfinite, log10
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from trialfit.drawing.plot import Axis

_STEPS = (1.0, 2.0, 5.0, 10.0)
_DAYS = (1, 7, 14, 28, 91, 182, 365)
_AIR = 0.04
_ALMOST = 1e-9


@dataclass(frozen=True)
class Scale:
    """Numbers from `low` to `high` on the paper from `start` to `end`, mm; `step` between ticks."""

    low: float
    high: float
    start: float
    end: float
    step: float
    dates: bool = False

    def at(self, value: float) -> float:
        """Place of a number, mm."""
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)

    @property
    def ticks(self) -> tuple[float, ...]:
        """Multiples of the step on the scale; for dates, the Mondays."""
        first = ceil((self.low - 1) / self.step - _ALMOST) * self.step + 1 if self.dates else 0.0
        if not self.dates:
            first = ceil(self.low / self.step - _ALMOST) * self.step
        count = floor((self.high - first) / self.step + _ALMOST) + 1
        return tuple(first + number * self.step for number in range(max(0, count)))

    def words(self, tick: float) -> str:
        """A tick as text, with as many places as the step has."""
        if self.dates:
            day = date.fromordinal(round(tick))
            return f"{day.day} {day:%b}"
        places = max(0, -floor(log10(self.step) + _ALMOST))
        text = f"{tick:.{places}f}"
        return text.removeprefix("-") if float(text) == 0 else text


def scale_of(axis: Axis, values: Iterable[float | None], start: float, end: float, ticks: int = 8) -> Scale:
    """The scale of an axis that holds all values with a little room, and about this many ticks at round numbers."""
    held = [value for value in values if value is not None and isfinite(value)]
    low = min(held, default=0.0) if axis.low is None else axis.low
    high = max(held, default=1.0) if axis.high is None else axis.high
    if high - low <= _ALMOST * max(abs(low), abs(high), 1.0):
        half = 0.1 * abs(high) or 0.5
        low, high = low - half, high + half
    if axis.dates:
        step = float(next((days for days in _DAYS if (high - low) / days <= ticks), _DAYS[-1]))
        return Scale(floor(low), ceil(high + _AIR * (high - low)), start, end, step, dates=True)
    air = _AIR * (high - low)
    low, high = low - air * (axis.low is None and low != 0), high + air * (axis.high is None)
    step = _round_step((high - low) / ticks)
    return Scale(low, high, start, end, step)


def _round_step(least: float) -> float:
    decade = 10.0 ** floor(log10(least))
    return next(step * decade for step in _STEPS if step * decade >= least * (1 - _ALMOST))
