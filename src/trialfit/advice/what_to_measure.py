"""What to measure next: each fact once, with the instrument, and the findings it would settle.

Answers   measure_next    the list for a build, the most pressing first
          Measurement     one line of it
          Settling        one finding that a measurement helps, and the uncertainty that it may have
          MeasuringList   the list with the name of its build, in the shape that `--json` prints
Not here  what settles one finding (settling.py); the instruments (instruments.py); the words to write (writing_down.py)
Order     measurements after which a finding would hold or can be worked out; then those that only narrow; then those after which
          findings would only fail, at the present values, and those of a weld, bracket or group of spots that fails in another way
          and is changed first; facts that no instrument can measure last. Then what can be
          measured on the car as it stands before what has to wait; then by stake, the gravest first; within a stake, facts
          to measure at the car before facts to decide or to ask a maker for; then by the number of findings settled, and
          by how easy the instrument is to get.
"""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from pydantic import Field

from trialfit.advice.as_it_stands import Standing, standing_of
from trialfit.advice.reach import is_wish, ways_at
from trialfit.advice.settling import Plan, Trial, settle
from trialfit.advice.supposing import fact_at
from trialfit.advice.writing_down import half_width, needed, spread_of, what_to_write
from trialfit.evaluation.evaluation import DRAWS
from trialfit.evaluation.requirement import Stake
from trialfit.evaluation.verdict import Verdict
from trialfit.facts.fact import Fact
from trialfit.facts.frozen import Frozen
from trialfit.parts import KINDS, Bracket, SpotWelds, Weld
from trialfit.parts.describing import tables_to_add
from trialfit.subjects.catalogue import evaluate

if TYPE_CHECKING:
    from collections.abc import Iterable

    from trialfit.advice.instruments import Instrument
    from trialfit.advice.supposing import FactAt
    from trialfit.book.build import Build
    from trialfit.evaluation.finding import FactUse, Finding, Report

_STAKES = list(Stake)
_ONLY_FAILS = (
    "At the present values it would only show that this fails: change the part, its place or its setting first, or measure "
    "it if you think that the value is wrong."
)

_CHANGED_FIRST = (
    "{} fails whatever this shows: change that first, its finding says how, and measure what is then there."
)
_WELDED = (Bracket, Weld, SpotWelds)
"""Parts that are made new if they fail in one way: their sizes are not measured before."""


class Outcome(StrEnum):
    """The effect of a measurement on a finding, if it gives the present value."""

    would_hold = "would hold"
    would_fail = "would fail"
    still_unsettled = "still unsettled"
    can_be_worked_out = "can be worked out"


_HELPS_ON = (Outcome.would_hold, Outcome.can_be_worked_out)


class Settling(Frozen):
    """One finding that a measurement helps."""

    finding: str = Field(description="id of the finding")
    says: str = Field(description="the requirement, in a sentence")
    stake: Stake
    would: Outcome = Field(description="the verdict after it, at the present value of the fact")
    share: float = Field(description="share of the margin's variance that this fact causes now, 0 to 1")
    spread_needed: str = Field(
        description='the largest uncertainty that settles it, for example "± 3.1 mm"; empty if unknown'
    )
    together_with: tuple[str, ...] = Field(description="other facts to measure before this finding is settled")


class Measurement(Frozen):
    """One fact to measure, or one that cannot be measured."""

    path: str = Field(description='the fact, for example "shaft.length"; or the kind of a part that is missing')
    meaning: str
    now: str = Field(description="the present value of the fact; empty if missing")
    spread_now: str = Field(description="its present uncertainty; empty if missing")
    instrument: str = Field(description="what to measure with; empty if no instrument measures it")
    spread: str = Field(description="the expected uncertainty of the instrument")
    cost: int = Field(
        description="1 in every toolbox, 2 cheap or borrowed, 3 rented or expensive, 4 a workshop does it; 0 without instrument"
    )
    source: str = Field(description="source of the instrument's uncertainty")
    write: str = Field(
        description="what to write afterwards: path and value, for example 'shaft.length \"… mm, taped\"'"
    )
    is_asked: bool = Field(description="whether it cannot be measured: ask its maker")
    helps: str = Field(description="what helps if no instrument measures it, or what else to do")
    is_decided: bool = Field(
        default=False, description="whether it is the builder's own choice: it is decided, not measured"
    )
    later: str = Field(default="", description="why it cannot be measured on the car as it stands now; empty if it can")
    fails: str = Field(
        default="",
        description="finding by which what it is measured for fails whatever it shows: that is changed first",
    )
    caution: str = ""
    stake: Stake = Field(description="the gravest stake among the findings it helps")
    findings: tuple[Settling, ...]

    @property
    def settles(self) -> int:
        """How many findings it settles or makes possible, alone or together with others."""
        return sum(one.would is not Outcome.still_unsettled for one in self.findings)

    @property
    def helps_on(self) -> tuple[Settling, ...]:
        """The findings that would hold or can be worked out after it."""
        return tuple(one for one in self.findings if one.would in _HELPS_ON)


class MeasuringList(Frozen):
    """What to measure next, for one build."""

    build: str
    draws: int
    measurements: tuple[Measurement, ...]


class _Wish:
    """All that findings need of one fact, collected finding by finding."""

    def __init__(self, path: str, meaning: str) -> None:
        self.path, self.meaning = path, meaning
        self.instrument: Instrument | None = None
        self.findings: list[Settling] = []

    def add(self, settling: Settling, instrument: Instrument | None, value: float) -> None:
        """Adds a finding; the finest instrument that any of them needs is used."""
        self.findings.append(settling)
        if instrument and (self.instrument is None or instrument.half_width(value) < self.instrument.half_width(value)):
            self.instrument = instrument


def measure_next(build: Build, report: Report | None = None, draws: int = DRAWS) -> tuple[Measurement, ...]:
    """What to measure next in a build, the most pressing first.

    `report` is the evaluation of the build, if there is one already. For every unsettled finding: the measurement, or
    the fewest measurements, after which it would be settled at the present values. For every unknown finding: the facts
    to get. A fact that helps several findings is listed once, with the instrument that the most demanding of them needs.
    """
    report = report or evaluate(build, draws)
    trial = Trial(build, report.draws)
    wishes: dict[str, _Wish] = {}
    for finding in report.findings:
        if finding.verdict is Verdict.unsettled:
            _wish_settled(build, finding, settle(trial, finding), wishes)
        elif finding.verdict is Verdict.unknown:
            _wish_known(build, finding, wishes)
    standing = standing_of(build) if wishes else Standing()
    failing = _failing(build, report)
    return tuple(sorted((_measurement(build, wish, standing, failing) for wish in wishes.values()), key=order))


def _failing(build: Build, report: Report) -> dict[str, str]:
    """The findings about each weld, bracket or group of spots that fails, with the one by which it does."""
    by_part = {
        one.about: one.id
        for one in reversed(report.findings)
        if one.verdict is Verdict.fails and one.stake is Stake.safety and isinstance(build.named(one.about), _WELDED)
    }
    return {one.id: by_part[one.about] for one in report.findings if one.about in by_part}


def measure_list(build: Build, draws: int = DRAWS, subjects: Iterable[str] = ()) -> MeasuringList:
    """The same with the name of the build, for the subjects named or for all. Raises BadInput for an unknown subject."""
    report = evaluate(build, draws, subjects)
    return MeasuringList(build=build.name, draws=draws, measurements=measure_next(build, report))


def order(one: Measurement) -> tuple[int, bool, int, bool, int, int, str]:
    """The sort key of the list."""
    stake = min(_STAKES.index(settling.stake) for settling in one.helps_on or one.findings)
    is_elsewhere = one.is_asked or one.is_decided
    return _usefulness(one), bool(one.later), stake, is_elsewhere, -len(one.helps_on), one.cost, one.path


def _usefulness(one: Measurement) -> int:
    if one.fails:
        return 2
    if one.helps_on:
        return 0
    if one.settles:
        return 2
    return 1 if one.instrument else 3


def _wish_settled(build: Build, finding: Finding, plan: Plan, wishes: dict[str, _Wish]) -> None:
    would = {Verdict.holds: Outcome.would_hold, Verdict.fails: Outcome.would_fail}.get(
        plan.verdict, Outcome.still_unsettled
    )
    for step in plan.steps:
        others = tuple(other.path for other in plan.steps if other is not step)
        at = _at(build, step.path)
        settling = Settling(
            finding=finding.id,
            says=finding.says,
            stake=finding.stake,
            would=would,
            share=step.share,
            spread_needed="" if would is Outcome.still_unsettled else needed(at, step.needed),
            together_with=others,
        )
        _wish(wishes, step.path, at.spec.says).add(settling, step.instrument, at.value or 0.0)
    for use in plan.out_of_reach[:1]:
        _wish(wishes, use.path, _at(build, use.path).spec.says).add(_not_settled(finding, use), None, 0.0)


def _not_settled(finding: Finding, use: FactUse) -> Settling:
    return Settling(
        finding=finding.id,
        says=finding.says,
        stake=finding.stake,
        would=Outcome.still_unsettled,
        share=use.share,
        spread_needed="",
        together_with=(),
    )


def _wish_known(build: Build, finding: Finding, wishes: dict[str, _Wish]) -> None:
    for path, meaning in finding.missing.items():
        others = tuple(other for other in finding.missing if other != path)
        settling = Settling(
            finding=finding.id,
            says=finding.says,
            stake=finding.stake,
            would=Outcome.can_be_worked_out,
            share=0.0,
            spread_needed="",
            together_with=others,
        )
        at = fact_at(build, path)
        first = next(iter(ways_at(build, at).instruments), None) if at else None
        _wish(wishes, path, meaning).add(settling, first, 0.0)


def _wish(wishes: dict[str, _Wish], path: str, meaning: str) -> _Wish:
    return wishes.setdefault(path, _Wish(path, meaning))


def _at(build: Build, path: str) -> FactAt:
    found = fact_at(build, path)
    if found is None:
        raise KeyError(path)
    return found


def _measurement(build: Build, wish: _Wish, standing: Standing, failing: dict[str, str]) -> Measurement:
    at, instrument = fact_at(build, wish.path), wish.instrument
    fails = _fails_anyway(wish, failing)
    return Measurement(
        path=wish.path,
        meaning=wish.meaning,
        now=_now(at),
        spread_now=half_width(at, at.half_width) if at and at.half_width is not None else "",
        instrument=instrument.name if instrument else "",
        spread=spread_of(at, instrument) if instrument and at else "",
        cost=instrument.cost if instrument else 0,
        source=instrument.source if instrument else "",
        write=what_to_write(build, at, instrument) if instrument and at else "",
        is_asked=_is_asked(build, at),
        helps=_CHANGED_FIRST.format(fails) if fails else _helps(build, at, wish),
        fails=fails,
        is_decided=at is not None and is_wish(at) and not instrument,
        later=standing.why_later(at.part.name, instrument) if at else "",
        caution=instrument.caution if instrument else "",
        stake=min((one.stake for one in wish.findings), key=_STAKES.index),
        findings=tuple(sorted(wish.findings, key=lambda one: (_STAKES.index(one.stake), one.finding))),
    )


def _fails_anyway(wish: _Wish, failing: dict[str, str]) -> str:
    """The finding by which all that it is measured for fails in another way; nothing where one of them does not."""
    if all(one.finding in failing for one in wish.findings):
        return failing[wish.findings[0].finding]
    return ""


def _is_asked(build: Build, at: FactAt | None) -> bool:
    tools = ways_at(build, at).instruments if at else ()
    return bool(tools) and all(one.is_asked for one in tools)


def _now(at: FactAt | None) -> str:
    if at is None or at.known is None:
        return ""
    if isinstance(at.known, Fact):
        return f"{at.known.plain}, {at.known.provenance}"
    return f"curve of {len(at.known.x)} points, {at.known.provenance}"


def _helps(build: Build, at: FactAt | None, wish: _Wish) -> str:
    if at is None:
        return _help_without_fact(build, wish.path)
    if all(one.would is Outcome.would_fail for one in wish.findings):
        return _ONLY_FAILS
    if wish.instrument and all(one.would is Outcome.still_unsettled for one in wish.findings):
        return "It reduces the uncertainty but does not settle the finding: the limit is too near. Allow more margin."
    return ways_at(build, at).helps


def _help_without_fact(build: Build, path: str) -> str:
    if path in KINDS:
        return _help_to_add(build, path)
    name = path.partition(".")[0]
    return f"Write it under [{name}]." if name in build.parts else f"Part {name} is missing: add it."


def _article(kind: str) -> str:
    """A or An."""
    return "An" if kind[:1] in "aeiou" else "A"


def _help_to_add(build: Build, kind: str) -> str:
    tables = tables_to_add(kind, {part.claims for part in build.parts.values()})
    if not tables:
        return f"{_article(kind)} {kind} is missing: add a table [{kind}] with its facts."
    named = " and ".join(f"[{name}] with {words}" for name, words in tables.items())
    return f"{_article(kind)} {kind} is missing: add {named}, and its facts."
