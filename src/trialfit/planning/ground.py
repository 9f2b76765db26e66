"""What the work depends on at one moment: parts arrived, readings taken, findings that hold.

Answers   Ground     all of it
          Holding    the result of all findings under one name
          holding    the same, worked out from a report
Not here  which jobs depend on it (ready.py, gates.py, look_again.py)
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from trialfit.evaluation.requirement import Stake
from trialfit.evaluation.verdict import Verdict
from trialfit.planning.job import NeedKind
from trialfit.subjects.catalogue import subject_names

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from datetime import datetime

    from trialfit.evaluation.finding import Finding, Report
    from trialfit.planning.job import Job
    from trialfit.planning.work_readings import Taken
    from trialfit.planning.workshop import Workshop


@dataclass(frozen=True)
class Holding:
    """The findings under a name: those with safety or durability at stake that do not hold, and all those that do.

    `is_known` is False where no subject works out a finding of that name: then the builder checks it by hand.
    """

    name: str
    against: tuple[Finding, ...]
    holds: tuple[str, ...]
    is_known: bool

    @property
    def does(self) -> bool:
        """Whether all of them hold."""
        return not self.against

    @property
    def says(self) -> str:
        """What is against it, the worst first."""
        told = [f"{one.id} {'is ' if one.verdict in _STATES else ''}{one.verdict}" for one in self.against[:3]]
        more = f" and {len(self.against) - 3} more" if len(self.against) > 3 else ""  # noqa: PLR2004 - those named before
        return ", ".join(told) + more


_STATES = (Verdict.unsettled, Verdict.unknown)


def holding(report: Report, name: str) -> Holding:
    """The result of the findings of a name, or under it ("torque_path"); a finding of comfort does not stop work."""
    under = [one for one in report.findings if one.id == name or one.id.startswith(f"{name}.")]
    against = tuple(one for one in under if one.verdict is not Verdict.holds and one.stake is not Stake.comfort)
    return Holding(name, against, tuple(one.id for one in under if one.verdict is Verdict.holds), bool(under))


@dataclass
class Ground:
    """Parts that are there, readings by name, and what works the findings of a subject out (None: none is held against work)."""

    now: datetime
    workshop: Workshop
    arrived: frozenset[str] = frozenset()
    promised: Mapping[str, str] = field(default_factory=dict)
    readings: Mapping[str, Taken] = field(default_factory=dict)
    findings: Callable[[str], Report] | None = None
    _known: dict[str, Holding] = field(default_factory=dict)
    _reports: dict[str, Report] = field(default_factory=dict)

    @property
    def report(self) -> Report | None:
        """All findings, worked out at the first call."""
        return self.report_of("")

    def holding(self, name: str) -> Holding:
        """The result of the findings of a name, worked out once."""
        if name not in self._known:
            subject = name.partition(".")[0]
            report = self.report_of(subject) if subject in subject_names() else None
            self._known[name] = holding(report, name) if report else Holding(name, (), (), is_known=False)
        return self._known[name]

    def by_hand(self, job: Job) -> tuple[str, ...]:
        """The findings that a job needs and that cannot be worked out for this build: to be checked by hand."""
        if self.findings is None:
            return ()
        return tuple(name for name in job.needed(NeedKind.finding) if not self.holding(name).is_known)

    def report_of(self, subject: str) -> Report | None:
        """The findings of one subject, "" for all, worked out at the first call."""
        if self.findings is None:
            return None
        if subject not in self._reports:
            self._reports[subject] = self._reports[""] if "" in self._reports else self.findings(subject)
        return self._reports[subject]
