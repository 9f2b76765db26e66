"""In which order the bolts of a joint are tightened, and in which stages.

Answers   circle_order        cross, then bisect
          outward_order       from the middle outwards, crossing: rectangle, rail pair, cylinder head, sump rail
          read_order          an order as a manual prints it
          loosening_order     the other way round
          torque_stages       snug, 30, 70, 100 %, and once round at 100 %
Not here  where the bolts sit (bolt_patterns.py)
Numbers   bolts count from 1, as in bolt_patterns.py
Sources   [1] common practice, no source   [2] flange practice, ASME PCC-1, from memory

A maker's printed order stands above both. Every stage goes through the whole order.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from trialfit.handbook.arrays import Array

STAGES = (0.3, 0.7, 1.0)
"""Shares of the full torque, after a snug round by hand [2]."""

_ALIKE = 0.03
"""Bolts whose distances from the middle differ by less than this share of the usual distance between neighbours are as near."""

_NUMBERS = re.compile(r"\d+")
_ORDER = re.compile(r"\s*\d+(?:\s*[-–, ]\s*\d+)*\s*")


@dataclass(frozen=True)
class Stage:
    """One round through the order: to a `share` of the full torque, 0 for by hand; `again` where nothing should move."""

    share: float
    again: bool = False


def circle_order(bolts: int) -> tuple[int, ...]:
    """Order for bolts on a circle that are numbered round it: each pair straight across, the next one far from it.

    bolts      number of bolts    ≥ 1
    returns    the numbers from 1, in order

    Even: after each bolt the one opposite; the next pair starts where the gap is largest. Odd: each time half way round.
    Errors: ValueError below 1. Source: common practice, no source; for 4, 5, 6 and 8 bolts as printed in car manuals, for
    12 and 16 as in ASME PCC-1, from memory.

    >>> circle_order(5), circle_order(8)
    ((1, 3, 5, 2, 4), (1, 5, 3, 7, 2, 6, 4, 8))
    """
    if bolts < 1:
        raise ValueError(f"{bolts} bolts: expected at least 1")
    if bolts % 2:
        step = max((bolts - 1) // 2, 1)
        return tuple(turn * step % bolts + 1 for turn in range(bolts))
    half = bolts // 2
    return tuple(number for start in _starts(half) for number in (start, start + half))


def _starts(half: int) -> list[int]:
    """The first bolt of each pair: the next where the gap is largest, then farthest from the last, then the lowest."""
    done = [1]
    while len(done) < half:
        rest = [start for start in range(1, half + 1) if start not in done]
        done.append(
            max(
                rest,
                key=lambda start: (
                    min(_apart(start, one, half) for one in done),
                    _apart(start, done[-1], half),
                    -start,
                ),
            )
        )
    return done


def _apart(one: int, other: int, half: int) -> int:
    return min((one - other) % half, (other - one) % half)


def outward_order(places: Array) -> tuple[int, ...]:
    """Order from the middle of the pattern outwards, crossing over at each step.

    places     (bolts, 2)     m
    returns    the numbers from 1, in order

    The bolt nearest to the middle comes first, of several as near the one farthest from the last; after it the one across
    from it. So on a sump rail the middles of the long sides come first and the corners last, and on a cylinder head the
    columns follow each other outwards, left and right in turn.
    Errors: ValueError where two bolts sit at one place. Source: common practice, no source.

    >>> from trialfit.handbook.fastening.bolt_patterns import grid
    >>> outward_order(grid(2, 5, 0.36, 0.10))
    (3, 8, 2, 9, 7, 4, 6, 5, 1, 10)
    """
    places = np.asarray(places, dtype=np.float64)
    if len(places) == 1:
        return (1,)
    apart = np.linalg.norm(places[:, None] - places[None, :], axis=-1)
    nearest = np.where(np.eye(len(places), dtype=bool), np.inf, apart).min(axis=1)
    if nearest.min() <= 0:
        raise ValueError(
            f"bolt {int(nearest.argmin()) + 1} is at the place of another bolt: expected a different place for each"
        )
    offsets = places - (places.min(axis=0) + places.max(axis=0)) / 2
    out, usual = np.linalg.norm(offsets, axis=1), float(np.median(nearest))
    order: list[int] = []
    rest = list(range(len(places)))
    while rest:
        inmost = [one for one in rest if out[one] <= out[rest].min() + _ALIKE * usual]
        order.append(max(inmost, key=lambda one: (round(float(apart[one, order[-1]]), 9) if order else 0.0, -one)))
        rest.remove(order[-1])
        across = _across(offsets, order[-1], rest, usual)
        if across is not None:
            order.append(across)
            rest.remove(across)
    return tuple(one + 1 for one in order)


def _across(offsets: Array, bolt: int, rest: list[int], usual: float) -> int | None:
    """The bolt nearest to the place straight across the middle, on the other side and not a whole bolt distance off it."""
    off = {one: float(np.linalg.norm(offsets[one] + offsets[bolt])) for one in rest if offsets[one] @ offsets[bolt] < 0}
    found = min(off, key=lambda one: (round(off[one], 9), one), default=None)
    return found if found is not None and off[found] < usual else None


def read_order(text: str) -> tuple[int, ...]:
    """An order as a manual prints it: the bolts' numbers in the order in which they are tightened.

    text       "1-5-3-7-2-6-4-8"; commas and spaces do as well
    returns    the numbers, each from 1 to their count once

    Errors: ValueError with one sentence. Source: the maker's manual.

    >>> read_order("1-3-2-4")
    (1, 3, 2, 4)
    """
    if not _ORDER.fullmatch(text):
        raise ValueError(f'"{text}" is not an order: expected numbers, for example "1-3-2-4"')
    numbers = tuple(int(number) for number in _NUMBERS.findall(text))
    missing = [number for number in range(1, len(numbers) + 1) if number not in numbers]
    if missing:
        twice = next((number for number in numbers if numbers.count(number) > 1), None)
        what = f"names {twice} twice" if twice is not None else f"leaves out {missing[0]}"
        raise ValueError(f'"{text}" {what}: expected each of the {len(numbers)} bolts once, for example "1-3-2-4"')
    return numbers


def loosening_order(order: tuple[int, ...]) -> tuple[int, ...]:
    """The order for taking the joint apart: that of tightening the other way round.

    order      of tightening
    returns    the numbers, in order

    Source: common practice, no source.

    >>> loosening_order((1, 3, 2, 4))
    (4, 2, 3, 1)
    """
    return tuple(reversed(order))


def torque_stages(shares: tuple[float, ...] = STAGES) -> tuple[Stage, ...]:
    """The rounds through the order: by hand, then each share of the full torque, then once more at the last.

    shares     of the full torque, rising
    returns    Stage for each round

    The last round is repeated until no bolt moves: those tightened first have relaxed.
    Source: flange practice, ASME PCC-1, from memory.

    >>> [stage.share for stage in torque_stages()]
    [0.0, 0.3, 0.7, 1.0, 1.0]
    """
    return (Stage(0.0), *(Stage(share) for share in shares), Stage(shares[-1], again=True))
