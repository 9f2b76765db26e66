"""The subjects there are, and a whole build worked out.

Answers   evaluate        a build into a report
          requirements    what the subjects state for a build
          subject_names   the subjects, ours first, then those of other packages
Not here  the limits written in a build (own_limits.py); what a subject states (its own module); how a finding comes about (evaluation/)
"""

from __future__ import annotations

from functools import cache
from importlib import import_module
from importlib.metadata import entry_points
from typing import TYPE_CHECKING, Protocol, cast

from trialfit.book.problems import BadInput, Located
from trialfit.book.renaming import remark_on
from trialfit.evaluation.evaluation import DRAWS, Evaluation
from trialfit.evaluation.finding import Remark
from trialfit.evaluation.requirement import Stake
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.parts.reading import nearest
from trialfit.subjects import own_limits

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.finding import Finding, Report
    from trialfit.evaluation.requirement import Requirement

OURS = (
    "gearing",
    "torque_path",
    "driveline",
    "clearance",
    "fastening",
    "ports",
    "senders",
    "measuring",
    "structure",
    "lifting",
)
_VERDICTS = list(Verdict)
_STAKES = list(Stake)


class Subject(Protocol):
    """What a subject module offers."""

    SUBJECT: str

    def requirements(self, build: Build) -> Iterator[Requirement]:
        """What the build must satisfy, and the figures."""


def subject_names() -> tuple[str, ...]:
    """The names of all subjects."""
    return (*OURS, *(name for name in _installed() if name not in OURS))


@cache  # what is installed does not change while the program runs, and looking through it takes as long as a small finding
def _installed() -> tuple[str, ...]:
    return tuple(point.name for point in entry_points(group="trialfit.subjects"))


def requirements(build: Build, subjects: Iterable[str] = ()) -> list[Requirement]:
    """What the named subjects state for a build; all subjects when none is named. Raises BadInput for an unknown name.

    Follows from the parts alone, and which of their facts are written: nothing is evaluated, and no value decides.
    """
    known = subject_names()
    wanted = tuple(subjects) or known
    for name in wanted:
        if name not in known:
            raise BadInput("subject", [Located("", f'unknown subject "{name}": {nearest(name, known)}')])
    return [requirement for name in wanted for requirement in _module(name).requirements(build)]


def evaluate(
    build: Build,
    draws: int = DRAWS,
    subjects: Iterable[str] = (),
    *,
    all_figures: bool = True,
    all_facts: bool = True,
    evaluation: Evaluation | None = None,
) -> Report:
    """All findings and figures of a build, by subject, the worst first within each.

    `draws` is the number of values carried for each uncertain fact. Without `all_figures` the figures that are not shown
    beside the findings are only counted, which spares a fifth of the time; without `all_facts` the facts behind findings that
    hold are left out. An `evaluation` of this build serves instead of a new one: that of a changed build, got by `after`, works out only
    what the change concerns. Old names and an own limit that names nothing are remarks on the report. Raises BadInput for an unknown subject or an own
    limit that cannot be read.
    """
    wanted = tuple(subjects)
    stated = requirements(build, wanted)
    every = requirements(build) if wanted and build.limits else stated
    own_limits.refuse_unreadable(build, every)
    ev = evaluation or Evaluation(build, draws)
    report = work_out(ev, stated, all_figures=all_figures, all_facts=all_facts)
    order = {name: place for place, name in enumerate(subject_names())}
    findings = sorted(report.findings, key=lambda finding: (order.get(finding.subject, len(order)), *_badness(finding)))
    remarks = (*_old_names(build), *own_limits.remarks(build, [one.id for one in every]))
    return report.model_copy(update={"findings": tuple(findings), "remarks": remarks})


def _old_names(build: Build) -> Iterator[Remark]:
    if build.renamed:
        path, _, says = remark_on(build.renamed).partition(" ")
        yield Remark(path=path, says=says)


def _badness(finding: Finding) -> tuple[int, int]:
    return _VERDICTS.index(finding.verdict), _STAKES.index(finding.stake)


def _module(name: str) -> Subject:
    if name in OURS:
        return cast("Subject", import_module(f"trialfit.subjects.{name}"))
    (point,) = entry_points(group="trialfit.subjects", name=name)
    return cast("Subject", point.load())
