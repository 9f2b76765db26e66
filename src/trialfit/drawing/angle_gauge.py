"""The figure of an angle gauge along the driveline: where it is placed, and which direction is positive.

Answers   setting_figure   the picture, with a letter for each reading
          LETTERS          the letter of each reading
Not here  angles to scale (the general arrangement); what the readings show (subjects/driveline/setting.py)

A diagram, not to scale: its slopes are steeper than on any car, so that they can be told apart.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.drawing.dimensions import arrow_head
from trialfit.drawing.pen import LARGE, SMALL, Anchor, Circle, Fill, Line, Picture, Stroke, Text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.drawing.pen import Mark, Point

LETTERS = {"gearbox": "A", "front_shaft": "F", "shaft": "B", "final_drive": "C"}
_WIDTH, _HEIGHT, _FLOOR = 160.0, 58.0, 50.0
_ONE = {
    "gearbox": ((8.0, 20.0), (44.0, 23.0)),
    "shaft": ((44.0, 23.0), (118.0, 35.0)),
    "final_drive": ((118.0, 35.0), (150.0, 37.5)),
}
_TWO = {
    "gearbox": ((8.0, 20.0), (38.0, 22.5)),
    "front_shaft": ((38.0, 22.5), (78.0, 25.5)),
    "shaft": ((78.0, 25.5), (122.0, 35.0)),
    "final_drive": ((122.0, 35.0), (152.0, 37.5)),
}
_NAMES = {"gearbox": "gearbox output", "front_shaft": "front tube", "shaft": "tube", "final_drive": "pinion flange"}


def setting_figure(*, two_tubes: bool) -> Picture:
    """The picture, with one tube or two."""
    members = _TWO if two_tubes else _ONE
    marks: list[Mark] = [Line(((4.0, _FLOOR), (_WIDTH - 4, _FLOOR)), Stroke.thick)]
    for name, (start, end) in members.items():
        marks += _member(name, start, end)
    marks += [_joint(start) for start, _ in list(members.values())[1:]]
    marks += _sense()
    return Picture(_WIDTH, _HEIGHT, tuple(marks), "where the angle gauge is placed", "front to the left")


def _member(name: str, start: Point, end: Point) -> Iterator[Mark]:
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    thick = 3.0 if name in ("shaft", "front_shaft") else 6.0
    corners = (
        (start[0], start[1] - thick),
        (end[0], end[1] - thick),
        (end[0], end[1] + thick),
        (start[0], start[1] + thick),
    )
    yield Line(corners, Stroke.thick, closed=True, fill=Fill.white)
    yield Line((start, end), Stroke.centre)
    foot = (middle[0], middle[1] - thick)
    yield Line(((foot[0] - 5, foot[1] - 0.5), (foot[0] + 5, foot[1] + 0.5)), Stroke.thick)
    yield Text((foot[0], foot[1] - 2.0), LETTERS[name], LARGE, Anchor.middle)
    yield Text((middle[0], middle[1] + thick + 3.5), _NAMES[name], SMALL, Anchor.middle)


def _joint(at: Point) -> Circle:
    return Circle(at, 2.2, Stroke.thick, Fill.white)


def _sense() -> Iterator[Mark]:
    """Down towards the rear is positive."""
    yield Text((6.0, _HEIGHT - 2.5), "front", SMALL)
    yield Text((_WIDTH - 6, _HEIGHT - 2.5), "rear", SMALL, Anchor.end)
    yield Line(((_WIDTH / 2 - 34, _HEIGHT - 5.0), (_WIDTH / 2 - 18, _HEIGHT - 2.6)), Stroke.thin)
    yield arrow_head((_WIDTH / 2 - 18, _HEIGHT - 2.6), -0.149)
    yield Text((_WIDTH / 2 - 14, _HEIGHT - 2.5), "down towards the rear is positive", SMALL)
