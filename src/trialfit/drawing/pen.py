"""What a drawing is made of, and its SVG: lines of technical drawing, circles, text, in millimetres on the paper.

Answers   Stroke, Fill        line types and tints
          Line, Circle, Text, Rule   the marks; every mark can carry what it shows (`of`)
          Box                 the room a mark or a text takes
          Picture             marks on a sheet of a size; picture.svg() writes it down
          moved               marks shifted on the paper
Not here  dimension lines and balloons (dimensions.py), where labels go (labels.py), hatching (hatching.py)
Axes      x to the right, y down, from the upper left corner of the sheet; mm
Sources   [1] ISO 128-2, types of line and their lengths in widths of the line, from memory   [2] ISO 3098-1, heights of letters:
          1.8, 2.5 and 3.5 mm, from memory

Black on white, no colour: lines and areas differ by width, dashes, tint or hatching.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from math import cos, isfinite, radians, sin
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape, quoteattr

from trialfit.drawing.text_widths import FONT, plain, width_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

Point = tuple[float, float]

THICK, THIN, HAIR = 0.5, 0.25, 0.13
"""Widths of line, mm: thick is twice thin [1]; hair is for hatching and grids."""

CAPITAL = 0.729
"""Height of a capital over the size of the font."""

SMALL, NORMAL, LARGE = 1.8 / CAPITAL, 2.5 / CAPITAL, 3.5 / CAPITAL
"""Sizes of font, mm, whose capitals have the heights of [2]."""

_ABOVE, _BELOW = 0.78, 0.24  # of the size: from the base line up to accents and down to descenders


class Stroke(StrEnum):
    """A type of line."""

    thick = "thick"
    thin = "thin"
    hair = "hair"
    hidden = "hidden"
    centre = "centre"
    before = "before"
    dotted = "dotted"
    thick_dashed = "thick dashed"
    thick_chain = "thick chain"
    thick_double_chain = "thick double chain"
    none = "none"


_DASH, _LONG, _GAP, _DOT = (
    12.0,
    24.0,
    3.0,
    1.0,
)  # in widths of the line [1]; a dot as long as the line is wide is visible
_STROKES = {
    Stroke.thick: (THICK, ()),
    Stroke.thin: (THIN, ()),
    Stroke.hair: (HAIR, ()),
    Stroke.hidden: (THIN, (_DASH / 2, _GAP)),
    Stroke.centre: (THIN, (_LONG, _GAP, _DOT, _GAP)),
    Stroke.before: (THIN, (_LONG, _GAP, _DOT, _GAP, _DOT, _GAP)),
    Stroke.dotted: (THIN, (_DOT, _GAP)),
    Stroke.thick_dashed: (THICK, (_DASH / 2, _GAP)),
    Stroke.thick_chain: (THICK, (_LONG / 2, _GAP, _DOT, _GAP)),
    Stroke.thick_double_chain: (THICK, (_LONG / 2, _GAP, _DOT, _GAP, _DOT, _GAP)),
}
"""Width and dashes; the dashes of hidden edges and of thick lines are half as long as in [1], so that a short line still shows two."""


class Fill(StrEnum):
    """What is inside a closed line: nothing, white (covers what is below), a tint that survives a copier, or black."""

    none = "none"
    white = "#fff"
    light = "#e6e6e6"
    grey = "#bdbdbd"
    black = "#000"


class Anchor(StrEnum):
    """The end of a text that is at its point."""

    start = "start"
    middle = "middle"
    end = "end"


@dataclass(frozen=True)
class Box:
    """Room on the paper, mm: from the left and the top."""

    left: float
    top: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """The right edge."""
        return self.left + self.width

    @property
    def bottom(self) -> float:
        """The lower edge."""
        return self.top + self.height

    @property
    def middle(self) -> Point:
        """The middle."""
        return self.left + self.width / 2, self.top + self.height / 2

    def meets(self, other: Box, gap: float = 0.0) -> bool:
        """Whether the two overlap, or are nearer than the gap; touching edges do not count."""
        return (
            self.left < other.right + gap - 1e-9
            and other.left < self.right + gap - 1e-9
            and self.top < other.bottom + gap - 1e-9
            and other.top < self.bottom + gap - 1e-9
        )

    def holds(self, other: Box) -> bool:
        """Whether the other lies within."""
        return (
            self.left <= other.left + 1e-9
            and self.top <= other.top + 1e-9
            and other.right <= self.right + 1e-9
            and other.bottom <= self.bottom + 1e-9
        )

    def grown(self, by: float) -> Box:
        """The box, larger by this much on every side."""
        return Box(self.left - by, self.top - by, self.width + 2 * by, self.height + 2 * by)


def around(points: Iterable[Point]) -> Box:
    """The smallest box that holds the points. Raises ValueError without points."""
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


@dataclass(frozen=True)
class Line:
    """A line through points; closed where it returns to the first."""

    points: tuple[Point, ...]
    stroke: Stroke = Stroke.thin
    closed: bool = False
    fill: Fill = Fill.none
    of: str = ""

    @property
    def box(self) -> Box:
        """The room it takes, without the width of the line."""
        return around(self.points)


@dataclass(frozen=True)
class Circle:
    """A circle."""

    centre: Point
    radius: float
    stroke: Stroke = Stroke.thin
    fill: Fill = Fill.none
    of: str = ""

    @property
    def box(self) -> Box:
        """The room it takes."""
        return Box(self.centre[0] - self.radius, self.centre[1] - self.radius, 2 * self.radius, 2 * self.radius)


@dataclass(frozen=True)
class Text:
    """One line of text from a point on its base line; upright reading from the right where it is turned."""

    at: Point
    says: str
    size: float = NORMAL
    anchor: Anchor = Anchor.start
    turn: float = 0.0  # degrees, clockwise; -90 reads from below upwards
    on_white: bool = False
    of: str = ""

    @property
    def width(self) -> float:
        """Its length along the base line."""
        return width_of(plain(self.says), self.size)

    @property
    def corners(self) -> tuple[Point, ...]:
        """The four corners of the room it takes, turned with it."""
        before = {Anchor.start: 0.0, Anchor.middle: 0.5, Anchor.end: 1.0}[self.anchor] * self.width
        left, right, top, bottom = -before, self.width - before, -_ABOVE * self.size, _BELOW * self.size
        turned, (x0, y0) = radians(self.turn), self.at
        return tuple(
            (x0 + x * cos(turned) - y * sin(turned), y0 + x * sin(turned) + y * cos(turned))
            for x, y in ((left, top), (right, top), (right, bottom), (left, bottom))
        )

    @property
    def box(self) -> Box:
        """The room it takes; of a turned text the upright box around it."""
        return around(self.corners)


@dataclass(frozen=True)
class Rule:
    """Many separate straight pieces of one type of line, such as a grid or hatching: one element in the SVG."""

    pieces: tuple[tuple[Point, Point], ...]
    stroke: Stroke = Stroke.hair
    of: str = ""

    @property
    def box(self) -> Box:
        """The room it takes."""
        return around(point for piece in self.pieces for point in piece)


Mark = Line | Circle | Text | Rule


@dataclass(frozen=True)
class Picture:
    """Marks on a sheet, mm, later ones above earlier ones; `title` and `says` are for a screen reader."""

    width: float
    height: float
    marks: tuple[Mark, ...]
    title: str = ""
    says: str = ""

    @property
    def box(self) -> Box:
        """The whole sheet."""
        return Box(0, 0, self.width, self.height)

    def svg(self) -> str:
        """The picture as an SVG document, always the same text for the same picture. Raises ValueError for a number that is not finite."""
        size = f'width="{_number(self.width)}mm" height="{_number(self.height)}mm"'
        opening = (
            f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {_number(self.width)} {_number(self.height)}" '
            f'role="img" font-family={quoteattr(f"{FONT}, sans-serif")} stroke-linejoin="round">'
        )
        head = [f"<title>{escape(plain(self.title))}</title>"] if self.title else []
        head += [f"<desc>{escape(plain(self.says))}</desc>"] if self.says else []
        body = [line for mark in self.marks for line in _written(mark)]
        return "\n".join([opening, *head, *body, "</svg>"]) + "\n"


def moved(marks: Iterable[Mark], right: float, down: float) -> tuple[Mark, ...]:
    """The marks, shifted by so many mm."""
    return tuple(_moved(mark, right, down) for mark in marks)


def _moved(mark: Mark, right: float, down: float) -> Mark:
    def shifted(point: Point) -> Point:
        return point[0] + right, point[1] + down

    if isinstance(mark, Line):
        return replace(mark, points=tuple(map(shifted, mark.points)))
    if isinstance(mark, Circle):
        return replace(mark, centre=shifted(mark.centre))
    if isinstance(mark, Rule):
        return replace(mark, pieces=tuple((shifted(one), shifted(other)) for one, other in mark.pieces))
    return replace(mark, at=shifted(mark.at))


def _written(mark: Mark) -> Iterator[str]:
    of = f" data-of={quoteattr(plain(mark.of))}" if mark.of else ""
    if isinstance(mark, Text):
        if mark.on_white:
            box = mark.box
            yield (
                f'<rect x="{_number(box.left)}" y="{_number(box.top)}" width="{_number(box.width)}" '
                f'height="{_number(box.height)}" fill="#fff"/>'
            )
        x, y = _number(mark.at[0]), _number(mark.at[1])
        turn = f' transform="rotate({_number(mark.turn)} {x} {y})"' if mark.turn else ""
        anchor = f' text-anchor="{mark.anchor}"' if mark.anchor is not Anchor.start else ""
        yield f'<text x="{x}" y="{y}" font-size="{_number(mark.size)}"{anchor}{turn}{of}>{escape(plain(mark.says))}</text>'
    elif isinstance(mark, Circle):
        x, y, radius = (_number(one) for one in (*mark.centre, mark.radius))
        yield f'<circle cx="{x}" cy="{y}" r="{radius}" fill="{mark.fill}"{_stroke(mark.stroke)}{of}/>'
    elif isinstance(mark, Rule):
        if mark.pieces:
            path = " ".join(f"M{_pair(one)}L{_pair(other)}" for one, other in mark.pieces)
            yield f'<path d="{path}" fill="none"{_stroke(mark.stroke)}{of}/>'
    else:
        name, points = "polygon" if mark.closed else "polyline", " ".join(map(_pair, mark.points))
        yield f'<{name} points="{points}" fill="{mark.fill}"{_stroke(mark.stroke)}{of}/>'


def _stroke(stroke: Stroke) -> str:
    if stroke is Stroke.none:
        return ""
    width, dashes = _STROKES[stroke]
    dashed = f' stroke-dasharray="{" ".join(_number(length * width) for length in dashes)}"' if dashes else ""
    return f' stroke="#000" stroke-width="{_number(width)}"{dashed}'


def _pair(point: Point) -> str:
    return f"{_number(point[0])},{_number(point[1])}"


def _number(value: float) -> str:
    if not isfinite(value):
        msg = "a place on the drawing is not a number"
        raise ValueError(msg)
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
