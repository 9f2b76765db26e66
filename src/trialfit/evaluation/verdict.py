"""The verdict on a margin with uncertainty, and the rule of the guard band.

Answers   Verdict     holds, fails, unsettled, unknown
          judge       the verdict for a share of draws that keep the limit
Sources   JCGM 106 and ISO 14253-1 (conformance shown only outside the uncertainty of the measurement). The shares 0.975
          and 0.025 are the two-sided 95 % interval; 0.995 where safety is at stake is our own choice: common practice,
          no source.
"""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import Stake

if TYPE_CHECKING:
    from numpy.typing import NDArray

HOLDS_FROM = {Stake.safety: 0.995, Stake.durability: 0.975, Stake.comfort: 0.975}
FAILS_TO = 0.025


class Verdict(StrEnum):
    """The possible verdicts on a requirement, the worst first."""

    fails = "fails"
    unsettled = "unsettled"
    unknown = "unknown"
    holds = "holds"


def share_kept(margin: NDArray[np.float64]) -> float:
    """The share of draws whose margin is not negative, draw 0 (the nominal) left out if there are others.

    A draw outside the range of a formula (nan) does not keep the limit.
    """
    drawn = margin[1:] if margin.size > 1 else margin
    return float(np.count_nonzero(drawn >= 0) / drawn.size)


def judge(share: float, stake: Stake) -> Verdict:
    """The verdict for a share of draws that keep the limit.

    >>> judge(0.98, Stake.durability), judge(0.98, Stake.safety), judge(0.01, Stake.comfort)
    (<Verdict.holds: 'holds'>, <Verdict.unsettled: 'unsettled'>, <Verdict.fails: 'fails'>)
    """
    if share >= HOLDS_FROM[stake]:
        return Verdict.holds
    return Verdict.fails if share <= FAILS_TO else Verdict.unsettled
