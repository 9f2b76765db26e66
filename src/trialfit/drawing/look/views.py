"""Side view and plan of a scene as SVG: outlines, gap lines with their numbers, a scale. Legible in black and white.

Answers   side_and_plan    the two drawings as SVG text, one below the other
          outline          a body seen along an axis, as a polygon
          VIEWS            which axes lie across and up in each view
Not here  the content of the scene (scene.py); the 3D view (page.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

import numpy as np

from trialfit.drawing.labels import beside
from trialfit.drawing.pen import Box
from trialfit.evaluation.verdict import Verdict

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from trialfit.drawing.look.scene import Body, Mark, Scene
    from trialfit.handbook.arrays import Array


@dataclass(frozen=True)
class View:
    """A direction of view: the axis across the paper, the axis up the paper, and the words for both."""

    name: str
    across: int
    up: int
    title: str


VIEWS = (View("side", 0, 2, "from the right side"), View("plan", 0, 1, "from above"))
DASHES = {Verdict.holds: "", Verdict.unsettled: "7 5", Verdict.unknown: "1 5", Verdict.fails: "", None: ""}
"""The line of a gap by its verdict; one that fails is also struck through."""
_WIDTH = 1000.0
_EDGE = 40.0
_BADGE = 13.0
_STRUCK = 28.0
_LETTER, _LINE = 9.2, 20.0
"""Room for a letter and for a line of a name, legible on a phone."""
_LEGEND = 26.0
_SCALES = (0.1, 0.2, 0.5, 1.0, 2.0)


def outline(points: Array) -> Array:
    """The corners of a flat body of points (n, 2), in order round it."""
    from scipy.spatial import ConvexHull

    return np.asarray(points[ConvexHull(points).vertices])


def side_and_plan(scene: Scene) -> str:
    """The drawings of a scene, empty text where it has no bodies."""
    return "\n".join(_drawing(scene, view) for view in VIEWS) if scene.bodies else ""


@dataclass(frozen=True, eq=False)
class _Paper:
    """The place on the paper of a point of the car."""

    view: View
    corner: Array
    scale: float
    height: float

    def __call__(self, points: Array) -> Array:
        flat = np.asarray(points)[..., [self.view.across, self.view.up]]
        return np.asarray((flat - self.corner) * [self.scale, -self.scale] + [_EDGE, self.height - _EDGE])


def _paper(scene: Scene, view: View) -> _Paper:
    points = np.concatenate(
        [*(piece for body in scene.bodies for piece in body.pieces), *(mark.ends for mark in scene.marks)]
    )
    flat = points[:, [view.across, view.up]]
    low, high = flat.min(axis=0), flat.max(axis=0)
    scale = float((_WIDTH - 2 * _EDGE) / (high - low)[0])
    return _Paper(view, low, scale, float((high - low)[1] * scale + 2 * _EDGE))


def _drawing(scene: Scene, view: View) -> str:
    paper = _paper(scene, view)
    title = f"{escape(scene.title)}, {view.title}"
    lines = [
        f'<svg class="drawing" viewBox="0 0 {_WIDTH:.0f} {paper.height:.0f}" role="img" aria-label="{title}">',
        f"<title>{title}</title>",
        *(line for body in scene.bodies if not body.moves for line in _body(body, paper)),
        *(line for body in scene.bodies if body.moves for line in _body(body, paper)),
        *_ground(paper),
        *_names(scene, paper),
        *_marks(scene, paper),
        *_legend(paper),
        "</svg>",
    ]
    return "\n".join(lines)


def _body(body: Body, paper: _Paper) -> Iterator[str]:
    kind = "group" if body.moves else "car"
    yield f'<g class="{kind}" data-body="{escape(body.name)}"><title>{escape(_words(body.name))}</title>'
    for piece in body.pieces:
        corners = " ".join(f"{x:.1f},{y:.1f}" for x, y in outline(paper(piece)))
        yield f'<polygon points="{corners}"/>'
    yield "</g>"


def _ground(paper: _Paper) -> Iterator[str]:
    if paper.view.up == 2:  # noqa: PLR2004 - z
        y = float(paper(np.zeros(3))[1])
        yield f'<path class="ground" d="M0 {y:.1f}h{_WIDTH:.0f}"/>'


def _names(scene: Scene, paper: _Paper) -> Iterator[str]:
    """A name in the middle of each body, or as near as there is room, with a line to the body if it is outside."""
    flats = [paper(np.concatenate(body.pieces)) for body in scene.bodies]
    rooms = [Box(*flat.min(axis=0), *np.ptp(flat, axis=0)) for flat in flats]
    sizes = [(_LETTER * len(body.name), _LINE) for body in scene.bodies]
    for body, room, box in zip(scene.bodies, rooms, _places(rooms, sizes, paper), strict=True):
        x, y = box.middle
        if not room.meets(box):
            end_x, end_y = room.middle
            start_y = box.top if end_y < y else box.bottom
            yield f'<path class="leader" d="M{x:.1f} {start_y:.1f}L{end_x:.1f} {end_y:.1f}"/>'
        yield f'<text class="name" x="{x:.1f}" y="{y + 5:.1f}">{escape(_words(body.name))}</text>'


def _places(rooms: Sequence[Box], sizes: Sequence[tuple[float, float]], paper: _Paper) -> list[Box]:
    """A box for each name, without overlap; the smallest body comes first, since a large one has more room."""
    sheet = Box(0.0, _LEGEND, _WIDTH, paper.height - 2 * _LEGEND)
    found: dict[int, Box] = {}
    for number in sorted(range(len(rooms)), key=lambda one: rooms[one].width * rooms[one].height):
        taken = list(found.values())
        (x, y), size = rooms[number].middle, sizes[number]
        x = float(np.clip(x, size[0] / 2, _WIDTH - size[0] / 2))
        middle = Box(x - size[0] / 2, y - size[1] / 2, *size)
        free = sheet.holds(middle) and not any(middle.meets(other) for other in taken)
        beside_it = None if free else beside([(x, y)], [size], sheet, taken)[0]
        found[number] = middle if free else beside_it or _anywhere((x, y), size, sheet, taken) or middle
    return [found[number] for number in range(len(rooms))]


def _anywhere(point: tuple[float, float], size: tuple[float, float], sheet: Box, taken: Sequence[Box]) -> Box | None:
    """The free place on the sheet nearest to a point; None if the sheet is full."""
    wide, high = size
    places = (
        Box(float(left), float(top), wide, high)
        for left in np.arange(sheet.left, sheet.right - wide, _LINE)
        for top in np.arange(sheet.top, sheet.bottom - high, _LINE)
    )
    free = (box for box in places if not any(box.meets(other) for other in taken))
    return min(free, key=lambda box: np.hypot(box.middle[0] - point[0], box.middle[1] - point[1]), default=None)


def _marks(scene: Scene, paper: _Paper) -> Iterator[str]:
    taken: list[Array] = []
    for number, mark in enumerate(scene.marks, 1):
        start, end = paper(mark.ends)
        yield f'<g class="mark" id="{paper.view.name}-{number}" data-mark="{number - 1}">'
        yield f"<title>{escape(f'{number}: {pair(mark)}, {mark.gap}, {mark.word}')}</title>"
        yield from _line(mark, start, end)
        yield from _badge(number, mark, _free((start + end) / 2, end - start, taken))
        yield "</g>"


def _line(mark: Mark, start: Array, end: Array) -> Iterator[str]:
    ends = f'x1="{start[0]:.1f}" y1="{start[1]:.1f}" x2="{end[0]:.1f}" y2="{end[1]:.1f}"'
    yield f'<line class="halo" {ends}/>'
    dashes = f' stroke-dasharray="{DASHES[mark.verdict]}"' if DASHES[mark.verdict] else ""
    yield f'<line class="gap" {ends}{dashes}/>'
    if mark.verdict is Verdict.fails and np.hypot(*(end - start)) > _STRUCK:
        x, y = (start + end) / 2
        yield f'<path class="strike" d="M{x - 6:.1f} {y - 6:.1f}l12 12m0-12l-12 12"/>'
    for x, y in (start, end):
        yield f'<circle class="end" cx="{x:.1f}" cy="{y:.1f}" r="3"/>'


def _free(middle: Array, along: Array, taken: list[Array]) -> Array:
    """A free place for a number beside the middle of its line."""
    length = float(np.hypot(*along))
    beside = np.array([-along[1], along[0]]) / length if length > 1 else np.array([0.0, -1.0])
    for step in (1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6):
        place = middle + beside * step * (_BADGE + 7)
        if all(np.hypot(*(place - other)) > 2 * _BADGE for other in taken):
            break
    taken.append(place)
    return place


def _badge(number: int, mark: Mark, place: Array) -> Iterator[str]:
    x, y = place
    kind = "fails" if mark.verdict is Verdict.fails else "stands"
    yield f'<circle class="badge {kind}" cx="{x:.1f}" cy="{y:.1f}" r="{_BADGE:.0f}"/>'
    yield f'<text class="number {kind}" x="{x:.1f}" y="{y + 5:.1f}">{number}</text>'


def _legend(paper: _Paper) -> Iterator[str]:
    """The direction of the front, and the scale."""
    view, y = paper.view, paper.height - 12
    length = next((one for one in reversed(_SCALES) if one * paper.scale < _WIDTH / 3), _SCALES[0])
    wide = length * paper.scale
    yield f'<text class="legend" x="{_EDGE}" y="20">{view.title}</text>'
    yield f'<text class="legend" x="{_WIDTH - _EDGE}" y="20" text-anchor="end">front →</text>'
    yield f'<path class="scale" d="M{_EDGE} {y - 5}v10m0-5h{wide:.1f}m0-5v10"/>'
    yield f'<text class="legend" x="{_EDGE + wide + 8:.1f}" y="{y + 5}">{length * 1000:.0f} mm</text>'


def pair(mark: Mark) -> str:
    """The two bodies of a gap in words."""
    return f"{_words(mark.moving)} – {_words(mark.fixed)}"


def _words(name: str) -> str:
    return name.replace("_", " ")
