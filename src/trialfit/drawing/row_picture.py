"""A plot of rows: bars, spreads and limits, one row below the other.

Answers   rows_of     the body of a plot whose rows have names
Not here  lines over two axes (plot_picture.py); title, key, notes (plot_frame.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.drawing.pen import SMALL, Anchor, Box, Fill, Line, Rule, Stroke, Text
from trialfit.drawing.plot_frame import EDGE, ROW, limit_line, spot_mark, tinted, whisker
from trialfit.drawing.plot_scale import scale_of
from trialfit.drawing.text_widths import shortened, width_of, wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.drawing.pen import Mark
    from trialfit.drawing.plot import Plot
    from trialfit.drawing.plot_frame import Key
    from trialfit.drawing.plot_scale import Scale

_NAMES = 58.0
_PITCH = 8.0
_LEAST_PITCH = 5.0
_MANY = 24
_HALF_BAR = 0.3
_WORDS = 66.0
_TICK = 1.5
_NAME_LINES = 2


def rows_of(plot: Plot, width: float, top: float) -> tuple[list[Mark], float, list[Key]]:
    """The rows, the height below them, and what the key must say."""
    rows = plot.y.rows
    pitch = _PITCH if len(rows) <= _MANY else _LEAST_PITCH
    lines = _NAME_LINES if pitch > 2 * ROW else 1
    names = [_name(name, lines) for name in rows]
    left = EDGE + max((width_of(line, SMALL) for name in names for line in name), default=0.0) + 2.0
    words = min(_WORDS, max((width_of(bar.says, SMALL) for bar in plot.bars), default=0.0) + 2.0)
    words = max(words, min(_WORDS, max((width_of(spot.says, SMALL) + 3 for spot in plot.spots), default=0.0)))
    ceiling = top + 1.0
    floor = ceiling + pitch * len(rows) + 1.0
    across = scale_of(plot.x, _places(plot), left, width - EDGE - words, ticks=7)
    frame = Box(left, ceiling, across.end - left, floor - ceiling)
    marks = _axis(plot, frame, across)
    for number, name in enumerate(names):
        middle = ceiling + pitch * (number + 0.5)
        for line, says in enumerate(name):
            at = middle + 0.36 * SMALL + (line - (len(name) - 1) / 2) * 1.1 * SMALL
            marks.append(Text((left - 1.5, at), says, SMALL, Anchor.end, of=rows[number]))
    ends = dict.fromkeys(range(len(rows)), left)
    for bar in plot.bars:
        middle = ceiling + pitch * (bar.row + 0.5)
        half = _HALF_BAR * pitch
        start, end = (across.at(one) for one in (bar.start, bar.end))
        outline = ((start, middle - half), (end, middle - half), (end, middle + half), (start, middle + half))
        marks += tinted(outline, bar.fill, is_hatched=bar.hatched, stroke=Stroke.thin, of=bar.finding)
        if bar.low is not None and bar.high is not None and bar.high > bar.low:
            marks += whisker((across.at(bar.low), middle), (across.at(bar.high), middle), bar.finding)
            ends[bar.row] = max(ends[bar.row], across.at(bar.high))
        ends[bar.row] = max(ends[bar.row], start, end)
    for limit in plot.limits:
        first, last = (limit.row, limit.row + 1) if limit.row is not None else (0, len(rows))
        at = across.at(limit.value)
        away = {"at most": 1, "at least": -1}.get(limit.side, 0)
        if limit.low is not None and limit.high is not None and limit.high > limit.low:
            low, high = across.at(limit.low), across.at(limit.high)
            level = ceiling + pitch * (first + 0.86)
            marks += whisker((low, level), (high, level), limit.finding)
            ends.update({limit.row: max(ends[limit.row], high)} if limit.row is not None else {})
        marks += limit_line(
            (at, ceiling + pitch * first + 0.4), (at, ceiling + pitch * last - 0.4), (away, 0), limit.finding
        )
        if limit.row is not None:
            ends[limit.row] = max(ends[limit.row], at + 1.6 * (away > 0))
    for spot in plot.spots:
        place = across.at(spot.x), ceiling + pitch * (spot.y + 0.5)
        if spot.low is not None and spot.high is not None and spot.high > spot.low:
            marks += whisker((across.at(spot.low), place[1]), (across.at(spot.high), place[1]), spot.finding)
            ends[round(spot.y)] = max(ends[round(spot.y)], across.at(spot.high))
        marks += spot_mark(place, spot.verdict, spot.finding)
        ends[round(spot.y)] = max(ends[round(spot.y)], place[0] + 1.5)
    if any(limit.row is None for limit in plot.limits):
        ends = dict.fromkeys(ends, frame.right)
    marks += _words(plot, ends, ceiling, pitch, width)
    return (
        marks,
        floor + 2 * ROW + 1.0,
        [(limit.says, Stroke.thick_dashed, None, False) for limit in plot.limits if limit.row is None],
    )


def _name(name: str, lines: int) -> list[str]:
    if lines == 1:
        return [shortened(name, SMALL, _NAMES)]
    found = wrapped(name, SMALL, _NAMES)
    if len(found) <= lines:
        return found
    return [*found[: lines - 1], shortened(" ".join(found[lines - 1 :]), SMALL, _NAMES)]


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
    """What each row says, behind everything in it."""
    said: dict[int, list[str]] = {}
    for bar in plot.bars:
        said.setdefault(bar.row, []).append(bar.says)
    for spot in plot.spots:
        said.setdefault(round(spot.y), []).append(spot.says)
    for row, words in said.items():
        at = ends[row] + 1.5
        says = shortened("; ".join(filter(None, words)), SMALL, max(width - EDGE - at, 0.0))
        if says:
            yield Text(
                (at, ceiling + pitch * (row + 0.5) + 0.36 * SMALL), says, SMALL, on_white=True, of=plot.y.rows[row]
            )
