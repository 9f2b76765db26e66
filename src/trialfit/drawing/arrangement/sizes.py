"""Principal dimensions and names on the views.

Answers   side_sizes, plan_sizes    dimension lines, in mm
          names                     the name of each body, inside its outline or beside it
          angles                    working angles above the side view, each with a leader to its joint
Not here  the views (view.py)

Names stay clear of lines and of each other. A name without room in either view goes into the list.
"""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi, sin
from typing import TYPE_CHECKING

import numpy as np

from trialfit.drawing.dimensions import ARROW, across, upright
from trialfit.drawing.labels import spread_out
from trialfit.drawing.pen import SMALL, Anchor, Box, Circle, Line, Rule, Stroke, Text, around
from trialfit.drawing.plot_frame import along_line
from trialfit.drawing.text_widths import width_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.drawing.arrangement.scene import Place, Scene
    from trialfit.drawing.arrangement.view import View
    from trialfit.drawing.pen import Mark, Point

ROW = 6.0
"""From one dimension line to the next, mm."""

_OFF = 7.0
_AWAY = (0.8, 2.5, 4.5, 7.0, 10.0)
_SMALL_RING = 4.0
_CLEAR = 0.4
_STEPS = (0.5, 0.3, 0.7, 0.15, 0.85)
_SIDES = (0.5, 0.3, 0.7, 0.2, 0.8)


def side_sizes(scene: Scene, view: View, reach: Box) -> list[Mark]:
    """Wheelbase; from the front axle back to the measuring point and from joint to joint; height of the measuring point; ground clearance."""
    marks: list[Mark] = []
    first, second = view.top + _OFF, view.top + _OFF + ROW
    chain = [(0.0, 0.0, 0.0)]
    if scene.measuring_point is not None:
        chain.append(scene.measuring_point)
    chain += [joint.at for joint in scene.joints]
    if scene.wheelbase:
        ends = view.on((0.0, 0.0, 0.0)), view.on((-scene.wheelbase, 0.0, 0.0))
        marks += across(*ends, second if len(chain) > 1 else first, _mm(scene.wheelbase), of="wheelbase")
    for start, end in pairwise(chain):
        says, left, right = _mm(abs(start[0] - end[0])), view.on(start), view.on(end)
        if abs(left[0] - right[0]) >= width_of(says, SMALL) + 2 * ARROW:
            marks += across((left[0], view.top), (right[0], view.top), first, says)
    if scene.measuring_point is not None:
        point = view.on(scene.measuring_point)
        marks += upright(
            (point[0], view.top), point, reach.left - 4.0, _mm(scene.measuring_point[2]), of="measuring point"
        )
    low = _lowest(scene)
    if low is not None:
        at = view.on(low)
        marks += upright((reach.right, view.top), at, reach.right + 4.0, _mm(low[2]), of="ground clearance")
    return marks


def _lowest(scene: Scene) -> Place | None:
    """The lowest point of the drivetrain, room for a hand left out."""
    points = [
        (float(x), float(y), float(z))
        for body in scene.bodies
        if body.moves and body.neighbour != "access"
        for piece in body.pieces
        for x, y, z in piece
    ]
    lowest = min(points, key=lambda point: (round(point[2], 6), point[0]), default=None)
    return lowest if lowest is not None and lowest[2] > 0 else None


def plan_sizes(scene: Scene, view: View, reach: Box) -> list[Mark]:
    """Both tracks, outside the view."""
    marks: list[Mark] = []
    for axle, x, at in (("front", 0.0, reach.left - 4.0), ("rear", -(scene.wheelbase or 0.0), reach.right + 4.0)):
        track = scene.tracks.get(axle)
        if track and (axle == "front" or scene.wheelbase):
            ends = view.on((x, track / 2, 0.0)), view.on((x, -track / 2, 0.0))
            marks += upright(*ends, at, _mm(track), of=f"{axle} track")
    return marks


def _mm(length: float) -> str:
    return f"{length * 1e3:.0f}"


def names(
    scene: Scene, views: Sequence[View], marks: Sequence[Mark], rooms: Sequence[Box]
) -> tuple[list[Mark], list[str]]:
    """Names inside outlines, else beside them, first in the side view; and the names without room.

    `marks` is what is already drawn, `rooms` the room of each view for names beside it.
    """
    found: list[Mark] = []
    taken = _Taken([box for mark in marks for box in _lines_of(mark)])
    left_over = []
    for says, spots in (*_bodies(scene, views), *_crosses(scene, views)):
        placed = next(
            (marks for spot, room in zip(spots, rooms, strict=True) if (marks := _inside(says, spot, taken))), []
        )
        placed = placed or next(
            (marks for spot, room in zip(spots, rooms, strict=True) if (marks := _next_to(says, spot, room, taken))), []
        )
        found += placed
        taken.add([box for mark in placed for box in _lines_of(mark)])
        if not placed:
            left_over.append(says)
    return found, left_over


def _bodies(scene: Scene, views: Sequence[View]) -> list[tuple[str, list[Box]]]:
    return [
        (
            body.name.replace("_", " "),
            [
                around(view.on((float(x), float(y), float(z))) for piece in body.pieces for x, y, z in piece)
                for view in views
            ],
        )
        for body in scene.bodies
    ]


def _crosses(scene: Scene, views: Sequence[View]) -> list[tuple[str, list[Box]]]:
    return [
        (point.name.replace("_", " "), [Box(*view.on(point.at), 0.0, 0.0) for view in views]) for point in scene.points
    ]


def _lines_of(mark: Mark) -> list[Box]:
    """What a name must stay clear of: small boxes along a line, the whole of anything else."""
    if isinstance(mark, Rule):
        return []
    if isinstance(mark, Line):
        points = [*mark.points, mark.points[0]] if mark.closed else list(mark.points)
        return along_line(points, 1.0)
    if isinstance(mark, Circle) and mark.radius > _SMALL_RING:
        steps = [number * pi / 18 for number in range(37)]
        return along_line(
            [(mark.centre[0] + mark.radius * cos(turn), mark.centre[1] + mark.radius * sin(turn)) for turn in steps],
            1.0,
        )
    return [mark.box]


def _inside(says: str, room: Box, taken: _Taken) -> list[Mark]:
    width, height = width_of(says, SMALL), 1.05 * SMALL
    if width + 1.0 > room.width or height > room.height:
        return []
    for down in _STEPS:
        for right in _SIDES:
            left = room.left + (room.width - width) * right
            top = room.top + (room.height - height) * down
            if taken.is_free(Box(left, top, width, height)):
                return [Text((left, top + 0.8 * SMALL), says, SMALL, of=f"name {says}")]
    return []


class _Taken:
    """Occupied room, checked all at once: there are thousands of pieces of line."""

    def __init__(self, boxes: Sequence[Box]) -> None:
        self._edges = np.empty((0, 4))
        self.add(boxes)

    def add(self, boxes: Sequence[Box]) -> None:
        """Adds occupied room."""
        rows = [(box.left, box.top, box.right, box.bottom) for box in boxes]
        self._edges = np.concatenate([self._edges, np.array(rows, float).reshape(-1, 4)])

    def is_free(self, box: Box) -> bool:
        """Whether a box is clear of everything, with a small gap."""
        left, top, right, bottom = self._edges.T
        across = (left < box.right + _CLEAR) & (right > box.left - _CLEAR)
        return not bool((across & (top < box.bottom + _CLEAR) & (bottom > box.top - _CLEAR)).any())


def _next_to(says: str, body: Box, room: Box, taken: _Taken) -> list[Mark]:
    """Beside an outline, with a leader that crosses no text if it is further away."""
    width, height = width_of(says, SMALL), 1.05 * SMALL
    for off in _AWAY:
        for right in (0.5, 0.0, 1.0, 0.25, 0.75):
            across_body = body.left + (body.width + width) * right - width
            down_body = body.top + (body.height + height) * right - height
            for left, top in (
                (across_body, body.top - off - height),
                (across_body, body.bottom + off),
                (body.right + off, down_body),
                (body.left - off - width, down_body),
            ):
                box = Box(left, top, width, height)
                if not (room.holds(box) and taken.is_free(box)):
                    continue
                near = _nearest(body, box.middle)
                start = _nearest(box, near)
                marks: list[Mark] = [Text((left, top + 0.8 * SMALL), says, SMALL, of=f"name {says}")]
                if off > _AWAY[0]:
                    marks.append(Line((start, near), Stroke.hair, of=f"name {says}"))
                return marks
    return []


def _nearest(box: Box, point: Point) -> Point:
    return min(max(point[0], box.left), box.right), min(max(point[1], box.top), box.bottom)


def angles(found: Sequence[tuple[str, Place, str]], view: View, room: Box, level: float) -> list[Mark]:
    """The working angles in words, in a row, each with a leader to its joint."""
    widths = [width_of(says, SMALL) + 3.0 for _, _, says in found]
    wanted = [view.on(at)[0] for _, at, _ in found]
    marks: list[Mark] = []
    for (identifier, at, says), middle in zip(found, spread_out(wanted, widths, room.left, room.right), strict=True):
        joint: Point = view.on(at)
        marks.append(Line(((middle, level + 0.8), (joint[0], joint[1] - 1.1)), Stroke.thin, of=identifier))
        marks.append(Text((middle, level), says, SMALL, Anchor.middle, on_white=True, of=identifier))
    return marks
