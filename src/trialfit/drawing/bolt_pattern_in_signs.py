"""A flange in characters: each label where its bolt is, to scale as far as a terminal allows.

Answers   bolt_pattern_in_signs   the lines of the figure
Not here  the picture on a sheet (bolt_pattern.py); what the labels say (cli/pages/joint_to_tighten.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

_TALLEST = 19
_TALLER = 2.0  # a character is about twice as high as wide


def bolt_pattern_in_signs(labels: Sequence[str], places: Sequence[tuple[float, float]], width: int) -> list[str]:
    """The labels as lines of at most `width` characters: x to the right, y upwards, both in one unit.

    One that would cover another moves to the nearest free row.

    >>> bolt_pattern_in_signs(["1", "2"], [(0.0, 0.0), (10.0, 0.0)], 11)
    ['1         2']
    """
    if not labels:
        return []
    widest = max(map(len, labels))
    xs, ys = [x for x, _ in places], [y for _, y in places]
    across, up = max(xs) - min(xs), max(ys) - min(ys)
    scales = [(width - widest) / across] if across > 0 else []
    scales += [_TALLER * (_TALLEST - 1) / up] if up > 0 else []
    scale = min(scales, default=1.0)
    rows: dict[int, dict[int, str]] = {}
    for label, (x, y) in sorted(zip(labels, places, strict=True), key=lambda pair: (-pair[1][1], pair[1][0])):
        column = round((x - min(xs)) * scale) + (widest - len(label)) // 2
        row = next(
            row for row in _near(round((max(ys) - y) * scale / _TALLER)) if _is_free(rows.get(row, {}), column, label)
        )
        rows.setdefault(row, {})[column] = label
    return [_line(rows.get(row, {})) for row in range(min(rows), max(rows) + 1)]


def _near(row: int) -> Iterator[int]:
    """The row itself, then the ones below and above it, outwards."""
    yield row
    away = 1
    while True:
        yield row + away
        yield row - away
        away += 1


def _is_free(row: dict[int, str], column: int, label: str) -> bool:
    return all(column + len(label) < start or column > start + len(other) for start, other in row.items())


def _line(row: dict[int, str]) -> str:
    text = ""
    for column, label in sorted(row.items()):
        text = text.ljust(column) + label
    return text
