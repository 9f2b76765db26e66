"""The builder's workshop: hours of the week, holidays, quiet hours, people, number of each tool, temperature.

Answers   workshop_of   that of a build, with usual values for what is missing
          Workshop      the values
          passing       how long a wait takes at the workshop's temperature
Not here  which minutes are working minutes (calendar.py)
Sources   usual hours, one person, one of each tool: common practice, no source. A cure takes twice as long for each 10 K
          below the least temperature stated: common practice, no source; the maker's sheet outranks it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from trialfit.book.problems import BadInput, Located
from trialfit.planning.in_reason import FIRST, LAST, day_of

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from datetime import date

    from trialfit.book.document import Document
    from trialfit.planning.job import Wait

    Entry = str | tuple[str, ...]

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
MINUTES_OF_A_DAY = 24 * 60
_TIME = r"([0-9]{1,2})[:.]([0-9]{2})"
_SPAN = re.compile(rf"{_TIME}\s*[-–]\s*{_TIME}")
_WEEK = re.compile(r"([A-Za-z]{3})[a-z]*(?:\s*[-–]\s*([A-Za-z]{3})[a-z]*)?\s+(.+)")
_DATES = re.compile(r"([0-9]{4}-[0-9]{2}-[0-9]{2})(?:\s*(?:to|\.\.|–)\s*([0-9]{4}-[0-9]{2}-[0-9]{2}))?")
_DAY_SPAN = re.compile(r"([0-9]{4}-[0-9]{2}-[0-9]{2})\s+(.+)")
_TOOL = re.compile(r"(\w[\w-]*)(?:\s+([0-9]{1,2}))?")
_DEGREES = re.compile(r"(-?[0-9]+(?:[.,][0-9]+)?)\s*°?\s*C")
_MOST_PEOPLE = 20


@dataclass(frozen=True)
class Window:
    """Working time on one day of the week (0 is Monday), in minutes after midnight."""

    day: int
    begin: int
    end: int


_USUAL_WEEK = (*(Window(day, 18 * 60, 21 * 60) for day in range(5)), Window(5, 9 * 60, 17 * 60))


@dataclass(frozen=True)
class Workshop:
    """Hours, people and tools. `helper`: when one more person is there; `quiet`: the hours without loud work, each day."""

    week: tuple[Window, ...] = _USUAL_WEEK
    helper: tuple[Window, ...] = ()
    quiet: tuple[tuple[int, int], ...] = ()
    holidays: tuple[tuple[date, date], ...] = ()
    extra: tuple[tuple[date, int, int], ...] = ()
    begins: date | None = None
    people: int = 1
    resources: Mapping[str, int] = field(default_factory=lambda: {"hoist": 1, "welder": 1, "bay": 1})
    temperature: float | None = None
    goal: str = ""

    def capacity(self, resource: str) -> int:
        """The number of a tool or place; one if it is not named."""
        return self.resources.get(resource, 1)


def workshop_of(document: Document, where: str = "") -> Workshop:
    """The workshop of a build. Raises BadInput, with every entry that cannot be read."""
    values: dict[str, object] = {}
    problems = []
    for key, entry in document.workshop.items():
        reader = _READERS.get(key)
        if reader is None:
            continue
        try:
            values["week" if key == "hours" else key] = reader((entry,) if isinstance(entry, str) else entry)
        except ValueError as wrong:
            problems.append(Located(f"workshop.{key}", str(wrong)))
    if problems:
        raise BadInput(where or document.name or "the build", problems)
    return Workshop(**values)  # type: ignore[arg-type]


def passing(wait: Wait, temperature: float | None) -> tuple[float, float, float]:
    """Shortest, middle and longest time of a wait, days, at the workshop's temperature (°C, None: warm enough)."""
    cold = 0.0 if wait.temperature is None or temperature is None else max(0.0, wait.temperature - temperature)
    factor = 2 ** (cold / 10)
    return wait.low * factor, wait.likely * factor, wait.high * factor


def _week(texts: tuple[str, ...]) -> tuple[Window, ...]:
    windows = []
    for text in texts:
        found = _WEEK.fullmatch(text.strip())
        first, last = (found[1].lower(), (found[2] or found[1]).lower()) if found else ("", "")
        spans = _spans(found[3]) if found else None
        if first not in DAYS or last not in DAYS or not spans:
            raise ValueError(f'has "{text}": write it as in "Mon-Fri 18:00-21:00"')
        _check_order(text, spans)
        day = DAYS.index(first)
        for number in range((DAYS.index(last) - day) % 7 + 1):
            windows += [Window((day + number) % 7, begin, end) for begin, end in spans]
    return tuple(windows)


def _quiet(texts: tuple[str, ...]) -> tuple[tuple[int, int], ...]:
    spans = []
    for text in texts:
        found = _spans(text)
        if not found:
            raise ValueError(f'has "{text}": write it as in "20:00-07:00"')
        for begin, end in found:
            spans += [(begin, end)] if begin < end else [(begin, MINUTES_OF_A_DAY), (0, end)]
    return tuple(spans)


def _holidays(texts: tuple[str, ...]) -> tuple[tuple[date, date], ...]:
    spans = []
    for text in texts:
        found = _DATES.fullmatch(text.strip())
        if not found:
            raise ValueError(f'has "{text}": write it as in "2026-12-24 to 2027-01-02"')
        first = _date(found[1])
        last = _date(found[2]) if found[2] else first
        if last < first:
            raise ValueError(f'has "{text}": expected the first day first, as in "2026-12-24 to 2027-01-02"')
        spans.append((first, last))
    return tuple(spans)


def _extra(texts: tuple[str, ...]) -> tuple[tuple[date, int, int], ...]:
    spans = []
    for text in texts:
        found = _DAY_SPAN.fullmatch(text.strip())
        inner = _spans(found[2]) if found else None
        if not found or not inner:
            raise ValueError(f'has "{text}": write it as in "2026-05-02 09:00-17:00"')
        _check_order(text, inner)
        spans += [(_date(found[1]), begin, end) for begin, end in inner]
    return tuple(spans)


def _tools(texts: tuple[str, ...]) -> dict[str, int]:
    tools = {}
    for text in ",".join(texts).split(","):
        found = _TOOL.fullmatch(text.strip())
        if not found:
            raise ValueError(f'has "{text.strip()}": write it as in "hoist 1, welder 1, bay 2"')
        tools[found[1]] = int(found[2] or 1)
    return tools


def _people(texts: tuple[str, ...]) -> int:
    text = texts[0].strip() if len(texts) == 1 else ""
    if not (text.isascii() and text.isdigit() and 1 <= int(text) <= _MOST_PEOPLE):
        raise ValueError(f'is "{", ".join(texts)}": expected a number of people from 1 to {_MOST_PEOPLE}')
    return int(text)


def _temperature(texts: tuple[str, ...]) -> float:
    found = _DEGREES.fullmatch(texts[0].strip()) if len(texts) == 1 else None
    if not found:
        raise ValueError(f'is "{", ".join(texts)}": expected the temperature in the workshop, for example "12 °C"')
    return float(found[1].replace(",", "."))


def _spans(text: str) -> list[tuple[int, int]] | None:
    spans = []
    for piece in text.split("and"):
        found = _SPAN.fullmatch(piece.strip())
        if not found:
            return None
        begin, end = int(found[1]) * 60 + int(found[2]), int(found[3]) * 60 + int(found[4])
        if not (begin < MINUTES_OF_A_DAY and 0 < end <= MINUTES_OF_A_DAY and begin != end):
            return None
        spans.append((begin, end))
    return spans


def _check_order(text: str, spans: list[tuple[int, int]]) -> None:
    if any(begin > end for begin, end in spans):
        example = '"Tue 21:00-24:00" and "Wed 00:00-02:00"'
        raise ValueError(f'has "{text}": a time ends after it begins; past midnight write two, such as {example}')


def _date(text: str) -> date:
    day = day_of(text)
    if day is None:
        raise ValueError(
            f'has "{text}", which is not a date from {FIRST.year} to {LAST.year}: write it as in 2026-05-02'
        )
    return day


_READERS: dict[str, Callable[[tuple[str, ...]], object]] = {
    "hours": _week,
    "helper": _week,
    "quiet": _quiet,
    "holidays": _holidays,
    "extra": _extra,
    "begins": lambda texts: _date(texts[0].strip()),
    "people": _people,
    "resources": _tools,
    "temperature": _temperature,
    "goal": lambda texts: texts[0].strip(),
}
