"""What would settle one unsettled finding: the fewest measurements, and how good each must be.

Answers   settle   a plan for one finding: which facts, with which instruments, and the verdict then
          Trial    works single findings of a build out as if facts had been measured
Not here  the list for the whole build (measuring.py); the instruments (instruments.py)
Symbols   m nominal margin, V its variance, s share of one fact in V, U half-width of the fact now (k = 2), U' then,
          z the normal quantile that the verdict asks for: 2.576 (99.5 %) or 1.960 (97.5 %)
Method    Settled means (m/z)² ≥ V', the variance then. With one fact better known V' = V·(1 - s) + V·s·(U'/U)², so

              U' = U·√(((m/z)² - V·(1 - s))/(V·s))

          and none is good enough where the root has no value. That is a straight-line estimate. It only chooses what is
          tried: each instrument is then supposed to have been used, and the finding is worked out again.
Sources   JCGM 100, 5.1.2 (variances add); JCGM 106 (guard band)
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from statistics import NormalDist
from typing import TYPE_CHECKING

from trialfit.advice.reach import ways_at
from trialfit.advice.supposing import fact_at, supposed
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.verdict import FAILS_TO, HOLDS_FROM, Verdict
from trialfit.evaluation.working import work_out
from trialfit.subjects.catalogue import requirements

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from trialfit.advice.instruments import Instrument
    from trialfit.book.build import Build
    from trialfit.evaluation.finding import FactUse, Finding
    from trialfit.evaluation.requirement import Requirement

    _Supposed = tuple[str, frozenset[tuple[str, Instrument]]]

_SETTLED = (Verdict.holds, Verdict.fails)
_WORTH_MEASURING = 0.01  # facts that cause less of the variance are left alone
_WORTH_NARROWING = 0.2  # nor is one that settles nothing named for less than this
_BETTER = 0.9  # an instrument must at least bring the half-width down to this share
_STRAIGHT_LINE = 2.0  # how far the estimated variance may be off before an instrument is not even tried
_KEPT = 16  # supposed builds kept set up: each holds the draws of all its facts


@dataclass(frozen=True)
class Step:
    """One measurement of a plan; `needed` is the widest half-width that is thought to do, SI, k = 2."""

    path: str
    share: float
    instrument: Instrument
    needed: float


@dataclass(frozen=True)
class Plan:
    """The measurements that settle a finding, or, where nothing does, the one that narrows it most; and the verdict then.

    `out_of_reach` are the facts that no instrument gives, the one that causes most of the doubt first.
    """

    steps: tuple[Step, ...]
    verdict: Verdict
    out_of_reach: tuple[FactUse, ...] = ()


@dataclass
class Trial:
    """Findings of one build worked out as if facts had been measured; each supposed build is set up once."""

    build: Build
    draws: int
    _set_up: dict[_Supposed, tuple[Evaluation, dict[str, Requirement]]] = field(default_factory=dict)

    def finding(self, finding: Finding, measured: Mapping[str, Instrument]) -> Finding:
        """That finding with these facts measured at their present values."""
        key = (finding.subject, frozenset(measured.items()))
        if key not in self._set_up:
            build = supposed(self.build, measured)
            if len(self._set_up) >= _KEPT:
                del self._set_up[next(iter(self._set_up))]
            self._set_up[key] = (
                Evaluation(build, self.draws),
                {one.id: one for one in requirements(build, (finding.subject,))},
            )
        ev, by_id = self._set_up[key]
        return work_out(ev, [by_id[finding.id]])[finding.id]


@dataclass(frozen=True)
class _Doubt:
    """One fact of the finding that an instrument would give better, the most easily had instrument first."""

    use: FactUse
    half_width: float
    value: float
    instruments: tuple[Instrument, ...]

    @property
    def path(self) -> str:
        return self.use.path

    @property
    def finest(self) -> Instrument:
        return min(self.instruments, key=lambda one: one.half_width(self.value))

    def narrowing(self, instrument: Instrument) -> float:
        """Half-width with the instrument over half-width now."""
        return instrument.half_width(self.value) / self.half_width


def settle(trial: Trial, finding: Finding) -> Plan:
    """The plan for an unsettled finding: one measurement if one is enough, else the fewest in the order of their share."""
    doubts, out_of_reach = _doubts(trial.build, finding)
    for doubt in doubts:
        for instrument in _promising(finding, doubt):
            then = trial.finding(finding, {doubt.path: instrument}).verdict
            if then in _SETTLED:
                return Plan(_steps(finding, [doubt], {doubt.path: instrument}), then)
    return _several(trial, finding, doubts, out_of_reach)


def _several(trial: Trial, finding: Finding, doubts: list[_Doubt], out_of_reach: tuple[FactUse, ...]) -> Plan:
    measured: dict[str, Instrument] = {}
    for count, doubt in enumerate(doubts, 1):
        measured[doubt.path] = doubt.finest
        then = trial.finding(finding, measured).verdict
        if then in _SETTLED:
            _make_easier(trial, finding, doubts[:count], measured)
            return Plan(_steps(finding, doubts[:count], measured), then)
    narrowing = doubts[:1] if not out_of_reach or (doubts and doubts[0].use.share >= _WORTH_NARROWING) else []
    return Plan(_steps(finding, narrowing, measured), Verdict.unsettled, out_of_reach)


def _make_easier(trial: Trial, finding: Finding, doubts: list[_Doubt], measured: dict[str, Instrument]) -> None:
    """Exchange the finest instrument of each fact for the most easily had one that still settles the finding."""
    for doubt in doubts:
        for instrument in doubt.instruments:
            if instrument == measured[doubt.path]:
                break
            easier = {**measured, doubt.path: instrument}
            if trial.finding(finding, easier).verdict in _SETTLED:
                measured.update(easier)
                break


def _doubts(build: Build, finding: Finding) -> tuple[list[_Doubt], tuple[FactUse, ...]]:
    doubts, out_of_reach = [], []
    for use in finding.facts:
        at = fact_at(build, use.path)
        if use.share < _WORTH_MEASURING or at is None or at.value is None or not at.half_width:
            continue
        ways = ways_at(build, at)
        finer = tuple(one for one in ways.instruments if one.half_width(at.value) <= _BETTER * at.half_width)
        if finer:
            doubts.append(_Doubt(use, at.half_width, at.value, finer))
        elif not ways.instruments:
            out_of_reach.append(use)
    return doubts, tuple(out_of_reach)


def _promising(finding: Finding, doubt: _Doubt) -> Iterator[Instrument]:
    for instrument in doubt.instruments:
        share = doubt.use.share
        variance, allowed = _variances(finding)
        then = variance * (1 - share + share * doubt.narrowing(instrument) ** 2)
        if then <= _STRAIGHT_LINE * allowed:
            yield instrument


def _steps(finding: Finding, doubts: list[_Doubt], measured: Mapping[str, Instrument]) -> tuple[Step, ...]:
    steps = []
    for doubt in doubts:
        others = sum(one.use.share * (1 - one.narrowing(measured[one.path]) ** 2) for one in doubts if one is not doubt)
        narrowing = _narrowing_needed(finding, doubt.use.share, others)
        tried = doubt.narrowing(measured[doubt.path])  # known to do, whatever the estimate says
        needed = max(tried, narrowing or 0.0) * doubt.half_width
        steps.append(Step(doubt.path, doubt.use.share, measured[doubt.path], needed))
    return tuple(steps)


def _narrowing_needed(finding: Finding, share: float, gone: float) -> float | None:
    """U'/U of a fact, at most 1; `gone` is the share of the variance that other measurements take away. None: not enough."""
    variance, allowed = _variances(finding)
    left = (allowed - variance * max(0.0, 1 - share - gone)) / (variance * share) if variance * share else -1.0
    return min(1.0, math.sqrt(left)) if left >= 0 else None


def _variances(finding: Finding) -> tuple[float, float]:
    """V of the margin, from the side of its 95 % interval that the verdict hangs on, and (m/z)²; both in its unit squared."""
    margin = finding.margin
    if margin is None:
        return 0.0, 0.0
    wanted = HOLDS_FROM[finding.stake] if margin.nominal >= 0 else 1 - FAILS_TO
    side = margin.nominal - margin.low if margin.nominal >= 0 else margin.high - margin.nominal
    half = side if side > 0 else (margin.high - margin.low) / 2
    variance = (half / NormalDist().inv_cdf(0.975)) ** 2
    return variance, (margin.nominal / NormalDist().inv_cdf(wanted)) ** 2
