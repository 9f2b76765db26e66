"""Working time: which minutes are worked, how long work takes by the clock, when a wait by the clock is over.

Answers   Calendar     the working windows of a workshop from a day on, for work that is quiet or loud, alone or with a helper
          WorkTime     the windows of one kind of work, with minutes worked up to a moment and back
Not here  how the builder writes them (workshop.py); what is done in them (problem.py, dates.py)
Symbols   minutes of the clock since midnight of the first day; W(t) minutes worked up to t
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from trialfit.planning.workshop import MINUTES_OF_A_DAY

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from trialfit.handbook.arrays import Array
    from trialfit.planning.workshop import Window, Workshop

    Spans = list[tuple[int, int]]


@dataclass(frozen=True)
class WorkTime:
    """Windows of working time, in order and apart: `begins` and `ends` in minutes."""

    begins: Array
    ends: Array

    @cached_property
    def _before(self) -> Array:
        return np.concatenate([[0.0], np.cumsum(self.ends - self.begins)])

    @property
    def whole(self) -> float:
        """All minutes worked in it."""
        return float(self._before[-1])

    def worked(self, moment: ArrayLike) -> Array:
        """W(t): minutes worked up to a moment."""
        at = np.asarray(moment, float)
        place = np.searchsorted(self.begins, at, side="right")
        into = np.minimum(at, self.ends[np.maximum(place - 1, 0)]) - self.begins[np.maximum(place - 1, 0)]
        return np.where(place > 0, self._before[np.maximum(place - 1, 0)] + into, 0.0)

    def reached(self, worked: ArrayLike) -> Array:
        """The first moment at which that many minutes have been worked; inf if the windows hold fewer."""
        wanted = np.asarray(worked, float)
        place = np.searchsorted(self._before, wanted, side="left") - 1
        inside = np.clip(place, 0, len(self.begins) - 1)
        found = self.begins[inside] + wanted - self._before[inside]
        return np.where(wanted > self._before[-1] + 1e-9, np.inf, found)

    def next_work(self, moment: ArrayLike) -> Array:
        """The first moment, not before the one given, at which work goes on; inf after the last window."""
        at = np.asarray(moment, float)
        place = np.searchsorted(self.ends, at, side="right")
        inside = np.minimum(place, len(self.ends) - 1)
        return np.where(place < len(self.ends), np.maximum(at, self.begins[inside]), np.inf)

    def finish(self, begin: ArrayLike, minutes: ArrayLike) -> Array:
        """When work that begins at a moment is done; it pauses outside the working windows."""
        return self.reached(self.worked(begin) + np.asarray(minutes, float))


class Calendar:
    """The working windows of a workshop over some days from the first one on."""

    def __init__(self, workshop: Workshop, first: date, days: int) -> None:
        self.workshop, self.first, self.days = workshop, first, days
        self._known: dict[tuple[int, bool], WorkTime] = {}

    def minute(self, moment: datetime) -> float:
        """A moment as minutes since midnight of the first day, by the wall clock."""
        return (moment.replace(tzinfo=None) - datetime.combine(self.first, time())).total_seconds() / 60

    def moment(self, minute: float) -> datetime:
        """The moment of a minute, by the wall clock, without a zone."""
        return datetime.combine(self.first, time()) + timedelta(minutes=round(minute))

    def work_time(self, people: int = 1, *, is_loud: bool = False) -> WorkTime:
        """The windows for work of that many people. Loud work keeps out of the quiet hours."""
        there = people if people <= self.workshop.people + bool(self.workshop.helper) else 1
        key = (max(0, there - self.workshop.people), is_loud)
        if key not in self._known:
            spans = [span for day in range(self.days) for span in self._of_day(day, *key)]
            joined = _joined(spans)
            begins = np.array([begin for begin, _ in joined], float)
            self._known[key] = WorkTime(begins, np.array([end for _, end in joined], float))
        return self._known[key]

    def _of_day(self, number: int, helpers: int, is_loud: bool) -> Spans:  # noqa: FBT001 - the key of a table
        day = self.first + timedelta(days=number)
        spans: Spans = []
        if not any(first <= day <= last for first, last in self.workshop.holidays):
            spans += _windows(self.workshop.week, day.weekday())
        spans += [(begin, end) for extra, begin, end in self.workshop.extra if extra == day]
        spans = _joined(sorted(spans))
        if helpers:
            spans = _common(spans, _joined(sorted(_windows(self.workshop.helper, day.weekday()))))
        if is_loud:
            spans = _without(spans, self.workshop.quiet)
        midnight = number * MINUTES_OF_A_DAY
        return [(midnight + begin, midnight + end) for begin, end in spans]


def _windows(windows: tuple[Window, ...], weekday: int) -> Spans:
    return [(one.begin, one.end) for one in windows if one.day == weekday]


def _joined(spans: Spans) -> Spans:
    joined: Spans = []
    for begin, end in spans:
        if joined and begin <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((begin, end))
    return joined


def _common(spans: Spans, others: Spans) -> Spans:
    found = [(max(begin, low), min(end, high)) for begin, end in spans for low, high in others]
    return sorted((begin, end) for begin, end in found if begin < end)


def _without(spans: Spans, gone: tuple[tuple[int, int], ...]) -> Spans:
    for low, high in gone:
        pieces = [piece for begin, end in spans for piece in ((begin, min(end, low)), (max(begin, high), end))]
        spans = [(begin, end) for begin, end in pieces if begin < end]
    return spans
