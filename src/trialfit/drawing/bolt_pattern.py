"""The bolts of a joint as they sit on its flange, each with its turn in the order.

Answers   bolt_pattern    the picture, from the places and turns of a tightening sheet
Not here  the same on a terminal (bolt_pattern_in_signs.py); order, stages and figures (advice/how_to_tighten.py)

The numbers are in the bolts if they fit there, else outside them, turned away from the middle, and on leaders if that is
still too close. A picture with too many bolts to be legible is larger than requested.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, degrees, dist, hypot, pi, sin
from typing import TYPE_CHECKING

import numpy as np

from trialfit.drawing.dimensions import ARROW, across, upright
from trialfit.drawing.labels import meet
from trialfit.drawing.pen import LARGE, SMALL, Anchor, Circle, Fill, Line, Picture, Stroke, Text, around, moved
from trialfit.drawing.text_widths import width_of
from trialfit.facts.quantity import LENGTH
from trialfit.facts.showing import show
from trialfit.facts.units import find_unit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.advice.how_to_tighten import BoltPlace
    from trialfit.drawing.pen import Box, Mark, Point
    from trialfit.handbook.arrays import Array


_MARGIN = 3.0
_DIMENSION = 9.0  # from the outermost bolts or numbers to a dimension line, mm
_LARGEST = 5.0  # radius of a bolt
_LEAST_PITCH = 1.45  # of bolts on the paper: two rows of numbers stay clear of each other
_ROUND = 1e-3  # radii that differ by less than this share are equal
_ROWS = 12
_OFF = 0.8
_CROSS = 3.0
_ASIDE = ((0.0,), (0.0, pi, pi / 2, -pi / 2))  # in the first two rows outwards only
_TRIES = tuple((row, aside) for row in range(_ROWS) for aside in _ASIDE[row > 1])


@dataclass(frozen=True)
class _Layout:
    """Bolts on the paper, the middle of the pattern at 0."""

    centres: tuple[Point, ...]
    turns: tuple[int, ...]
    pitch: float  # between the nearest two, on the paper
    scale: float  # mm on the paper for each mm on the flange
    round: bool


def bolt_pattern(
    places: Sequence[BoltPlace], width: float = 120.0, height: float = 90.0, title: str = "", unit: str = "mm"
) -> Picture:
    """The pattern with each bolt's turn in the order, and its size.

    places     of a tightening sheet, with turns
    width      of the picture, mm; larger if the numbers would not be legible
    height     the most it may have, mm; it takes only what it needs, and more if the numbers would not be legible
    title      for a screen reader
    unit       of the sizes written on it

    Without places the picture says so.
    """
    if not places:
        says = "the places of the bolts are missing"
        return Picture(width, height, (Text((width / 2, height / 2), says, SMALL, Anchor.middle),), title, says)
    spread = np.array([[place.x_mm, -place.y_mm] for place in places])
    layout = _laid_out(spread, tuple(place.turn for place in places), width, height)
    bolts, reach = _bolts(layout)
    marks = (*_middle_lines(layout), *_sizes(layout, spread, reach, unit), *bolts)
    taken = around(corner for mark in marks for corner in _corners(mark.box)).grown(_MARGIN)
    whole = max(width, taken.width)
    shifted = moved(marks, whole / 2 - taken.middle[0], -taken.top)
    return Picture(whole, taken.height, shifted, title, f"{len(places)} bolts, tightened in the order of their numbers")


def _laid_out(spread: Array, turns: tuple[int, ...], width: float, height: float) -> _Layout:
    """Bolts on the paper, as large as the room allows and never too close to be read."""
    low, high = spread.min(axis=0), spread.max(axis=0)
    circle = _circle(spread)
    if circle is not None:
        low, high = circle[:2] - circle[2], circle[:2] + circle[2]
    nearest = _nearest(spread)
    edge = _MARGIN + width_of("8" * len(str(len(turns))), SMALL) + 2 * _LARGEST + _DIMENSION
    room = np.maximum(np.array([width, height]) - 2 * edge, 1.0)
    scale = max(float((room / np.maximum(high - low, 1e-6)).min()), _LEAST_PITCH / nearest) if len(turns) > 1 else 1.0
    middle = (low + high) / 2
    centres = (spread - middle) * scale
    return _Layout(
        tuple((float(x), float(y)) for x, y in centres),
        turns,
        nearest * scale if len(turns) > 1 else 4 * _LARGEST,
        scale,
        circle is not None,
    )


def _circle(spread: Array) -> Array | None:
    """Middle and radius of the circle through all bolts; None if there is no such circle."""
    if len(spread) < 3:  # noqa: PLR2004 - many circles go through two points
        return None
    terms = np.column_stack([spread, np.ones(len(spread))])
    found, _, rank, _ = np.linalg.lstsq(terms, np.square(spread).sum(axis=1), rcond=None)
    if rank < 3:  # noqa: PLR2004 - they lie on one line
        return None
    middle = found[:2] / 2
    radii = np.hypot(*(spread - middle).T)
    inside = np.abs(spread.mean(axis=0) - middle).max() < radii.max() / 2
    is_corners = len(spread) == 4  # noqa: PLR2004 - any rectangle has a circle through its corners
    square = not is_corners or np.ptp(np.hypot(*(spread - np.roll(spread, 1, axis=0)).T)) < _ROUND * radii.max()
    return np.array([*middle, radii.mean()]) if np.ptp(radii) < _ROUND * radii.max() and inside and square else None


def _corners(box: Box) -> tuple[Point, Point]:
    return (box.left, box.top), (box.right, box.bottom)


def _nearest(spread: Array) -> float:
    if len(spread) == 1:
        return 1.0
    apart = np.hypot(*(spread[:, None] - spread[None, :]).transpose(2, 0, 1))
    return max(float((apart + np.diag([np.inf] * len(spread))).min()), 1e-6)


def _middle_lines(layout: _Layout) -> tuple[Mark, ...]:
    cross = (Line(((-_CROSS, 0.0), (_CROSS, 0.0))), Line(((0.0, -_CROSS), (0.0, _CROSS))))
    return (Circle((0.0, 0.0), _radius(layout), Stroke.centre), *cross) if layout.round else cross


def _radius(layout: _Layout) -> float:
    return hypot(*layout.centres[0])


def _bolts(layout: _Layout) -> tuple[list[Mark], float]:
    """The bolts with their numbers, and how far numbers reach beyond the outermost bolts."""
    radius = min(0.45 * layout.pitch, _LARGEST)
    inside = 1.75 * radius / width_of("8" * len(str(len(layout.turns))), 1.0)
    if min(inside, 1.25 * radius) >= SMALL:
        size = min(inside, 1.25 * radius, LARGE)
        return [mark for centre, turn in _pairs(layout) for mark in _numbered(centre, turn, radius, size)], radius
    radius = min(0.4 * layout.pitch, 1.5)
    bolts = [Circle(centre, radius, _edge(turn), Fill.white, of=f"turn {turn}") for centre, turn in _pairs(layout)]
    numbers = _outside(layout, radius)
    out, of = (around(corner for mark in marks for corner in _corners(mark.box)) for marks in (numbers, bolts))
    return [*bolts, *numbers], max(of.left - out.left, out.bottom - of.bottom, radius)


def _pairs(layout: _Layout) -> list[tuple[Point, int]]:
    return list(zip(layout.centres, layout.turns, strict=True))


def _edge(turn: int) -> Stroke:
    """The first bolt has a thicker line."""
    return Stroke.thick if turn == 1 else Stroke.thin


def _numbered(centre: Point, turn: int, radius: float, size: float) -> tuple[Mark, ...]:
    return (
        Circle(centre, radius, _edge(turn), Fill.white, of=f"turn {turn}"),
        Text((centre[0], centre[1] + 0.36 * size), str(turn), size, Anchor.middle, of=f"turn {turn}"),
    )


def _outside(layout: _Layout, radius: float) -> list[Mark]:
    """Numbers beside their bolts, outwards, each in the first row where it covers nothing."""
    marks: list[Mark] = []
    bolts = list(layout.centres)
    taken: list[tuple[Point, ...]] = []
    for centre, turn in _pairs(layout):
        out = _outwards(centre, layout)
        text, leader = _free(centre, turn, out, radius, bolts, taken)
        taken.append(_digits(text))
        if leader is not None:
            marks.append(leader)
            taken.append(_thickened(leader.points))
        marks.append(text)
    return marks


def _free(
    centre: Point, turn: int, out: float, radius: float, bolts: list[Point], taken: list[tuple[Point, ...]]
) -> tuple[Text, Line | None]:
    length = width_of("8" * max(2, len(str(turn))), SMALL)
    for row, aside in _TRIES:
        way, off = out + aside, radius + _OFF + row * (length + _OFF)
        text, leader = _turned_text(centre, turn, way, off), None
        if row:
            leader = Line(
                tuple((centre[0] + far * cos(way), centre[1] - far * sin(way)) for far in (radius, off - _OFF / 2))
            )
        shapes = [_digits(text), *([_thickened(leader.points)] if leader else [])]
        if not any(_covers(shape, bolts, centre, radius, taken) for shape in shapes):
            return text, leader
    return _turned_text(centre, turn, out, radius + _OFF), None


def _covers(
    shape: tuple[Point, ...], bolts: list[Point], own: Point, radius: float, taken: list[tuple[Point, ...]]
) -> bool:
    x, y = (sum(point[axis] for point in shape) / len(shape) for axis in (0, 1))
    reach = max(hypot(point[0] - x, point[1] - y) for point in shape)
    for bolt in bolts:
        if bolt != own and dist(bolt, (x, y)) < reach + radius and meet(shape, _square(bolt, radius)):
            return True
    near = (one for one in taken if dist(one[0], (x, y)) < reach + 2 * _reach(one))
    return any(meet(shape, one) for one in near)


def _reach(shape: tuple[Point, ...]) -> float:
    return dist(shape[0], shape[2])


def _square(centre: Point, radius: float) -> tuple[Point, ...]:
    x, y = centre
    return (x - radius, y - radius), (x + radius, y - radius), (x + radius, y + radius), (x - radius, y + radius)


def _digits(text: Text) -> tuple[Point, ...]:
    """The room of a text without accents and descenders."""
    left, right, low_right, low_left = text.corners
    raised = 0.75
    return left, right, _between(right, low_right, raised), _between(left, low_left, raised)


def _between(one: Point, other: Point, share: float) -> Point:
    return one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1])


def _thickened(ends: tuple[Point, ...]) -> tuple[Point, ...]:
    (x, y), (end_x, end_y) = ends
    way = atan2(end_y - y, end_x - x)
    aside = (-0.1 * sin(way), 0.1 * cos(way))
    return (
        (x + aside[0], y + aside[1]),
        (end_x + aside[0], end_y + aside[1]),
        (end_x - aside[0], end_y - aside[1]),
        (x - aside[0], y - aside[1]),
    )


def _turned_text(centre: Point, turn: int, way: float, off: float) -> Text:
    """Along its direction outwards, never upside down."""
    lift = 0.36 * SMALL
    to_right = round(cos(way), 9)
    backwards = to_right < 0 or (to_right == 0 and sin(way) < 0)
    reading = way + pi if backwards else way
    at = (centre[0] + off * cos(way), centre[1] - off * sin(way))
    # the base line runs below the middle of the letters
    at = (at[0] + lift * sin(reading), at[1] + lift * cos(reading))
    anchor = Anchor.end if backwards else Anchor.start
    return Text(at, str(turn), SMALL, anchor, round(-degrees(reading), 6), of=f"turn {turn}")


def _outwards(centre: Point, layout: _Layout) -> float:
    """Away from the middle of a circle, else at right angles to the nearest side of the pattern."""
    x, y = centre[0], -centre[1]
    if layout.round:
        return atan2(y, x)
    half_x = max(abs(one) for one, _ in layout.centres)
    half_y = max(abs(one) for _, one in layout.centres)
    if half_y - abs(y) <= half_x - abs(x):
        return pi / 2 if y >= 0 else -pi / 2
    return 0.0 if x >= 0 else pi


def _sizes(layout: _Layout, spread: Array, reach: float, unit: str) -> tuple[Mark, ...]:
    """Length and width of the pattern, or the diameter of its circle: below it and to the left, clear of the numbers."""
    words, off = find_unit(LENGTH, unit), reach + ARROW + 2.0
    if layout.round:
        radius = _radius(layout)
        says = f"⌀ {show(2 * radius / layout.scale / 1e3, words)}"
        if reach > _LARGEST:  # extension lines would cross the numbers
            return (Text((0.0, 2.5 * _CROSS), says, SMALL, Anchor.middle),)
        return across((-radius, 0.0), (radius, 0.0), radius + off, says)
    box = around(layout.centres)
    span = np.ptp(spread, axis=0) / 1e3
    marks: tuple[Mark, ...] = ()
    if box.width > 0:
        start = box.bottom + reach
        marks = across((box.left, start), (box.right, start), box.bottom + off, show(float(span[0]), words))
    if box.height > 0:
        start = box.left - reach
        marks += upright((start, box.bottom), (start, box.top), box.left - off, show(float(span[1]), words))
    return marks
