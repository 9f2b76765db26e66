"""A sheet printed: data into a PDF, by one template for all sheets.

Answers   press    the PDF of a sheet, as bytes
          press_plates    the PDF of drawings that have a frame of their own
          press_png    the PNG of one drawing
          Paper    the paper: size, large print, the title block, the address of the same sheet on the phone
Not here  what is on a sheet (sheet.py); how a block looks (frame.typ)

Everything reaches the template as data and is never read as markup. The compiler has no network, no system fonts and no
clock: the same sheet of the same build is the same file, byte for byte. A warning of the compiler, such as a missing font, is
a defect and stops the printing. The PDF is tagged, as PDF/UA-1 asks.
"""

from __future__ import annotations

import json
from base64 import b64decode
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from trialfit.sheets.columns import fitted
from trialfit.sheets.fonts import FAMILIES, folders, signs_without_glyph
from trialfit.sheets.sheet import drawings_of, texts_of
from trialfit.sheets.writing import fit, told, without

if TYPE_CHECKING:
    from collections.abc import Sequence

    import typst

    from trialfit.drawing.pen import Picture
    from trialfit.sheets.sheet import Sheet

PaperSize = Literal["a4", "letter"]
SIZES = {"a4": "a4", "letter": "us-letter"}
_USUAL, _LARGE = 9.5, 14.0  # points
_BOTTOM, _BOTTOM_LARGE = 33, 42  # mm, with the title block in it
_IN_TABLES = 0.88  # of the usual size
_ROOM = {"a4": 178.0, "letter": 183.9}  # mm between the margins
_DOTS = 144.0
_ANY_DAY = datetime(2000, 1, 1, tzinfo=UTC)  # no PNG says when it was made
_TALLEST = {"a4": 150, "letter": 130}  # mm of a figure


class PrintingFailed(RuntimeError):
    """The compiler does not accept the template: a defect of this program."""


@dataclass(frozen=True)
class Paper:
    """The paper of a sheet, and the content of its title block.

    `dated` is when the build was last changed: it is printed, and it is the PDF's own date. `journal` is the number of that
    change, or says that there is none. `address` is the address of the same sheet for a phone; without one there is no QR code.
    """

    dated: datetime
    journal: str
    size: PaperSize = "a4"
    large: bool = False
    units: str = "metric"
    address: str = ""


def press(sheet: Sheet, paper: Paper) -> bytes:
    """The PDF of a sheet. Raises PrintingFailed if the compiler warns."""
    return _compiled("frame.typ", _data(sheet, paper), sheet.name, paper.dated)


def press_plates(title: str, pictures: Sequence[Picture], dated: datetime) -> bytes:
    """The PDF of drawings that have a frame of their own, one to a page at its true size. Raises PrintingFailed."""
    return _compiled("plates.typ", _plates(title, pictures, dated), title, dated)


def press_png(picture: Picture) -> bytes:
    """A drawing as a PNG of 144 dots to the inch. Raises PrintingFailed."""
    data = _plates(picture.title, [picture], _ANY_DAY)
    return _compiled("plates.typ", data, picture.title, _ANY_DAY, format="png", ppi=_DOTS)


def _plates(title: str, pictures: Sequence[Picture], dated: datetime) -> dict[str, Any]:
    lacking = signs_without_glyph([title, *(picture.svg() for picture in pictures)])
    return {
        "title": without(title, lacking),
        "date": {"year": dated.year, "month": dated.month, "day": dated.day},
        "fonts": list(FAMILIES),
        "plates": [
            {
                "svg": without(picture.svg(), lacking),
                "alt": without(f"{picture.title}: {picture.says}", lacking),
                "width": picture.width,
                "height": picture.height,
            }
            for picture in pictures
        ],
    }


def _compiled(template: str, data: dict[str, Any], name: str, dated: datetime, **form: Any) -> bytes:  # noqa: ANN401 - the compiler's own
    """A page or pages by a template: a PDF, unless the form asks for another file."""
    import typst

    try:
        made, warnings = _compiler().compile_with_warnings(
            input=_template(template),
            sys_inputs={"sheet": json.dumps(data, ensure_ascii=False)},
            timestamp=dated,
            **(form or {"format": "pdf", "pdf_standards": ["ua-1"]}),
        )
    except typst.TypstError as wrong:
        hints = "; ".join(wrong.hints)
        raise PrintingFailed(f"{name}: {wrong.message} {hints}\n{wrong.diagnostic}") from None
    if warnings:
        raise PrintingFailed(f"{name}: {'; '.join(warning.message for warning in warnings)}")
    if not isinstance(made, bytes):
        raise PrintingFailed(f"{name}: the compiler made no file")
    return made


@cache
def _compiler() -> typst.Compiler:
    import typst

    fonts = typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=list(folders()))
    return typst.Compiler(font_paths=fonts)


@cache
def _template(name: str) -> bytes:
    return (Path(__file__).parent / name).read_bytes()


def _data(sheet: Sheet, paper: Paper) -> dict[str, Any]:
    drawn = [drawing.svg for drawing in drawings_of(sheet)]
    lacking = signs_without_glyph([*texts_of(sheet), *drawn, paper.journal])
    blocks = [block.model_dump(mode="json") for block in sheet.blocks]
    if lacking:
        blocks.append({"block": "paragraph", "text": told(lacking), "strong": False})
    return {
        "title": fit(sheet.title, lacking),
        "look": {**fit(_look(sheet, paper), lacking), "qr": _qr(paper.address)},
        "blocks": [_sized(_block(block, lacking), paper) for block in blocks],
    }


def _block(block: dict[str, Any], lacking: frozenset[str]) -> dict[str, Any]:
    """A block with its texts made safe for paper; drawings and photos are passed on as they are."""
    kept: dict[str, Any] = {}
    if "svg" in block:
        kept["svg"] = without(block.pop("svg"), lacking)
    if "drawing" in block:
        kept["drawing"] = _block(block.pop("drawing"), lacking)
    if "base64" in block:
        kept["bytes"] = list(b64decode(block.pop("base64")))
    return {**fit(block, lacking), **kept}


def _sized(block: dict[str, Any], paper: Paper) -> dict[str, Any]:
    """A table with the widths of its columns and the size of its print; other blocks as they are."""
    if block["block"] != "table" or not block["columns"]:
        return block
    points = _IN_TABLES * (_LARGE if paper.large else _USUAL)
    found = fitted(block["columns"], block["rows"], _ROOM[paper.size], points)
    return {**block, "widths": found.widths, "points": points * found.factor}


def _look(sheet: Sheet, paper: Paper) -> dict[str, Any]:
    when = paper.dated
    return {
        "document": f"{sheet.title}: {sheet.build}" if sheet.build else sheet.title,
        "date": {"year": when.year, "month": when.month, "day": when.day},
        "fonts": list(FAMILIES),
        "size": _LARGE if paper.large else _USUAL,
        "paper": SIZES[paper.size],
        "bottom": _BOTTOM_LARGE if paper.large else _BOTTOM,
        "tallest": _TALLEST[paper.size],
        "title_block": [
            ["build", sheet.build or "without a name"],
            ["sheet", sheet.title],
            ["build as of", f"{when:%Y-%m-%d %H:%M}"],
            ["journal", paper.journal],
            ["units", paper.units],
        ],
        "title_shares": [2.6, 2.2, 1.7, 1.1, 1.2, 0.9],
        "page": "page",
        "of": " of ",
        "beware": "Beware",
        "no_picture": "no picture in the book",
        "qr_alt": f"QR code of {paper.address}",
    }


def _qr(address: str) -> str:
    if not address:
        return ""
    import segno

    out = BytesIO()
    segno.make(address, error="m", micro=False).save(out, kind="svg", xmldecl=False, svgns=True, border=4)
    return out.getvalue().decode()
