"""Which facts of a finding can be known better, and what that would do to its verdict by a straight-line estimate.

Answers   doubts_of    the facts that an instrument can measure better, and those that none can
          promising    the instruments of one fact that are worth trying, by the estimate
          settles      whether one instrument settles the finding, by the estimate
          could_turn   the facts of a failing finding whose own spread reaches the limit
Not here  what settles a finding when it is worked out again (settling.py); the sentence about it (next_step.py)
Symbols   m nominal margin, V its variance, s share of one fact in V, U half-width of the fact now (k = 2), U' then,
          z the normal quantile that the verdict asks for: 2.576 (99.5 %) or 1.960 (97.5 %)
Method    With one fact better known V' = V·(1 - s) + V·s·(U'/U)²; settled means (m/z)² ≥ V'.
Sources   JCGM 100, 5.1.2 (variances add); JCGM 106 (guard band)
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist
from typing import TYPE_CHECKING

from trialfit.advice.reach import ways_at
from trialfit.advice.supposing import fact_at
from trialfit.evaluation.verdict import FAILS_TO, HOLDS_FROM

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from trialfit.advice.instruments import Instrument
    from trialfit.book.build import Build
    from trialfit.evaluation.finding import FactUse, Finding

WORTH_NARROWING = 0.2
"""The least share of the uncertainty for which a fact is named if it does not settle the finding."""
_WORTH_MEASURING = 0.01  # facts that cause less of the variance are left out
_BETTER = 0.9  # an instrument must at least bring the half-width down to this share
_STRAIGHT_LINE = 2.0  # an instrument is tried if the variance is right within this factor
_REACH = 2.0  # a spread holds 95 % of the possible values: an error of twice as much is taken as impossible


@dataclass(frozen=True)
class Doubt:
    """One fact of a finding that an instrument can measure better; the instrument that is easiest to get comes first."""

    use: FactUse
    half_width: float
    value: float
    instruments: tuple[Instrument, ...]
    writes: str = ""

    @property
    def path(self) -> str:
        """The path of the fact."""
        return self.use.path

    @property
    def finest(self) -> Instrument:
        """The instrument with the smallest half-width."""
        return min(self.instruments, key=lambda one: one.half_width(self.value))

    @property
    def is_asked(self) -> bool:
        """Whether it cannot be measured better, so that you ask its maker."""
        return all(one.is_asked for one in self.instruments)

    def narrowing(self, instrument: Instrument) -> float:
        """Half-width with the instrument over half-width now."""
        return instrument.half_width(self.value) / self.half_width


def doubts_of(build: Build, finding: Finding) -> tuple[list[Doubt], tuple[FactUse, ...]]:
    """The facts that an instrument can measure better, and those that none can, each by its share of the uncertainty."""
    doubts, out_of_reach = [], []
    for use in finding.facts:
        at = fact_at(build, use.path) if use.share >= _WORTH_MEASURING else None
        if at is None or at.value is None or not at.half_width:
            continue
        ways = ways_at(build, at)
        finer = tuple(one for one in ways.instruments if one.half_width(at.value) <= _BETTER * at.half_width)
        if finer:
            doubts.append(Doubt(use, at.half_width, at.value, finer, ways.writes))
        elif not ways.instruments:
            out_of_reach.append(use)
    return doubts, tuple(out_of_reach)


def promising(finding: Finding, doubt: Doubt) -> Iterator[Instrument]:
    """The instruments that may settle the finding alone, with a tolerance for the estimate."""
    return (one for one in doubt.instruments if _is_settled(finding, [(doubt, one)], room=_STRAIGHT_LINE))


def settles(finding: Finding, doubts: Iterable[Doubt]) -> bool:
    """Whether the finding is settled once each of these facts is measured with its finest instrument, by the estimate."""
    return _is_settled(finding, [(doubt, doubt.finest) for doubt in doubts], room=1.0)


def could_turn(finding: Finding, doubts: Iterable[Doubt]) -> list[Doubt]:
    """Those facts whose own part of the spread, doubled, reaches from the failing margin to the limit.

    A fact's own part is √s times the half-width of the margin towards the limit: variances add, widths do not.
    """
    margin = finding.margin
    if margin is None or margin.nominal >= 0:
        return []
    towards = margin.high - margin.nominal
    return [one for one in doubts if _REACH * math.sqrt(one.use.share) * towards >= -margin.nominal]


def variances(finding: Finding) -> tuple[float, float]:
    """V of the margin, from the side of its 95 % interval that decides the verdict, and (m/z)²; both in its unit squared."""
    margin = finding.margin
    if margin is None:
        return 0.0, 0.0
    wanted = HOLDS_FROM[finding.stake] if margin.nominal >= 0 else 1 - FAILS_TO
    side = margin.nominal - margin.low if margin.nominal >= 0 else margin.high - margin.nominal
    half = side if side > 0 else (margin.high - margin.low) / 2
    variance = (half / NormalDist().inv_cdf(0.975)) ** 2
    return variance, (margin.nominal / NormalDist().inv_cdf(wanted)) ** 2


def _is_settled(finding: Finding, measured: Iterable[tuple[Doubt, Instrument]], room: float) -> bool:
    variance, allowed = variances(finding)
    gone = sum(doubt.use.share * (1 - doubt.narrowing(instrument) ** 2) for doubt, instrument in measured)
    return variance * max(0.0, 1 - gone) <= room * allowed
