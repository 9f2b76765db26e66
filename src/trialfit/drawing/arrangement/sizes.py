"""Principal dimensions and names on the views.

Answers   side_sizes, plan_sizes    dimension lines, in mm
          names                     the name of each body, inside its outline where there is room
          angles                    working angles above the side view, each with a leader to its joint
Not here  the views (view.py)

Names stay clear of lines. A body whose name finds no room in either view is named in the list.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.drawing.arrangement.view import outline
from trialfit.drawing.dimensions import ARROW, across, upright
from trialfit.drawing.labels import beside, spread_out
from trialfit.drawing.pen import SMALL, Anchor, Box, Line, Stroke, Text, around
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
_NEAR = 4.0
_EVERYWHERE = Box(0.0, 0.0, 1e4, 1e4)
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
    for start, end in zip(chain, chain[1:], strict=False):
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
    """The lowest point of the drivetrain that is not room for a hand."""
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
    """Both tracks, outside of the view."""
    marks: list[Mark] = []
    for axle, x, at in (("front", 0.0, reach.left - 4.0), ("rear", -(scene.wheelbase or 0.0), reach.right + 4.0)):
        track = scene.tracks.get(axle)
        if track and (axle == "front" or scene.wheelbase):
            ends = view.on((x, track / 2, 0.0)), view.on((x, -track / 2, 0.0))
            marks += upright(*ends, at, _mm(track), of=f"{axle} track")
    return marks


def _mm(length: float) -> str:
    return f"{length * 1e3:.0f}"


def names(scene: Scene, views: Sequence[View], marks: Sequence[Mark]) -> tuple[list[Mark], list[str]]:
    """Names inside outlines, the side view tried first; and the names that found no room."""
    found: list[Mark] = []
    taken = [box for mark in marks if isinstance(mark, Line) for box in _rim(mark)]
    taken += [mark.box for mark in marks if not isinstance(mark, Line) and mark.of != "ground"]
    left_over = []
    for body in scene.bodies:
        says = body.name.replace("_", " ")
        for view in views:
            corners = outline([view.on((float(x), float(y), float(z))) for piece in body.pieces for x, y, z in piece])
            text = _inside(says, around(corners), taken)
            if text is not None:
                found.append(text)
                taken.append(text.box)
                break
        else:
            left_over.append(says)
    for point in scene.points:
        says = point.name.replace("_", " ")
        for view in views:
            box = beside([view.on(point.at)], [(width_of(says, SMALL), 1.05 * SMALL)], _EVERYWHERE, taken, 0.8)[0]
            if box is not None and max(abs(box.middle[0] - view.on(point.at)[0]) - box.width / 2, 0.0) < _NEAR:
                found.append(Text((box.left, box.top + 0.8 * SMALL), says, SMALL, of=f"name {says}"))
                taken.append(box)
                break
        else:
            left_over.append(says)
    return found, left_over


def _rim(mark: Line) -> list[Box]:
    points = [*mark.points, mark.points[0]] if mark.closed else list(mark.points)
    return along_line(points, 1.0)


def _inside(says: str, room: Box, taken: Sequence[Box]) -> Text | None:
    width, height = width_of(says, SMALL), 1.05 * SMALL
    if width + 1.0 > room.width or height > room.height:
        return None
    for down in _STEPS:
        for right in _SIDES:
            left = room.left + (room.width - width) * right
            top = room.top + (room.height - height) * down
            box = Box(left, top, width, height)
            if not any(box.meets(other, 0.3) for other in taken):
                return Text((left, top + 0.8 * SMALL), says, SMALL, of=f"name {says}")
    return None


def angles(found: Sequence[tuple[str, Place, str]], view: View, room: Box, level: float) -> list[Mark]:
    """The words of each working angle in a row, with a leader to its joint."""
    widths = [width_of(says, SMALL) + 3.0 for _, _, says in found]
    wanted = [view.on(at)[0] for _, at, _ in found]
    marks: list[Mark] = []
    for (identifier, at, says), middle in zip(found, spread_out(wanted, widths, room.left, room.right), strict=True):
        joint: Point = view.on(at)
        marks.append(Line(((middle, level + 0.8), (joint[0], joint[1] - 1.1)), Stroke.thin, of=identifier))
        marks.append(Text((middle, level), says, SMALL, Anchor.middle, on_white=True, of=identifier))
    return marks
