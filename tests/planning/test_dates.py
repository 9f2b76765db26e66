"""Draws of the end date against plain Monte Carlo, and the distribution of hours against scipy."""

from __future__ import annotations

import random
from datetime import date

import numpy as np
import pytest
from scipy import stats

from trialfit.planning.calendar import Calendar
from trialfit.planning.dates import Stage, beta_quantiles, drawn_between, drawn_hours, run
from trialfit.planning.job import Hours
from trialfit.planning.workshop import Workshop

HOURS = [Hours(1, 3, 8), Hours(2, 4, 9), Hours(3, 7, 18), Hours(0.5, 1, 2), Hours(2, 5, 10)]
FOLLOWS = ((), (0,), (0,), (1, 2), (3,))
WAITS = {(1, 3): (24.0, 96.0)}  # hours that pass on the clock
ORDER = range(5)


@pytest.mark.parametrize(("low", "likely", "high"), [(1, 3, 8), (2, 2, 9), (1, 9, 9), (0.3, 0.5, 2)])
def test_hours_follow_the_beta_distribution(low, likely, high):
    share = (likely - low) / (high - low)
    alpha, beta = 1 + 4 * share, 5 - 4 * share
    exact = stats.beta.ppf((np.arange(500) + 0.5) / 500, alpha, beta)

    assert beta_quantiles(alpha, beta, 500) == pytest.approx(exact, abs=2e-4)


def test_the_mean_is_that_of_the_three_point_rule():
    """PERT: (1 + 4·3 + 8)/6 = 3.5 h, beta standard deviation 1.2677 h (worked by hand)."""
    drawn = drawn_hours("one", Hours(1, 3, 8), 4097)[1:]

    assert drawn.mean() == pytest.approx(3.5, abs=2e-3)
    assert drawn.std() == pytest.approx(1.2677, abs=2e-3)


def _plain(work_time, rng: random.Random) -> float:
    """One end, in the plainest way: job after job, minute of the clock after minute, with random numbers."""
    ends: list[float] = []
    for number, hours in enumerate(HOURS):
        begin = 0.0
        for before in FOLLOWS[number]:
            wait = WAITS.get((before, number))
            begin = max(begin, ends[before] + (rng.uniform(*wait) * 60 if wait else 0))
        share = (hours.likely - hours.low) / (hours.high - hours.low)
        left = 60 * (hours.low + (hours.high - hours.low) * rng.betavariate(1 + 4 * share, 5 - 4 * share))
        at = begin
        for low, high in zip(work_time.begins, work_time.ends, strict=True):
            if high > at:
                done = min(left, high - max(at, low))
                left -= done
                at = max(at, low) + done
                if left <= 1e-9:
                    break
        ends.append(at)
    return ends[-1]


def test_the_end_is_distributed_as_in_a_plain_simulation():
    work_time = Calendar(Workshop(), date(2026, 3, 2), 60).work_time()
    count = 4097
    stages = [
        Stage(
            drawn_hours(f"{number}", hours, count) * 60,
            work_time,
            np.zeros(count),
            tuple(
                (
                    before,
                    drawn_between(f"w{before}", *(60 * hour for hour in WAITS[before, number]), count)
                    if (before, number) in WAITS
                    else np.zeros(count),
                )
                for before in FOLLOWS[number]
            ),
        )
        for number, hours in enumerate(HOURS)
    ]
    end = run(stages, ORDER)[-1][1:]
    rng = random.Random(4)  # noqa: S311 - no secret
    plain = np.array([_plain(work_time, rng) for _ in range(6000)])

    # two samples of one distribution: the largest distance of their distribution functions stays below 0.035 with p > 0.99
    assert stats.ks_2samp(end, plain).statistic < 0.035
    assert np.quantile(end, [0.05, 0.5, 0.95]) == pytest.approx(np.quantile(plain, [0.05, 0.5, 0.95]), rel=0.03)


def test_two_equal_jobs_beside_each_other_end_later_than_one_on_the_average():
    """E[max] of two independent normal N(10, 2) is 10 + 2/√π = 11.128; here with beta hours, so only the sign is held."""
    ends = [drawn_hours(name, Hours(4, 10, 16), 4097)[1:] for name in ("one", "other")]

    assert np.maximum(*ends).mean() > ends[0].mean() + 0.5
