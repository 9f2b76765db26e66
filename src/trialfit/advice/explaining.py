"""The reasons behind a finding: one finding or figure, worked out alone, with its facts and formulas.

Answers   explain       the finding or figure of an id
          Explanation   in the shape that `why --json` prints
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import Field

from trialfit.advice.next_step import next_step
from trialfit.book.problems import BadInput, Located
from trialfit.evaluation.evaluation import DRAWS, Evaluation
from trialfit.evaluation.finding import Figure, Finding
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.facts.frozen import Frozen
from trialfit.parts.old_names import finding_now
from trialfit.parts.reading import nearest
from trialfit.subjects.catalogue import requirements
from trialfit.subjects.own_limits import refuse_unreadable

if TYPE_CHECKING:
    from collections.abc import Iterable

    from trialfit.book.build import Build
    from trialfit.evaluation.finding import FactUse


class Explanation(Frozen):
    """One finding or figure of a build: exactly one of the two is set."""

    build: str
    draws: int
    finding: Finding | None = Field(description="if it has a limit")
    figure: Figure | None = Field(description="if it has no limit")
    next_step: str = Field(description="what to do about it; empty if it holds")
    acting_together: float = Field(description="share of the variance caused only by facts together, 0 to 1")

    @property
    def result(self) -> Finding | Figure:
        """The finding or the figure."""
        found = self.finding or self.figure
        if found is None:
            msg = "an explanation holds a finding or a figure"
            raise ValueError(msg)
        return found

    @property
    def fails(self) -> bool:
        """Whether it is a finding that fails."""
        return self.finding is not None and self.finding.verdict is Verdict.fails


def explain(build: Build, identifier: str, draws: int = DRAWS) -> Explanation:
    """The finding or figure of that id, worked out alone. Raises BadInput with the nearest ids for an unknown one."""
    identifier = finding_now(identifier)
    stated = requirements(build)
    refuse_unreadable(build, stated)
    wanted = [requirement for requirement in stated if requirement.id == identifier]
    if not wanted:
        known = [requirement.id for requirement in stated]
        raise BadInput(
            build.name or "the build", [Located("", f'unknown finding "{identifier}": {nearest(identifier, known)}')]
        )
    result = work_out(Evaluation(build, draws), wanted[:1], however_far=True).result(identifier)
    return Explanation(
        build=build.name,
        draws=draws,
        finding=result if isinstance(result, Finding) else None,
        figure=result if isinstance(result, Figure) else None,
        next_step=next_step(build, result) if isinstance(result, Finding) else "",
        acting_together=_acting_together(result.facts if result else ()),
    )


def _acting_together(facts: Iterable[FactUse]) -> float:
    """The part of the variance that single facts do not explain; 0 without uncertainty."""
    alone = sum(fact.share for fact in facts)
    return max(0.0, 1 - alone) if alone else 0.0
