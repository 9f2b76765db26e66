"""Hatching: parallel lines inside an outline, as single pieces, so that any viewer shows them alike.

Answers   hatched     the pieces of the lines inside a closed outline
Not here  types of line (pen.py)
Sources   ISO 128-3, hatching at 45°, from memory
"""

from __future__ import annotations

from math import ceil, cos, floor, pi, sin
from typing import TYPE_CHECKING

from trialfit.drawing.pen import Rule, Stroke

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.drawing.pen import Point


def hatched(
    outline: Sequence[Point], pitch: float = 1.5, angle: float = pi / 4, stroke: Stroke = Stroke.hair, of: str = ""
) -> Rule:
    """Lines inside an outline; if it overlaps itself, by the even-odd rule.

    outline    corners of a closed line     mm
    pitch      between the lines            mm     > 0
    angle      of the lines, upwards from the right     rad
    returns    Rule, empty if the outline is smaller than the pitch

    The lines lie on one grid of the whole sheet, so that neighbours with the same angle meet.
    """
    along, across = (cos(angle), -sin(angle)), (sin(angle), cos(angle))
    turned = [(x * along[0] + y * along[1], x * across[0] + y * across[1]) for x, y in outline]
    heights = [v for _, v in turned]
    pieces = []
    for number in range(ceil(min(heights) / pitch), floor(max(heights) / pitch) + 1):
        level = number * pitch
        cuts = sorted(_cuts(turned, level))
        for start, end in zip(cuts[::2], cuts[1::2], strict=False):
            one, other = ((u * along[0] + level * across[0], u * along[1] + level * across[1]) for u in (start, end))
            pieces.append((one, other))
    return Rule(tuple(pieces), stroke, of)


def _cuts(turned: Sequence[Point], level: float) -> list[float]:
    """Where a level crosses the outline; a corner on the level counts with the edge that rises from it."""
    cuts = []
    for (u, v), (next_u, next_v) in zip(turned, [*turned[1:], turned[0]], strict=True):
        if (v <= level) != (next_v <= level):
            cuts.append(u + (level - v) / (next_v - v) * (next_u - u))
    return cuts
