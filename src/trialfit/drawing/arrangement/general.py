"""The general arrangement of a build: both views on a sheet, to scale, with balloons for what does not hold.

Answers   arrangement_of   the sheets of a build
          Arrangement      sheets, scale, balloons, movements, and what is missing
Not here  the things to draw (scene.py), drawing them (view.py, sizes.py), the list (listed.py)
Sources   ISO 5455, scales of reduction 1:2, 1:5, 1:10, 1:20, 1:50 and so on, from memory

The scale is the largest at which both views fit beside the list; if that is smaller than 1:20, the list gets a narrower
column. The rest of the list continues on further sheets.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from trialfit.drawing.arrangement.listed import angle_words, balloons_of, entries_of
from trialfit.drawing.arrangement.movements import ghosts, movements_of
from trialfit.drawing.arrangement.scene import scene_of
from trialfit.drawing.arrangement.sheet_frame import (
    BESIDE,
    NARROW,
    PAPERS,
    Entry,
    Paper,
    TitleBlock,
    block_box,
    column,
    framed,
)
from trialfit.drawing.arrangement.sizes import ROW, angles, names, plan_sizes, side_sizes
from trialfit.drawing.arrangement.view import PLAN, SIDE, View, body_marks, drawn, extent, shaft_marks
from trialfit.drawing.dimensions import BALLOON, balloon
from trialfit.drawing.labels import balloon_row
from trialfit.drawing.pen import SMALL, Box, Line, Picture, Stroke, Text
from trialfit.drawing.text_widths import wrapped
from trialfit.evaluation.evaluation import DRAWS
from trialfit.subjects.catalogue import evaluate

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from trialfit.book.build import Build
    from trialfit.drawing.arrangement.listed import Balloon
    from trialfit.drawing.arrangement.movements import Movement
    from trialfit.drawing.arrangement.scene import Scene
    from trialfit.drawing.pen import Mark

SCALES = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
_SMALLEST_BESIDE = 20
_GAP = 3.0
_PITCH = 2 * BALLOON + 1.0
_DIMENSION = 8.5  # left and right of the views
_SIZES = 7.0 + ROW + 2.0  # from the ground down to below the dimensions
_TITLED = 26.0  # width of the name of a view, left of its balloons
_HEADER = 1.6 * SMALL
_ANGLES = 1.9 * SMALL
_COLUMNS = 3
_IN_PLAN = 0.15  # m; anything further to the left has its balloon in the plan, from below
_MM = 1000.0


@dataclass(frozen=True, eq=False)
class Arrangement:
    """The drawing: `pictures` are its sheets; `scale` is "1:20", or empty if nothing has a place."""

    pictures: tuple[Picture, ...]
    scale: str
    views: tuple[View, ...]
    balloons: tuple[Balloon, ...]
    movements: tuple[Movement, ...]
    missing: dict[str, str]


def arrangement_of(
    build: Build,
    *,
    date: str = "",
    journal: str = "",
    against: Build | None = None,
    against_name: str = "",
    paper: str = "A4",
    draws: int = DRAWS,
) -> Arrangement:
    """The sheets of a build.

    date, journal    for the title block; empty leaves a field to fill in by hand
    against          an earlier build: the earlier places of its parts are drawn in thin long-dashed double-dotted lines
    paper            A4 or A3
    """
    sheet = PAPERS[paper]
    scene, report = scene_of(build), evaluate(build, draws)
    before = scene_of(against) if against is not None else None
    movements = movements_of(against, before, build, scene) if against is not None and before is not None else ()
    balloons = balloons_of(build, scene, report)
    missing = dict(scene.missing)
    entries = list(entries_of(balloons, movements, missing, against_name))
    plan = _Plan(scene, before, sheet, angle_words(scene, report), balloons)
    scale, width = plan.fit()
    views, marks, unnamed = plan.draw(scale, width)
    if unnamed:
        entries.append(Entry(f"not named on the drawing: {', '.join(unnamed)}"))
    words = f"1:{scale}" if views else ""
    block = TitleBlock("General arrangement", build.name, date, words, "", journal, sheet.name, against_name)
    pictures = _sheets(sheet, marks, entries, block, width)
    return Arrangement(pictures, words, views, balloons, movements, missing)


@dataclass(frozen=True, eq=False)
class _Plan:
    """The content of the views, and the room that it takes."""

    scene: Scene
    before: Scene | None
    paper: Paper
    angles: list[tuple[str, tuple[float, float, float], str]]
    balloons: tuple[Balloon, ...]

    def fit(self) -> tuple[int, float]:
        """The scale, as the number behind 1:, and the width of the title block beside the views."""
        fitting = {
            width: next((scale for scale in SCALES if self._fits(scale, width)), SCALES[-1])
            for width in (BESIDE, NARROW)
        }
        width = BESIDE if fitting[BESIDE] <= max(_SMALLEST_BESIDE, fitting[NARROW]) else NARROW
        return fitting[width], width

    def _room(self, width: float) -> Box:
        inside = self.paper.inside
        return replace(inside, width=inside.width - width)

    def _fits(self, scale: int, block: float) -> bool:
        side, plan = self._extents(scale)
        room = self._room(block)
        width = max(side.right, plan.right) - min(side.left, plan.left) + 2 * _DIMENSION + _GAP
        return width <= room.width and self._above(room) + side.height + self._below(room) + plan.height <= room.height

    def _extents(self, scale: int) -> tuple[Box, Box]:
        """Both views on the paper, mm, x = 0 at the origin; of the earlier build too."""
        boxes = []
        for name in (SIDE, PLAN):
            scenes = [extent(scene, name) for scene in (self.scene, self.before) if scene is not None]
            left, top = min(box.left for box in scenes), min(box.top for box in scenes)
            right, bottom = max(box.right for box in scenes), max(box.bottom for box in scenes)
            times = _MM / scale
            boxes.append(Box(left * times, top * times, (right - left) * times, (bottom - top) * times))
        return boxes[0], boxes[1]

    def _rows(self, name: str, room: Box) -> float:
        """Height of the balloon rows of a view."""
        count = len(self._ballooned(name))
        return -(-count // max(1, int((room.width - _TITLED - _GAP) / _PITCH))) * _PITCH

    def _above(self, room: Box) -> float:
        return _GAP + max(self._rows(SIDE, room), _HEADER) + (_ANGLES if self.angles else 0.0) + _GAP

    def _below(self, room: Box) -> float:
        """Dimensions between the views, and balloons below the plan."""
        return _SIZES + _GAP + self._rows(PLAN, room) + 2 * _GAP

    def _ballooned(self, name: str) -> list[Balloon]:
        placed = [one for one in self.balloons if one.at is not None]
        return [one for one in placed if one.at and (one.at[1] > _IN_PLAN) == (name == PLAN)]

    def draw(self, scale: int, block: float) -> tuple[tuple[View, ...], list[Mark], list[str]]:
        """Both views with everything on them, and the names without room."""
        room = self._room(block)
        if self.scene.is_empty:
            return (), _fields(self.scene.missing, room), []
        side, plan = self._extents(scale)
        left, right = min(side.left, plan.left), max(side.right, plan.right)
        origin = room.left + (room.width - (right - left)) / 2 - left
        spare = room.height - self._above(room) - side.height - self._below(room) - plan.height
        ground = room.top + self._above(room) + spare / 3 - side.top
        middle = ground + max(side.bottom, 0.0) + _SIZES + _GAP + spare / 3 - plan.top
        views = (View(SIDE, _MM / scale, origin, ground), View(PLAN, _MM / scale, origin, middle))
        reach = Box(origin + left - 1.0, room.top, right - left + 2.0, room.height)
        floor = Box(reach.left, middle + plan.top - 1.5, reach.width, plan.height + 3.0)
        marks: list[Mark] = []
        for view, around_it in zip(views, (reach, floor), strict=True):
            marks += drawn(self.scene, view, around_it)
            marks += self._ghosts(view)
        marks += [*side_sizes(self.scene, views[0], reach), *plan_sizes(self.scene, views[1], reach)]
        level = room.top + _GAP + max(self._rows(SIDE, room), _HEADER)
        marks += self._balloons(views, room, level, floor.bottom)
        marks += angles(
            self.angles, views[0], Box(room.left + _GAP, 0, room.width - 2 * _GAP, 0), level + 0.7 * _ANGLES
        )
        upper = Box(room.left + 1.0, level + _ANGLES, room.width - 2.0, ground - level - _ANGLES)
        lower = Box(room.left + 1.0, floor.top, room.width - 2.0, floor.height)
        named, unnamed = names(self.scene, views, marks, (upper, lower))
        marks += named
        marks.append(Text((room.left + _GAP, room.top + _GAP + SMALL), "from the left", SMALL))
        marks.append(Text((room.left + _GAP, room.bottom - _GAP), "from above", SMALL))
        return views, marks, unnamed

    def _ghosts(self, view: View) -> list[Mark]:
        if self.before is None:
            return []
        bodies, shafts = ghosts(self.before, self.scene)
        marks = [mark for body in bodies for mark in body_marks(body, view, Stroke.before)]
        return [*marks, *(mark for shaft in shafts for mark in shaft_marks(shaft, view, Stroke.before))]

    def _balloons(self, views: Sequence[View], room: Box, above: float, below: float) -> list[Mark]:
        marks: list[Mark] = []
        for view, level, outwards in (
            (views[0], above - _PITCH / 2, -_PITCH),
            (views[1], below + _PITCH / 2 + 1.0, _PITCH),
        ):
            ones = self._ballooned(view.name)
            targets = [view.on(one.at) for one in ones if one.at is not None]
            left, right = room.left + _TITLED, room.right - _GAP
            for one, target, centre in zip(
                ones, targets, balloon_row(targets, left, right, level, _PITCH, outwards), strict=True
            ):
                marks += balloon(centre, one.number or 0, target, of=f"balloon {one.number}")
        return marks


def _fields(missing: Mapping[str, str], room: Box) -> list[Mark]:
    """Instead of the views: what to measure first, with lines to fill in by hand."""
    says = "no part has a position yet; measure and write these first:"
    at = room.top + _GAP + SMALL
    marks: list[Mark] = [Text((room.left + _GAP, at), says, SMALL)]
    width = room.width - 2 * _GAP
    for path, meaning in missing.items():
        at += 2.2 * SMALL
        for line in wrapped(f"{path}: {meaning}", SMALL, 0.6 * width):
            marks.append(Text((room.left + _GAP, at), line, SMALL))
            at += 1.4 * SMALL
        level = at - 1.1 * SMALL
        marks.append(Line(((room.left + _GAP + 0.63 * width, level), (room.right - _GAP, level)), Stroke.thin, of=path))
    return marks


def _sheets(
    paper: Paper, views: list[Mark], entries: list[Entry], block: TitleBlock, width: float
) -> tuple[Picture, ...]:
    """The first sheet with the views, and as many more as the list needs."""
    inside, corner = paper.inside, block_box(paper, width)
    bodies: list[list[Mark]] = [list(views)]
    room = Box(corner.left + 2.0, inside.top + 2.0, corner.width - 4.0, corner.top - inside.top - 4.0)
    marks, entries = column(entries, room)
    bodies[0] += marks
    third = inside.width / _COLUMNS
    while entries:
        page: list[Mark] = []
        for number in range(_COLUMNS):
            bottom = block_box(paper).top if number == _COLUMNS - 1 else inside.bottom
            room = Box(inside.left + number * third + 2.0, inside.top + 2.0, third - 5.0, bottom - inside.top - 4.0)
            marks, entries = column(entries, room)
            page += marks
        bodies.append(page)
    says = f"{block.title} of {block.build}, {block.scale}"
    pictures = []
    for number, body in enumerate(bodies, 1):
        sheet = replace(block, sheet=f"{number} of {len(bodies)}")
        marks = framed(paper, sheet, width if number == 1 else BESIDE)
        pictures.append(Picture(paper.width, paper.height, (*marks, *body), f"{block.title}: {block.build}", says))
    return tuple(pictures)
