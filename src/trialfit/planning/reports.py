"""What the commands about the work report, in the shapes that their --json prints.

Answers   JobsReport, LooseReport, GateReport, Done     the shapes, and jobs_report, loose_report, gate_report, done that fill them
Not here  how it looks (cli/); dates and money (plans.py)
"""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from pydantic import Field

from trialfit.facts.frozen import Frozen
from trialfit.planning.gates import look_at
from trialfit.planning.hand_checks import HandCheck, before, hand_checks
from trialfit.planning.look_again import to_look_at_again
from trialfit.planning.ready import Stand, unmet
from trialfit.planning.states import State

if TYPE_CHECKING:
    from collections.abc import Mapping

    from trialfit.planning.gates import GateLook
    from trialfit.planning.job import Job
    from trialfit.planning.ready import Unmet
    from trialfit.planning.site import Site
    from trialfit.planning.states import EndStatus
    from trialfit.planning.work import Event

_OF_ORDER = {Stand.in_hand: 0, Stand.ready: 1, Stand.waiting: 2, Stand.done: 3}


class Against(Frozen):
    """One thing that blocks a job or a gate."""

    kind: str = Field(description="job, wait, part, finding, reading, gate, tool or loose end")
    name: str
    says: str
    until: datetime | None = Field(description="when it is over, if known")


class JobView(Frozen):
    """One job with its present state."""

    id: str
    title: str
    stands: Stand
    state: State
    since: datetime | None
    hours: tuple[float, float, float] = Field(description="low, likely, high")
    spent: float = Field(description="hours spent so far")
    against: tuple[Against, ...] = Field(description="what blocks it; empty if it is ready")
    because: str = Field(description="why it is to be done again; empty if it is not")
    gate: str = Field(description="the gate that it must precede; empty if none")
    by_hand: tuple[str, ...] = Field(description="findings it needs that cannot be worked out for this build")
    cautions: str


class LookAgain(Frozen):
    """A job that is done, and what it relied on that no longer holds."""

    job: str
    what: str
    says: str
    facts: tuple[str, ...] = Field(description="the facts behind it that were written since")


class JobsReport(Frozen):
    """All jobs of a build with their present state."""

    build: str
    moment: datetime
    jobs: tuple[JobView, ...]
    look_again: tuple[LookAgain, ...]
    remarks: tuple[str, ...]


class EndView(Frozen):
    """One loose end."""

    id: str
    says: str
    where: str
    is_open: bool
    since: datetime
    because: str
    job: str = Field(description="the job that left it; empty if it was written down by hand")
    closed_by: tuple[str, ...] = Field(description="the jobs that close it")
    closed_by_reading: str = Field(description="the reading or finding that closes it; empty if none")
    gate: str = Field(description="the gate that it blocks, and with it all later ones")


class LooseReport(Frozen):
    """Every loose end of a build."""

    build: str
    moment: datetime
    ends: tuple[EndView, ...]


class GateReport(Frozen):
    """A gate: whether it may be passed, and what blocks it."""

    build: str
    moment: datetime
    gate: str
    title: str
    is_passed: bool
    since: datetime | None = Field(description="since when it is passed; null if it is not")
    although: str = Field(description="why it was passed although something blocked it; empty if nothing did")
    because: str = Field(description="what shut it again; empty if nothing did")
    may_pass: bool = Field(description="whether nothing blocks it now")
    blocks: tuple[Against, ...]
    remarks: tuple[str, ...]
    by_hand: tuple[HandCheck, ...] = Field(
        default=(),
        description="ways of failing at stake safety that nothing judges: to be looked at, they do not block",
    )


class Done(Frozen):
    """One thing that was done, as one change of the book, and its effects."""

    file: str
    number: int = Field(description="number of the change in the journal")
    what: str
    about: str = Field(description="the job, loose end or gate")
    when: datetime
    opened: tuple[EndView, ...] = Field(description="loose ends that it leaves open")
    closed: tuple[EndView, ...]
    again: tuple[str, ...] = Field(description="jobs to do again because of it")
    shut: tuple[str, ...] = Field(description="gates to pass again because of it")
    ready: tuple[str, ...] = Field(description="jobs that it makes ready")
    cautions: tuple[str, ...]
    remarks: tuple[str, ...] = ()


def jobs_report(site: Site, changed: Mapping[str, int] | None = None) -> JobsReport:
    """All jobs: in hand, ready, waiting, done."""
    names = sorted(site.network.jobs, key=lambda name: _OF_ORDER[site.standings[name].stand])
    turned = to_look_at_again(site.status, site.ground, changed)
    return JobsReport(
        build=site.build.name,
        moment=site.now,
        jobs=tuple(_job(site, site.network.jobs[name]) for name in names),
        look_again=tuple(LookAgain(job=one.job, what=one.what, says=one.says, facts=one.facts) for one in turned),
        remarks=remarks_on(site),
    )


def loose_report(site: Site, *, closed_too: bool = False) -> LooseReport:
    """Every open loose end, those of the first gate first; on request the closed ones after them."""
    gates = [*site.network.gates, ""]
    ends = [one for one in site.status.ends.values() if one.is_open or closed_too]
    ends.sort(key=lambda one: (not one.is_open, gates.index(one.end.gate) if one.end.gate in gates else len(gates)))
    return LooseReport(build=site.build.name, moment=site.now, ends=tuple(map(end_view, ends)))


def gate_report(site: Site, gate: str) -> GateReport:
    """The present state of a gate. Raises KeyError."""
    return _gate(site, look_at(gate, site.network, site.status, site.ground))


def done(before: Site, after: Site, event: Event, number: int, remarks: tuple[str, ...] = ()) -> Done:
    """What was done, and its effects: the difference of two sites."""
    was, now = before.status, after.status
    opened = [
        one for name, one in now.ends.items() if one.is_open and not (name in was.ends and was.ends[name].is_open)
    ]
    closed = [one for name, one in now.ends.items() if not one.is_open and name in was.ends and was.ends[name].is_open]
    again = [
        name for name, one in now.jobs.items() if one.state is State.again and was.job(name).state is not State.again
    ]
    ready = [
        name
        for name in (after.network.after.get(event.job, ()) if event.job else after.network.jobs)
        if _is_ready(after, name) and not _is_ready(before, name)
    ]
    job = after.network.jobs.get(event.job)
    return Done(
        file=after.where,
        number=number,
        what=str(event.what),
        about=event.job or event.end or event.gate or ", ".join(end.id for end in event.leaves),
        when=event.when,
        opened=tuple(map(end_view, opened)),
        closed=tuple(map(end_view, closed)),
        again=tuple(again),
        shut=tuple(gate for gate in now.gates if was.gates[gate].is_passed and not now.gates[gate].is_passed),
        ready=tuple(ready),
        cautions=(job.cautions,) if job and job.cautions else (),
        remarks=(*(_by_hand(after, job) if job else ()), *remarks),
    )


def end_view(one: EndStatus) -> EndView:
    """A loose end as it is shown."""
    return EndView(
        id=one.end.id,
        says=one.end.says,
        where=one.end.where,
        is_open=one.is_open,
        since=one.since,
        because=one.because or one.by,
        job=one.end.job,
        closed_by=one.end.closed_by,
        closed_by_reading=one.end.closed_by_reading,
        gate=one.end.gate,
    )


def remarks_on(site: Site) -> tuple[str, ...]:
    """Remarks for every page about the work."""
    gone = [name for name in site.status.jobs if name not in site.network.jobs]
    told = [f"{', '.join(gone)}: in the book, but not among the jobs of this build now."] if gone else []
    return (*told, *(f"{says}." for says in site.status.problems))


def against(these: tuple[Unmet, ...]) -> tuple[Against, ...]:
    """What blocks something, as it is shown."""
    return tuple(Against(kind=one.kind, name=one.name, says=one.says, until=one.until) for one in these)


def _job(site: Site, job: Job) -> JobView:
    known, standing = site.status.job(job.id), site.standings[job.id]
    return JobView(
        id=job.id,
        title=job.title,
        stands=standing.stand,
        state=known.state,
        since=known.since,
        hours=(job.hours.low, job.hours.likely, job.hours.high),
        spent=known.hours,
        against=against(standing.unmet),
        because=known.because,
        gate=job.gate,
        by_hand=site.ground.by_hand(job),
        cautions=job.cautions,
    )


def _by_hand(site: Site, job: Job) -> tuple[str, ...]:
    names = site.ground.by_hand(job)
    return (f"{', '.join(names)} cannot be worked out for this build: check by hand.",) if names else ()


def _is_ready(site: Site, name: str) -> bool:
    """Whether a job is ready; findings are looked at last, because they take longest."""
    job = site.network.jobs[name]
    state = site.status.job(name).state
    if state in (State.done, State.in_hand) or not all(map(site.status.is_done, job.jobs_needed)):
        return False
    return not unmet(job, site.network, site.status, site.ground)


def _gate(site: Site, look: GateLook) -> GateReport:
    return GateReport(
        build=site.build.name,
        moment=site.now,
        gate=look.gate.id,
        title=look.gate.title,
        is_passed=look.is_passed,
        since=look.status.since,
        although=look.status.although,
        because=look.status.because,
        may_pass=look.may_pass,
        blocks=against(look.blocks),
        remarks=look.remarks,
        by_hand=_by_hand_before(site, look.gate.id),
    )


def _by_hand_before(site: Site, gate: str) -> tuple[HandCheck, ...]:
    """What nothing judges and is looked at before a gate; nothing where findings are left out."""
    report = site.ground.report
    if report is None:
        return ()
    return before(gate, hand_checks(site.build, report), list(site.network.gates)[-1])
