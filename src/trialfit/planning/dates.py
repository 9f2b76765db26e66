"""The end as a distribution: hours and waits drawn like facts, the order of the plan kept.

Answers   drawn_hours    the draws of one job's hours, from low, likely and high
          drawn_between, drawn_date    the draws of a wait or delivery
          run            when each task ends in every draw
          Stage          a task as it is drawn
Not here  the plan itself (schedule.py); which facts a finding's uncertainty comes from (evaluation/shares.py)
Method    Draw 0 is the likely value; the others fill each distribution by the middles of equal strata, seeded by the id, as the
          draws of facts do (evaluation/draws.py). In each draw a task begins when all tasks before it in the plan have
          ended, waits have passed by the clock and parts have arrived; the planned date itself is not waited for.
Sources   Hours: the beta distribution of PERT, α = 1 + 4(m − a)/(b − a), β = 1 + 4(b − m)/(b − a), mean (a + 4m + b)/6: network
          planning textbooks, from memory. Waits: every length between the shortest and the longest alike.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.draws import draws_of, seed_of
from trialfit.facts.spread import Shape, Spread

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.handbook.arrays import Array
    from trialfit.planning.calendar import WorkTime
    from trialfit.planning.job import Hours


_GRID = 4001


@dataclass(frozen=True)
class Stage:
    """A task as it is drawn: minutes of work, the working time it is done in, when it may begin at the earliest.

    `follows` holds the place of each task before it, with the minutes that pass between on the clock.
    """

    minutes: Array
    work_time: WorkTime
    release: Array
    follows: tuple[tuple[int, Array], ...]


def drawn_hours(name: str, hours: Hours, count: int) -> Array:
    """The hours of one job, h, shape (count,); draw 0 is the likely value."""
    span = hours.high - hours.low
    drawn = np.full(count, float(hours.likely))
    if count > 1 and span > 0:
        share = (hours.likely - hours.low) / span
        order = np.random.default_rng(seed_of(f"job.{name}.hours")).permutation(count - 1)
        drawn[1:] = hours.low + span * beta_quantiles(1 + 4 * share, 5 - 4 * share, count - 1)[order]
    return drawn


def drawn_between(name: str, low: float, high: float, count: int) -> Array:
    """Every value between two limits alike; draw 0 is the middle."""
    half = (high - low) / 2
    return draws_of(name, low + half, Spread(half, half, Shape.rectangular), count)


def drawn_date(name: str, middle: float, half: float, count: int) -> Array:
    """A date with a half-width that holds 95 %, in whatever unit both have; draw 0 is the middle."""
    return draws_of(name, middle, Spread(half, half, Shape.normal), count)


@lru_cache(maxsize=512)
def beta_quantiles(alpha: float, beta: float, count: int) -> Array:
    """The quantiles of a beta distribution at the middles of equal strata, by integration on a fine grid.

    alpha, beta   1 ... 5, as they come from low, likely and high
    """
    place = (1 - np.cos(np.linspace(0, np.pi, _GRID))) / 2  # denser towards both ends
    density = place ** (alpha - 1) * (1 - place) ** (beta - 1)
    whole = np.concatenate([[0.0], np.cumsum(np.diff(place) * (density[1:] + density[:-1]) / 2)])
    middles = (np.arange(count) + 0.5) / count
    return np.interp(middles, whole / whole[-1], place)


def run(stages: Sequence[Stage], order: Sequence[int]) -> list[Array]:
    """When each task ends in every draw, minutes; `order` puts each behind all that it follows."""
    ends: list[Array] = [np.zeros(0)] * len(stages)
    for number in order:
        stage = stages[number]
        begin = stage.release
        for before, wait in stage.follows:
            begin = np.maximum(begin, ends[before] + wait)
        ends[number] = stage.work_time.finish(begin, stage.minutes)
    return ends
