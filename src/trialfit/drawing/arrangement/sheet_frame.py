"""The sheet itself: frame, title block, projection symbol, and a column of text beside the views.

Answers   Paper, PAPERS    sheets of paper
          TitleBlock       its content
          framed           frame and title block
          column           lines of text, as many as fit, and the rest
Sources   ISO 5457 (margins: 20 mm to file it, else 10 mm), ISO 7200 (what a title block holds), ISO 5456-2 (symbol of first
          angle projection), from memory
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from trialfit.drawing.dimensions import balloon, centre_mark
from trialfit.drawing.pen import NORMAL, SMALL, Box, Circle, Line, Stroke, Text
from trialfit.drawing.text_widths import shortened, wrapped

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.drawing.pen import Mark, Point

_FILING, _MARGIN = 20.0, 10.0
BESIDE, NARROW = 79.0, 58.0
"""Width of the title block, mm: below the list, or alone if the views need the room."""

_PAD = 1.2
_LEAD = 1.42 * SMALL
_AIR = 0.9
_NUMBERED = 2.0
_FIELD = 9.0
_HEIGHTS = {BESIDE: 4, NARROW: 5}  # rows of fields


@dataclass(frozen=True)
class Paper:
    """A sheet of paper, landscape, mm."""

    name: str
    width: float
    height: float

    @property
    def inside(self) -> Box:
        """The room within the frame."""
        return Box(_FILING, _MARGIN, self.width - _FILING - _MARGIN, self.height - 2 * _MARGIN)


PAPERS = {"A4": Paper("A4", 297.0, 210.0), "A3": Paper("A3", 420.0, 297.0)}


@dataclass(frozen=True)
class TitleBlock:
    """The content of the title block; an empty text leaves a field to fill in by hand."""

    title: str
    build: str
    date: str
    scale: str
    sheet: str
    journal: str
    paper: str = "A4"
    against: str = ""


@dataclass(frozen=True)
class Entry:
    """One entry of the column: its text, and the number of its balloon if it begins the list of one."""

    says: str
    number: int | None = None
    heading: bool = False

    @property
    def inset(self) -> float:
        """Left of its text, mm."""
        return 0.0 if self.heading else 2 * _NUMBERED + 1.6

    @property
    def leads(self) -> bool:
        """Whether it stays together with the next entry."""
        return self.heading or self.number is not None


def framed(paper: Paper, block: TitleBlock, width: float = BESIDE) -> list[Mark]:
    """Frame and title block."""
    inside = paper.inside
    corners = (
        (inside.left, inside.top),
        (inside.right, inside.top),
        (inside.right, inside.bottom),
        (inside.left, inside.bottom),
    )
    return [Line(corners, Stroke.thick, closed=True, of="frame"), *_block(paper, block, width)]


def block_box(paper: Paper, width: float = BESIDE) -> Box:
    """The room of the title block: the lower right corner."""
    inside, height = paper.inside, _HEIGHTS[width] * _FIELD + 1.0
    return Box(inside.right - width, inside.bottom - height, width, height)


def _block(paper: Paper, block: TitleBlock, width: float) -> list[Mark]:
    box = block_box(paper, width)
    marks: list[Mark] = [
        Line(((box.left, box.bottom), (box.left, box.top), (box.right, box.top)), Stroke.thick, of="title block")
    ]
    small = [
        ("date", block.date),
        ("journal number", block.journal),
        ("sheet", block.sheet),
        ("scale", block.scale),
        ("drawn against", block.against),
        (f"mm   {block.paper}", ""),
    ]
    across = len(small) // (_HEIGHTS[width] - 2)
    wide = width / across
    fields = [(0.0, 0.0, width, _FIELD + 1.0, "title", block.title, NORMAL)]
    fields.append((0.0, _FIELD + 1.0, width, _FIELD, "build", block.build, NORMAL))
    for number, (name, says) in enumerate(small):
        top = (number // across + 2) * _FIELD + 1.0
        fields.append((number % across * wide, top, wide, _FIELD, name, says, SMALL))
    for left, top, room, height, name, says, size in fields:
        x, y = box.left + left, box.top + top
        corners = ((x, y), (x + room, y), (x + room, y + height), (x, y + height))
        marks.append(Line(corners, Stroke.thin, closed=True))
        marks.append(Text((x + _PAD, y + 2.9), name, 0.8 * SMALL))
        if says:
            marks.append(Text((x + _PAD, y + height - 1.6), shortened(says, size, room - 2 * _PAD), size, of=name))
    return [*marks, *_first_angle((box.right - 10.5, box.bottom - 3.2))]


def _first_angle(at: Point) -> list[Mark]:
    """The symbol of first angle projection: a truncated cone from its side, and to the right of that from its small end."""
    x, y = at
    cone = ((x - 5.0, y - 0.9), (x, y - 1.8), (x, y + 1.8), (x - 5.0, y + 0.9))
    eye = (x + 5.5, y)
    return [
        Line(cone, Stroke.thin, closed=True, of="first angle projection"),
        Line(((x - 6.2, y), (x + 1.2, y)), Stroke.centre),
        Circle(eye, 1.8, Stroke.thin),
        Circle(eye, 0.9, Stroke.thin),
        *centre_mark(eye, 2.6),
    ]


def column(entries: Sequence[Entry], room: Box) -> tuple[list[Mark], list[Entry]]:
    """The entries from the top of a room downwards, wrapped to its width; and the entries without room."""
    marks: list[Mark] = []
    at = room.top
    for number, entry in enumerate(entries):
        lines, height = _set(entry, room.width)
        following = entries[number + 1] if number + 1 < len(entries) else None
        kept = height + (_set(following, room.width)[1] if following and entry.leads else 0.0)
        if at + kept > room.bottom:
            return marks, list(entries[number:])
        at += height - len(lines) * _LEAD
        if entry.number is not None:
            marks += balloon((room.left + _NUMBERED, at + 0.62 * _LEAD), entry.number, None, radius=_NUMBERED)
        for line in lines:
            marks.append(Text((room.left + entry.inset, at + 0.75 * _LEAD), line, SMALL))
            at += _LEAD
    return marks, []


def _set(entry: Entry, width: float) -> tuple[list[str], float]:
    """The lines of an entry, and their height."""
    lines = wrapped(entry.says, SMALL, width - entry.inset)
    return lines, len(lines) * _LEAD + (_AIR if entry.leads else 0.0)
