"""The figure of where to measure: the car from the side and from above, with a number at each thing to measure.

Answers   where_to_measure   the picture, and the numbers whose place is missing
Not here  what to measure (advice/what_to_measure.py); the general arrangement

Only places that are in the build are shown, never a guess. The outline is only the wheels and the ground line.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from trialfit.drawing.dimensions import balloon
from trialfit.drawing.labels import balloon_rows
from trialfit.drawing.pen import SMALL, Circle, Line, Picture, Stroke, Text, around, moved
from trialfit.parts import Car
from trialfit.parts.fact_refs import FactRef

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from trialfit.book.build import Build
    from trialfit.drawing.pen import Box, Mark, Point

_WIDTH, _EDGE, _ROW, _PITCH = 175.0, 6.0, 9.0, 7.5  # mm on the paper
_PLACE = re.compile(r"(?P<end>\w+_)?[xyz]")
_BEYOND = 0.6  # m of car shown in front of the front axle and behind the rear one
_WHEEL = 0.3  # m, radius of a wheel without its tyre
_BREADTH = 1.3  # m shown across
_DEFAULT_BASE = 2.5  # m


@dataclass(frozen=True)
class _Spot:
    number: int
    x: float
    y: float | None
    z: float | None


@dataclass(frozen=True)
class _Paper:
    """The car on the paper: x of its left end, mm for each metre, x of the axles."""

    front: float
    scale: float
    axles: tuple[float, ...]

    def across(self, x: float) -> float:
        """The place on the paper of a point along the car."""
        return _EDGE + (self.front - x) * self.scale


def where_to_measure(build: Build, paths: Sequence[str]) -> tuple[Picture | None, tuple[int, ...]]:
    """The picture of the facts numbered from 1, and the numbers without a place; no picture if none has one."""
    spots = [spot for number, path in enumerate(paths, 1) for spot in _spot(build, path, number)]
    placed = {spot.number for spot in spots}
    without = tuple(number for number in range(1, len(paths) + 1) if number not in placed)
    return (_picture(build, spots) if spots else None), without


def _spot(build: Build, path: str, number: int) -> Iterator[_Spot]:
    """The place of the end of a part that a fact is about, else the first place of the part; None if it is missing."""
    name, _, fact = path.partition(".")
    part = build.named(name)
    if part is None or getattr(part, "fixed_to", None):  # fixed to another part: its place is not on the car
        return
    ends = dict.fromkeys(found["end"] or "" for key in part.specs() if (found := _PLACE.fullmatch(key)))
    own = [end for end in ends if end and fact.startswith(end)]
    for end in (*own, *ends):
        x, y, z = (_written(getattr(part, f"{end}{axis}", None)) for axis in "xyz")
        if x is not None and (y is not None or z is not None):
            yield _Spot(number, x, y, z)
            return


def _written(ref: object) -> float | None:
    return ref.written.si if isinstance(ref, FactRef) and ref.written else None


def _picture(build: Build, spots: list[_Spot]) -> Picture:
    car = build.first(Car)
    base = _written(car.wheelbase) if car else None
    front = max(_BEYOND, *(spot.x for spot in spots))
    rear = min(-(base or _DEFAULT_BASE) - _BEYOND, *(spot.x for spot in spots))
    paper = _Paper(front, (_WIDTH - 2 * _EDGE) / (front - rear), (0.0,) if base is None else (0.0, -base))
    marks: list[Mark] = []
    below = _EDGE
    for title, view in (("from the side, front to the left", _side_view), ("from above", _plan_view)):
        drawn = list(view(paper, spots))
        tall = around(corner for mark in drawn for corner in _corners(mark.box))
        marks.append(Text((_EDGE, below + SMALL), title, SMALL))
        marks += moved(drawn, 0.0, below + 2 * SMALL - tall.top)
        below += 2 * SMALL + tall.height + _EDGE
    return Picture(
        _WIDTH, below, tuple(marks), "where to measure", "side view above, plan view below, front to the left"
    )


def _corners(box: Box) -> tuple[Point, Point]:
    return (box.left, box.top), (box.right, box.bottom)


def _side_view(paper: _Paper, spots: list[_Spot]) -> Iterator[Mark]:
    """The ground at height 0 on the paper, everything else above it."""
    yield Line(((_EDGE, 0.0), (_WIDTH - _EDGE, 0.0)), Stroke.thick)
    for x in paper.axles:
        yield Circle((paper.across(x), -_WHEEL * paper.scale), _WHEEL * paper.scale)
    seen = [(spot.number, (paper.across(spot.x), -spot.z * paper.scale)) for spot in spots if spot.z is not None]
    highest = min([-2 * _WHEEL * paper.scale, *(point[1] for _, point in seen)])
    yield from _balloons(seen, highest - _ROW, _ROW)


def _plan_view(paper: _Paper, spots: list[_Spot]) -> Iterator[Mark]:
    """The middle of the car at height 0 on the paper, its left side below."""
    yield Line(((_EDGE, 0.0), (_WIDTH - _EDGE, 0.0)), Stroke.centre)
    half = _BREADTH / 2 * paper.scale
    for x in paper.axles:
        yield Line(((paper.across(x), -half), (paper.across(x), half)), Stroke.centre)
    seen = [(spot.number, (paper.across(spot.x), spot.y * paper.scale)) for spot in spots if spot.y is not None]
    yield from _balloons(seen, -half - _ROW, half + _ROW)


def _balloons(spots: list[tuple[int, Point]], top: float, bottom: float) -> Iterator[Mark]:
    if not spots:
        return
    targets = [point for _, point in spots]
    centres = balloon_rows(targets, _EDGE, _WIDTH - _EDGE, top, bottom, _PITCH)
    for (number, point), centre in zip(spots, centres, strict=True):
        yield from balloon(centre, number, point)
