"""How to settle one unsettled finding: the fewest measurements, and the uncertainty that each may have.

Answers   settle   a plan for one finding: which facts, with which instruments, and the verdict then
          Trial    judges single findings of a build as if facts had been measured
Not here  which facts can be known better (doubts.py); the list for the whole build (what_to_measure.py)
Symbols   as in doubts.py
Method    Settled means (m/z)² ≥ V', the variance then. With one fact better known V' = V·(1 - s) + V·s·(U'/U)², so

              U' = U·√(((m/z)² - V·(1 - s))/(V·s))

          and none is good enough if the root has no value. That is a straight-line estimate. It only chooses what to try:
          the finding is then worked out again as if each instrument had been used.
Sources   JCGM 100, 5.1.2 (variances add); JCGM 106 (guard band)
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from trialfit.advice.doubts import WORTH_NARROWING, Doubt, doubts_of, promising, variances
from trialfit.advice.supposing import supposed
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import judged
from trialfit.subjects.catalogue import requirements

if TYPE_CHECKING:
    from collections.abc import Mapping

    from trialfit.advice.instruments import Instrument
    from trialfit.book.build import Build
    from trialfit.evaluation.finding import FactUse, Finding

_SETTLED = (Verdict.holds, Verdict.fails)


@dataclass(frozen=True)
class Step:
    """One measurement of a plan; `needed` is the largest half-width that is estimated to be enough, SI, k = 2."""

    path: str
    share: float
    instrument: Instrument
    needed: float


@dataclass(frozen=True)
class Plan:
    """The measurements that settle a finding, or if none does, the one that narrows it most; and the verdict then.

    `out_of_reach` are the facts that no instrument can measure, the one that causes most of the uncertainty first.
    """

    steps: tuple[Step, ...]
    verdict: Verdict
    out_of_reach: tuple[FactUse, ...] = ()


class Trial:
    """Findings of one build judged as if facts had been measured. Each trial keeps what the one before it worked out and its
    own measurements do not touch; further draws are kept as long as one finding is in view.
    """

    def __init__(self, build: Build, draws: int) -> None:
        self.build = build
        self._last = Evaluation(build, draws)
        self._in_view = ""
        self._judged: dict[frozenset[tuple[str, Instrument]], Verdict] = {}

    def verdict(self, finding: Finding, measured: Mapping[str, Instrument]) -> Verdict:
        """The verdict on that finding with these facts measured at their present values."""
        if finding.id != self._in_view:
            self._in_view = finding.id
            self._judged.clear()
            self._last.keep_blocks()
        key = frozenset(measured.items())
        if key not in self._judged:
            build = supposed(self.build, measured)
            self._last = self._last.after(build)
            stated = next(one for one in requirements(build, (finding.subject,)) if one.id == finding.id)
            self._judged[key] = judged(self._last, stated)
        return self._judged[key]


def settle(trial: Trial, finding: Finding) -> Plan:
    """The plan for an unsettled finding: one measurement if one is enough, else the fewest in the order of their share."""
    doubts, out_of_reach = doubts_of(trial.build, finding)
    for doubt in doubts:
        for instrument in promising(finding, doubt):
            then = trial.verdict(finding, {doubt.path: instrument})
            if then in _SETTLED:
                return Plan(_steps(finding, [doubt], {doubt.path: instrument}), then)
    return _several(trial, finding, doubts, out_of_reach)


def _several(trial: Trial, finding: Finding, doubts: list[Doubt], out_of_reach: tuple[FactUse, ...]) -> Plan:
    measured: dict[str, Instrument] = {}
    for count, doubt in enumerate(doubts, 1):
        measured[doubt.path] = doubt.finest
        then = trial.verdict(finding, measured)
        if then in _SETTLED:
            _make_easier(trial, finding, doubts[:count], measured)
            return Plan(_steps(finding, doubts[:count], measured), then)
    narrowing = doubts[:1] if not out_of_reach or (doubts and doubts[0].use.share >= WORTH_NARROWING) else []
    return Plan(_steps(finding, narrowing, measured), Verdict.unsettled, out_of_reach)


def _make_easier(trial: Trial, finding: Finding, doubts: list[Doubt], measured: dict[str, Instrument]) -> None:
    """Exchange the finest instrument of each fact for the easiest to get that still settles the finding."""
    for doubt in doubts:
        for instrument in doubt.instruments:
            if instrument == measured[doubt.path]:
                break
            easier = {**measured, doubt.path: instrument}
            if trial.verdict(finding, easier) in _SETTLED:
                measured.update(easier)
                break


def _steps(finding: Finding, doubts: list[Doubt], measured: Mapping[str, Instrument]) -> tuple[Step, ...]:
    steps = []
    for doubt in doubts:
        others = sum(one.use.share * (1 - one.narrowing(measured[one.path]) ** 2) for one in doubts if one is not doubt)
        narrowing = _narrowing_needed(finding, doubt.use.share, others)
        tried = doubt.narrowing(measured[doubt.path])  # known to be enough, whatever the estimate says
        needed = max(tried, narrowing or 0.0) * doubt.half_width
        steps.append(Step(doubt.path, doubt.use.share, measured[doubt.path], needed))
    return tuple(steps)


def _narrowing_needed(finding: Finding, share: float, gone: float) -> float | None:
    """U'/U of a fact, at most 1; `gone` is the share of the variance that other measurements remove. None: not enough."""
    variance, allowed = variances(finding)
    left = (allowed - variance * max(0.0, 1 - share - gone)) / (variance * share) if variance * share else -1.0
    return min(1.0, math.sqrt(left)) if left >= 0 else None
