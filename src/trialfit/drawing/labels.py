"""Where labels and balloons go, so that none covers another.

Answers   spread_out     places along a line, in order, without overlap, each as near as possible to where it belongs
          beside         a box for each label, near its point, clear of what is taken and of each other
          meet           whether two convex outlines overlap, such as those of turned texts
          cross          whether two pieces of line cross
          balloon_rows   centres of balloons in rows above and below a view, with leaders that do not cross
          balloon_row    the same on one side of it
Not here  how they are drawn (dimensions.py); how wide a text is (text_widths.py)
"""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING

from trialfit.drawing.pen import Box

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from trialfit.drawing.pen import Point

_RINGS = 12
_SIDES = ((1, 0), (-1, 0), (0, -1), (0, 1), (1, -1), (-1, -1), (1, 1), (-1, 1))
_MOST_SWAPS = 400


def spread_out(wanted: Sequence[float], widths: Sequence[float], low: float, high: float) -> list[float]:
    """Middles for things along a line, in their order and with no overlap.

    wanted     the best middle of each                    mm
    widths     of each, the gap to the next counted in   mm
    low, high  the ends of the line                      mm
    returns    middles, in the order given

    If they do not fit on the line, they begin at `low` and continue past `high`.

    >>> spread_out([10, 11, 40], [4, 4, 4], 0, 50)
    [8.5, 12.5, 40.0]
    """
    order = sorted(range(len(wanted)), key=lambda one: (wanted[one], one))
    groups: list[list[int]] = []
    for one in order:
        groups.append([one])
        while len(groups) > 1 and _start(groups[-2], wanted, widths, low, high) + sum(
            widths[each] for each in groups[-2]
        ) > _start(groups[-1], wanted, widths, low, high):
            groups[-2:] = [groups[-2] + groups[-1]]
    middles = [0.0] * len(wanted)
    for group in groups:
        at = _start(group, wanted, widths, low, high)
        for one in group:
            middles[one] = at + widths[one] / 2
            at += widths[one]
    return middles


def _start(group: list[int], wanted: Sequence[float], widths: Sequence[float], low: float, high: float) -> float:
    """The start of a group of touching labels: its members as near as possible to their places, within the line."""
    before, best = 0.0, 0.0
    for one in group:
        best += wanted[one] - before - widths[one] / 2
        before += widths[one]
    return max(low, min(best / len(group), high - before))


def beside(
    points: Sequence[Point],
    sizes: Sequence[tuple[float, float]],
    within: Box,
    taken: Sequence[Box] = (),
    gap: float = 1.0,
) -> list[Box | None]:
    """A box for each label: the free place nearest to its point, to the right first; None if there is none.

    points     what each label is about     mm
    sizes      width and height of each     mm
    within     the room there is
    taken      what must stay clear
    gap        to anything else             mm
    """
    found: list[Box | None] = []
    used = list(taken)
    for point, size in zip(points, sizes, strict=True):
        free = next(
            (
                box
                for box in _around(point, size, gap)
                if within.holds(box) and not any(box.meets(other, gap / 2) for other in used)
            ),
            None,
        )
        found.append(free)
        if free is not None:
            used.append(free)
    return found


def _around(point: Point, size: tuple[float, float], gap: float) -> Iterator[Box]:
    width, height = size
    for ring in range(_RINGS):
        off = gap + ring * height
        for right, down in _SIDES:
            x = point[0] + right * (off + width / 2)
            y = point[1] + down * (off + height / 2)
            yield Box(x - width / 2, y - height / 2, width, height)


def balloon_rows(
    targets: Sequence[Point], left: float, right: float, top: float, bottom: float, pitch: float
) -> list[Point]:
    """Centres for balloons in rows above and below a view, one for each target, `pitch` apart or more.

    targets        what each balloon is about     mm
    left, right    ends of the rows               mm
    top, bottom    heights of the first row above and the first row below; further rows go outwards   mm

    Each target takes the nearer row while there is room. No two leaders of a row cross, unless a side needed more than one
    row.
    """
    room = max(1, int((right - left) / pitch))
    sides = _sides(targets, top, bottom, room)
    centres: list[Point] = [(0.0, 0.0)] * len(targets)
    for side, level, outwards in ((0, top, -pitch), (1, bottom, pitch)):
        members = [one for one, at in enumerate(sides) if at == side]
        middles = balloon_row([targets[one] for one in members], left, right, level, pitch, outwards)
        for one, middle in zip(members, middles, strict=True):
            centres[one] = middle
    return centres


def balloon_row(
    targets: Sequence[Point], left: float, right: float, level: float, pitch: float, outwards: float
) -> list[Point]:
    """Centres for balloons in one row at a height, or more rows `outwards` from it if they do not fit into one."""
    centres: list[Point] = [(0.0, 0.0)] * len(targets)
    room = max(1, int((right - left) / pitch))
    members = sorted(range(len(targets)), key=lambda one: (targets[one], one))
    rows = -(-len(members) // room)
    for row in range(rows):
        inside = members[row::rows]
        middles = spread_out([targets[one][0] for one in inside], [pitch] * len(inside), left, right)
        for one, middle in zip(inside, middles, strict=True):
            centres[one] = (middle, level + row * outwards)
        _uncross(centres, targets, inside)
    return centres


def _sides(targets: Sequence[Point], top: float, bottom: float, room: int) -> list[int]:
    """0 above, 1 below: the nearer one, but no side gets more than it has room for while the other has some."""
    sides = [int(y - top > bottom - y) for _, y in targets]
    for full, other in ((0, 1), (1, 0)):
        over = sides.count(full) - max(room, len(targets) // 2)
        nearest_other = sorted(
            (one for one, side in enumerate(sides) if side == full),
            key=lambda one: targets[one][1],
            reverse=full == 0,
        )
        for one in nearest_other[: max(0, over)]:
            if sides.count(other) < room:
                sides[one] = other
    return sides


def _uncross(centres: list[Point], targets: Sequence[Point], members: Sequence[int]) -> None:
    """Swaps the centres of two balloons whose leaders cross, until none do: each swap makes the leaders shorter."""
    for _ in range(_MOST_SWAPS):
        crossing = next(
            (
                (one, other)
                for one, other in combinations(members, 2)
                if cross(centres[one], targets[one], centres[other], targets[other])
            ),
            None,
        )
        if crossing is None:
            return
        one, other = crossing
        centres[one], centres[other] = centres[other], centres[one]


def cross(start: Point, end: Point, other_start: Point, other_end: Point) -> bool:
    """Whether two pieces of line cross; touching ends do not count."""
    return (
        _side(start, end, other_start) * _side(start, end, other_end) < 0
        and _side(other_start, other_end, start) * _side(other_start, other_end, end) < 0
    )


def meet(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """Whether two convex outlines overlap; touching edges do not count."""
    for outline in (one, other):
        for (x, y), (next_x, next_y) in zip(outline, [*outline[1:], outline[0]], strict=True):
            normal = (y - next_y, next_x - x)
            shadows = [[point[0] * normal[0] + point[1] * normal[1] for point in each] for each in (one, other)]
            if max(shadows[0]) <= min(shadows[1]) + 1e-9 or max(shadows[1]) <= min(shadows[0]) + 1e-9:
                return False
    return True


def _side(start: Point, end: Point, point: Point) -> float:
    return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])
