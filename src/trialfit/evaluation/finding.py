"""The result: findings, figures and the report that holds them, in the shape that `--json` prints.

Answers   Finding    a requirement worked out for this build
          Figure     a value worth knowing that has no limit
          Report     all of them; report["driveline.whirl.shaft"] looks one up
          LimitUse   one limit that a finding was held against
          StateUse   what a finding comes to in one state of the car
          Remark     what the builder should know of the build as written
          Interval   a number with its 95 % interval and its unit
          FactUse    one fact that a finding depends on
"""

from __future__ import annotations

from functools import cached_property

from pydantic import Field

from trialfit.evaluation.requirement import SourceKind, Stake
from trialfit.evaluation.unusual import Question
from trialfit.evaluation.verdict import Verdict
from trialfit.facts.frozen import Frozen


class Interval(Frozen):
    """A value with the interval that holds 95 % of its draws, in `unit`."""

    nominal: float
    low: float
    high: float
    unit: str


class FactUse(Frozen):
    """One fact that a finding depends on."""

    path: str
    text: str = Field(description="the fact as written, or the typical value in use")
    provenance: str = Field(description="provenance of the fact; `typical` if it is not written")
    share: float = Field(description="share of the margin's variance that this fact causes, 0 to 1")


class LimitUse(Frozen):
    """One limit that a finding was held against."""

    id: str = Field(
        description='tells it from the others: "stated" by the program, "written" in the build, or a row of a code'
    )
    side: str = Field(description='"at most", "at least" or "between"')
    limit: Interval | None
    margin: Interval | None
    share_ok: float | None = Field(description="share of draws within it")
    draws: int | None = Field(default=None, description="draws that this share was counted over")
    verdict: Verdict = Field(description="the verdict if this limit alone counted")
    load_state: str = Field(default="", description="the state of the car in which it applies; empty: any")
    source: str = Field(description="the document or person it comes from")
    clause: str = ""
    edition: str = ""
    source_kind: SourceKind = Field(description="how the source was checked")
    replaced_by: str = Field(default="", description="the id of the limit that replaces it; empty if it applies")
    state: str = Field(
        default="", description="the worst state of the car against this limit; empty if there is one only"
    )


class StateUse(Frozen):
    """What a finding comes to in one state of the car."""

    state: str = Field(description='the state in words, such as "laden, 1st gear"')
    value: Interval | None
    limit: Interval | None
    margin: Interval | None
    share_ok: float = Field(description="share of draws that keep the limit in this state alone")


class Formula(Frozen):
    """A handbook formula behind a value."""

    name: str
    says: str
    source: str


class _Result(Frozen):
    id: str
    subject: str
    about: str = Field(description="the part it is about")
    says: str
    facts: tuple[FactUse, ...] = ()
    missing: dict[str, str] = Field(
        default={}, description="facts to get before it can be worked out, with their meaning"
    )
    formulas: tuple[Formula, ...] = ()
    remark: str = Field(default="", description="remarks on the evidence")
    caution: str = ""

    @property
    def typical(self) -> tuple[str, ...]:
        """The paths of the missing facts for which a typical value is used."""
        return tuple(fact.path for fact in self.facts if fact.provenance == "typical")


class Finding(_Result):
    """A requirement worked out for this build."""

    verdict: Verdict
    stake: Stake
    side: str = Field(description='"at most", "at least" or "between"')
    value: Interval | None
    limit: Interval | None
    margin: Interval | None = Field(
        description="how far the value is on the right side of its limit; negative: on the wrong side"
    )
    share_ok: float | None = Field(description="share of draws that keep the limit")
    share_spread: float | None = Field(
        default=None, description="half-width of the interval of that share, by the number of draws; 0 if it is exact"
    )
    draws: int | None = Field(
        default=None,
        description="draws that the share was counted over: more than for the report where it is near a threshold",
    )
    is_astride: bool = Field(
        default=False, description="whether all these draws leave open on which side of a threshold the share lies"
    )
    state: str = Field(
        default="",
        description="the worst state of the car, whose value, limit and margin are shown; empty if there is one only",
    )
    states: tuple[StateUse, ...] = Field(
        default=(),
        description="each state of the car it was judged in, the worst first; a draw must keep the limit in all",
    )
    source: str
    source_kind: SourceKind
    limits: tuple[LimitUse, ...] = Field(
        default=(), description="every limit it was compared with; the first decides and is shown above"
    )
    held_back: tuple[str, ...] = Field(
        default=(), description="what to do before it can hold, where its draws would hold and it is unsettled anyway"
    )
    cure: str = Field(
        default="", description="what to do if it fails; empty if the usual cure is another part or place"
    )


class Figure(_Result):
    """A value worth knowing that has no limit; a limit of the builder's own makes a finding of it."""

    value: Interval | None
    state: str = Field(
        default="", description="the state of the car that the value is shown in; empty if there is one only"
    )
    headline: str = Field(
        default="", description="a sentence with its numbers, shown beside the findings; empty for most figures"
    )


class Remark(Frozen):
    """What the builder should know of the build as written; nothing stops on it."""

    path: str = Field(description="where it is written")
    says: str


class Report(Frozen):
    """All findings and figures of a build."""

    build: str
    draws: int
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]
    figures_left_out: int = Field(default=0, description="figures that were not asked for and not worked out")
    findings_left_out: int = Field(
        default=0, description="findings far from their limit, not listed, such as the gap of two solids far apart"
    )
    remarks: tuple[Remark, ...] = Field(default=(), description="remarks on the build as written")
    questions: tuple[Question, ...] = Field(default=(), description="unusual facts without a note that confirms them")

    @cached_property
    def _by_id(self) -> dict[str, Finding | Figure]:
        by_id: dict[str, Finding | Figure] = {finding.id: finding for finding in self.findings}
        by_id.update({figure.id: figure for figure in self.figures})
        return by_id

    def __getitem__(self, identifier: str) -> Finding:
        """The finding of that id. Raises KeyError."""
        found = self._by_id[identifier]
        if not isinstance(found, Finding):
            raise KeyError(identifier)
        return found

    def figure(self, identifier: str) -> Figure:
        """The figure of that id. Raises KeyError."""
        found = self._by_id[identifier]
        if not isinstance(found, Figure):
            raise KeyError(identifier)
        return found

    def result(self, identifier: str) -> Finding | Figure | None:
        """The finding or figure of that id, or None."""
        return self._by_id.get(identifier)

    @property
    def fails(self) -> bool:
        """Whether any finding fails."""
        return any(finding.verdict is Verdict.fails for finding in self.findings)
