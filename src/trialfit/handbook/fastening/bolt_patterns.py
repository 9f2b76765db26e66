"""Where the bolts of a flange sit: a circle, a rectangle, a rail pair, a grid.

Answers   circle, rectangle, rail_pair, grid   places of the bolts, numbered as they are counted on the flange
Not here  in which order they are tightened (tightening_order.py)
Symbols   x along the length to the right, y across it upwards, the middle of the pattern at 0
Numbers   circle and rectangle: clockwise from the top or the top left; rail pair and grid: row by row from the top left
Sources   geometry
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from trialfit.handbook.arrays import Array


def circle(bolts: int, diameter: float) -> Array:
    """Array on a circle, clockwise from the top.

    bolts      number of bolts          ≥ 1
    diameter   of the circle     m      > 0
    returns    (bolts, 2)        m

    Errors: ValueError outside that range. Source: geometry.

    >>> circle(4, 2.0).round(9).tolist()
    [[0.0, 1.0], [1.0, 0.0], [0.0, -1.0], [-1.0, -0.0]]
    """
    _check(bolts >= 1, f"{bolts} bolts on a circle", "expected at least 1")
    _check(diameter > 0, f"a circle of {diameter} m", "expected a diameter above 0")
    turn = 2 * np.pi * np.arange(bolts) / bolts
    return diameter / 2 * np.column_stack([np.sin(turn), np.cos(turn)])


def rectangle(columns: int, rows: int, length: float, width: float) -> Array:
    """Array along the edges of a rectangle, clockwise from the top left.

    columns    bolts along each long edge, corners counted     ≥ 2
    rows       bolts along each short edge, corners counted    ≥ 2
    length     between the outer columns     m                 > 0
    width      between the outer rows        m                 > 0
    returns    (2·columns + 2·rows − 4, 2)   m

    Errors: ValueError outside that range. Source: geometry.

    >>> rectangle(2, 2, 4.0, 2.0).tolist()
    [[-2.0, 1.0], [2.0, 1.0], [2.0, -1.0], [-2.0, -1.0]]
    """
    _check(columns >= 2 and rows >= 2, f"a rectangle of {columns} by {rows} bolts", "expected at least 2 by 2")  # noqa: PLR2004 - two corners
    along, across = _spaced(columns, length), _spaced(rows, width)[::-1]
    top = [(x, width / 2) for x in along]
    right = [(length / 2, y) for y in across[1:]]
    bottom = [(x, -width / 2) for x in along[-2::-1]]
    left = [(-length / 2, y) for y in across[-2:0:-1]]
    return np.array([*top, *right, *bottom, *left])


def rail_pair(bolts_per_rail: int, length: float, width: float) -> Array:
    """Array on two parallel rails, the upper one first, each from the left.

    bolts_per_rail                            ≥ 1
    length     of a rail, first to last bolt     m    > 0
    width      between the rails                 m    > 0
    returns    (2·bolts_per_rail, 2)             m

    Errors: ValueError outside that range. Source: geometry.

    >>> rail_pair(3, 4.0, 2.0).tolist()
    [[-2.0, 1.0], [0.0, 1.0], [2.0, 1.0], [-2.0, -1.0], [0.0, -1.0], [2.0, -1.0]]
    """
    return grid(2, bolts_per_rail, length, width)


def grid(rows: int, columns: int, length: float, width: float) -> Array:
    """Array of a grid such as that of a cylinder head, row by row from the top left.

    rows       along the length                 ≥ 1
    columns    across it                        ≥ 1
    length     between the outer columns  m     > 0
    width      between the outer rows     m     > 0, not asked for where there is one row
    returns    (rows·columns, 2)          m

    Errors: ValueError outside that range. Source: geometry.

    >>> grid(2, 2, 4.0, 2.0).tolist()
    [[-2.0, 1.0], [2.0, 1.0], [-2.0, -1.0], [2.0, -1.0]]
    """
    _check(rows >= 1 and columns >= 1, f"a grid of {rows} by {columns} bolts", "expected at least 1 by 1")
    along, across = _spaced(columns, length), _spaced(rows, width)[::-1]
    return np.array([(x, y) for y in across for x in along])


def _spaced(bolts: int, length: float) -> Array:
    _check(bolts == 1 or length > 0, f"{bolts} bolts on {length} m", "expected a length above 0")
    return np.linspace(-length / 2, length / 2, bolts) if bolts > 1 else np.zeros(1)


def _check(sound: bool, said: str, wanted: str) -> None:  # noqa: FBT001 - a private guard
    if not sound:
        raise ValueError(f"{said}: {wanted}")
