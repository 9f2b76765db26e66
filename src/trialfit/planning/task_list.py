"""The remaining jobs of a build as tasks on working time: the data of the plan.

Answers   put_together  the jobs left up to a goal, as a scheduling problem
          Plan          that: jobs, tasks, calendar, arrivals
Not here  which task comes after which (task_links.py), the solver (schedule.py), the draws (plan_dates.py), the calendar (calendar.py)

Working time is cut into quarters of an hour. Jobs are planned with their likely hours and the middle of their waits; a part not
ordered comes 5 to 40 days after the job that orders it (common practice, no source). Findings, readings and gates that
block a job are assumed to be settled in time. Loud work, and work that needs a helper, is cut into pieces that fit
into the hours available for it; other work goes on in between.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from math import ceil
from typing import TYPE_CHECKING

import numpy as np

from trialfit.planning.calendar import Calendar
from trialfit.planning.job import Hours, NeedKind
from trialfit.planning.problem import Problem, Slots, Task
from trialfit.planning.ready import expected_end
from trialfit.planning.states import State
from trialfit.planning.task_links import DAY, DELIVERY, ORDERING, links_between, waits_for_ordering
from trialfit.planning.workshop import passing

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from trialfit.planning.calendar import WorkTime
    from trialfit.planning.job import Job
    from trialfit.planning.site import Site

QUARTER = 15.0
_LONGEST = 366 * 12
_NAMED = 6  # jobs in a sentence


@dataclass
class Plan:
    """The jobs left, as a problem: `names` of them, `of` the job of each task; what arrives when (minutes: middle, half)."""

    site: Site
    names: list[str]
    of: list[str]
    calendar: Calendar
    problem: Problem
    arrivals: Mapping[str, tuple[float, float]]


def put_together(site: Site, goal: str) -> Plan:
    """The jobs left up to a goal, as a problem."""
    names = _left(site, goal)
    hours = sum(hours_left(site, site.network.jobs[name]).likely for name in names)
    first = max(filter(None, [site.now.date(), site.workshop.begins]))
    calendar = Calendar(site.workshop, first, _days_needed(site, hours))
    base = calendar.work_time()
    if base.whole < hours * 60:
        raise ValueError(_too_few(site, calendar, hours))
    making = _Making(site, calendar, names)
    pieces = [(name, piece) for name in names for piece in _pieces(site, site.network.jobs[name], calendar)]
    of = [name for name, _ in pieces]
    last = {name: place for place, name in enumerate(of)}
    tasks = tuple(making.task(name, piece, is_last=last[name] == place) for place, (name, piece) in enumerate(pieces))
    people = site.workshop.people + bool(site.workshop.helper)
    used = {one for task in tasks for one in task.uses if one != "people"}
    capacity = {"people": people, **{one: site.workshop.capacity(one) for one in sorted(used)}}
    for tool in [one for one, count in capacity.items() if not count]:
        takers = [name for name in names if tool in site.network.jobs[name].takes]
        raise ValueError(
            f'workshop.resources has "{tool} 0", and {_few(takers)} need it: write "{tool} 1", or skip them'
        )
    problem = Problem(tasks, tuple(links_between(site, of)), making.slots, capacity, making.missing(), last.get(goal))
    return Plan(site, names, of, calendar, problem, making.arrivals)


class _Making:
    """The data that all tasks of one problem share while it is put together."""

    def __init__(self, site: Site, calendar: Calendar, names: list[str]) -> None:
        self.site, self.calendar = site, calendar
        self.arrivals = _arrivals(site, calendar, names)
        self.kinds = {(1, False): 0}
        for name in names:
            self.kinds.setdefault(kind_of(site, site.network.jobs[name]), len(self.kinds))
        self.slots = self._slots()

    def task(self, name: str, quarters: int, *, is_last: bool) -> Task:
        """A piece of a job; the last one keeps the places in which something dries."""
        job = self.site.network.jobs[name]
        kind = kind_of(self.site, job)
        release = release_of(self.site, job, self.calendar, self.arrivals)
        holds: dict[str, float] = {}
        for wait in job.waits if is_last else ():
            if wait.place:
                time = passing(wait, self.site.workshop.temperature)[1] * DAY
                holds[wait.place] = max(time, holds.get(wait.place, 0.0))
        uses = {"people": kind[0], **dict.fromkeys(job.takes, 1)}
        return Task(quarters, self.kinds[kind], uses, int(np.searchsorted(self.slots.clock, release - 1e-9)), holds)

    def missing(self) -> dict[str, NDArray[np.int64]]:
        """The hours without the helper, and places still taken by drying from before."""
        found: dict[str, NDArray[np.int64]] = {}
        if self.site.workshop.helper:
            windows = self.calendar.work_time(self.site.workshop.people + 1)
            found["people"] = (~self._inside(windows)).astype(np.int64)
        site = self.site
        for tool, those in site.holders.items():
            for name in [name for name, until in those.items() if until]:
                ends = expected_end(site.network.jobs[name], site.status, site.ground, tool)
                if ends:
                    row = found.setdefault(tool, np.zeros(len(self.slots.clock), np.int64))
                    row += self.slots.clock < self.calendar.minute(ends[1]) - 1e-9
        return found

    def _slots(self) -> Slots:
        """The quarters of an hour that are worked, and for each kind of work those in which it may be done."""
        base = self.calendar.work_time()
        self.clock = np.concatenate(
            [np.arange(begin, end - QUARTER + 1e-9, QUARTER) for begin, end in zip(base.begins, base.ends, strict=True)]
        )
        allowed = []
        for people, is_loud in self.kinds:
            windows = self.calendar.work_time(people, is_loud=is_loud)
            if not windows.whole:
                raise ValueError(
                    "no hours are left for loud work, or for a helper: set workshop.quiet and workshop.helper"
                )
            allowed.append(self._inside(windows))
        return Slots(self.clock, QUARTER, tuple(allowed))

    def _inside(self, windows: WorkTime) -> NDArray[np.bool_]:
        """For each quarter whether it lies in a window."""
        if not len(windows.begins):
            return np.zeros(len(self.clock), bool)
        place = np.searchsorted(windows.begins, self.clock, side="right") - 1
        return (place >= 0) & (self.clock + QUARTER <= windows.ends[np.maximum(place, 0)] + 1e-9)


def _pieces(site: Site, job: Job, calendar: Calendar) -> list[int]:
    """A job's length in quarters of an hour, cut to fit if it is loud or needs a helper."""
    quarters = max(1, ceil(hours_left(site, job).likely * 60 / QUARTER - 1e-9))
    people, is_loud = kind_of(site, job)
    if (people, is_loud) == (1, False):
        return [quarters]
    windows = calendar.work_time(people, is_loud=is_loud)
    most = max(1, int(np.median(windows.ends - windows.begins) // QUARTER)) if windows.whole else quarters
    return [min(most, quarters - begun) for begun in range(0, quarters, most)]


def _left(site: Site, goal: str) -> list[str]:
    """The unfinished jobs up to the goal, in an order in which they can be done."""
    wanted = {goal}
    ancestors = _with_all_before(site, wanted)
    if ORDERING in site.network.jobs and any(waits_for_ordering(site, site.network.jobs[name]) for name in ancestors):
        wanted = {goal, ORDERING}
    # a job in hand keeps its tools until it is finished, whether the goal needs it or not
    wanted |= {name for held in site.holders.values() for name, until in held.items() if until is None}
    ancestors = _with_all_before(site, wanted)
    return [name for name in site.network.jobs if name in ancestors and not site.status.is_done(name)]


def _with_all_before(site: Site, wanted: set[str]) -> set[str]:
    """The jobs named and all that come before them."""
    wanted = set(wanted)
    for name in reversed(list(site.network.jobs)):
        if name in wanted:
            wanted.update(site.network.before[name])
    return wanted


def hours_left(site: Site, job: Job) -> Hours:
    """The remaining hours of a job: those spent while it is in hand are taken off, down to a quarter."""
    known = site.status.job(job.id)
    spent = known.hours if known.state is State.in_hand and not known.done_once else 0.0
    low, likely, high = (max(0.25, hours - spent) for hours in (job.hours.low, job.hours.likely, job.hours.high))
    return Hours(low, likely, high)


def _days_needed(site: Site, hours: float) -> int:
    """Enough days for three times the work, all waits and the holidays, in any kind of week."""
    weekly = sum(window.end - window.begin for window in site.workshop.week) / 60
    waits = sum(passing(wait, site.workshop.temperature)[2] for job in site.network.jobs.values() for wait in job.waits)
    off = sum((last - first).days + 1 for first, last in site.workshop.holidays)
    rare = 4 if site.workshop.helper else 1
    return min(_LONGEST, 120 + off + ceil(waits) + ceil((3 + rare) * 7 * hours / weekly) if weekly else _LONGEST)


def _too_few(site: Site, calendar: Calendar, hours: float) -> str:
    weekly = sum(window.end - window.begin for window in site.workshop.week) / 60
    last = calendar.moment(calendar.days * DAY)
    return (
        f"{hours:g} hours of work are left, and {calendar.work_time().whole / 60:g} hours are free until {last:%Y-%m-%d}: "
        f"workshop.hours gives {weekly:g} hours a week, workshop.holidays takes away, workshop.extra adds; "
        'write for example hours = ["Mon-Fri 18:00-21:00", "Sat 09:00-17:00"]'
    )


def _few(names: list[str]) -> str:
    more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
    return ", ".join(names[:_NAMED]) + more


def kind_of(site: Site, job: Job) -> tuple[int, bool]:
    """The kind of time a job needs: people, and whether it is loud."""
    there = job.people if job.people <= site.workshop.people + bool(site.workshop.helper) else 1
    return there, job.is_loud and bool(site.workshop.quiet)


def release_of(site: Site, job: Job, calendar: Calendar, arrivals: Mapping[str, tuple[float, float]]) -> float:
    """The earliest minute: now, when promised parts come, when waits that have begun are likely to be over."""
    moments = [max(0.0, calendar.minute(site.now))]
    moments += [arrivals[part][0] for part in job.needed(NeedKind.part) if part in arrivals]
    moments += [likely for _, likely, _ in running_waits(site, job, calendar).values()]
    return max(moments)


def running_waits(site: Site, job: Job, calendar: Calendar) -> dict[str, tuple[float, float, float]]:
    """The waits that have begun and that a job has to await, by the job that they follow: minutes, earliest, likely,
    latest.
    """
    found = {}
    for name in job.jobs_needed:
        ends = expected_end(site.network.jobs[name], site.status, site.ground)
        if ends:
            low, likely, latest = map(calendar.minute, ends)
            found[name] = (low, likely, latest)
    return found


def _arrivals(site: Site, calendar: Calendar, names: list[str]) -> dict[str, tuple[float, float]]:
    """The minute at which each missing part is expected, and its half-width. An overdue part comes tomorrow at the
    earliest. A part without a promised date is counted from the job that orders it; if that is done, from now.
    """
    found = {}
    now = calendar.minute(site.now)
    for order in site.orders.values():
        if order.part in site.ground.arrived or order.promised is None or order.state:
            continue
        noon = datetime.combine(order.promised, datetime.min.time()) + timedelta(hours=12)
        found[order.part] = (max(calendar.minute(noon), now + DAY), order.promised_spread * DAY)
    if ORDERING in site.network.jobs and not site.status.is_done(ORDERING):
        return found
    low, high = DELIVERY
    for name in names:
        for part in site.network.jobs[name].needed(NeedKind.part):
            if part not in site.ground.arrived:
                found.setdefault(part, (now + (low + high) / 2 * DAY, (high - low) / 2 * DAY))
    return found
