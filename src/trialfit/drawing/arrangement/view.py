"""One view of the scene on the paper: bodies, shafts, wheels, axles, and the place of a point of the car.

Answers   View        a projection with its scale and its place on the paper; view.on(point)
          drawn       the marks of a scene in a view
          extent      the room a scene takes in a view, m
          outline     the convex outline of points in the plane
Not here  dimensions (sizes.py); the sheet (sheet_frame.py)
Sources   ISO 128-2: thick for the subject of the drawing, thin for its surroundings, long-dashed dotted for axes

Both views have the front of the car to the left: the car is seen from its left side, and from above below that (first
angle). Paper x is −x of the car; paper y is −z in the side view and y in the plan.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import hypot
from typing import TYPE_CHECKING

from trialfit.drawing.dimensions import centre_mark
from trialfit.drawing.pen import Circle, Fill, Line, Rule, Stroke, around

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from trialfit.drawing.arrangement.scene import Body, Place, Scene, Shaft, Wheel
    from trialfit.drawing.pen import Box, Mark, Point

SIDE, PLAN = "side", "plan"
_JOINT = 1.1
_CROSS = 1.5
_THINNEST = 0.8  # a tube drawn thinner than this is one line
_GROUND_HATCH = 2.2


@dataclass(frozen=True)
class View:
    """`name` is side or plan; `scale` mm on the paper for each m of the car; `left` and `top` are the places of x = 0 and of z or y = 0."""

    name: str
    scale: float
    left: float
    top: float

    def on(self, place: Place) -> Point:
        """The place on the paper of a point of the car, mm."""
        x, y, z = place
        return self.left - self.scale * x, self.top + self.scale * (y if self.name == PLAN else -z)


def outline(points: Sequence[Point]) -> tuple[Point, ...]:
    """Corners of the convex outline of points, in order."""
    ordered = sorted({(round(x, 9), round(y, 9)) for x, y in points})
    if len(ordered) < 3:  # noqa: PLR2004 - two points are a line
        return tuple(ordered)
    halves = []
    for half in (ordered, ordered[::-1]):
        chain: list[Point] = []
        for point in half:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], point) <= 0:
                chain.pop()
            chain.append(point)
        halves.append(chain[:-1])
    return (*halves[0], *halves[1])


def _turn(one: Point, other: Point, third: Point) -> float:
    return (other[0] - one[0]) * (third[1] - one[1]) - (other[1] - one[1]) * (third[0] - one[0])


def extent(scene: Scene, name: str) -> Box:
    """The extent of the scene in a view, m in the axes of the paper, x = 0 and z or y = 0 at the origin."""
    view = View(name, 1.0, 0.0, 0.0)
    points = [(0.0, 0.0)]
    for body in scene.bodies:
        points += [point for piece in body.pieces for point in _on(view, piece)]
    for shaft in (*scene.shafts, *scene.stubs):
        points += [view.on(shaft.start), view.on(shaft.end)]
    for wheel in scene.wheels:
        points += [point for mark in _wheel(wheel, view) for point in _ends(mark)]
    if scene.wheelbase:
        points.append((scene.wheelbase, 0.0))
    points += [view.on(point.at) for point in scene.points]
    if scene.mass_centre is not None:
        points.append(view.on(scene.mass_centre))
    return around(points)


def _ends(mark: Mark) -> tuple[Point, Point]:
    box = mark.box
    return (box.left, box.top), (box.right, box.bottom)


def _on(view: View, points: Iterable[Sequence[float]]) -> list[Point]:
    return [view.on((float(x), float(y), float(z))) for x, y, z in points]


def drawn(scene: Scene, view: View, reach: Box) -> list[Mark]:
    """The marks of a scene; `reach` is the room on the paper that the ground and the centre line cross."""
    marks: list[Mark] = []
    if view.name == SIDE:
        marks += _ground(view, reach)
    else:
        marks.append(Line(((reach.left, view.top), (reach.right, view.top)), Stroke.centre, of="centre of the car"))
    for wheel in scene.wheels:
        marks += _wheel(wheel, view)
    marks += _axles(scene, view, reach)
    for body in sorted(scene.bodies, key=lambda body: (not body.moves, body.name)):
        marks += body_marks(body, view)
    for shaft in (*scene.shafts, *scene.stubs):
        marks += shaft_marks(shaft, view)
    marks += [Circle(view.on(joint.at), _JOINT, Stroke.thin, Fill.white, of=joint.name) for joint in scene.joints]
    if scene.crank is not None:
        marks.append(Line((view.on(scene.crank.start), view.on(scene.crank.end)), Stroke.centre, of="crank"))
    if scene.opening is not None and view.name == PLAN:
        front, rear, left, right = scene.opening
        corners = ((front, left), (rear, left), (rear, right), (front, right))
        marks.append(
            Line(tuple(view.on((x, y, 0.0)) for x, y in corners), Stroke.hidden, closed=True, of="lever opening")
        )
    for point in scene.points:
        marks += [replace(line, stroke=Stroke.thin, of=point.name) for line in centre_mark(view.on(point.at), _CROSS)]
    if scene.mass_centre is not None:
        marks += _mass_centre(view.on(scene.mass_centre))
    return marks


def body_marks(body: Body, view: View, stroke: Stroke | None = None) -> list[Mark]:
    """A solid's outline: of the drivetrain thick and tinted, of the car thin, room for a hand dashed."""
    own = Stroke.thick if body.moves else Stroke.thin
    used = stroke or (Stroke.hidden if body.neighbour == "access" else own)
    fill = Fill.light if body.moves and stroke is None and body.neighbour != "access" else Fill.none
    return [Line(outline(_on(view, piece)), used, closed=True, fill=fill, of=body.name) for piece in body.pieces]


def shaft_marks(shaft: Shaft, view: View, stroke: Stroke = Stroke.thick) -> list[Mark]:
    """A shaft as its tube, or as one line if its diameter is not known or too small to draw; with its centre line."""
    start, end = view.on(shaft.start), view.on(shaft.end)
    length = hypot(end[0] - start[0], end[1] - start[1])
    half = (shaft.diameter or 0.0) * view.scale / 2
    if 2 * half < _THINNEST or not length:
        return [Line((start, end), stroke, of=shaft.name)]
    side = (-(end[1] - start[1]) / length * half, (end[0] - start[0]) / length * half)
    corners = (
        (start[0] + side[0], start[1] + side[1]),
        (end[0] + side[0], end[1] + side[1]),
        (end[0] - side[0], end[1] - side[1]),
        (start[0] - side[0], start[1] - side[1]),
    )
    thin = Stroke.thin if stroke is Stroke.thick else stroke
    tube = Line(corners, thin, closed=True, fill=Fill.white if stroke is Stroke.thick else Fill.none, of=shaft.name)
    return [tube, Line((start, end), Stroke.centre, of=shaft.name)] if stroke is Stroke.thick else [tube]


def _wheel(wheel: Wheel, view: View) -> list[Mark]:
    x, y = view.on(wheel.middle)
    radius = wheel.radius * view.scale
    if view.name == SIDE:
        return [Circle((x, y), radius, Stroke.thin, of=wheel.name)]
    if wheel.width is None:
        return []
    half = wheel.width * view.scale / 2
    corners = ((x - radius, y - half), (x + radius, y - half), (x + radius, y + half), (x - radius, y + half))
    return [Line(corners, Stroke.thin, closed=True, of=wheel.name)]


def _axles(scene: Scene, view: View, reach: Box) -> list[Mark]:
    """The centre lines of both axles, and the cross in each wheel."""
    marks: list[Mark] = []
    ends = [0.0, *([-scene.wheelbase] if scene.wheelbase else [])]
    for x in ends:
        at = view.on((x, 0.0, 0.0))[0]
        if view.name == PLAN:
            marks.append(Line(((at, reach.top), (at, reach.bottom)), Stroke.centre, of="axle"))
            continue
        radius = next((wheel.radius for wheel in scene.wheels if wheel.middle[0] == x), None)
        height = view.on((x, 0.0, (radius or 0.3) * 2))[1]
        marks.append(Line(((at, height - 2.0), (at, view.top + 2.0)), Stroke.centre, of="axle"))
        if radius is not None:
            level, half = view.on((x, 0.0, radius))[1], radius * view.scale
            marks.append(Line(((at - half - 2.0, level), (at + half + 2.0, level)), Stroke.centre, of="axle"))
    return marks


def _ground(view: View, reach: Box) -> list[Mark]:
    level = view.top
    count = int(reach.width / _GROUND_HATCH / 3)
    pieces = []
    for number in range(count):
        x = reach.left + 3 * _GROUND_HATCH * number
        pieces += [((x + off, level), (x + off - 1.2, level + 1.2)) for off in (1.4, 2.4, 3.4)]
    marks: list[Mark] = [Line(((reach.left, level), (reach.right, level)), Stroke.thick, of="ground")]
    return [*marks, Rule(tuple(pieces), Stroke.hair)] if pieces else marks


def _mass_centre(at: Point) -> list[Mark]:
    """A circle with two opposite quarters black."""
    x, y = at
    radius = 1.6
    steps = (0.0, 0.2588, 0.5, 0.7071, 0.866, 0.9659, 1.0)
    quarter = tuple((x + radius * across, y - radius * up) for across, up in zip(steps, reversed(steps), strict=True))
    other = tuple((2 * x - px, 2 * y - py) for px, py in quarter)
    return [
        Circle(at, radius, Stroke.thin, Fill.white, of="centre of mass"),
        Line((at, *quarter), Stroke.none, closed=True, fill=Fill.black),
        Line((at, *other), Stroke.none, closed=True, fill=Fill.black),
    ]
