"""Calendars against a simulation that walks minute by minute."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import some

from trialfit.book import read_text
from trialfit.planning.calendar import Calendar
from trialfit.planning.job import Wait
from trialfit.planning.workshop import Window, Workshop, passing, workshop_of

FIRST = date(2026, 3, 2)  # a Monday
DAYS = 21
QUARTERS = st.integers(0, 95).map(lambda quarter: 15 * quarter)


@st.composite
def workshops(draw: st.DrawFn) -> Workshop:
    """Any week, quiet hours over midnight or not, a helper, holidays, extra days."""

    def windows(most: int) -> tuple[Window, ...]:
        pairs = draw(st.lists(st.tuples(st.integers(0, 6), QUARTERS, st.integers(15, 480)), max_size=most))
        return tuple(Window(day, begin, min(begin + length, 1440)) for day, begin, length in pairs)

    quiet = draw(st.lists(st.tuples(QUARTERS, st.integers(1, 600)), max_size=2))
    free = draw(st.lists(st.tuples(st.integers(0, DAYS), st.integers(0, 3)), max_size=2))
    extra = draw(st.lists(st.tuples(st.integers(0, DAYS - 1), QUARTERS), max_size=2))
    return Workshop(
        week=(*windows(6), Window(2, 600, 660)),
        helper=windows(3),
        quiet=tuple((begin, min(begin + length, 1440)) for begin, length in quiet),
        holidays=tuple((FIRST + timedelta(a), FIRST + timedelta(a + b)) for a, b in free),
        extra=tuple((FIRST + timedelta(day), begin, min(begin + 120, 1440)) for day, begin in extra),
    )


def is_worked(shop: Workshop, minute: int, people: int, *, is_loud: bool) -> bool:
    """Whether work goes on in the minute that begins then: the builder's words, read for one minute."""
    day, within = FIRST + timedelta(minute // 1440), minute % 1440
    is_free = any(first <= day <= last for first, last in shop.holidays)
    there = any(w.day == day.weekday() and w.begin <= within < w.end for w in shop.week) and not is_free
    there = there or any(extra == day and begin <= within < end for extra, begin, end in shop.extra)
    if people > 1:
        there = there and any(w.day == day.weekday() and w.begin <= within < w.end for w in shop.helper)
    if is_loud:
        there = there and not any(begin <= within < end for begin, end in shop.quiet)
    return there


@settings(max_examples=some(60))
@given(workshops(), st.integers(0, DAYS * 1440 - 1), st.integers(1, 900), st.sampled_from([1, 2]), st.booleans())
def test_work_ends_where_a_walk_minute_by_minute_ends(shop, begin, minutes, people, is_loud):
    work_time = Calendar(shop, FIRST, DAYS).work_time(people if shop.helper else 1, is_loud=is_loud)
    people = people if shop.helper else 1
    worked = [minute for minute in range(DAYS * 1440) if is_worked(shop, minute, people, is_loud=is_loud)]

    assert work_time.whole == len(worked)
    if not worked:
        return
    assert work_time.worked(begin) == sum(minute < begin for minute in worked)
    left = [minute for minute in worked if minute >= begin]
    expected = left[minutes - 1] + 1 if len(left) >= minutes else np.inf
    assert work_time.finish(begin, minutes) == expected
    assert work_time.next_work(begin) == (left[0] if left else np.inf)


def test_a_wait_passes_on_the_clock():
    """Mon to Fri 18-21, Sat 9-17; from Monday 18:00: 4 h of work, 48 h of paint, 2 h of work (worked by hand)."""
    shop = workshop_of(read_text('[workshop]\nhours = ["Mon-Fri 18:00-21:00", "Sat 09:00-17:00"]').document)
    calendar = Calendar(shop, FIRST, 14)
    work_time = calendar.work_time()
    painted = work_time.finish(18 * 60, 4 * 60)
    dry = painted + 48 * 60
    end = work_time.finish(dry, 2 * 60)

    assert calendar.moment(float(painted)).isoformat() == "2026-03-03T19:00:00"
    assert calendar.moment(float(work_time.next_work(dry))).isoformat() == "2026-03-05T19:00:00"
    assert calendar.moment(float(end)).isoformat() == "2026-03-05T21:00:00"


def test_no_grinding_after_eight():
    shop = workshop_of(read_text('[workshop]\nhours = "Mon-Fri 18:00-21:00"\nquiet = "20:00-07:00"').document)
    calendar = Calendar(shop, FIRST, 14)

    assert (
        calendar.moment(float(calendar.work_time(is_loud=True).finish(18 * 60, 180))).isoformat()
        == "2026-03-03T19:00:00"
    )
    assert calendar.moment(float(calendar.work_time().finish(18 * 60, 180))).isoformat() == "2026-03-02T21:00:00"


@pytest.mark.parametrize(("temperature", "days"), [(None, 2.0), (20.0, 2.0), (15.0, 2.0), (5.0, 4.0)])
def test_a_cold_workshop_makes_the_wait_longer(temperature, days):
    assert passing(Wait("paint", 2, 2, 15.0), temperature)[0] == pytest.approx(days)
