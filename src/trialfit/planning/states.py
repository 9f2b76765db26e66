"""The state of every job, loose end and gate, from what was done. All rules are in this module; no file, no clock.

Answers   MOVES      the table: what may be done to a job in which state, and the state after it
          EFFECTS    the table: what else each thing done brings about, in this order
          fold       everything done, one after the other, on the network of a build
          Status     the states after it, and the entries of the record that do not fit the rules
Not here  whether prerequisites are met (ready.py), whether a gate may be passed (gates.py)

When a job is taken up again (the sump comes off once more):

    undo                what it had closed is open again; what it leaves is open again; and the same for every job that
                        the tables name as undone by it, and so on
    call_closers        whenever a loose end opens, a job that closes it and was done is to be done again; what that job
                        closed besides stays closed
    shut_gates          whenever a loose end opens or a job is undone, the gate it must not pass and all later gates that had
                        been passed are shut: they must be passed again
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from trialfit.planning.work import Do

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import datetime

    from trialfit.planning.job import LooseEnd
    from trialfit.planning.network import Network
    from trialfit.planning.work import Event


class State(StrEnum):
    """The states of a job."""

    not_begun = "not begun"
    in_hand = "in hand"
    done = "done"
    again = "to do again"


class Effect(StrEnum):
    """What a thing done brings about besides the state of its job."""

    close_what_it_closes = "the loose ends that the job closes are closed"
    open_what_it_left = "the loose ends that it left are open"
    undo = "what it closed and left is open again, and so for all that the tables name as undone by it"
    end_wait = "the wait is over"
    close_one = "the loose end named is closed"
    mark_gate = "the gate named is passed"


MOVES = {
    (State.not_begun, Do.start): State.in_hand,
    (State.not_begun, Do.finish): State.done,
    (State.in_hand, Do.finish): State.done,
    (State.in_hand, Do.put_down): State.not_begun,
    (State.done, Do.reopen): State.in_hand,
    (State.done, Do.wait_over): State.done,
    (State.again, Do.start): State.in_hand,
    (State.again, Do.finish): State.done,
    (State.again, Do.reopen): State.in_hand,
}
"""What may be done to a job, by its state, and the state after it. What is not here may not be done."""

EFFECTS = {
    Do.start: (),
    Do.put_down: (),
    Do.finish: (Effect.close_what_it_closes, Effect.open_what_it_left),
    Do.reopen: (Effect.undo,),
    Do.wait_over: (Effect.end_wait,),
    Do.leave: (Effect.open_what_it_left,),
    Do.close: (Effect.close_one,),
    Do.go: (Effect.mark_gate,),
}


@dataclass(frozen=True)
class JobStatus:
    """A job's state: since when, hours spent so far, why it is to be done again, what it relied on when it was
    finished.
    """

    state: State = State.not_begun
    since: datetime | None = None
    hours: float = 0.0
    because: str = ""
    relied: tuple[str, ...] = ()
    is_wait_over: bool = False
    done_once: bool = False
    event: int = 0


@dataclass(frozen=True)
class EndStatus:
    """A loose end's state: since when it is so, what closed it, or why it is open."""

    end: LooseEnd
    is_open: bool
    since: datetime
    by: str = ""
    because: str = ""


@dataclass(frozen=True)
class GateStatus:
    """Whether a gate is passed, since when; why it was shut again, or passed although something was open."""

    is_passed: bool = False
    since: datetime | None = None
    because: str = ""
    although: str = ""


@dataclass
class Status:
    """The states of everything. `problems` are things done that the rules do not allow, one sentence each."""

    jobs: dict[str, JobStatus] = field(default_factory=dict)
    ends: dict[str, EndStatus] = field(default_factory=dict)
    gates: dict[str, GateStatus] = field(default_factory=dict)
    problems: list[str] = field(default_factory=list)

    def job(self, name: str) -> JobStatus:
        """The state of a job; without a record it is not begun."""
        return self.jobs.get(name, _UNTOUCHED)

    def is_done(self, name: str) -> bool:
        """Whether a job is done now."""
        return self.job(name).state is State.done

    @property
    def open_ends(self) -> list[EndStatus]:
        """All open loose ends, in the order in which they were opened."""
        return [one for one in self.ends.values() if one.is_open]


_UNTOUCHED = JobStatus()


def fold(network: Network, events: Iterable[Event]) -> Status:
    """The states after everything that was done."""
    folding = _Folding(network)
    for event in events:
        folding.take(event)
    return folding.status


class _Folding:
    """The states while one thing after the other is taken in."""

    def __init__(self, network: Network) -> None:
        self.network = network
        self.status = Status(gates={gate: GateStatus() for gate in network.gates})
        self.undone: set[str] = set()

    def take(self, event: Event) -> None:
        if event.job and event.what is not Do.leave:
            self._move(event)
        self.undone = set()
        for effect in EFFECTS[event.what]:
            getattr(self, f"_{effect.name}")(event)

    def _move(self, event: Event) -> None:
        old = self.status.job(event.job)
        new = MOVES.get((old.state, event.what))
        if new is None:
            self.status.problems.append(
                f"work.{event.number}: {event.job} is {old.state}, and cannot be taken as {event.what}"
            )
            new = State.done if event.what is Do.finish else old.state
        self.status.jobs[event.job] = replace(
            old,
            state=new,
            since=old.since if event.what is Do.wait_over else event.when,
            hours=old.hours + (event.hours or 0.0),
            because=event.because if event.what is Do.reopen else "",
            relied=event.relied if event.what is Do.finish else old.relied,
            is_wait_over=old.is_wait_over and event.what is Do.wait_over,
            done_once=old.done_once or new is State.done,
            event=event.number,
        )

    def _close_what_it_closes(self, event: Event) -> None:
        for name in self.network.closed_by.get(event.job, ()):
            if name in self.status.ends and self.status.ends[name].is_open:
                self._closed(name, event, event.job)

    def _open_what_it_left(self, event: Event) -> None:
        for end in event.leaves:
            self._open(
                self.network.ends.get(end.id, end), event, f"left by {event.job}" if event.job else event.because
            )

    def _undo(self, event: Event) -> None:
        self._undo_job(event.job, event, event.because)

    def _end_wait(self, event: Event) -> None:
        self.status.jobs[event.job] = replace(self.status.job(event.job), is_wait_over=True)

    def _close_one(self, event: Event) -> None:
        one = self.status.ends.get(event.end)
        if one is None or not one.is_open:
            self.status.problems.append(f"work.{event.number}: {event.end} is not an open loose end")
        else:
            self._closed(event.end, event, event.by or event.because)

    def _mark_gate(self, event: Event) -> None:
        if event.gate in self.status.gates:
            self.status.gates[event.gate] = GateStatus(True, event.when, "", event.although)  # noqa: FBT003

    # --- what follows from it ---

    def _closed(self, name: str, event: Event, by: str) -> None:
        one = self.status.ends[name]
        self.status.ends[name] = replace(one, is_open=False, since=event.when, by=by, because="")

    def _open(self, end: LooseEnd, event: Event, because: str) -> None:
        old = self.status.ends.pop(end.id, None)  # what opens anew goes to the end of the list
        since = old.since if old and old.is_open else event.when
        self.status.ends[end.id] = EndStatus(end, is_open=True, since=since, because=because)
        for closer in end.closed_by:
            if self.status.is_done(closer) and closer != event.job:
                self._again(closer, event, f"{end.says}: open again")
        self._shut(end.gate, f"{end.says} ({because})")

    def _undo_job(self, name: str, event: Event, because: str) -> None:
        if name in self.undone:
            return
        self.undone.add(name)
        if name != event.job:
            self._again(name, event, because)
        for one in list(self.status.ends.values()):
            was_closed = not one.is_open and one.by == name
            was_left = (
                one.end.job == name and name in self.network.jobs and one.end.id in self.network.jobs[name].leaves
            )
            if was_closed or was_left:
                self._open(one.end, event, f"{name} taken up again" if name == event.job else f"undone by {event.job}")
        if name in self.network.jobs:
            self._shut(self.network.jobs[name].gate, f"{name} is to be done again")
        for other in self.network.undoes.get(name, ()):
            if self.status.is_done(other) or (self.status.job(other).state is State.again):
                self._undo_job(other, event, f"undone by {name}, taken up again")

    def _again(self, name: str, event: Event, because: str) -> None:
        old = self.status.job(name)
        self.status.jobs[name] = replace(old, state=State.again, since=event.when, because=because)
        self._shut(self.network.jobs[name].gate, f"{name} is to be done again")

    def _shut(self, gate: str, because: str) -> None:
        for later in self.network.from_gate(gate):
            if self.status.gates[later].is_passed:
                self.status.gates[later] = GateStatus(because=because)
