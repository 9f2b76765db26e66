"""How many draws keep a limit, and what that says for certain of the share that would keep it if there were no end of draws.

Answers   Kept          draws that keep a limit, out of how many; adds up over blocks of draws
          verdict_of    the verdict that stands on that count
          clear         the same, None where the share may lie on either side of a threshold
Symbols   k draws kept out of n, m = n - k missed, p the share that would be kept, T a threshold of the verdict
Method    A verdict stands when the one-sided 97.7 % bound of p lies beyond its threshold, by the exact binomial distribution (the
          bound of Clopper and Pearson, 1934; from memory). The bound of "at least" lies beyond T exactly where a share of T would give
          k or more with a chance of at most 2.3 %, so that no bound has to be worked out:

              holds      P(M ≤ m | 1 - T) ≤ 0.0228        at 0.995 and no miss: 755 draws
              fails      P(K ≤ k | 0.025) ≤ 0.0228
              unsettled  P(M ≥ m | 1 - T) ≤ 0.0228 and P(K ≥ k | 0.025) ≤ 0.0228

          Draws of a Latin hypercube scatter less than draws at random, so these bounds are on the careful side.
          Without any spread the count is exact, whatever its size.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from statistics import NormalDist
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.verdict import FAILS_TO, HOLDS_FROM, Verdict, judge

if TYPE_CHECKING:
    from trialfit.evaluation.requirement import Stake
    from trialfit.handbook.arrays import Array

WRONG = NormalDist().cdf(-2.0)
"""The chance of 2.3 % that a share just at its threshold is taken to lie beyond it."""

HARDLY_WRONG = NormalDist().cdf(-3.0)
"""The chance of 0.1 % below which no more draws are taken: with several looks the chances of the early ones add up."""

_FAR = 12.0
_FAR_IN_SD = 10.0  # beyond that many standard deviations nothing is left to add up


@dataclass(frozen=True)
class Kept:
    """How many draws keep a limit, out of how many; `is_exact` where nothing of it is uncertain."""

    kept: int
    drawn: int
    is_exact: bool = False

    @classmethod
    def of(cls, margin: Array) -> Kept:
        """The count of a margin, draw 0 (the nominal) left out when there are others; a draw that is nan keeps nothing."""
        drawn = margin[1:] if margin.size > 1 else margin
        is_exact = margin.size == 1 or margin.strides == (0,) or bool(np.all(margin == margin[0]))
        return cls(int(np.count_nonzero(drawn >= 0)), drawn.size, is_exact)

    def __add__(self, other: Kept) -> Kept:
        return Kept(self.kept + other.kept, self.drawn + other.drawn, self.is_exact and other.is_exact)

    @property
    def share(self) -> float:
        """The share of the draws that keep it."""
        return self.kept / self.drawn

    @property
    def spread(self) -> float:
        """Half-width of the 95 % interval of that share; 0 where it is exact. Two standard deviations, for what is shown."""
        return 0.0 if self.is_exact else 2 * math.sqrt(max(self.share * (1 - self.share), 0.0) / self.drawn)


def verdict_of(count: Kept, stake: Stake) -> Verdict:
    """The verdict that stands on that count; unsettled where none does.

    >>> from trialfit.evaluation.requirement import Stake
    >>> [str(verdict_of(Kept(n, n), Stake.safety)) for n in (754, 755)]
    ['unsettled', 'holds']
    """
    return clear(count, stake) or Verdict.unsettled


def clear(count: Kept, stake: Stake, wrong: float = WRONG) -> Verdict | None:
    """The verdict that the count shows but for that chance; None where the share may lie on either side of a threshold."""
    if count.is_exact:
        return judge(count.share, stake)
    missed, may_miss = count.drawn - count.kept, 1 - HOLDS_FROM[stake]
    if _at_most(missed, count.drawn, may_miss) <= wrong:
        return Verdict.holds
    if _at_most(count.kept, count.drawn, FAILS_TO) <= wrong:
        return Verdict.fails
    misses_too_many = 1 - _at_most(missed - 1, count.drawn, may_miss) <= wrong
    keeps_too_many = 1 - _at_most(count.kept - 1, count.drawn, FAILS_TO) <= wrong
    return Verdict.unsettled if misses_too_many and keeps_too_many else None


@lru_cache(maxsize=4096)
def _at_most(count: int, drawn: int, share: float) -> float:
    """P(K ≤ count) of a binomial distribution, summed term by term."""
    middle, deviation = drawn * share, math.sqrt(drawn * share * (1 - share))
    if count < 0:
        return 0.0
    if count > middle + _FAR_IN_SD * deviation + _FAR:
        return 1.0
    term = drawn * math.log1p(-share)
    odds, total = math.log(share) - math.log1p(-share), math.exp(term)
    for number in range(count):
        term += math.log((drawn - number) / (number + 1)) + odds
        total += math.exp(term)
    return min(total, 1.0)
