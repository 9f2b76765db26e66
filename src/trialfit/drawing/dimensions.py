"""Dimension lines, arrows, leaders and balloons.

Answers   arrow_head          a filled arrow at a point
          across, upright     a dimension between two points, measured across or up and down, with its extension lines
          arc, angle_between  a working angle, with its arc
          balloon             a number in a circle, with a leader to what it is about
          centre_mark         the cross of centre lines through a circle
Not here  where they go (labels.py)
Sources   ISO 129-1: filled arrows of 15°, text above the line and readable from below or from the right; ISO 128-2: a leader
          ends in a dot inside of an outline; from memory
"""

from __future__ import annotations

from math import atan2, cos, hypot, pi, sin, tan
from typing import TYPE_CHECKING

from trialfit.drawing.pen import SMALL, Anchor, Circle, Fill, Line, Stroke, Text
from trialfit.drawing.text_widths import width_of

if TYPE_CHECKING:
    from trialfit.drawing.pen import Mark, Point

ARROW = 2.5
"""Length of an arrow, mm."""

BALLOON = 3.2
"""Radius of a balloon, mm."""

_HALF_ANGLE = pi / 24
_GAP, _OVERHANG = 0.8, 1.6  # of an extension line: its gap at the point, its length beyond the dimension line
_TEXT_GAP = 0.7
_DOT = 0.5
_STEPS = 48  # pieces of a whole turn


def arrow_head(tip: Point, direction: float, of: str = "") -> Line:
    """An arrow whose point is at `tip`, pointing in a direction: rad, from the right, upwards on the paper."""
    half = ARROW * tan(_HALF_ANGLE)
    back = (tip[0] - ARROW * cos(direction), tip[1] + ARROW * sin(direction))
    side = (half * sin(direction), half * cos(direction))
    corners = (tip, (back[0] + side[0], back[1] + side[1]), (back[0] - side[0], back[1] - side[1]))
    return Line(corners, Stroke.none, closed=True, fill=Fill.black, of=of)


def across(first: Point, last: Point, level: float, says: str, size: float = SMALL, of: str = "") -> tuple[Mark, ...]:
    """The distance of two points across the paper, on a line at height `level`; text above its middle.

    If the text is longer than the line, the arrows are outside and the text is to the right of it.
    """
    left, right = sorted((first, last))
    width = right[0] - left[0]
    marks: list[Mark] = [
        Line(_extension(point[1], level, point[0]), Stroke.thin, of=of) for point in (left, right) if point[1] != level
    ]
    if width_of(says, size) + 2 * ARROW <= width:
        marks += [
            Line(((left[0], level), (right[0], level)), of=of),
            arrow_head((left[0], level), pi, of),
            arrow_head((right[0], level), 0, of),
            Text(((left[0] + right[0]) / 2, level - _TEXT_GAP), says, size, Anchor.middle, on_white=False, of=of),
        ]
        return tuple(marks)
    out = 2 * ARROW
    return (
        *marks,
        Line(((left[0] - out, level), (right[0] + out, level)), of=of),
        arrow_head((left[0], level), 0, of),
        arrow_head((right[0], level), pi, of),
        Text((right[0] + out + _TEXT_GAP, level + 0.35 * size), says, size, of=of),
    )


def upright(first: Point, last: Point, at: float, says: str, size: float = SMALL, of: str = "") -> tuple[Mark, ...]:
    """The distance of two points up and down the paper, on a line at `at` from the left; the text reads from below."""
    turned = across(_turned(first), _turned(last), at, says, size, of)
    marks: list[Mark] = []
    for mark in turned:
        if isinstance(mark, Line):
            marks.append(Line(tuple(map(_back, mark.points)), mark.stroke, mark.closed, mark.fill, mark.of))
        elif isinstance(mark, Text):
            marks.append(Text(_back(mark.at), mark.says, mark.size, mark.anchor, -90.0, of=mark.of))
    return tuple(marks)


def _turned(point: Point) -> Point:
    """The paper turned a quarter clockwise: up becomes right."""
    return -point[1], point[0]


def _back(point: Point) -> Point:
    return point[1], -point[0]


def _extension(start: float, level: float, at: float) -> tuple[Point, Point]:
    away = 1.0 if level > start else -1.0
    gap = min(_GAP, abs(level - start))
    return (at, start + away * gap), (at, level + away * _OVERHANG)


def arc(centre: Point, radius: float, start: float, end: float) -> tuple[Point, ...]:
    """Points of an arc from one angle to another: rad, from the right, upwards on the paper."""
    steps = max(2, round(abs(end - start) / (2 * pi) * _STEPS))
    return tuple(
        (centre[0] + radius * cos(turn), centre[1] - radius * sin(turn))
        for turn in (start + (end - start) * step / steps for step in range(steps + 1))
    )


def angle_between(
    corner: Point, start: float, end: float, radius: float, says: str, size: float = SMALL, of: str = ""
) -> tuple[Mark, ...]:
    """An angle at a corner, between two directions (rad, upwards from the right): both legs thin, the arc, the text beyond it."""
    middle = (start + end) / 2
    beyond = radius + _TEXT_GAP
    at = (corner[0] + beyond * cos(middle), corner[1] - beyond * sin(middle) + 0.35 * size)
    legs = (
        Line((corner, (corner[0] + beyond * cos(turn), corner[1] - beyond * sin(turn))), of=of) for turn in (start, end)
    )
    anchor = Anchor.start if cos(middle) >= 0 else Anchor.end
    return *legs, Line(arc(corner, radius, start, end), of=of), Text(at, says, size, anchor, on_white=True, of=of)


def balloon(
    centre: Point, number: int, target: Point | None, of: str = "", radius: float = BALLOON
) -> tuple[Mark, ...]:
    """A number in a circle; a leader with a dot goes from its rim to the target. Without a target there is no leader."""
    marks: list[Mark] = []
    if target is not None:
        way = hypot(target[0] - centre[0], target[1] - centre[1])
        if way > radius:
            share = radius / way
            rim = (centre[0] + share * (target[0] - centre[0]), centre[1] + share * (target[1] - centre[1]))
            marks += [Line((rim, target), of=of), Circle(target, _DOT, Stroke.none, Fill.black, of=of)]
    says = str(number)
    size = min(1.15 * radius, 1.5 * radius / width_of(says, 1.0))
    return (
        *marks,
        Circle(centre, radius, Stroke.thin, Fill.white, of),
        Text((centre[0], centre[1] + 0.36 * size), says, size, Anchor.middle, of=of),
    )


def centre_mark(centre: Point, reach: float) -> tuple[Line, Line]:
    """The two centre lines of a circle, each of this length to both sides."""
    x, y = centre
    return (
        Line(((x - reach, y), (x + reach, y)), Stroke.centre),
        Line(((x, y - reach), (x, y + reach)), Stroke.centre),
    )


def direction(start: Point, end: Point) -> float:
    """Direction from one point to another: rad, from the right, upwards on the paper."""
    return atan2(start[1] - end[1], end[0] - start[0])
