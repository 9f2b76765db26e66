"""The plan of a build: its work put on the builder's own calendar, with dates, their spread, and what sets them.

Answers   plan_of      the plan, in the shape that `plan --json` prints
          Plan         the jobs left as a scheduling problem, and their schedule
Not here  the solver (schedule.py), the draws (dates.py), the calendar (calendar.py)

Working time is cut into quarters of an hour. Jobs are planned with their likely hours and the middle of their waits; a part not
ordered comes 5 to 40 days after the job that orders it (common practice, no source). What stands against a job for its findings
or readings is supposed to be settled in time. Work that is loud or wants a helper is cut into pieces that fit into the hours
there are for it; in between other work goes on.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from math import ceil
from typing import TYPE_CHECKING

import numpy as np
from pydantic import BaseModel, ConfigDict, Field

from trialfit.evaluation.shares import Shares
from trialfit.planning.calendar import Calendar
from trialfit.planning.critical import held_links, passes
from trialfit.planning.dates import Stage, drawn_between, drawn_date, drawn_hours, run
from trialfit.planning.job import Hours, NeedKind
from trialfit.planning.money import money_of
from trialfit.planning.problem import Link, Problem, Slots, Task
from trialfit.planning.ready import wait_end
from trialfit.planning.reports import remarks_on
from trialfit.planning.schedule import EFFORT, schedule
from trialfit.planning.states import State
from trialfit.planning.workshop import passing

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from numpy.typing import NDArray

    from trialfit.planning.critical import Passes
    from trialfit.planning.job import Job
    from trialfit.planning.money import Sum
    from trialfit.planning.schedule import Scheduled
    from trialfit.planning.site import Site

    Drawn = NDArray[np.float64]

QUARTER = 15.0
_DAY = 24 * 60.0
_ORDERING = "PL07"
_DELIVERY = (5.0, 40.0)
"""Days from ordering to arrival where nothing is promised: common practice, no source."""
_LONGEST = 366 * 12
_DRAWS = 2048
_FEW = 12
_LEAST_SHARE = 0.005
_MOST_SHARED = 400


class _Frozen(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class PlannedJob(_Frozen):
    """One job of the plan; times by the wall clock of the workshop."""

    id: str
    title: str
    begins: datetime
    ends: datetime
    float_hours: float = Field(description="working hours that it may slip without moving the end")
    is_on_chain: bool


class Delivery(_Frozen):
    """A part that is awaited, and what one day late on it costs."""

    part: str
    expected: datetime
    jobs: tuple[str, ...] = Field(description="the jobs that wait for it")
    day_late_costs: float = Field(description="days by which the end moves, on the average over all draws")


class Doubt(_Frozen):
    """A job, wait or delivery whose uncertainty matters to the end."""

    about: str
    share: float = Field(description="share of the variance of the end")


class SumView(_Frozen):
    """An amount with the limits it lies in."""

    amount: float
    low: float
    high: float
    currency: str


class MoneyView(_Frozen):
    """What was spent, is committed, is to come; by option of each choice; by job."""

    totals: dict[str, tuple[SumView, ...]]
    by_choice: dict[str, dict[str, tuple[SumView, ...]]]
    by_job: dict[str, tuple[SumView, ...]]
    without_price: tuple[str, ...]


class PlanReport(_Frozen):
    """The plan of a build."""

    build: str
    moment: datetime
    goal: str
    hours_left: float = Field(description="likely working hours of all jobs up to the goal")
    end: datetime | None = Field(
        description="the end when everything takes its likely time; null where nothing is left"
    )
    end_early: datetime | None = Field(description="5 % of the draws end by then")
    end_middle: datetime | None = Field(description="half of the draws end by then")
    end_late: datetime | None = Field(description="95 % of the draws end by then")
    chain: tuple[str, ...] = Field(description="the jobs that set the end, in order")
    jobs: tuple[PlannedJob, ...]
    deliveries: tuple[Delivery, ...]
    doubts: tuple[Doubt, ...]
    money: MoneyView
    is_proven: bool = Field(description="whether no shorter plan exists, for the likely times")
    gap: float = Field(description="share of its working time by which the plan may be longer than the best one")
    remarks: tuple[str, ...]


@dataclass
class Plan:
    """The jobs left, as a problem: `names` of them, `of` the job of each task; what arrives when (minutes: middle, half)."""

    site: Site
    names: list[str]
    of: list[str]
    calendar: Calendar
    problem: Problem
    arrivals: Mapping[str, tuple[float, float]]


def plan_of(
    site: Site,
    *,
    goal: str = "",
    effort: float = EFFORT,
    draws: int = _DRAWS,
    told: Callable[[datetime], None] | None = None,
) -> PlanReport:
    """The plan of a build up to a job or gate. `told` is called with the end of each better plan. Raises ValueError."""
    wanted = goal_of(site, goal)
    plan = put_together(site, wanted)
    if not plan.names:
        return _nothing_left(site, wanted)
    horizon = plan.problem.slots

    def better(end: int) -> None:
        if told:
            told(plan.calendar.moment(float(horizon.clock[min(end, len(horizon.clock)) - 1]) + QUARTER))

    found = schedule(plan.problem, effort, told=better)
    return _report(site, wanted, plan, found, draws)


def goal_of(site: Site, goal: str = "") -> str:
    """The job that a goal names: a job, a gate's own job, or the last gate's where nothing is named. Raises ValueError."""
    wanted = goal or site.workshop.goal or next(reversed(list(site.network.gates)), "")
    if wanted in site.network.gates:
        wanted = site.network.gates[wanted].job
    if wanted not in site.network.jobs:
        raise ValueError(f'"{wanted}" is neither a job nor a gate of this build')
    return wanted


def put_together(site: Site, goal: str) -> Plan:
    """The jobs left up to a goal, as a problem."""
    names = _left(site, goal)
    hours = sum(_hours_left(site, site.network.jobs[name]).likely for name in names)
    first = max(filter(None, [site.now.date(), site.workshop.begins]))
    calendar = Calendar(site.workshop, first, _days_needed(site, hours))
    base = calendar.work_time()
    if base.whole < hours * 60:
        raise ValueError(
            "the workshop has too few working hours for the work that is left: workshop.hours says when it is open"
        )
    slots, kinds = _slots(site, calendar, names)
    arrivals = _arrivals(site, calendar)
    pieces = [(name, piece) for name in names for piece in _pieces(site, site.network.jobs[name], calendar)]
    of = [name for name, _ in pieces]
    tasks = tuple(
        _task(site, site.network.jobs[name], piece, slots, kinds, calendar, arrivals) for name, piece in pieces
    )
    people = site.workshop.people + bool(site.workshop.helper)
    used = {one for task in tasks for one in task.uses if one != "people"}
    capacity = {"people": people, **{one: site.workshop.capacity(one) for one in sorted(used)}}
    missing = _missing(calendar, slots, site) if site.workshop.helper else {}
    last = {name: place for place, name in enumerate(of)}
    problem = Problem(tasks, tuple(_links(site, of)), slots, capacity, missing, last.get(goal))
    return Plan(site, names, of, calendar, problem, arrivals)


def _pieces(site: Site, job: Job, calendar: Calendar) -> list[int]:
    """A job's length in quarters of an hour, cut to fit where it is loud or wants a helper."""
    quarters = max(1, ceil(_hours_left(site, job).likely * 60 / QUARTER - 1e-9))
    people, is_loud = _kind(site, job)
    if (people, is_loud) == (1, False):
        return [quarters]
    windows = calendar.work_time(people, is_loud=is_loud)
    most = max(1, int(np.median(windows.ends - windows.begins) // QUARTER)) if windows.whole else quarters
    return [min(most, quarters - begun) for begun in range(0, quarters, most)]


def _left(site: Site, goal: str) -> list[str]:
    """The jobs not done up to the goal, in an order in which they could be done."""
    wanted = {goal}
    ancestors = _with_all_before(site, wanted)
    if _ORDERING in site.network.jobs and any(_waits_for_ordering(site, site.network.jobs[name]) for name in ancestors):
        wanted = {goal, _ORDERING}
    ancestors = _with_all_before(site, wanted)
    return [name for name in site.network.jobs if name in ancestors and not site.status.is_done(name)]


def _with_all_before(site: Site, wanted: set[str]) -> set[str]:
    """The jobs named and all that come before them."""
    wanted = set(wanted)
    for name in reversed(list(site.network.jobs)):
        if name in wanted:
            wanted.update(site.network.before[name])
    return wanted


def _hours_left(site: Site, job: Job) -> Hours:
    """What is left of a job's hours: those spent on it while it is in hand are taken off, down to a quarter."""
    known = site.status.job(job.id)
    spent = known.hours if known.state is State.in_hand and not known.done_once else 0.0
    low, likely, high = (max(0.25, hours - spent) for hours in (job.hours.low, job.hours.likely, job.hours.high))
    return Hours(low, likely, high)


def _days_needed(site: Site, hours: float) -> int:
    """Days that hold the work three times over, all waits and the holidays, whatever the week looks like."""
    weekly = sum(window.end - window.begin for window in site.workshop.week) / 60
    waits = sum(passing(wait, site.workshop.temperature)[2] for job in site.network.jobs.values() for wait in job.waits)
    off = sum((last - first).days + 1 for first, last in site.workshop.holidays)
    rare = 4 if site.workshop.helper else 1
    return min(_LONGEST, 120 + off + ceil(waits) + ceil((3 + rare) * 7 * hours / weekly) if weekly else _LONGEST)


def _kind(site: Site, job: Job) -> tuple[int, bool]:
    there = job.people if job.people <= site.workshop.people + bool(site.workshop.helper) else 1
    return there, job.is_loud and bool(site.workshop.quiet)


def _slots(site: Site, calendar: Calendar, names: list[str]) -> tuple[Slots, dict[tuple[int, bool], int]]:
    """The quarters of an hour that are worked, and for each kind of work those in which it may be done."""
    base = calendar.work_time()
    clock = np.concatenate(
        [np.arange(begin, end - QUARTER + 1e-9, QUARTER) for begin, end in zip(base.begins, base.ends, strict=True)]
    )
    kinds = {(1, False): 0}
    for name in names:
        kinds.setdefault(_kind(site, site.network.jobs[name]), len(kinds))
    allowed = []
    for people, is_loud in kinds:
        windows = calendar.work_time(people, is_loud=is_loud)
        if not windows.whole:
            raise ValueError(
                "there is never time for loud work, or for a helper: workshop.quiet and workshop.helper say when"
            )
        place = np.searchsorted(windows.begins, clock, side="right") - 1
        inside = np.maximum(place, 0)
        allowed.append((place >= 0) & (clock + QUARTER <= windows.ends[inside] + 1e-9))
    return Slots(clock, QUARTER, tuple(allowed)), kinds


def _task(
    site: Site,
    job: Job,
    quarters: int,
    slots: Slots,
    kinds: Mapping[tuple[int, bool], int],
    calendar: Calendar,
    arrivals: Mapping[str, tuple[float, float]],
) -> Task:
    uses = {"people": _kind(site, job)[0], **dict.fromkeys(job.uses, 1)}
    earliest = _release(site, job, calendar, arrivals)
    return Task(quarters, kinds[_kind(site, job)], uses, int(np.searchsorted(slots.clock, earliest - 1e-9)))


def _release(site: Site, job: Job, calendar: Calendar, arrivals: Mapping[str, tuple[float, float]]) -> float:
    """The earliest minute: now, when promised parts come, when waits that have begun are over."""
    moments = [max(0.0, calendar.minute(site.now))]
    moments += [arrivals[part][0] for part in job.needed(NeedKind.part) if part in arrivals]
    for name in job.jobs_needed:
        end = wait_end(site.network.jobs[name], site.status, site.ground)
        if end:
            moments.append(calendar.minute(end))
    return max(moments)


def _arrivals(site: Site, calendar: Calendar) -> dict[str, tuple[float, float]]:
    """The minute at which each part promised and not there is expected, and its half-width."""
    found = {}
    for order in site.orders.values():
        if order.part in site.ground.arrived or order.promised is None or order.state:
            continue
        noon = datetime.combine(order.promised, datetime.min.time()) + timedelta(hours=12)
        found[order.part] = (calendar.minute(noon), order.promised_spread * _DAY)
    return found


def _links(site: Site, of: list[str]) -> list[Link]:
    """The links between jobs, from the last piece of one to the first of the other; and between the pieces of a job."""
    first: dict[str, int] = {}
    last: dict[str, int] = {}
    links = []
    for place, name in enumerate(of):
        if name in last:
            links.append(Link(last[name], place))
        first.setdefault(name, place)
        last[name] = place
    for name, place in first.items():
        links += _links_to(site, name, place, last)
    return links


def _links_to(site: Site, name: str, place: int, last: Mapping[str, int]) -> list[Link]:
    links = []
    job = site.network.jobs[name]
    for before in site.network.before[name]:
        if before in last:
            earlier = site.network.jobs[before]
            days = max((passing(wait, site.workshop.temperature)[1] for wait in earlier.waits), default=0.0)
            must_pass = before in job.jobs_needed or earlier.gate
            links.append(Link(last[before], place, days * _DAY if must_pass else 0.0))
    if _ORDERING in last and _waits_for_ordering(site, job):
        links.append(Link(last[_ORDERING], place, sum(_DELIVERY) / 2 * _DAY))
    return links


def _waits_for_ordering(site: Site, job: Job) -> bool:
    promised = {order.part for order in site.orders.values() if order.promised is not None and not order.state}
    return any(part not in site.ground.arrived and part not in promised for part in job.needed(NeedKind.part))


def _missing(calendar: Calendar, slots: Slots, site: Site) -> dict[str, NDArray[np.int64]]:
    """The helper is missing whenever he is not there."""
    windows = calendar.work_time(site.workshop.people + 1)
    if not len(windows.begins):
        return {"people": np.ones(len(slots.clock), np.int64)}
    place = np.searchsorted(windows.begins, slots.clock, side="right") - 1
    is_there = (place >= 0) & (slots.clock + QUARTER <= windows.ends[np.maximum(place, 0)] + 1e-9)
    return {"people": (~is_there).astype(np.int64)}


# --- dates ---


def _stages(plan: Plan, held: Problem, draws: int, late: str = "") -> tuple[list[Stage], dict[str, Drawn]]:
    """Each job as it is drawn, and the draws by what they are of; `late` names a part that comes a day later."""
    site, drawn = plan.site, {}
    deliveries = {}
    for part, (middle, half) in plan.arrivals.items():
        drawn[f"delivery of {part}"] = drawn_date(f"order.{part}.promised", middle, half, draws)
        deliveries[part] = drawn[f"delivery of {part}"] + (_DAY if part == late else 0.0)
    whole: dict[str, int] = {}
    for name, task in zip(plan.of, plan.problem.tasks, strict=True):
        whole[name] = whole.get(name, 0) + task.length
    stages = []
    for number, (name, task) in enumerate(zip(plan.of, plan.problem.tasks, strict=True)):
        job = site.network.jobs[name]
        if name not in drawn:
            drawn[name] = drawn_hours(name, _hours_left(site, job), draws) * 60
        release = np.full(draws, _release(site, job, plan.calendar, {}))
        for part in job.needed(NeedKind.part):
            if part in deliveries:
                release = np.maximum(release, deliveries[part])
        follows = tuple((link.before, _drawn_wait(plan, link, draws, drawn, late)) for link in held.before[number])
        people, is_loud = _kind(site, job)
        minutes = drawn[name] * (task.length / whole[name])
        stages.append(Stage(minutes, plan.calendar.work_time(people, is_loud=is_loud), release, follows))
    return stages, drawn


def _drawn_wait(plan: Plan, link: Link, draws: int, drawn: dict[str, Drawn], late: str) -> Drawn:
    if not link.wait:
        return np.zeros(draws)
    before, after = plan.of[link.before], plan.site.network.jobs[plan.of[link.after]]
    if before == _ORDERING and _waits_for_ordering(plan.site, after):
        name = f"delivery for {after.id}"
        drawn.setdefault(name, drawn_between(name, _DELIVERY[0] * _DAY, _DELIVERY[1] * _DAY, draws))
        return drawn[name] + (_DAY if late in after.needed(NeedKind.part) else 0.0)
    times = [passing(wait, plan.site.workshop.temperature) for wait in plan.site.network.jobs[before].waits]
    low, _, high = max(times, key=lambda time: time[1])
    name = f"wait after {before}"
    drawn.setdefault(name, drawn_between(name, low * _DAY, high * _DAY, draws))
    return drawn[name]


def _report(site: Site, goal: str, plan: Plan, found: Scheduled, draws: int) -> PlanReport:
    held = held_links(plan.problem, found.starts)
    way = passes(held)
    stages, drawn = _stages(plan, held, draws)
    place = held.goal or 0
    end = run(stages, held.order)[place]
    early, middle, late = np.quantile(end[1:], [0.05, 0.5, 0.95]) if draws > 1 else (end[0],) * 3
    shares = _shares(drawn, end)
    doubts = sorted((Doubt(about=name, share=share) for name, share in shares.items()), key=lambda one: -one.share)
    moment = plan.calendar.moment
    jobs = _planned(plan, found, way)
    chain = tuple(dict.fromkeys(plan.of[number] for number in way.chain))
    return PlanReport(
        build=site.build.name,
        moment=site.now,
        goal=goal,
        hours_left=sum(_hours_left(site, site.network.jobs[name]).likely for name in plan.names),
        end=next(job.ends for job in jobs if job.id == goal),
        end_early=moment(early),
        end_middle=moment(middle),
        end_late=moment(late),
        chain=chain,
        jobs=tuple(sorted(jobs, key=lambda job: (job.begins, job.ends, job.id))),
        deliveries=_deliveries(plan, held, end, place, draws),
        doubts=tuple(one for one in doubts[:_FEW] if one.share > _LEAST_SHARE),
        money=_money(site),
        is_proven=found.is_proven,
        gap=found.gap,
        remarks=(*_remarks(site, goal, plan, found), *remarks_on(site)),
    )


def _shares(drawn: Mapping[str, Drawn], end: Drawn) -> dict[str, float]:
    """The share of the end's variance that each thing drawn causes; of very many, each by itself, by its correlation."""
    if len(drawn) <= _MOST_SHARED:
        return Shares(drawn)(end, list(drawn))
    centred = end[1:] - end[1:].mean()
    variance = float(centred @ centred)
    shares = {}
    for name, values in drawn.items():
        about = values[1:] - values[1:].mean()
        spread = float(about @ about)
        shares[name] = float(about @ centred) ** 2 / (spread * variance) if spread and variance else 0.0
    return shares


def _planned(plan: Plan, found: Scheduled, way: Passes) -> list[PlannedJob]:
    """Each job from the begin of its first piece to the end of its last."""
    clock, moment = plan.problem.slots.clock, plan.calendar.moment
    numbers: dict[str, list[int]] = {}
    for number, name in enumerate(plan.of):
        numbers.setdefault(name, []).append(number)
    jobs = []
    for name, those in numbers.items():
        slack = min(way.latest[number] - found.starts[number] for number in those)
        last = plan.problem.end(those[-1], found.starts[those[-1]]) - 1
        jobs.append(
            PlannedJob(
                id=name,
                title=plan.site.network.jobs[name].title,
                begins=moment(float(clock[found.starts[those[0]]])),
                ends=moment(float(clock[last]) + QUARTER),
                float_hours=max(0, slack) * QUARTER / 60,
                is_on_chain=any(number in way.chain for number in those),
            )
        )
    return jobs


def _deliveries(plan: Plan, held: Problem, end: Drawn, place: int, draws: int) -> tuple[Delivery, ...]:
    """Every part awaited, the dearest first."""
    site, found = plan.site, []
    awaited: dict[str, list[str]] = {}
    for name in plan.names:
        for part in site.network.jobs[name].needed(NeedKind.part):
            if part not in site.ground.arrived:
                awaited.setdefault(part, []).append(name)
    ordered = max((number for number, name in enumerate(plan.of) if name == _ORDERING), default=None)
    ends = run(_stages(plan, held, 1)[0], held.order)
    for part, jobs in awaited.items():
        later = run(_stages(plan, held, draws, late=part)[0], held.order)[place]
        middle = plan.arrivals[part][0] if part in plan.arrivals else None
        if middle is None:
            begin = float(ends[ordered][0]) if ordered is not None else plan.calendar.minute(site.now)
            middle = begin + sum(_DELIVERY) / 2 * _DAY
        costs = float(np.mean(later - end)) / _DAY
        found.append(Delivery(part=part, expected=plan.calendar.moment(middle), jobs=tuple(jobs), day_late_costs=costs))
    return tuple(sorted(found, key=lambda one: (-one.day_late_costs, one.part)))


def _remarks(site: Site, goal: str, plan: Plan, found: Scheduled) -> tuple[str, ...]:
    most = site.workshop.people + bool(site.workshop.helper)
    alone = [name for name in plan.names if site.network.jobs[name].people > most]
    told = []
    if alone:
        told.append(f"{', '.join(alone)} want more people than there ever are: somebody must be found for them.")
    cold = site.workshop.temperature
    late = [wait.what for name in plan.names for wait in site.network.jobs[name].waits if wait.temperature is not None
            and cold is not None and cold < wait.temperature]  # fmt: skip
    if late:
        told.append(f"It is colder than {', '.join(dict.fromkeys(late))} want: the wait is reckoned longer.")
    others = [name for name in site.network.jobs if name not in plan.names and not site.status.is_done(name)]
    if others:
        told.append(f"Not before {goal}, and so not in this plan: {', '.join(others)}.")
    if found.is_cut_short:
        told.append("The search was ended before it was done: this is the best plan so far.")
    return tuple(told)


def _money(site: Site) -> MoneyView:
    money = money_of(site.build, site.network, site.orders)
    return MoneyView(
        totals={kind: _views(sums) for kind, sums in money.totals.items()},
        by_choice={
            choice: {option: _views(sums) for option, sums in options.items()}
            for choice, options in money.by_choice.items()
        },
        by_job={job: _views(sums) for job, sums in money.by_job.items()},
        without_price=money.without_price,
    )


def _views(sums: tuple[Sum, ...]) -> tuple[SumView, ...]:
    return tuple(SumView(amount=one.amount, low=one.low, high=one.high, currency=one.currency) for one in sums)


def _nothing_left(site: Site, goal: str) -> PlanReport:
    return PlanReport(
        build=site.build.name,
        moment=site.now,
        goal=goal,
        hours_left=0.0,
        end=None,
        end_early=None,
        end_middle=None,
        end_late=None,
        chain=(),
        jobs=(),
        deliveries=(),
        doubts=(),
        money=_money(site),
        is_proven=True,
        gap=0.0,
        remarks=remarks_on(site),
    )
