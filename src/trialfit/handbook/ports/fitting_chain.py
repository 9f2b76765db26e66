"""A run of fittings from one end to another: the fewest, the shortest or the cheapest, and what is missing for one.

Answers   find_run    the best run out of a catalogue, or why there is none and which piece is missing
          Run         the pieces in order, the joints between them, length added, bore left, price
          Gap         why there is none
Not here  the catalogue (fittings.py); whether two ends may be joined (sealing.py)
Method    Dijkstra over ends, each fitting an edge both ways round; where a length must not be passed, every way to an end
          that is cheaper or shorter than the others is kept.
Sources   Dijkstra 1959; which ends may be joined: sealing.py
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from heapq import heappop, heappush
from itertools import count
from math import inf, isnan
from typing import TYPE_CHECKING

from trialfit.handbook.ports.port_ends import End, counterpart
from trialfit.handbook.ports.sealing import Fit, Joint, join_ends

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from trialfit.handbook.ports.fittings import Fitting

MOST_PIECES = 6
"""Largest number of pieces in a run: each joint can leak. Common practice, no source."""


class Best(StrEnum):
    """What a run is chosen by."""

    fewest = "fewest"
    shortest = "shortest"
    cheapest = "cheapest"


@dataclass(frozen=True)
class Piece:
    """One fitting in a run; `near` is the end towards the start."""

    fitting: Fitting
    near: End
    far: End


@dataclass(frozen=True)
class Run:
    """Pieces from start to goal, with one joint more than pieces."""

    pieces: tuple[Piece, ...]
    joints: tuple[Joint, ...]

    @property
    def length(self) -> float:
        """Length added [m]; nan where that of a piece is not known."""
        return sum(piece.fitting.length for piece in self.pieces)

    @property
    def bore(self) -> float:
        """Narrowest bore [m]; inf without a piece; nan where that of a piece is not known."""
        bores = [piece.fitting.bore for piece in self.pieces]
        return float("nan") if any(map(isnan, bores)) else min(bores, default=inf)

    @property
    def price(self) -> float:
        """Prices of the pieces that have one."""
        return sum(piece.fitting.price or 0.0 for piece in self.pieces)

    @property
    def unpriced(self) -> int:
        """Pieces without a price."""
        return sum(piece.fitting.price is None for piece in self.pieces)


@dataclass(frozen=True)
class Gap:
    """Why there is no run: one sentence; the ends that can be reached from either side; and the one piece that would do."""

    why: str
    from_start: tuple[End, ...] = ()
    from_goal: tuple[End, ...] = ()
    custom: tuple[End, End] | None = None


@dataclass(order=True)
class _Label:
    cost: tuple[float, ...]
    number: int
    length: float = field(compare=False)
    end: End = field(compare=False)
    pieces: tuple[Piece, ...] = field(compare=False)


def find_run(
    start: End,
    goal: End,
    catalogue: Iterable[Fitting],
    best: Best = Best.fewest,
    least_bore: float = 0.0,
    most_length: float = inf,
) -> Run | Gap:
    """The best run of fittings between two ends.

    start        End that is there, such as a port
    goal         End that is to be joined to it, such as a sender, a hose or another port
    catalogue    fittings, each in any number
    best         fewest pieces, the shortest, or the cheapest (pieces without a price only where none with one serves)
    least_bore   m; pieces that are narrower, or whose bore is not known, are left out
    most_length  m; of all pieces together
    returns      Run, without a piece where the two belong together; or Gap

    Every joint of a run fits: no run passes through a joint that starts and leaks. At most MOST_PIECES pieces.
    Source: Dijkstra 1959.

    >>> from trialfit.handbook.ports.fittings import standard_fittings
    >>> from trialfit.handbook.ports.port_ends import read_end
    >>> run = find_run(read_end("female M14×1.5, washer"), read_end("male 1/8 NPT"), standard_fittings())
    >>> [piece.fitting.name for piece in run.pieces], f"{run.length * 1e3:.0f} mm"
    (['sender adapter M14×1.5 to 1/8 NPT'], '6 mm')
    """
    fittings = tuple(one for one in catalogue if least_bore <= 0 or one.bore >= least_bore)
    found = _search(start, goal, fittings, best, most_length)
    if found is not None:
        return Run(found, _joints(start, goal, found))
    return _gap(start, goal, fittings, bounded=least_bore > 0 or most_length < inf)


def _search(
    start: End, goal: End, fittings: Sequence[Fitting], best: Best, most_length: float
) -> tuple[Piece, ...] | None:
    numbers = count()
    heap = [_Label((0.0, 0.0, 0.0), next(numbers), 0.0, start, ())]
    kept: dict[End, list[tuple[tuple[float, ...], float, int]]] = {}
    while heap:
        label = heappop(heap)
        if join_ends(label.end, goal).fit is Fit.fits:
            return label.pieces
        seen = kept.setdefault(label.end, [])
        standing = (label.cost, label.length, len(label.pieces))
        if any(cost <= label.cost and length <= label.length and n <= standing[2] for cost, length, n in seen):
            continue
        seen.append(standing)
        if len(label.pieces) == MOST_PIECES:
            continue
        for piece in _next_pieces(label.end, fittings):
            length = label.length + (0.0 if isnan(piece.fitting.length) else piece.fitting.length)
            if length <= most_length and not (most_length < inf and isnan(piece.fitting.length)):
                cost = tuple(a + b for a, b in zip(label.cost, _cost(piece.fitting, best), strict=True))
                heappush(heap, _Label(cost, next(numbers), length, piece.far, (*label.pieces, piece)))
    return None


def _cost(fitting: Fitting, best: Best) -> tuple[float, float, float]:
    length = 1.0 if isnan(fitting.length) else fitting.length
    if best is Best.fewest:
        return 1.0, length, fitting.price or 0.0
    if best is Best.shortest:
        return length, 1.0, fitting.price or 0.0
    return float(fitting.price is None), fitting.price or 0.0, 1.0 + length


def _next_pieces(end: End, fittings: Sequence[Fitting]) -> list[Piece]:
    pieces = []
    for fitting in fittings:
        for near, far in dict.fromkeys(((fitting.end, fitting.other_end), (fitting.other_end, fitting.end))):
            if join_ends(end, near).fit is Fit.fits:
                pieces.append(Piece(fitting, near, far))
    return pieces


def _joints(start: End, goal: End, pieces: Sequence[Piece]) -> tuple[Joint, ...]:
    left = [start, *(piece.far for piece in pieces)]
    right = [*(piece.near for piece in pieces), goal]
    return tuple(join_ends(one, other) for one, other in zip(left, right, strict=True))


def _gap(start: End, goal: End, fittings: Sequence[Fitting], *, bounded: bool) -> Gap:
    ahead, back = _reach(start, fittings), _reach(goal, fittings)
    custom = (counterpart(start), counterpart(goal))
    bounds = " within the bore and length limits" if bounded else ""
    if len(ahead) == 1:
        why = f"no fitting of the catalogue{bounds} fits {start.text}"
    elif len(back) == 1:
        why = f"no fitting of the catalogue{bounds} fits {goal.text}"
    elif bounded:
        why = f"no run of up to {MOST_PIECES} fittings from {start.text} to {goal.text} is within the bore and length limits"
    else:
        why = f"fittings go on both {start.text} and {goal.text}, but no fitting joins the two sides"
    return Gap(why, ahead, back, custom)


def _reach(end: End, fittings: Sequence[Fitting]) -> tuple[End, ...]:
    """The end itself, then every end that a run of fittings from it can have, the nearest first."""
    found = {end: None}
    ring = [end]
    for _ in range(MOST_PIECES):
        ring = [piece.far for one in ring for piece in _next_pieces(one, fittings) if piece.far not in found]
        ring = list(dict.fromkeys(ring))
        found.update(dict.fromkeys(ring))
    return tuple(found)
