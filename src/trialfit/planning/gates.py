"""May a gate be passed, and what blocks it.

Answers   look_at      a gate, with everything that blocks it and everything to note besides
          GateLook     the answer
Not here  the record that it was passed (doing.py); what shuts it again (states.py)

What blocks: a gate before it that is not passed; a job that must come first and is not done, or whose wait is not over; a
loose end that must not pass; a reading that is not taken or does not keep its limits; a finding with safety at stake that
does not hold, or one with durability at stake that fails. What is only unsettled there, and comfort, is noted.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from trialfit.evaluation.requirement import Stake
from trialfit.evaluation.verdict import Verdict
from trialfit.planning.ready import Unmet, wait_end

if TYPE_CHECKING:
    from collections.abc import Iterable

    from trialfit.evaluation.finding import Finding
    from trialfit.planning.ground import Ground
    from trialfit.planning.job import Gate
    from trialfit.planning.network import Network
    from trialfit.planning.states import GateStatus, Status


@dataclass(frozen=True)
class GateLook:
    """A gate: what blocks it, and what to note besides."""

    gate: Gate
    status: GateStatus
    blocks: tuple[Unmet, ...]
    remarks: tuple[str, ...]

    @property
    def is_passed(self) -> bool:
        """Whether it was passed and has not been shut since."""
        return self.status.is_passed

    @property
    def may_pass(self) -> bool:
        """Whether nothing blocks it."""
        return not self.blocks


def look_at(name: str, network: Network, status: Status, ground: Ground) -> GateLook:
    """The present state of a gate. Raises KeyError."""
    gate = network.gates[name]
    names = network.up_to(name)
    blocks = [
        Unmet("gate", one, f"the gate {one} comes before it and is not passed")
        for one in names[:-1]
        if not status.gates[one].is_passed
    ]
    blocks += _jobs(names, network, status, ground)
    blocks += [
        Unmet("loose end", one.end.id, f"{one.end.says}, since {one.since:%Y-%m-%d}: {one.because}")
        for one in status.open_ends
        if one.end.gate in names
    ]
    blocks += _readings(names, network, ground)
    findings = _findings(gate, ground)
    blocks += [Unmet("finding", one.id, f"{one.verdict}, stake: {one.stake}") for one in findings if _blocks(one)]
    remarks = [f"{one.id}: {one.verdict}, stake: {one.stake}" for one in findings if not _blocks(one)]
    words = [word for word in gate.findings if word != "*" and ground.findings and not ground.holding(word).is_known]
    for job in network.jobs.values():
        words += [f"{word} ({job.id})" for word in ground.by_hand(job) if job.gate in names or job.id == gate.job]
    if words:
        remarks.append(f"the program cannot check this for this build, see to it by hand: {', '.join(words)}")
    return GateLook(gate, status.gates[name], tuple(blocks), tuple(remarks))


def _jobs(names: tuple[str, ...], network: Network, status: Status, ground: Ground) -> Iterable[Unmet]:
    for job in network.jobs.values():
        if job.gate not in names:
            continue
        known = status.job(job.id)
        if not status.is_done(job.id):
            because = f" ({known.because})" if known.because else ""
            yield Unmet("job", job.id, f"{job.title}: {known.state}{because}")
        elif end := wait_end(job, status, ground):
            what = ", ".join(wait.what for wait in job.waits)
            yield Unmet("wait", job.id, f"{what} after {job.id}", end)


def _readings(names: tuple[str, ...], network: Network, ground: Ground) -> Iterable[Unmet]:
    wanted = {name for job in network.jobs.values() for name in job.readings}
    for taken in ground.readings.values():
        if taken.gate in names and taken.name in wanted and not taken.does:
            yield Unmet("reading", taken.name, taken.says)


def _findings(gate: Gate, ground: Ground) -> list[Finding]:
    if ground.report is None:
        return []
    return [
        one
        for one in ground.report.findings
        if one.verdict is not Verdict.holds
        and any(word in ("*", one.id) or one.id.startswith(f"{word}.") for word in gate.findings)
    ]


def _blocks(finding: Finding) -> bool:
    if finding.stake is Stake.safety:
        return True
    return finding.stake is Stake.durability and finding.verdict is Verdict.fails
