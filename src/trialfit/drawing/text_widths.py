"""The room that a text takes, worked out without a font engine.

Answers   width_of     width of a text at a size
          shortened    as much of a text as fits a width, with … for the rest
          wrapped      a text in lines that fit a width
          plain        a text without characters that are not allowed in a document or that turn the reading direction
Not here  where text goes (labels.py), its SVG (pen.py)
Sources   advance_widths.csv, see SOURCES.md

Widths are those of the font named in the drawings. A viewer takes characters that it lacks from another font; they count as
wide as the widest usual ones, so that a box is too large rather than too small.
"""

from __future__ import annotations

import csv
import unicodedata
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

from trialfit.facts.figures import held

if TYPE_CHECKING:
    from collections.abc import Iterator

FONT = "DejaVu Sans"
_UNITS_PER_EM = 2048
_WIDE, _UNKNOWN = 1.0, 1.1
_DOTS = "…"
_JOINTS_OF_NAMES = "._"
_JOINT = "\u00a0"
_TURNING = {*range(0x202A, 0x202F), *range(0x2066, 0x206A)}  # embeddings and overrides
_LAST_PLAIN = 0xFFFD


@cache
def _advances() -> dict[int, int]:
    text = files("trialfit.drawing").joinpath("advance_widths.csv").read_text(encoding="utf-8")
    advances: dict[int, int] = {}
    for row in csv.DictReader(text.splitlines()):
        for span in row["code_points"].split():
            first, _, last = span.partition("-")
            for point in range(int(first, 16), int(last or first, 16) + 1):
                advances[point] = int(row["advance"])
    return advances


@cache
def _advance(sign: str) -> float:
    """The width of one character, in ems."""
    found = _advances().get(ord(sign))
    if found is not None:
        return found / _UNITS_PER_EM
    if unicodedata.combining(sign):
        return 0.0
    return _WIDE if unicodedata.east_asian_width(sign) in "WF" else _UNKNOWN


def width_of(text: str, size: float) -> float:
    """Width of a text.

    text       one line
    size       of the font: the distance of two lines set solid    mm
    returns    mm

    >>> f"{width_of('76.2 ± 0.1 mm', 3.5):.1f}"
    '26.4'
    """
    return sum(map(_advance, text)) * size


def shortened(text: str, size: float, width: float) -> str:
    """The text if it fits the width (mm), else as much of it as fits with … after it; at least "…" alone."""
    if width_of(text, size) <= width:
        return text
    kept = ""
    for sign in text:
        if width_of(kept + sign + _DOTS, size) > width:
            break
        kept += sign
    return kept.rstrip() + _DOTS


def wrapped(text: str, size: float, width: float) -> list[str]:
    """The text in lines no wider than `width` (mm), a figure on one line with its unit.

    A word too long for a line is broken, behind one of the dots or underscores of its name if there is one.
    """
    lines = [""]
    for word in _words(text, size, width):
        longer = f"{lines[-1]} {word}".strip()
        if width_of(longer, size) <= width:
            lines[-1] = longer
            continue
        if lines[-1]:
            lines.append("")
        for sign in word:
            while lines[-1] and width_of(lines[-1] + sign, size) > width:
                end = 1 + max(lines[-1].rfind(joint) for joint in _JOINTS_OF_NAMES) or len(lines[-1])
                lines[-1:] = [lines[-1][:end], lines[-1][end:]]
            lines[-1] += sign
    return lines


def _words(text: str, size: float, width: float) -> Iterator[str]:
    """Words, a figure with its unit as one of them unless it is too long for a line."""
    for joined in held(" ".join(text.split()), _JOINT).split(" "):
        figure = joined.replace(_JOINT, " ")
        yield from [figure] if width_of(figure, size) <= width else figure.split(" ")


def plain(text: str) -> str:
    """The text in one line, with a space for each character that controls a terminal or that XML cannot hold."""
    kept = (sign if _holds(sign) else " " for sign in text)
    return " ".join("".join(kept).split())


def _holds(sign: str) -> bool:
    point = ord(sign)
    if unicodedata.category(sign) in ("Cc", "Cs", "Co", "Cn") or point in _TURNING:
        return False
    return point <= _LAST_PLAIN or unicodedata.category(sign) != "Cn"
