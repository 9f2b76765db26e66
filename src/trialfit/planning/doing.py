"""What a builder does: whether it may be done, and the change of the book that records it.

Answers   start, finish, put_down, wait_over, leave, close, pass_gate    the event, or Refused with the reason
          record       puts an event into a book, as one change
Not here  its effects (states.py); what may be taken back (taking_back.py)
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from trialfit.book.changes import Change
from trialfit.book.refusals import Refused, Stale
from trialfit.parts.reading import nearest
from trialfit.planning.gates import look_at
from trialfit.planning.job import NeedKind
from trialfit.planning.look_again import READING
from trialfit.planning.own_jobs import read_end
from trialfit.planning.ready import unmet, wait_end
from trialfit.planning.states import MOVES, State
from trialfit.planning.taking_back import check_work
from trialfit.planning.work import Do, Event, as_entries

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from pydantic import JsonValue

    from trialfit.book.build import Build
    from trialfit.book.changes import Recorded
    from trialfit.book.journal import Book
    from trialfit.planning.job import Job, LooseEnd
    from trialfit.planning.ready import Unmet
    from trialfit.planning.site import Site

_TRIES = 20
_MOST_NAMED = 8
_MOST_HOURS = 10_000.0
_INSTEAD = {
    State.not_begun: "start or finish it",
    State.in_hand: "finish it, or put it down with start --put-down",
    State.done: "start --again --because REASON takes it up again",
    State.again: "start or finish it",
}


def start(site: Site, job: str, *, again: bool = False, because: str = "", although: str = "") -> Event:
    """A job taken in hand; one that was done, with `again` and the reason. Raises Refused."""
    found = _job(site, job)
    state = site.status.job(job).state
    if again:
        if state not in (State.done, State.again):
            raise Refused(site.where, job, f"is {state}: only a finished job can be taken up again")
        if not because:
            raise Refused(site.where, job, "is done: to take it up again, give the reason: --because REASON")
        _check_move(site, job, Do.reopen)
        return _event(site, Do.reopen, job=job, because=because)
    if state is State.done:
        since = site.status.job(job).since
        says = f"is done since {since:%Y-%m-%d}" if since else "is done"
        raise Refused(site.where, job, f"{says}: {_INSTEAD[State.done]}")
    _check_move(site, job, Do.start)
    _check_needs(site, found, unmet(found, site.network, site.status, site.ground), although)
    return _event(site, Do.start, job=job, although=although)


def finish(
    site: Site,
    job: str,
    *,
    hours: float | None = None,
    left: Iterable[LooseEnd] | None = None,
    although: str = "",
) -> Event:
    """A job finished, with the loose ends it left (None: the usual ones). Raises Refused."""
    found = _job(site, job)
    if site.status.is_done(job):
        raise Refused(site.where, job, f"is already done: {_INSTEAD[State.done]}")
    _check_move(site, job, Do.finish)
    if hours is not None and not 0 <= hours <= _MOST_HOURS:
        says = f"has {hours:g} hours spent on it: expected a number from 0 to {_MOST_HOURS:g}, for example 2.5"
        raise Refused(site.where, job, says)
    against = [one for one in unmet(found, site.network, site.status, site.ground) if one.kind != "tool"]
    _check_needs(site, found, (*against, *_readings_missing(site, found)), although)
    ends = usual_ends(site, job) if left is None else tuple(left)
    for end in ends:
        _check_gate(site, end.gate)
    return _event(site, Do.finish, job=job, hours=hours, leaves=ends, relied=_relied(site, found), although=although)


def usual_ends(site: Site, job: str) -> tuple[LooseEnd, ...]:
    """The loose ends that a job usually leaves."""
    return tuple(site.network.ends[name] for name in _job(site, job).leaves)


def own_end(site: Site, text: str, job: str = "") -> LooseEnd:
    """A loose end as the builder types it: "plug in the spare port @ first-fire". Raises Refused."""
    end = read_end(text, job)
    if end is None:
        raise Refused(
            site.where, "", f'"{text}" is not a loose end: write it as in "plug in the spare port @ first-fire"'
        )
    _check_gate(site, end.gate)
    name = end.id if end.id not in site.status.ends else f"{end.id}-{_next(site)}"
    return replace(end, id=name)


def put_down(site: Site, job: str) -> Event:
    """A job in hand put down again, as if not begun. Raises Refused."""
    _job(site, job)
    _check_move(site, job, Do.put_down)
    return _event(site, Do.put_down, job=job)


def wait_over(site: Site, job: str) -> Event:
    """The wait after a job is over: it has arrived, or has dried. Raises Refused."""
    found = _job(site, job)
    _check_move(site, job, Do.wait_over)
    if wait_end(found, site.status, site.ground) is None:
        raise Refused(site.where, job, "has no wait to end")
    return _event(site, Do.wait_over, job=job)


def leave(site: Site, text: str) -> Event:
    """A loose end that was found, or was not left by a job. Raises Refused."""
    return _event(site, Do.leave, leaves=(own_end(site, text),), because="written down by hand")


def close(site: Site, end: str, *, by: str = "", because: str = "") -> Event:
    """A loose end closed: by a reading or finding, which must keep its limits, or by hand with a reason. Raises Refused."""
    known = site.status.ends.get(end)
    if known is None or not known.is_open:
        opened = [one.end.id for one in site.status.open_ends]
        raise Refused(site.where, end, f"is not an open loose end: {nearest(end, opened) if opened else 'none is'}")
    if by:
        wanted = known.end.closed_by_reading
        if by != wanted:
            closers = ", ".join([*known.end.closed_by, *([f"the reading {wanted}"] if wanted else [])]) or "a reason"
            raise Refused(site.where, end, f"is not closed by {by}: {closers} closes it")
        if says := _against_reading(site, by):
            raise Refused(site.where, end, f"stays open: {says}")
        return _event(site, Do.close, end=end, by=by, relied=())
    if not because:
        closers = ", ".join([*known.end.closed_by, *filter(None, [known.end.closed_by_reading])])
        told = f"{closers} closes it; by hand" if closers else "by hand"
        raise Refused(site.where, end, f"needs what closes it: {told}, give the reason: --because REASON")
    return _event(site, Do.close, end=end, because=because)


def pass_gate(site: Site, gate: str, *, although: str = "") -> Event:
    """A gate passed. Raises Refused with everything that blocks it, unless `although` says why it is passed anyway."""
    _check_gate(site, gate)
    look = look_at(gate, site.network, site.status, site.ground)
    if look.is_passed:
        raise Refused(site.where, gate, "is passed already")
    if look.blocks and not although:
        says = f"may not be passed, {len(look.blocks)} things block it: {_told(look.blocks)}"
        raise Refused(site.where, gate, f"{says}. To pass it anyway, give the reason: --although REASON")
    return _event(site, Do.go, gate=gate, although=although if look.blocks else "")


def record(
    book: Book,
    make: Callable[[Build], Event],
    *,
    device: str = "",
    note: str = "",
) -> tuple[Event, Recorded]:
    """Makes an event from the newest build and writes it into the book as one change; repeats that if another device
    wrote first.
    """
    for _ in range(_TRIES):
        event = make(book.build())
        taken = max(map(int, book.document.work), default=0)
        event = replace(event, number=max(taken + 1, event.number))
        entries: dict[str, JsonValue] = {
            key: list(entry) if isinstance(entry, tuple) else entry for key, entry in as_entries(event).items()
        }
        change = Change(path=f"work.{event.number}", before=None, after=entries, note=note)
        try:
            return event, book.write(change, device, check_work(str(book.path)))
        except Stale:
            continue
    raise Refused(book.path, "", "is being written to by others: try again")


def _event(site: Site, what: Do, **more: object) -> Event:
    return Event(number=_next(site), what=what, when=site.now, **more)  # type: ignore[arg-type]


def _next(site: Site) -> int:
    return site.events[-1].number + 1 if site.events else 1


def _job(site: Site, name: str) -> Job:
    if name not in site.network.jobs:
        raise Refused(site.where, "", f'unknown job "{name}": {nearest(name, site.network.jobs)}')
    return site.network.jobs[name]


def _check_gate(site: Site, gate: str) -> None:
    if gate not in site.network.gates:
        raise Refused(site.where, "", f'unknown gate "{gate}": {nearest(gate, site.network.gates)}')


def _check_move(site: Site, job: str, what: Do) -> None:
    state = site.status.job(job).state
    if (state, what) not in MOVES:
        raise Refused(site.where, job, f"is {state}: {_INSTEAD[state]}")
    since = site.status.job(job).since
    if since is not None and site.now < since:
        says = f"is {state} since {since:%Y-%m-%d %H:%M}: {site.now:%Y-%m-%d %H:%M} is before that"
        raise Refused(site.where, job, says)


def _check_needs(site: Site, job: Job, against: Iterable[Unmet], although: str) -> None:
    blocking = tuple(against)
    if blocking and not although:
        says = f"{_told(blocking)}. To do it anyway, give the reason: --although REASON"
        raise Refused(site.where, job.id, f"waits: {says}")


def _told(against: tuple[Unmet, ...]) -> str:
    named = [_until(one) if one.until else _sentence(one) for one in against]
    more = f"; and {len(named) - _MOST_NAMED} more" if len(named) > _MOST_NAMED else ""
    return "; ".join(named[:_MOST_NAMED]) + more


def _until(one: Unmet) -> str:
    over = f" at the latest (finish {one.name} --wait-over says that it is over)" if one.kind == "wait" else ""
    return f"{one.says} until {one.until:%Y-%m-%d %H:%M}{over}"


def _sentence(one: Unmet) -> str:
    return one.says if one.name in one.says else f"{one.name}: {one.says}"


def _readings_missing(site: Site, job: Job) -> list[Unmet]:
    from trialfit.planning.ready import Unmet as Missing

    found = []
    for name in job.readings:
        taken = site.ground.readings.get(name)
        if taken is None or not taken.does:
            says = taken.says if taken else f"{name} is not in the book"
            found.append(Missing("reading", name, f"{says} (trialfit set {site.where} reading.{name} VALUE)"))
    return found


def _against_reading(site: Site, name: str) -> str:
    """What is against a reading or finding; "" if it holds."""
    taken = site.ground.readings.get(name)
    if taken is not None:
        return "" if taken.does else taken.says
    held = site.ground.holding(name)
    if not held.is_known:
        return f"{name} cannot be worked out for this build: its readings are missing"
    return held.says


def _relied(site: Site, job: Job) -> tuple[str, ...]:
    """The findings and readings that the job depends on and that hold now."""
    findings = [one for name in job.needed(NeedKind.finding) for one in site.ground.holding(name).holds]
    names = (*job.needed(NeedKind.reading), *job.readings)
    readings = [f"{READING}{name}" for name in names if (one := site.ground.readings.get(name)) and one.does]
    return tuple(dict.fromkeys([*findings, *readings]))
