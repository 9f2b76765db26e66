"""A scene from the side and from above as one picture on white, for a file of its own.

Answers   pictured    the picture: drivetrain grey, car hatched, the tightest gaps numbered, with their words below
Not here  the same views on a page (views.py); the PNG (sheets/press.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.drawing.hatching import hatched
from trialfit.drawing.labels import beside
from trialfit.drawing.look.views import VIEWS, outline, pair
from trialfit.drawing.pen import NORMAL, SMALL, Anchor, Circle, Fill, Line, Picture, Rule, Stroke, Text, around
from trialfit.drawing.plot import Axis
from trialfit.drawing.plot_scale import Scale, scale_of
from trialfit.drawing.text_widths import wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from trialfit.drawing.look.scene import Mark as Gap
    from trialfit.drawing.look.scene import Scene
    from trialfit.drawing.look.views import View
    from trialfit.drawing.pen import Box, Mark, Point
    from trialfit.handbook.arrays import Array

MARKED = 4
_WIDTH, _EDGE, _TALLEST = 280.0, 14.0, 130.0
_LINE = 1.6 * NORMAL
_BALLOON, _AWAY, _SPOT = 2.6, 3.0, 0.7
_UP = {"side": "up ↑", "plan": "left ↑"}


def pictured(scene: Scene, notes: Sequence[str] = ()) -> Picture:
    """The picture of a scene that has bodies, as high as it needs to be; `notes` are printed below everything else."""
    marks: list[Mark] = []
    top = _EDGE / 2
    for view in VIEWS:
        drawn, top = _view(scene, view, top)
        marks += drawn
    for row in (row for words in (*_told(scene), *notes) for row in wrapped(words, NORMAL, _WIDTH - 2 * _EDGE)):
        top += _LINE
        marks.append(Text((_EDGE, top), row, NORMAL))
    return Picture(_WIDTH, top + _EDGE / 2, tuple(marks), scene.title, " ".join(_told(scene)))


def _told(scene: Scene) -> Iterator[str]:
    """The words for the numbers, below the drawings."""
    yield scene.title
    for number, gap in enumerate(scene.marks[:MARKED], 1):
        yield f"{number}  {pair(gap)}: {gap.gap}, required {gap.wanted}, {gap.word}"
    yield "grey: drivetrain; hatched: car; a gap is drawn where its parts come closest"


def _view(scene: Scene, view: View, top: float) -> tuple[list[Mark], float]:
    """One view from a height downwards, and the height below it."""
    across, upwards = _scales(scene, view, top + 2 * _LINE)
    frame = Line(
        tuple((x, y) for x, y in _corners((across.start, across.end), (upwards.end, upwards.start))), closed=True
    )
    marks: list[Mark] = [Text((_EDGE, top + _LINE), f"{view.title}: forward →, {_UP[view.name]}", NORMAL), frame]
    marks += _ticks(across, upwards)

    def flat(points: Array) -> tuple[Point, ...]:
        both = 1000 * np.asarray(points)[:, [view.across, view.up]]
        return tuple((across.at(float(x)), upwards.at(float(y))) for x, y in both)

    for body in sorted(scene.bodies, key=lambda body: not body.moves):
        for piece in body.pieces:
            corners = tuple(map(tuple, outline(np.array(flat(piece)))))
            marks.append(Line(corners, closed=True, fill=Fill.light if body.moves else Fill.none, of=body.name))
            marks += [] if body.moves else [hatched(corners)]
    marks += _gaps([flat(gap.ends) for gap in scene.marks[:MARKED]], scene.marks, frame.box)
    return marks, upwards.start + 3 * _LINE


def _corners(xs: tuple[float, float], ys: tuple[float, float]) -> Iterator[Point]:
    yield from ((xs[0], ys[0]), (xs[1], ys[0]), (xs[1], ys[1]), (xs[0], ys[1]))


def _scales(scene: Scene, view: View, top: float) -> tuple[Scale, Scale]:
    """From mm of the car to mm on the paper, across and upwards, at one scale."""
    points = np.concatenate(
        [*(piece for body in scene.bodies for piece in body.pieces), *(gap.ends for gap in scene.marks[:MARKED])]
    )
    flat = 1000 * points[:, [view.across, view.up]]
    low, high = flat.min(axis=0), flat.max(axis=0)
    air = 0.05 * float((high - low).max()) + 1.0
    low, high = low - air, high + air
    size = high - low
    share = float(min((_WIDTH - 3 * _EDGE) / size[0], _TALLEST / size[1]))
    axis = scale_of(Axis(says="mm", low=float(low[0]), high=float(high[0])), (), 0, 1, ticks=12)
    across = Scale(float(low[0]), float(high[0]), 2 * _EDGE, 2 * _EDGE + share * float(size[0]), axis.step)
    return across, Scale(float(low[1]), float(high[1]), top + share * float(size[1]), top, axis.step)


def _ticks(across: Scale, upwards: Scale) -> Iterator[Mark]:
    """Ticks outside the frame, with their numbers in mm."""
    below, left = upwards.start, across.start
    places = [across.at(tick) for tick in across.ticks], [upwards.at(tick) for tick in upwards.ticks]
    yield Rule(tuple(((x, below), (x, below + 1)) for x in places[0]), Stroke.thin)
    yield Rule(tuple(((left, y), (left - 1, y)) for y in places[1]), Stroke.thin)
    for tick, x in zip(across.ticks, places[0], strict=True):
        yield Text((x, below + 1 + SMALL), across.words(tick), SMALL, Anchor.middle)
    for tick, y in zip(upwards.ticks, places[1], strict=True):
        yield Text((left - 2, y + SMALL / 3), upwards.words(tick), SMALL, Anchor.end)
    yield Text((across.end, below + 1 + 2.3 * SMALL), "mm", SMALL, Anchor.end)


def _gaps(lines: Sequence[tuple[Point, ...]], gaps: Sequence[Gap], room: Box) -> Iterator[Mark]:
    """Each gap with a number beside it, clear of the ends of all gaps."""
    middles = [around(line).middle for line in lines]
    size = 2 * _BALLOON
    places = beside(middles, [(size, size)] * len(lines), room, [around(line).grown(_SPOT) for line in lines], _AWAY)
    for number, (line, middle, place, gap) in enumerate(zip(lines, middles, places, gaps, strict=False), 1):
        yield Line(line, Stroke.thick, of=gap.name)
        yield from (Circle(end, _SPOT, fill=Fill.white) for end in line)
        x, y = place.middle if place else middle
        yield Line((middle, (x, y)), Stroke.thin)
        yield Circle((x, y), _BALLOON, fill=Fill.white)
        yield Text((x, y + NORMAL / 3), str(number), NORMAL, Anchor.middle)
