"""What may be done now: no solver, one look at each job.

Answers   standings     every job: done, in hand, ready, waiting, and for what until when
          unmet         what blocks one job
          wait_end      when the wait after a job is over at the latest
          kept_until    how long something that dries keeps its place at the latest
          expected_end  the same for a plan: when the wait is likely to be over
          holders       the job that has each tool and place now
          in_the_way    those of them that a job has to wait for
Not here  in which order (advice/weekend.py); by which date (schedule.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from enum import StrEnum
from typing import TYPE_CHECKING

from trialfit.planning.job import NeedKind
from trialfit.planning.states import State
from trialfit.planning.workshop import passing

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping
    from datetime import datetime

    from trialfit.planning.ground import Ground
    from trialfit.planning.job import Job, Need, Wait
    from trialfit.planning.network import Network
    from trialfit.planning.states import Status

    Holders = dict[str, datetime | None]


class Stand(StrEnum):
    """The state of a job: ready, waiting, in hand, done."""

    done = "done"
    in_hand = "in hand"
    ready = "ready"
    waiting = "waiting"


@dataclass(frozen=True)
class Unmet:
    """One thing that blocks a job: `name` is the job, part, finding, reading, gate or tool; `until` if known."""

    kind: str
    name: str
    says: str
    until: datetime | None = None


@dataclass(frozen=True)
class Standing:
    """The state of one job, and what blocks it."""

    stand: Stand
    unmet: tuple[Unmet, ...] = ()


def standings(network: Network, status: Status, ground: Ground) -> dict[str, Standing]:
    """Every job with its present state."""
    look, idle = _Look(network, status, ground), _Look(network, status, ground, busy={})
    found = {}
    for name, job in network.jobs.items():
        state = status.job(name).state
        if state is State.done:
            found[name] = _DONE
        elif state is State.in_hand:
            found[name] = Standing(Stand.in_hand, tuple(idle.unmet(job)))
        else:
            against = look.unmet(job)
            found[name] = Standing(Stand.waiting, tuple(against)) if against else _READY
    return found


def unmet(job: Job, network: Network, status: Status, ground: Ground) -> tuple[Unmet, ...]:
    """What blocks one job."""
    return tuple(_Look(network, status, ground).unmet(job))


def wait_end(job: Job, status: Status, ground: Ground) -> datetime | None:
    """When the longest wait after a job is over at the latest; None if none is left."""
    ends = _ends(job, job.waits, status, ground)
    return ends[-1] if ends else None


def kept_until(job: Job, place: str, status: Status, ground: Ground) -> datetime | None:
    """How long a finished job keeps a place for drying at the latest; None if the place is free."""
    ends = _ends(job, [wait for wait in job.waits if wait.place == place], status, ground)
    return ends[-1] if ends else None


def expected_end(
    job: Job, status: Status, ground: Ground, place: str = ""
) -> tuple[datetime, datetime, datetime] | None:
    """When the waits after a job (or those that keep a place) are over: earliest, likely, latest; None where none is left.

    If the likely moment has passed and the wait is not recorded as over, it is expected to end tomorrow, as for an
    overdue part, or at its latest moment if that is sooner.
    """
    ends = _ends(job, [wait for wait in job.waits if place in ("", wait.place)], status, ground)
    if ends is None:
        return None
    low, likely, latest = ends
    if likely <= ground.now:
        likely = min(latest, ground.now + timedelta(days=1))
    return max(low, ground.now), likely, latest


def _ends(job: Job, waits: Iterable[Wait], status: Status, ground: Ground) -> list[datetime] | None:
    """When waits after a job are over: earliest, likely, latest; None where none is left."""
    known = status.job(job.id)
    times = [passing(wait, ground.workshop.temperature) for wait in waits]
    if not times or known.is_wait_over or known.since is None or known.state is not State.done:
        return None
    ends = [known.since + timedelta(days=max(those)) for those in zip(*times, strict=True)]
    return ends if ends[-1] > ground.now else None


def holders(network: Network, status: Status, ground: Ground) -> dict[str, Holders]:
    """The job that has each tool and place: jobs in hand until they are finished (None), and drying until it is dry.

    The plan goes by the same rule (task_list.py).
    """
    found: dict[str, Holders] = {}
    for name, known in status.jobs.items():
        job = network.jobs.get(name)
        if job is None:
            continue
        for tool in job.takes:
            until = kept_until(job, tool, status, ground)
            if until or known.state is State.in_hand:
                found.setdefault(tool, {})[name] = until
    return found


_DONE = Standing(Stand.done)
_READY = Standing(Stand.ready)


class _Look:
    """One look at the work: the result for a job serves all jobs that need it."""

    def __init__(
        self, network: Network, status: Status, ground: Ground, busy: Mapping[str, Holders] | None = None
    ) -> None:
        self.network, self.status, self.ground = network, status, ground
        self.busy = holders(network, status, ground) if busy is None else busy
        self.known: dict[str, Unmet | None] = {}
        self.shut = {name for name, one in status.gates.items() if not one.is_passed}

    def unmet(self, job: Job) -> list[Unmet]:
        """What blocks a job."""
        against = [found for name in job.jobs_needed if (found := self.of_job(name))]
        against += [found for need in job.other_needs if (found := _of_other(need, self.status, self.ground))]
        for gate in self.network.gates_behind[job.id] if self.shut else ():
            if gate in self.shut and not any(one.name == gate for one in against):
                against.append(Unmet("gate", gate, _of_gate(gate, self.status, self.ground)))
        for tool in job.takes if self.busy else ():
            users = in_the_way(job, self.busy.get(tool, {}), self.network)
            too_many = len(users) + 1 - self.ground.workshop.capacity(tool)
            if users and too_many > 0:
                ends = sorted(until for until in users.values() if until)
                until = ends[too_many - 1] if len(ends) >= too_many else None
                against.append(Unmet("tool", tool, f"the {tool} is taken: {', '.join(users)}", until))
        return against

    def of_job(self, name: str) -> Unmet | None:
        """What blocks everything that needs a job: it is not done, or a wait after it is not over."""
        if name not in self.known:
            self.known[name] = self._of_job(name)
        return self.known[name]

    def _of_job(self, name: str) -> Unmet | None:
        known = self.status.job(name)
        if known.state is not State.done:
            return Unmet("job", name, f"{name} is {known.state}")
        job = self.network.jobs[name]
        if job.waits and (end := wait_end(job, self.status, self.ground)):
            what = ", ".join(wait.what for wait in job.waits)
            return Unmet("wait", name, f"{what} after {name}", end)
        return None


def _of_other(need: Need, status: Status, ground: Ground) -> Unmet | None:
    says = _READERS[need.kind](need.name, status, ground)
    return Unmet(str(need.kind), need.name, says) if says else None


def _of_part(name: str, _: Status, ground: Ground) -> str:
    return "" if name in ground.arrived else f"{name} {ground.promised.get(name, 'is not ordered')}"


def _of_finding(name: str, _: Status, ground: Ground) -> str:
    return ground.holding(name).says


def _of_reading(name: str, _: Status, ground: Ground) -> str:
    taken = ground.readings.get(name)
    if taken and taken.does:
        return ""
    return taken.says if taken else f"{name} is not in the book"


def _of_gate(name: str, status: Status, _: Ground) -> str:
    gate = status.gates.get(name)
    if gate is None or gate.is_passed:
        return ""
    return f"the gate {name} was shut again: {gate.because}" if gate.because else f"the gate {name} is not passed"


_READERS: dict[NeedKind, Callable[[str, Status, Ground], str]] = {
    NeedKind.part: _of_part,
    NeedKind.finding: _of_finding,
    NeedKind.reading: _of_reading,
    NeedKind.gate: _of_gate,
}


def in_the_way(job: Job, users: Holders, network: Network) -> Holders:
    """The jobs that keep something from a job: not itself, and not one that was begun too early and needs the job.
    Drying after a job that was done too early keeps its place anyway: it is wet.
    """
    return {
        name: until
        for name, until in users.items()
        if name != job.id and (until is not None or not _leads_to(job.id, name, network))
    }


def _leads_to(job: str, other: str, network: Network) -> bool:
    """Whether one job comes before another, directly or through others."""
    seen, left = {other}, [other]
    while left:
        for one in network.before[left.pop()]:
            if one == job:
                return True
            if one not in seen:
                seen.add(one)
                left.append(one)
    return False
