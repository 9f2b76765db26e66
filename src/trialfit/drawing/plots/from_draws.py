"""What the plots share: draws as numbers of an axis, findings as text.

Answers   numbers     SI values in a unit, as a tuple of an axis
          band        nominal and 95 % of the draws, point by point
          points      evenly spread places
          report_of   the findings of one subject, worked out with the same draws
          value_words, verdict_words    what a finding says, as on the screen
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.finding import Finding
from trialfit.evaluation.working import work_out
from trialfit.facts.showing import interval_text
from trialfit.facts.units import from_si
from trialfit.subjects.catalogue import requirements

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.finding import Figure, Interval, Report
    from trialfit.facts.units import Unit
    from trialfit.handbook.arrays import Array


_DIGITS = 6
_MIDDLE = (0.025, 0.975)
Numbers = tuple[float | None, ...]


def rounded(value: float) -> float:
    """To six digits."""
    return float(f"{value:.{_DIGITS}g}")


def numbers(values: Array, unit: Unit) -> tuple[float, ...]:
    """Finite SI values in a unit."""
    return tuple(rounded(float(value)) for value in from_si(np.asarray(values, float), unit))


def _or_none(values: Array, unit: Unit) -> Numbers:
    shown = from_si(np.asarray(values, float), unit)
    return tuple(rounded(float(value)) if np.isfinite(value) else None for value in shown)


def band(values: Array, unit: Unit) -> tuple[Numbers, Numbers, Numbers]:
    """Nominal, low and high of draws (draws, points), SI, in a unit.

    The band ends where a draw is outside the range of the formula; without uncertainty it is empty.
    """
    drawn = values[1:] if len(values) > 1 else values
    nominal = _or_none(values[0], unit)
    sound = np.isfinite(drawn).all(axis=0)
    if not np.any(np.ptp(np.where(sound, drawn, 0.0), axis=0) > 0):
        return nominal, (), ()
    low, high = np.quantile(np.where(sound, drawn, np.nan), _MIDDLE, axis=0)
    return nominal, _or_none(low, unit), _or_none(high, unit)


def value_words(value: Interval | None) -> str:
    """A value with its spread, as on the screen."""
    return interval_text(value.nominal, value.low, value.high, value.unit) if value else "not known"


def verdict_words(result: Finding | Figure) -> str:
    """The verdict of a finding as a word before its value; empty for a figure."""
    return f"{result.verdict}: " if isinstance(result, Finding) else ""


def report_of(ev: Evaluation, subject: str) -> Report:
    """The findings and figures of one subject, from the draws at hand; worked out once."""
    return ev.of(_report, subject)


def _report(ev: Evaluation, subject: str) -> Report:
    return work_out(ev, requirements(ev.build, (subject,)))


def points(low: float, high: float, count: int) -> Array:
    """Evenly spread places, both ends counted."""
    return np.linspace(low, high, count)
