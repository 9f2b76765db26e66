"""The parts around every plot: title, key, notes, missing facts; and the marks of verdicts.

Answers   WIDTH         the usual width of a plot
          heading       title and build
          footing       key, notes, and lines to fill in for what is missing
          spot_mark     a value by its verdict
          whisker       the spread of a value
          limit_line    a level with ticks on its forbidden side
          limit_strokes a line type for each limit of a plot
Not here  axes (plot_scale.py); the plot itself (plot_picture.py, row_picture.py)
"""

from __future__ import annotations

from itertools import cycle, pairwise
from typing import TYPE_CHECKING

from trialfit.drawing.hatching import hatched
from trialfit.drawing.pen import NORMAL, SMALL, Box, Circle, Fill, Line, Rule, Stroke, Text
from trialfit.drawing.text_widths import shortened, wrapped
from trialfit.evaluation.verdict import Verdict

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from trialfit.drawing.pen import Mark, Point
    from trialfit.drawing.plot import Limit, Plot

WIDTH = 170.0
EDGE = 4.0
ROW = 1.45 * SMALL
"""From one line of small text to the next, mm."""

_TOP = 5.0
_SAMPLE = 11.0
_SPOT = 1.1
_CAP = 1.0
_TICKS, _TICK = 3.0, 1.4
_FIELD = 55.0
_LIMITS = (Stroke.thick_dashed, Stroke.thick_chain, Stroke.thick_double_chain)

Key = tuple[str, Stroke | None, Fill | None, bool]
"""An entry of the key: its words, the line, the tint, whether that is hatched."""


def heading(plot: Plot, width: float) -> tuple[list[Mark], float]:
    """Title and build, and the height below them."""
    room = width - 2 * EDGE
    marks: list[Mark] = [
        Text((EDGE, _TOP + line * 1.3 * NORMAL), words, NORMAL)
        for line, words in enumerate(wrapped(plot.title, NORMAL, room))
    ]
    below = _TOP + len(marks) * 1.3 * NORMAL
    if plot.build:
        marks.append(Text((EDGE, below), shortened(plot.build, SMALL, room), SMALL))
        below += ROW
    return marks, below + 1.0


def footing(plot: Plot, keys: Sequence[Key], width: float, top: float) -> tuple[list[Mark], float]:
    """Key, notes and fields from a height downwards, and the height below them."""
    marks, at = _key(keys, width, top + ROW)
    for note in plot.notes:
        for line in wrapped(note, SMALL, width - 2 * EDGE):
            marks.append(Text((EDGE, at), line, SMALL))
            at += ROW
    if plot.missing:
        at += 0.5 * ROW
        marks.append(Text((EDGE, at), "missing; fill in by hand and write it into the build:", SMALL))
        at += 1.5 * ROW
        for path, says in plot.missing.items():
            fields, at = _field(f"{path}: {says}" if says else path, width, at)
            marks += fields
    return marks, at + EDGE - ROW / 2


def _field(says: str, width: float, at: float) -> tuple[list[Mark], float]:
    lines = wrapped(says, SMALL, width - 3 * EDGE - _FIELD)
    marks: list[Mark] = [Text((EDGE, at + number * ROW), line, SMALL) for number, line in enumerate(lines)]
    level = at + (len(lines) - 1) * ROW + 0.6
    marks.append(Line(((width - EDGE - _FIELD, level), (width - EDGE, level)), Stroke.thin))
    return marks, at + (len(lines) + 0.6) * ROW


def _key(keys: Sequence[Key], width: float, at: float) -> tuple[list[Mark], float]:
    marks: list[Mark] = []
    left = EDGE
    for says, stroke, fill, is_hatched in keys:
        lines = wrapped(says, SMALL, width - 2 * EDGE - _SAMPLE - 2)
        needs = _SAMPLE + 2 + max(Text((0, 0), line, SMALL).width for line in lines)
        if left > EDGE and left + needs > width - EDGE:
            left, at = EDGE, at + ROW
        marks += _sample(left, at, stroke, fill, is_hatched=is_hatched)
        for number, line in enumerate(lines):
            marks.append(Text((left + _SAMPLE + 1.5, at + number * ROW), line, SMALL))
        left += needs + 4
        if len(lines) > 1:
            left, at = width, at + (len(lines) - 1) * ROW
    return marks, at + (1.4 * ROW if keys else 0.0)


def _sample(left: float, at: float, stroke: Stroke | None, fill: Fill | None, *, is_hatched: bool) -> list[Mark]:
    level = at - 0.35 * SMALL
    marks: list[Mark] = []
    if fill is not None:
        box = ((left, level - 1.0), (left + _SAMPLE, level - 1.0), (left + _SAMPLE, level + 1.0), (left, level + 1.0))
        marks += tinted(box, fill, is_hatched=is_hatched, stroke=Stroke.thin if stroke is None else Stroke.hair)
    if stroke is not None:
        marks.append(Line(((left, level), (left + _SAMPLE, level)), stroke))
    return marks


def tinted(
    outline: tuple[Point, ...], fill: Fill, *, is_hatched: bool = False, stroke: Stroke = Stroke.hair, of: str = ""
) -> list[Mark]:
    """An area, tinted or hatched."""
    marks: list[Mark] = [Line(outline, stroke, closed=True, fill=Fill.none if is_hatched else fill, of=of)]
    if is_hatched:
        rule = hatched(outline, 1.1)
        marks += [rule] if rule.pieces else []
    return marks


def spot_mark(place: Point, verdict: Verdict | None, of: str = "") -> list[Mark]:
    """A value by its verdict: a dot holds, a ring is unsettled, a dotted ring is unknown, a crossed ring fails."""
    x, y = place
    if verdict in (None, Verdict.holds):
        return [Circle(place, _SPOT, Stroke.thin, Fill.black, of)]
    stroke = Stroke.dotted if verdict is Verdict.unknown else Stroke.thin
    marks: list[Mark] = [Circle(place, 1.3 * _SPOT, stroke, Fill.white, of)]
    if verdict is Verdict.fails:
        off = 1.3 * _SPOT
        marks += [
            Line(((x - off, y - off), (x + off, y + off)), Stroke.thin, of=of),
            Line(((x - off, y + off), (x + off, y - off)), Stroke.thin, of=of),
        ]
    return marks


def whisker(start: Point, end: Point, of: str = "") -> list[Mark]:
    """The spread of a value: a line with a cap at each end, across or upright."""
    upright = start[0] == end[0]
    caps = [((x - _CAP, y), (x + _CAP, y)) if upright else ((x, y - _CAP), (x, y + _CAP)) for x, y in (start, end)]
    return [Line((start, end), Stroke.thin, of=of), *(Line(cap, Stroke.thin, of=of) for cap in caps)]


def limit_strokes(limits: Sequence[Limit]) -> Iterator[tuple[Limit, Stroke]]:
    """The limits of a plot, neighbours with different lines, so that the key tells them apart."""
    return zip(limits, cycle(_LIMITS), strict=False)


def limit_line(
    start: Point, end: Point, forbidden: Point, of: str = "", stroke: Stroke = Stroke.thick_dashed
) -> list[Mark]:
    """A level; short ticks lean to its forbidden side: (±1, 0) or (0, ±1), or (0, 0) for neither."""
    marks: list[Mark] = [Line((start, end), stroke, of=of)]
    if forbidden != (0, 0):
        length = abs(end[0] - start[0]) + abs(end[1] - start[1])
        count = int(length // _TICKS)
        along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length) if length else (0.0, 0.0)
        pieces = []
        for number in range(count):
            x, y = (start[axis] + along[axis] * _TICKS * (number + 0.5) for axis in (0, 1))
            tip = (x + _TICK * (forbidden[0] + along[0]), y + _TICK * (forbidden[1] + along[1]))
            pieces.append(((x, y), tip))
        marks.append(Rule(tuple(pieces), Stroke.hair))
    return marks


def along_line(points: Sequence[Point], every: float = 1.5) -> list[Box]:
    """Small boxes along a line: labels stay clear of them."""
    boxes = []
    for (x, y), (next_x, next_y) in pairwise(points):
        steps = max(1, int(max(abs(next_x - x), abs(next_y - y)) / every))
        for step in range(steps + 1):
            share = step / steps
            boxes.append(Box(x + share * (next_x - x) - 0.2, y + share * (next_y - y) - 0.2, 0.4, 0.4))
    return boxes
