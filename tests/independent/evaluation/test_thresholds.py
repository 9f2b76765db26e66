"""When a verdict stands, by another route: binomial experiments counted out, and the bounds of Clopper and Pearson from scipy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import betaincinv
from scipy.stats import binom
from thorough import some

from trialfit.evaluation.requirement import Stake
from trialfit.evaluation.thresholds import HARDLY_WRONG, WRONG, Kept, clear, verdict_of
from trialfit.evaluation.verdict import Verdict

HOLDS = {Stake.safety: 0.995, Stake.durability: 0.975}
SIZES = (15, 255, 4095, 16_383, 65_535)


def bounds(kept: int, drawn: int, wrong: float) -> tuple[float, float]:
    """The one-sided bounds of the share from below and from above, as they are printed in every textbook."""
    low = betaincinv(kept, drawn - kept + 1, wrong) if kept else 0.0
    high = betaincinv(kept + 1, drawn - kept, 1 - wrong) if kept < drawn else 1.0
    return float(low), float(high)


def by_bounds(kept: int, drawn: int, stake: Stake, wrong: float) -> Verdict | None:
    low, high = bounds(kept, drawn, wrong)
    if low >= HOLDS[stake]:
        return Verdict.holds
    if high <= 0.025:
        return Verdict.fails
    return Verdict.unsettled if low >= 0.025 and high <= HOLDS[stake] else None


@pytest.mark.parametrize("stake", HOLDS)
def test_a_verdict_stands_where_the_exact_bound_lies_beyond_its_threshold(stake) -> None:
    """Counts on both sides of every threshold, as many standard deviations away as a count can be taken for another."""
    random, compared = np.random.default_rng(14), 0
    for drawn in SIZES:
        for threshold in (HOLDS[stake], 0.025):
            deviation = np.sqrt(drawn * threshold * (1 - threshold))
            for _ in range(60):
                kept = int(np.clip(round(drawn * threshold + random.uniform(-5, 5) * deviation), 0, drawn))
                for wrong in (WRONG, HARDLY_WRONG):
                    low, high = bounds(kept, drawn, wrong)
                    if min(abs(bound - edge) for bound in (low, high) for edge in (HOLDS[stake], 0.025)) > 1e-9:
                        assert clear(Kept(kept, drawn), stake, wrong) == by_bounds(kept, drawn, stake, wrong), (
                            kept,
                            drawn,
                        )
                        compared += 1
    assert compared > 1000


@pytest.mark.parametrize(("stake", "fewest"), [(Stake.safety, 755), (Stake.durability, 150)])
def test_without_a_miss_so_many_draws_are_needed(stake, fewest) -> None:
    """0.995^755 = 2.27 % and 0.975^150 = 2.24 %: the first below 2.28 %."""
    assert verdict_of(Kept(fewest - 1, fewest - 1), stake) is Verdict.unsettled
    assert verdict_of(Kept(fewest, fewest), stake) is Verdict.holds


@pytest.mark.parametrize("drawn", SIZES)
@pytest.mark.parametrize("stake", HOLDS)
def test_by_brute_force_a_share_below_its_threshold_holds_seldom(stake, drawn) -> None:
    """Every count that binomial experiments give, weighed by how often: at the threshold at most 2.3 % of them hold or fail wrongly."""
    kept = np.arange(drawn + 1)
    likely = kept[binom.pmf(kept, drawn, HOLDS[stake]) > 1e-12]
    holds = sum(
        binom.pmf(k, drawn, HOLDS[stake]) for k in likely if verdict_of(Kept(int(k), drawn), stake) is Verdict.holds
    )
    likely = kept[binom.pmf(kept, drawn, 0.025) > 1e-12]
    fails = sum(binom.pmf(k, drawn, 0.025) for k in likely if verdict_of(Kept(int(k), drawn), stake) is Verdict.fails)

    print(f"{stake} {drawn}: {holds:.4f} hold at the threshold, {fails:.4f} fail")
    assert max(holds, fails) <= 0.02276


def test_experiments_counted_out_agree_on_both_sides_of_each_threshold() -> None:
    """Coins thrown 65,535 times: a share off its threshold by 0.2 of what may miss is never taken for the other side."""
    random, wrong, tried = np.random.default_rng(3), 0, 0
    for stake, holds_from in HOLDS.items():
        step = 0.2 * (1 - holds_from)
        for share, expected in (
            (holds_from + step, Verdict.holds),
            (holds_from - step, Verdict.unsettled),
            (0.030, Verdict.unsettled),
            (0.020, Verdict.fails),
        ):
            for kept in random.binomial(65_535, share, size=some(250)):
                tried += 1
                wrong += verdict_of(Kept(int(kept), 65_535), stake) is not expected
    print(f"worst disagreement: {wrong} of {tried}")
    assert wrong <= 0.02 * tried
