"""A change of the book that contradicts what was done since is refused, with the first contradiction.

Answers   check_work   the check, for every change of jobs and of what was done
Not here  the rules of states (states.py); when something may be done (doing.py)

Two things are checked. What was done must still be allowed by the rules of states. And a finish can be taken back only while
no job begun or finished since, and no gate passed since, depends on it. What was done with --although does not count: it was
done on the car, and taking back an entry does not undo it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.book.build import Build
from trialfit.book.changes import document
from trialfit.book.problems import BadInput
from trialfit.book.refusals import Refused
from trialfit.planning.site import site_of
from trialfit.planning.states import fold
from trialfit.planning.work import Do, events_of

if TYPE_CHECKING:
    from trialfit.book.changes import State
    from trialfit.book.checking import Check
    from trialfit.planning.network import Network
    from trialfit.planning.site import Site
    from trialfit.planning.work import Event


def check_work(where: str) -> Check:
    """Refuses a change after which what was done no longer fits the rules, or the jobs cannot be read."""

    def check(old: State, new: State) -> None:
        was = _problems(old)
        site, problems = _read(new)
        fresh = [says for says in problems if says not in was]
        if fresh:
            raise Refused(where, "", f"does not fit what was done since: {fresh[0]}")
        if site and (says := _stands_on(old, site)):
            raise Refused(where, "", f"does not fit what was done since: {says}. Take that back first")

    return check


def _problems(state: State) -> list[str]:
    return _read(state)[1]


def _read(state: State) -> tuple[Site | None, list[str]]:
    """The work of a state, None if it is missing or cannot be read, and what does not fit in it."""
    if not state.get("jobs") and not state.get("work"):
        return None, []
    try:
        site = site_of(Build.from_document(document(state))[0])
    except BadInput as wrong:
        return None, [str(problem) for problem in wrong.problems]
    return site, site.status.problems


def _stands_on(old: State, site: Site) -> str:
    """The first thing done that depends on a job whose finish is taken back; "" if none."""
    kept = {event.number for event in site.events}
    gone = [
        event
        for event in (events_of(document(old)) if old.get("work") else ())
        if event.number not in kept and event.what is Do.finish and event.job in site.network.jobs
    ]
    for finish in gone:
        for later in site.events:
            if later.number > finish.number and _is_on(later, finish.job, site.network):
                before = [event for event in site.events if event.number < later.number]
                if not fold(site.network, before).is_done(finish.job):
                    what = f"{later.what} {later.job or later.gate}"
                    return f"work.{later.number}, {what}, depends on {finish.job}"
    return ""


def _is_on(event: Event, job: str, network: Network) -> bool:
    """Whether something done needed a finished job, and was not done with --although."""
    if event.although:
        return False
    if event.what in (Do.start, Do.finish):
        return event.job in network.jobs and job in network.jobs[event.job].jobs_needed
    return event.what is Do.go and network.jobs[job].gate in network.up_to(event.gate)
