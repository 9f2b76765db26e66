"""The widths of the columns of a table, so that no word runs out of its column.

Answers   fitted    widths, and the factor on the size of the print
Not here  widths of signs (drawing/text_widths.py); where a word may break (writing.py)
Method    A column without a share is as wide as its widest text. The others divide the rest by their shares; one that is too
          narrow for its widest word gets the width of that word, and the rest is divided again. If even the widest words side
          by side are wider than the paper, the print of that table is made smaller to fit.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from trialfit.drawing.text_widths import width_of

if TYPE_CHECKING:
    from collections.abc import Sequence

_POINT = 25.4 / 72  # mm
_INSET = 2 * 3.5 * _POINT + 0.4  # left and right of a cell, and the line between, mm
_BOLD = 1.17  # headers are bold: DejaVu Sans Bold is at most this much wider, letter for letter
_BOX = 1.5  # of a box to tick with the gap behind it, in ems
_WIDEST_AUTO = 45.0  # mm; a column without a share that would be wider divides with the others
_AS_OTHERS = 1.0
_BREAKS = re.compile(r"[ \n\u200b]+")


@dataclass(frozen=True)
class Fitted:
    """Widths of the columns in mm, and the factor on the size of the print, 1 or less."""

    widths: tuple[float, ...]
    factor: float


@dataclass(frozen=True)
class _Column:
    share: float
    least: float


def fitted(columns: Sequence[dict[str, Any]], rows: Sequence[Sequence[Any]], room: float, points: float) -> Fitted:
    """Widths for a table, in this room (mm), in print of this size (points)."""
    size = points * _POINT
    wanted = [_column(column, [row[place] for row in rows], size) for place, column in enumerate(columns)]
    inside = room - _INSET * len(wanted)  # of the cells, their insets left out
    least = sum(one.least for one in wanted)
    factor = min(1.0, inside / least) if least else 1.0
    shared = [one.least * factor for one in wanted] if factor < 1 else _divided(wanted, inside)
    return Fitted(tuple(width + _INSET for width in shared), factor)


def _column(column: dict[str, Any], cells: list[Any], size: float) -> _Column:
    texts = [_text(cell) for cell in cells]
    head = column["title"]
    least = max(_widest_word([head], size) * _BOLD, _widest_word([text for text, _ in texts], size), size)
    boxes = max((box for _, box in texts), default=0.0) * size
    natural = max([width_of(head, size) * _BOLD, *(width_of(text, size) + box * size for text, box in texts)])
    share = column["share"]
    if not share and natural > _WIDEST_AUTO:
        share = _AS_OTHERS
    return _Column(share, least + boxes if share else natural)


def _text(cell: Any) -> tuple[str, float]:  # noqa: ANN401 - any cell of the data
    """The text of a cell, and the width of the box before it, ems."""
    if isinstance(cell, str):
        return cell, 0.0
    return (cell["text"], _BOX) if cell["cell"] == "tick" else (cell["unit"], 0.0)


def _widest_word(texts: list[str], size: float) -> float:
    words = {word for text in texts for word in _BREAKS.split(text)}
    return max((width_of(word, size) for word in words), default=0.0)


def _divided(wanted: list[_Column], room: float) -> list[float]:
    """The rest divided by shares, none below its least."""
    fixed = {place: one.least for place, one in enumerate(wanted) if not one.share}
    while True:
        left = room - sum(fixed.values())
        shares = sum(one.share for place, one in enumerate(wanted) if place not in fixed)
        narrow = {
            place: one.least
            for place, one in enumerate(wanted)
            if place not in fixed and left * one.share / shares < one.least
        }
        if not narrow:
            break
        fixed.update(narrow)
    return [fixed.get(place, left * one.share / shares if shares else 0.0) for place, one in enumerate(wanted)]
