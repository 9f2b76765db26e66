"""Sheets printed and read again by other libraries than the one that made them."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cached_property
from pathlib import Path

import pypdfium2
from PIL import Image

from trialfit.book import read_text
from trialfit.sheets.known import Known
from trialfit.sheets.press import Paper, press
from trialfit.sheets.sheet import Sheet

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))
DRAWS = 64
NOW = datetime(2026, 3, 14, 16, 30, tzinfo=UTC)
PAPER = Paper(NOW, "17")


def squeezed(text: str) -> str:
    """Text without spaces, line ends and the signs that only steer breaking and direction.

    The reading library marks a hyphen at the end of a line by a sign of its own.
    """
    text = text.replace("\x02", "-").replace("\ufffe", "-")
    return "".join(sign for sign in text if not sign.isspace() and unicodedata.category(sign) not in ("Cf", "Cc"))


def without_title_block(page: str) -> str:
    """The text of a page above its title block, which begins with the name of the build."""
    return page[: page.rindex("build\r\n")]


@dataclass(frozen=True)
class Printed:
    """A PDF that was printed, read again by another library."""

    pdf: bytes

    @cached_property
    def document(self) -> pypdfium2.PdfDocument:
        """As that library sees it."""
        return pypdfium2.PdfDocument(self.pdf)

    @cached_property
    def pages(self) -> list[str]:
        """The text of each page."""
        return [page.get_textpage().get_text_range() for page in self.document]

    @property
    def text(self) -> str:
        """All of it, without spaces: what runs on over a page is whole; the title block of the last page stands at the end."""
        return squeezed("".join(map(without_title_block, self.pages)) + self.pages[-1])

    def drawn(self, dots_per_inch: int = 60) -> list[Image.Image]:
        """Each page as a grey picture."""
        return [page.render(scale=dots_per_inch / 72).to_pil().convert("L") for page in self.document]


def known_of_text(text: str, **more: object) -> Known:
    """What is known of a build of a few lines."""
    return Known(read_text(text, "mine.toml"), NOW, "17", NOW, draws=DRAWS, **more)


_MOST_KEPT = 100
_kept: dict[tuple[int, Paper], tuple[Sheet, Printed]] = {}


def printed(sheet: Sheet, paper: Paper = PAPER) -> Printed:
    """The sheet on paper; the same sheet is pressed once on the same paper."""
    key = (id(sheet), paper)
    if key not in _kept:
        if len(_kept) >= _MOST_KEPT:
            _kept.clear()
        _kept[key] = (sheet, Printed(press(sheet, paper)))
    return _kept[key][1]


def ink_in_margins(page: Image.Image, dots_per_inch: int = 60) -> int:
    """Dark dots in the margins: what did not fit in its column, or ran off the page."""
    millimetre = dots_per_inch / 25.4
    left, right, top = (round(margin * millimetre) - 1 for margin in (19, 11, 11))
    strips = (
        page.crop((0, 0, left, page.height)),
        page.crop((page.width - right, 0, page.width, page.height)),
        page.crop((0, 0, page.width, top)),
    )
    return sum(strip.point(lambda grey: 255 * (grey < 200)).histogram()[255] for strip in strips)


def text_over_lines(page: pypdfium2.PdfPage) -> list[str]:
    """Signs that lie across an upright line of a table: text that ran out of its cell."""
    lines = []
    for thing in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_PATH], max_depth=1):
        left, bottom, right, top = thing.get_bounds()
        if right - left < 2 and top - bottom > 6:
            lines.append(((left + right) / 2, bottom, top))
    text = page.get_textpage()
    found: list[str] = []
    if not lines:
        return found
    for place in range(text.count_chars()):
        if chr(pypdfium2.raw.FPDFText_GetUnicode(text, place)).isspace():
            continue
        left, bottom, right, top = text.get_charbox(place)
        if any(left + 0.4 < x < right - 0.4 and low < (bottom + top) / 2 < high for x, low, high in lines):
            found.append(text.get_text_range(max(0, place - 8), 16))
    return found


def figures_in(text: str) -> Iterator[str]:
    """Every number in a text, without its sign."""
    yield from re.findall(r"\d+(?:[.,]\d+)*", text)
