"""A better order without a solver: all work pushed to the end and back to the front, again and again.

Answers   justified    starts of a schedule that ends no later
Not here  placing tasks in an order (serial.py); the solver (schedule.py)
Method    A schedule pushed as far back as it goes, then forward again in the order that this gave, ends no later and mostly
          sooner. To leave a dead end, the order is shaken first: a few tasks or all, a little or much.
          Passes are counted, not seconds, and chance is seeded: the same problem gives the same order.
Sources   forward-backward improvement, also called double justification: project-scheduling literature, from memory
"""

from __future__ import annotations

from time import perf_counter
from typing import TYPE_CHECKING

import numpy as np

from trialfit.planning.serial import Insertion

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from threading import Event

    from trialfit.planning.problem import Problem

_ROOM = 1.15  # of the first end: a shaken schedule may be longer before it is pushed together
_SHIFTS = (0.0025, 0.01, 0.03, 0.08)  # how far an order is shaken, as a share of the end
_SHARES = (0.05, 0.2, 1.0)  # of the tasks, that are shaken
_PASSES = 3  # in a round


def justified(
    problem: Problem,
    starts: Sequence[int],
    count: int,
    *,
    bound: int = 0,
    until: float | None = None,
    stop: Event | None = None,
    told: Callable[[int], None] | None = None,
) -> list[int]:
    """The best starts found in about `count` passes, or until a moment of perf_counter, the wish to stop, or the bound.

    They end no later than those given; `told` is called with the end of each better schedule.
    """
    ends = [problem.end(number, begin) for number, begin in enumerate(starts)]
    room = min(len(problem.slots.clock), int(_ROOM * max(ends, default=0)) + 1)
    forth, back = Insertion(problem, room), Insertion(problem, room, backwards=True)
    rng = np.random.default_rng(1)
    now = best = list(starts)
    least = end_now = problem.makespan(best)
    for _ in range(count // _PASSES):
        if least <= bound or (until is not None and perf_counter() > until) or (stop is not None and stop.is_set()):
            break
        for found in _round(_shaken(now, least, rng), forth, back):
            end = problem.makespan(found)
            if end <= end_now:
                now, end_now = found, end
            if end < least:
                best, least = found, end
                if told:
                    told(end)
    return best


def _shaken(starts: Sequence[int], end: int, rng: np.random.Generator) -> list[float]:
    """An order near that of a schedule."""
    chosen = rng.random(len(starts)) < rng.choice(_SHARES)
    away = rng.normal(0.0, rng.choice(_SHIFTS) * end, len(starts))
    return [float(urgency) for urgency in np.asarray(starts, float) + chosen * away]


def _round(order: Sequence[float], forth: Insertion, back: Insertion) -> list[list[int]]:
    """The schedules of one round: placed in an order, pushed back, and forward again; those that fit."""
    first = forth.starts(order)
    if first is None:
        return []
    pushed = back.starts([-begin - length for begin, length in zip(first, forth.length, strict=True)])
    if pushed is None:
        return [first]
    late = [back.count - begin - length for begin, length in zip(pushed, forth.length, strict=True)]
    second = forth.starts(late)
    return [first] if second is None else [first, second]
