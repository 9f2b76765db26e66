"""Bounds of dates, hours and amounts in a plan: a typing error beyond them is refused, not planned.

Answers   day_of    a date as written, within the years of a plan
          MOST_HOURS, MOST_DAYS, MOST_MONEY    the most that one job, one wait or one order takes
Not here  bounds of the facts of parts (parts/ranges.py)
Sources   every bound: common practice, no source
"""

from __future__ import annotations

from datetime import date

FIRST, LAST = date(1950, 1, 1), date(2199, 12, 31)
MOST_HOURS = 2000.0
"""Hours of one job: a whole working year."""
MOST_DAYS = 1000.0
"""Days of one wait, and the spread of a promised date."""
MOST_MONEY = 1e9


def day_of(text: str) -> date | None:
    """A date as written; None if it is not a date, or lies outside the years of a plan.

    >>> day_of("2026-05-02"), day_of("9999-05-02"), day_of("May")
    (datetime.date(2026, 5, 2), None, None)
    """
    try:
        day = date.fromisoformat(text.strip())
    except ValueError:
        return None
    return day if FIRST <= day <= LAST else None
