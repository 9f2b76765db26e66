"""A plot as a picture: lines over two axes with numbers, with bands, limits and values.

Answers   picture_of    any Plot as a Picture
Not here  rows of bars (row_picture.py); title, key, notes (plot_frame.py)

All bands lie below all lines. A series has a short name at its end, where it covers nothing; the key explains it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING

from trialfit.drawing.labels import beside
from trialfit.drawing.pen import SMALL, Anchor, Box, Fill, Line, Picture, Rule, Stroke, Text
from trialfit.drawing.plot_frame import (
    EDGE,
    ROW,
    WIDTH,
    along_line,
    footing,
    heading,
    limit_line,
    limit_strokes,
    spot_mark,
    tinted,
    whisker,
)
from trialfit.drawing.plot_scale import scale_of
from trialfit.drawing.row_picture import rows_of
from trialfit.drawing.text_widths import shortened, width_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from trialfit.drawing.pen import Mark, Point
    from trialfit.drawing.plot import Limit, Plot, Series, Spot
    from trialfit.drawing.plot_frame import Key
    from trialfit.drawing.plot_scale import Scale

_HEIGHT = 84.0
_TICK = 1.5
_LONGEST_LABEL = 62.0
_NO_PART = 1e-9  # smaller parts of a direction along an axis count as none


@dataclass(frozen=True)
class Label:
    """A label for a point, and what it is about."""

    at: Point
    says: str
    of: str

    @property
    def shown(self) -> str:
        """As much of the text as a label has room for."""
        return shortened(self.says, SMALL, _LONGEST_LABEL)


def picture_of(plot: Plot, width: float = WIDTH) -> Picture:
    """A plot of this width (mm), as high as it needs to be."""
    marks, top = heading(plot, width)
    body: list[Mark] = []
    keys: list[Key] = []
    bottom = top
    if not plot.is_empty:
        body, bottom, keys = (rows_of if plot.y.rows else _graph)(plot, width, top)
    foot, end = footing(plot, keys, width, bottom)
    return Picture(width, end, (*marks, *body, *foot), plot.title, _spoken(plot))


def _spoken(plot: Plot) -> str:
    """The plot in words, for a screen reader."""
    parts = [spot.says for spot in plot.spots] + [limit.says for limit in plot.limits] + [bar.says for bar in plot.bars]
    return "; ".join(filter(None, [f"{plot.y.words} over {plot.x.words}" if not plot.y.rows else plot.x.words, *parts]))


def _graph(plot: Plot, width: float, top: float) -> tuple[list[Mark], float, list[Key]]:
    ceiling, floor = top + ROW + 1.5, top + ROW + 1.5 + _HEIGHT
    up = scale_of(plot.y, _heights(plot), floor, ceiling, ticks=7)
    left = EDGE + max(width_of(up.words(tick), SMALL) for tick in up.ticks) + _TICK + 1.0
    across = scale_of(plot.x, _places(plot), left, width - EDGE - 3.0)
    frame = Box(left, ceiling, across.end - left, floor - ceiling)
    marks = _axes(plot, frame, across, up, top + ROW)
    for series in plot.series:
        marks += _ring(series, across, up) if series.ring else _band(series, across, up)
    taken: list[Box] = []
    spots: list[Box] = []
    for limit, stroke in limit_strokes(plot.limits):
        marks += _limit(limit, stroke, frame, across, up)
        taken += along_line(_level(limit, frame, across, up))
    for series in plot.series:
        for run in _runs(series, across, up):
            marks.append(Line(run, series.stroke, of=series.says))
            taken += along_line(run)
    labels: list[Label] = []
    for spot in plot.spots:
        place = across.at(spot.x), up.at(spot.y)
        spread = _spread(spot, across, up)
        marks += [*spread, *spot_mark(place, spot.verdict, spot.finding)]
        spots += [Box(place[0] - 1.6, place[1] - 1.6, 3.2, 3.2), *(mark.box for mark in spread)]
        labels.append(Label(place, spot.says, spot.finding))
    named = [series for series in plot.series if series.short and _runs(series, across, up)]
    ends = [Label(_end(series, across, up), series.short, series.says) for series in named]
    written, in_key = _placed(labels, ends, frame, taken, spots)
    keys = _keys(plot) + [(says, None, None, False) for says in in_key]
    return [*marks, *written], floor + 2 * ROW + 1.0, keys


def _axes(plot: Plot, frame: Box, across: Scale, up: Scale, words_at: float) -> list[Mark]:
    grid = [((across.at(tick), frame.top), (across.at(tick), frame.bottom)) for tick in across.ticks]
    grid += [((frame.left, up.at(tick)), (frame.right, up.at(tick))) for tick in up.ticks]
    ticks = [((across.at(tick), frame.bottom), (across.at(tick), frame.bottom + _TICK)) for tick in across.ticks]
    ticks += [((frame.left - _TICK, up.at(tick)), (frame.left, up.at(tick))) for tick in up.ticks]
    corners = ((frame.left, frame.top), (frame.left, frame.bottom), (frame.right, frame.bottom))
    marks: list[Mark] = [Rule(tuple(grid), Stroke.dotted), Rule(tuple(ticks), Stroke.thin), Line(corners, Stroke.thin)]
    below = frame.bottom + _TICK + SMALL
    marks += [Text((across.at(tick), below), across.words(tick), SMALL, Anchor.middle) for tick in across.ticks]
    for tick in up.ticks:
        at = (frame.left - _TICK - 0.8, up.at(tick) + 0.36 * SMALL)
        marks.append(Text(at, up.words(tick), SMALL, Anchor.end))
    marks.append(Text((EDGE, words_at), plot.y.words, SMALL))
    marks.append(Text((frame.right, below + ROW), plot.x.words, SMALL, Anchor.end))
    return marks


def _heights(plot: Plot) -> Iterator[float | None]:
    for series in plot.series:
        yield from (*series.y, *series.low, *series.high)
    for limit in plot.limits:
        yield from (limit.value, limit.low, limit.high) if limit.along == "y" else ()
    for spot in plot.spots:
        yield spot.y
        yield from (spot.low, spot.high) if spot.along == "y" else ()


def _places(plot: Plot) -> Iterator[float | None]:
    for series in plot.series:
        yield from series.x
    for limit in plot.limits:
        yield from (limit.value, limit.low, limit.high) if limit.along == "x" else ()
    for spot in plot.spots:
        yield spot.x
        yield from (spot.low, spot.high) if spot.along == "x" else ()


def _runs(series: Series, across: Scale, up: Scale) -> list[tuple[Point, ...]]:
    """The points of a series on the paper, interrupted where values are missing or leave the frame."""
    runs: list[list[Point]] = [[]]
    for x, y in zip(series.x, series.y, strict=True):
        if y is None or not _inside(x, across) or not _inside(y, up):
            runs.append([])
        else:
            runs[-1].append((across.at(x), up.at(y)))
    return [tuple(run) for run in runs if len(run) > 1]


def _inside(value: float, scale: Scale) -> bool:
    slack = 1e-9 * (scale.high - scale.low)
    return scale.low - slack <= value <= scale.high + slack


def _band(series: Series, across: Scale, up: Scale) -> list[Mark]:
    marks: list[Mark] = []
    upper: list[Point] = []
    lower: list[Point] = []
    edges = zip(series.x, series.low, series.high, strict=True) if series.low else ()
    for x, low, high in (*edges, (0.0, None, None)):
        if low is None or high is None or not _inside(x, across):
            if len(upper) > 1:
                outline = (*upper, *reversed(lower))
                marks += tinted(outline, Fill.light, is_hatched=series.hatched, of=f"{series.says}: spread")
            upper, lower = [], []
        else:
            upper.append((across.at(x), up.at(min(high, up.high))))
            lower.append((across.at(x), up.at(max(low, up.low))))
    return marks


def _ring(series: Series, across: Scale, up: Scale) -> list[Mark]:
    """The band of a closed line round the origin, from its inner to its outer edge, cut off at the frame."""
    points = zip(series.x, series.y, series.low, series.high, strict=True) if series.low else ()
    rays = [(x, y, low, high) for x, y, low, high in points if None not in (y, low, high) and (x or y)]
    outer = [_along_ray((x, y or 0.0), high or 0.0, across, up) for x, y, _, high in rays]
    inner = [_along_ray((x, y or 0.0), low or 0.0, across, up) for x, y, low, _ in rays]
    outline = (*outer, *reversed(inner))
    return tinted(outline, Fill.light, is_hatched=series.hatched, of=f"{series.says}: spread") if outer else []


def _along_ray(towards: Point, reach: float, across: Scale, up: Scale) -> Point:
    """The place at a distance from the origin, in the direction of a point; at most on the frame."""
    ray = [part / hypot(*towards) for part in towards]
    edges = [(scale.high if part > 0 else scale.low, part) for part, scale in zip(ray, (across, up), strict=True)]
    held = min(reach, *(edge / part for edge, part in edges if abs(part) > _NO_PART))
    return across.at(held * ray[0]), up.at(held * ray[1])


def _end(series: Series, across: Scale, up: Scale) -> Point:
    return _runs(series, across, up)[-1][-1]


def _level(limit: Limit, frame: Box, across: Scale, up: Scale) -> tuple[Point, Point]:
    if limit.along == "y":
        level = up.at(limit.value)
        return (frame.left, level), (frame.right, level)
    place = across.at(limit.value)
    return (place, frame.bottom), (place, frame.top)


def _limit(limit: Limit, stroke: Stroke, frame: Box, across: Scale, up: Scale) -> list[Mark]:
    marks: list[Mark] = []
    if limit.low is not None and limit.high is not None and limit.high > limit.low:
        if limit.along == "y":
            left, right, low, high = frame.left, frame.right, up.at(limit.low), up.at(limit.high)
        else:
            left, right, low, high = across.at(limit.low), across.at(limit.high), frame.bottom, frame.top
        marks += tinted(
            ((left, low), (right, low), (right, high), (left, high)), Fill.light, of=f"{limit.says}: spread"
        )
    away = {"at most": 1, "at least": -1}.get(limit.side, 0)
    forbidden = (0, -away) if limit.along == "y" else (away, 0)
    return [*marks, *limit_line(*_level(limit, frame, across, up), forbidden, limit.finding, stroke)]


def _spread(spot: Spot, across: Scale, up: Scale) -> list[Mark]:
    if spot.low is None or spot.high is None or spot.high <= spot.low:
        return []
    if spot.along == "y":
        x = across.at(spot.x)
        return whisker((x, up.at(spot.low)), (x, up.at(spot.high)), spot.finding)
    y = up.at(spot.y)
    return whisker((across.at(spot.low), y), (across.at(spot.high), y), spot.finding)


def _placed(
    spots: Sequence[Label], ends: Sequence[Label], frame: Box, lines: Sequence[Box], marks: Sequence[Box]
) -> tuple[list[Mark], list[str]]:
    """Labels beside their points, clear of lines, marks and each other; and the labels of spots that go into the key.

    Into the key goes what found no room or is too long to stand whole. The short names of lines are on white over other
    lines if there is no free place.
    """
    labels = [*ends, *(spot for spot in spots if spot.shown == spot.says)]
    sizes = [(width_of(label.shown, SMALL), 1.05 * SMALL) for label in labels]
    boxes = beside([label.at for label in labels], sizes, frame, [*lines, *marks], 0.8)
    for number in range(len(ends)):
        if boxes[number] is None:
            used = [*marks, *(other for other in boxes if other is not None)]
            boxes[number] = beside([labels[number].at], [sizes[number]], frame, used, 0.8)[0]
    written: list[Mark] = []
    beside_point: set[Label] = set()
    for label, box in zip(labels, boxes, strict=True):
        if box is None:
            continue
        beside_point.add(label)
        near = (min(max(label.at[0], box.left), box.right), min(max(label.at[1], box.top), box.bottom))
        if abs(near[0] - label.at[0]) + abs(near[1] - label.at[1]) > 2 * SMALL:
            written.append(Line((label.at, near), Stroke.hair, of=label.of))
        written.append(Text((box.left, box.top + 0.8 * SMALL), label.shown, SMALL, on_white=True, of=label.of))
    return written, [spot.says for spot in spots if spot not in beside_point]


def _keys(plot: Plot) -> list[Key]:
    keys: list[Key] = []
    for series in plot.series:
        says = f"{series.short}  {series.says}" if series.short and series.short not in series.says else series.says
        keys.append((says, series.stroke, Fill.light if series.low else None, series.hatched))
    keys += [
        (limit.says, stroke, Fill.light if limit.low is not None else None, False)
        for limit, stroke in limit_strokes(plot.limits)
    ]
    return keys
