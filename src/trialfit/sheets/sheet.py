"""A sheet as plain data: its content, without any layout.

Answers   Sheet      a title and blocks, in the shape that `sheet --json` prints
          Heading, Paragraph, Caution, Table, Fields, TickList, Drawing, Beside, Picture, Missing    the blocks
          Tick, Blank    a cell to tick, and one to write in by hand
          texts_of       every text on a sheet
          drawings_of    every figure on it
Not here  the look of a block (frame.typ); the content of each sheet (tightening.py and its neighbours)

Every figure is already text, from the same functions as on the screen. A sheet calculates nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import Field

from trialfit.facts.frozen import Frozen

if TYPE_CHECKING:
    from collections.abc import Iterator


class Tick(Frozen):
    """A box to tick, with its text."""

    cell: Literal["tick"] = "tick"
    text: str = ""


class Blank(Frozen):
    """Room to write in by hand; `unit` is printed at its end."""

    cell: Literal["blank"] = "blank"
    unit: str = ""


Cell = str | Annotated[Tick | Blank, Field(discriminator="cell")]


class Heading(Frozen):
    """A heading within the sheet; `new_page` begins a page with it."""

    block: Literal["heading"] = "heading"
    text: str
    new_page: bool = False


class Paragraph(Frozen):
    """Running text."""

    block: Literal["paragraph"] = "paragraph"
    text: str
    strong: bool = False


class Caution(Frozen):
    """Cautions, in a frame of their own."""

    block: Literal["caution"] = "caution"
    texts: tuple[str, ...]


class Column(Frozen):
    """A column: a share of the width, or as wide as its text; `right` for numbers."""

    title: str
    share: float = Field(default=0.0, description="share of the remaining width; 0 for as wide as its text")
    right: bool = False


class Table(Frozen):
    """A table; its header is repeated on each page."""

    block: Literal["table"] = "table"
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    caption: str = ""


class Line(Frozen):
    """A label with its value, or with a line to fill in by hand where the value is empty."""

    label: str
    value: str = ""


class Fields(Frozen):
    """Labels with values, or with lines to fill in."""

    block: Literal["fields"] = "fields"
    lines: tuple[Line, ...]


class TickList(Frozen):
    """Things to do, each with a box."""

    block: Literal["ticks"] = "ticks"
    lines: tuple[str, ...]


class Drawing(Frozen):
    """A figure as SVG. `alt` says in words what it shows, for a screen reader."""

    block: Literal["drawing"] = "drawing"
    svg: str
    alt: str
    caption: str = ""
    width: float = Field(default=1.0, description="share of the width of the sheet that it may take")


class Beside(Frozen):
    """A figure with labels and values to its right."""

    block: Literal["beside"] = "beside"
    drawing: Drawing
    lines: tuple[Line, ...]


class Picture(Frozen):
    """A photo, as the base64 text of a JPEG or PNG; an empty one is printed as a frame that says it is missing."""

    block: Literal["picture"] = "picture"
    base64: str
    alt: str
    caption: str = ""
    width: float = Field(default=0.5, description="share of the width of the sheet that it may take")


class Missing(Frozen):
    """Missing facts by path, with their meaning: a line for each to fill in by hand."""

    block: Literal["missing"] = "missing"
    facts: dict[str, str]
    says: str = "Missing: fill in by hand, then write it into the build."


Block = Annotated[
    Heading | Paragraph | Caution | Table | Fields | TickList | Drawing | Beside | Picture | Missing,
    Field(discriminator="block"),
]


class Sheet(Frozen):
    """One sheet, without its frame, as data."""

    name: str = Field(description="its NAME in `trialfit sheet BUILD NAME`")
    title: str
    build: str
    blocks: tuple[Block, ...]


def texts_of(sheet: Sheet) -> Iterator[str]:
    """Every text that a reader sees on a sheet, drawings left out."""
    yield sheet.title
    yield sheet.build
    for block in sheet.blocks:
        yield from _texts(block)


def drawings_of(sheet: Sheet) -> Iterator[Drawing]:
    """Every figure on a sheet."""
    for block in sheet.blocks:
        if isinstance(block, Drawing | Beside):
            yield block if isinstance(block, Drawing) else block.drawing


def _texts(block: Block) -> Iterator[str]:
    match block:
        case Heading() | Paragraph():
            yield block.text
        case Caution():
            yield from block.texts
        case Table():
            yield from (column.title for column in block.columns)
            yield from (_of_cell(cell) for row in block.rows for cell in row)
            yield block.caption
        case Fields() | Beside():
            yield from (text for line in block.lines for text in (line.label, line.value))
            yield block.drawing.caption if isinstance(block, Beside) else ""
        case TickList():
            yield from block.lines
        case Drawing() | Picture():
            yield block.caption
        case Missing():
            yield block.says
            yield from (text for pair in block.facts.items() for text in pair)


def _of_cell(cell: Cell) -> str:
    if isinstance(cell, str):
        return cell
    return cell.text if isinstance(cell, Tick) else cell.unit
