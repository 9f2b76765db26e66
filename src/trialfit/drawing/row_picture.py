"""A plot of rows: bars, spreads and limits, one row below the other.

Answers   rows_of     the body of a plot whose rows have names
Not here  lines over two axes (plot_picture.py); title, key, notes (plot_frame.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from trialfit.drawing.pen import SMALL, Anchor, Box, Line, Rule, Stroke, Text
from trialfit.drawing.plot_frame import EDGE, ROW, limit_line, spot_mark, tinted, whisker
from trialfit.drawing.plot_scale import scale_of
from trialfit.drawing.text_widths import shortened, width_of, wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.drawing.pen import Mark
    from trialfit.drawing.plot import Bar, Limit, Plot, Spot
    from trialfit.drawing.plot_frame import Key
    from trialfit.drawing.plot_scale import Scale

_NAMES = 58.0
_PITCH = 8.0
_LEAST_PITCH = 5.0
_MANY = 24
_HALF_BAR = 0.3
_WORDS = 66.0
_TICK = 1.5
_LINES = 2


def rows_of(plot: Plot, width: float, top: float) -> tuple[list[Mark], float, list[Key]]:
    """The rows, the height below them, and the entries of the key."""
    rows = plot.y.rows
    pitch = _PITCH if len(rows) <= _MANY else _LEAST_PITCH
    names = [_lines(name, _NAMES, _most_lines(pitch)) for name in rows]
    left = EDGE + max((width_of(line, SMALL) for name in names for line in name), default=0.0) + 2.0
    words = min(_WORDS, max((width_of(bar.says, SMALL) for bar in plot.bars), default=0.0) + 2.0)
    words = max(words, min(_WORDS, max((width_of(spot.says, SMALL) + 3 for spot in plot.spots), default=0.0)))
    ceiling = top + 1.0
    floor = ceiling + pitch * len(rows) + 1.0
    across = scale_of(plot.x, _places(plot), left, width - EDGE - words, ticks=7)
    frame = Box(left, ceiling, across.end - left, floor - ceiling)
    marks = _axis(plot, frame, across)
    for number, name in enumerate(names):
        for at, says in _levels(name, ceiling + pitch * (number + 0.5)):
            marks.append(Text((left - 1.5, at), says, SMALL, Anchor.end, of=rows[number]))
    rows_at = _Rows(ceiling, pitch, across, dict.fromkeys(range(len(rows)), left))
    marks += [mark for bar in plot.bars for mark in rows_at.bar(bar)]
    marks += [mark for limit in plot.limits for mark in rows_at.limit(limit, len(rows))]
    marks += [mark for spot in plot.spots for mark in rows_at.spot(spot)]
    whole = [limit for limit in plot.limits if limit.row is None]
    ends = dict.fromkeys(rows_at.ends, frame.right) if whole else rows_at.ends
    marks += _words(plot, ends, ceiling, pitch, width)
    return marks, floor + 2 * ROW + 1.0, [(limit.says, Stroke.thick_dashed, None, False) for limit in whole]


@dataclass
class _Rows:
    """Rows on the paper, and how far to the right each is occupied."""

    ceiling: float
    pitch: float
    across: Scale
    ends: dict[int, float]

    def middle(self, row: float) -> float:
        return self.ceiling + self.pitch * (row + 0.5)

    def reach(self, row: int, at: float) -> None:
        self.ends[row] = max(self.ends[row], at)

    def spread(self, row: int, level: float, low: float | None, high: float | None, of: str) -> list[Mark]:
        if low is None or high is None or high <= low:
            return []
        self.reach(row, self.across.at(high))
        return whisker((self.across.at(low), level), (self.across.at(high), level), of)

    def bar(self, bar: Bar) -> list[Mark]:
        middle, half = self.middle(bar.row), _HALF_BAR * self.pitch
        start, end = (self.across.at(one) for one in (bar.start, bar.end))
        outline = ((start, middle - half), (end, middle - half), (end, middle + half), (start, middle + half))
        self.reach(bar.row, max(start, end))
        marks = tinted(outline, bar.fill, is_hatched=bar.hatched, stroke=Stroke.thin, of=bar.finding)
        return marks + self.spread(bar.row, middle, bar.low, bar.high, bar.finding)

    def limit(self, limit: Limit, rows: int) -> list[Mark]:
        first, last = (0, rows) if limit.row is None else (limit.row, limit.row + 1)
        at, away = self.across.at(limit.value), {"at most": 1, "at least": -1}.get(limit.side, 0)
        top, bottom = self.ceiling + self.pitch * first + 0.4, self.ceiling + self.pitch * last - 0.4
        marks = limit_line((at, top), (at, bottom), (away, 0), limit.finding)
        if limit.row is None:
            return marks
        self.reach(limit.row, at + 1.6 * (away > 0))
        level = self.ceiling + self.pitch * (first + 0.86)
        return marks + self.spread(limit.row, level, limit.low, limit.high, limit.finding)

    def spot(self, spot: Spot) -> list[Mark]:
        row, place = round(spot.y), (self.across.at(spot.x), self.middle(spot.y))
        self.reach(row, place[0] + 1.5)
        return self.spread(row, place[1], spot.low, spot.high, spot.finding) + spot_mark(
            place, spot.verdict, spot.finding
        )


def _most_lines(pitch: float) -> int:
    """How many lines of text a row has room for."""
    return _LINES if pitch > _LINES * ROW else 1


def _lines(says: str, width: float, most: int) -> list[str]:
    """A text in lines of a width, as many as a row has room for."""
    found = wrapped(says, SMALL, width)
    if len(found) <= most:
        return found
    return [*found[: most - 1], shortened(" ".join(found[most - 1 :]), SMALL, width)]


def _levels(lines: list[str], middle: float) -> Iterator[tuple[float, str]]:
    """The lines of a row, each with the height of its base line."""
    for number, says in enumerate(lines):
        if says:
            yield middle + 0.36 * SMALL + (number - (len(lines) - 1) / 2) * 1.1 * SMALL, says


def _axis(plot: Plot, frame: Box, across: Scale) -> list[Mark]:
    ticks = [tick for tick in across.ticks if frame.left - 1e-6 <= across.at(tick) <= frame.right + 1e-6]
    grid = tuple(((across.at(tick), frame.top), (across.at(tick), frame.bottom)) for tick in ticks)
    short = tuple(((across.at(tick), frame.bottom), (across.at(tick), frame.bottom + _TICK)) for tick in ticks)
    corners = ((frame.left, frame.top), (frame.left, frame.bottom), (frame.right, frame.bottom))
    marks: list[Mark] = [Rule(grid, Stroke.dotted), Rule(short, Stroke.thin), Line(corners, Stroke.thin)]
    below = frame.bottom + _TICK + SMALL
    marks += [Text((across.at(tick), below), across.words(tick), SMALL, Anchor.middle) for tick in ticks]
    marks.append(Text((frame.right, below + ROW), plot.x.words, SMALL, Anchor.end))
    return marks


def _places(plot: Plot) -> Iterator[float | None]:
    for bar in plot.bars:
        yield from (bar.start, bar.end, bar.low, bar.high)
    for limit in plot.limits:
        yield from (limit.value, limit.low, limit.high)
    for spot in plot.spots:
        yield from (spot.x, spot.low, spot.high)


def _words(plot: Plot, ends: dict[int, float], ceiling: float, pitch: float, width: float) -> Iterator[Mark]:
    """The words of each row, to the right of everything in it."""
    said: dict[int, list[str]] = {}
    for bar in plot.bars:
        said.setdefault(bar.row, []).append(bar.says)
    for spot in plot.spots:
        said.setdefault(round(spot.y), []).append(spot.says)
    for row, words in said.items():
        at = ends[row] + 1.5
        beside = _lines("; ".join(filter(None, words)), max(width - EDGE - at, 0.0), _most_lines(pitch))
        for level, says in _levels(beside, ceiling + pitch * (row + 0.5)):
            yield Text((at, level), says, SMALL, on_white=True, of=plot.y.rows[row])
