"""What to do in the available hours: jobs that are ready now, first those that most other jobs wait for.

Answers   what_next     the list, in the shape that `next --json` prints
          weekend_hours the hours of the workshop on Saturday and Sunday
          behind        the number of jobs that wait for each
Not here  what is ready (planning/ready.py), dates (planning/schedule.py)

A job comes first when more unfinished jobs wait for it, directly or through others; among equals the longer chain. Jobs that
were begun come first. The list is filled by likely hours; the last job may only be begun.
"""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from pydantic import Field

from trialfit.facts.frozen import Frozen
from trialfit.planning.job import NeedKind
from trialfit.planning.look_again import to_look_at_again
from trialfit.planning.ready import Stand
from trialfit.planning.reports import EndView, LookAgain, end_view, remarks_on
from trialfit.planning.task_list import hours_left

if TYPE_CHECKING:
    from collections.abc import Mapping

    from trialfit.planning.job import Job
    from trialfit.planning.network import Network
    from trialfit.planning.site import Site
    from trialfit.planning.states import EndStatus, Status
    from trialfit.planning.workshop import Workshop

_WEEKEND = (5, 6)
_LEAST = 0.05  # with less time than this, h, nothing is begun


class PartNeeded(Frozen):
    """A part that a job needs, and where it is kept."""

    part: str
    lies: str


class NextJob(Frozen):
    """One job to do, with everything it needs."""

    id: str
    title: str
    is_in_hand: bool
    hours: tuple[float, float, float] = Field(description="low, likely, high")
    left: float = Field(description="likely hours left")
    planned: float = Field(description="hours of it that fit into the available time")
    people: int
    frees: tuple[str, ...] = Field(description="jobs that wait only for this one")
    behind: int = Field(description="how many unfinished jobs wait for it, directly or through others")
    parts: tuple[PartNeeded, ...]
    tools: str
    uses: tuple[str, ...]
    sheets: str
    readings: tuple[str, ...] = Field(description="readings that must be in the book before it is finished")
    waits: tuple[str, ...] = Field(description="waiting time after it")
    by_hand: tuple[str, ...] = Field(description="findings it needs that cannot be calculated for this build")
    leaves: tuple[str, ...] = Field(description="loose ends it usually leaves")
    cautions: str

    def hours_in_words(self) -> str:
        """Its hours, the rest if it was begun, and the hours that fit into the available time if these are fewer."""
        low, likely, high = self.hours
        rest = f"; {self.left:g} h left" if self.left < likely else ""
        part = f"; {self.planned:g} h fit" if self.planned < self.left else ""
        return f"{likely:g} ({low:g} to {high:g}){rest}{part}"


class NextList(Frozen):
    """What to do in the available hours."""

    build: str
    moment: datetime
    hours: float
    people: int
    jobs: tuple[NextJob, ...]
    left_over: tuple[str, ...] = Field(description="ready too, but beyond the available hours")
    needs_more_people: tuple[str, ...]
    loose_first: tuple[EndView, ...] = Field(description="loose ends of the next gate")
    look_again: tuple[LookAgain, ...]
    remarks: tuple[str, ...]


def what_next(site: Site, hours: float, people: int = 1) -> NextList:
    """The jobs to do in so many hours with so many people."""
    waiting_for = behind(site.network, site.status)
    chosen = [name for name, one in site.standings.items() if one.stand in (Stand.ready, Stand.in_hand)]
    chosen.sort(key=lambda name: (site.standings[name].stand is not Stand.in_hand, -waiting_for[name]))
    able = [name for name in chosen if site.network.jobs[name].people <= people]
    left, listed, over = hours * people, [], []
    for name in able:
        job = site.network.jobs[name]
        planned = min(left, hours_left(site, job).likely * job.people)
        if left < _LEAST:
            over.append(name)
            continue
        left -= planned
        listed.append(_entry(site, job, planned / job.people, waiting_for[name]))
    turned = to_look_at_again(site.status, site.ground)
    return NextList(
        build=site.build.name,
        moment=site.now,
        hours=hours,
        people=people,
        jobs=tuple(listed),
        left_over=tuple(over),
        needs_more_people=tuple(name for name in chosen if site.network.jobs[name].people > people),
        loose_first=tuple(map(end_view, _of_next_gate(site))),
        look_again=tuple(LookAgain(job=one.job, what=one.what, says=one.says, facts=one.facts) for one in turned),
        remarks=remarks_on(site),
    )


def weekend_hours(workshop: Workshop) -> tuple[float, str]:
    """Hours of a usual Saturday and Sunday, h, and where they come from; those of the whole week if the weekend has none."""
    days = [window for window in workshop.week if window.day in _WEEKEND]
    minutes = sum(window.end - window.begin for window in days or workshop.week)
    return (
        minutes / 60,
        "Saturday and Sunday of the workshop" if days else "the workshop's whole week, no weekend hours set",
    )


def behind(network: Network, status: Status) -> Mapping[str, int]:
    """How many unfinished jobs wait for each, directly or through others."""
    names = list(network.jobs)
    bits: dict[str, int] = {}
    for place in range(len(names) - 1, -1, -1):
        name = names[place]
        found = 0
        for one in network.after[name]:
            found |= bits[one]
        bits[name] = found if status.is_done(name) else found | 1 << place
    return {name: bits[name].bit_count() - (not status.is_done(name)) for name in names}


def _of_next_gate(site: Site) -> list[EndStatus]:
    gate = next((name for name, one in site.status.gates.items() if not one.is_passed), None)
    return [one for one in site.status.open_ends if one.end.gate == gate]


def _entry(site: Site, job: Job, planned: float, waiting_for: int) -> NextJob:
    freed = [
        name
        for name in site.network.after[job.id]
        if all(one == job.id or site.status.is_done(one) for one in site.network.jobs[name].jobs_needed)
        and job.id in site.network.jobs[name].jobs_needed
    ]
    lies = {order.part: order.lies for order in site.orders.values() if order.is_there}
    return NextJob(
        id=job.id,
        title=job.title,
        is_in_hand=site.standings[job.id].stand is Stand.in_hand,
        hours=(job.hours.low, job.hours.likely, job.hours.high),
        left=hours_left(site, job).likely,
        planned=planned,
        people=job.people,
        frees=tuple(freed),
        behind=waiting_for,
        parts=tuple(PartNeeded(part=part, lies=lies.get(part, "")) for part in job.needed(NeedKind.part)),
        tools=job.tools,
        uses=job.uses,
        sheets=job.sheets,
        readings=job.readings,
        waits=tuple(f"{wait.what} {wait.low:g} to {wait.high:g} days" for wait in job.waits),
        by_hand=site.ground.by_hand(job),
        leaves=tuple(site.network.ends[end].says for end in job.leaves),
        cautions=job.cautions,
    )
