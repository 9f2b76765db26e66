"""The plan of a build: its work put on the builder's own calendar, with dates, their spread, and what sets them.

Answers   plan_of       the plan, in the shape that `plan --json` prints
          goal_of       the job that a goal names
Not here  the jobs as a scheduling problem (task_list.py), the solver (schedule.py), the draws (plan_dates.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.parts.reading import nearest
from trialfit.planning.critical import held_links, passes
from trialfit.planning.dates import run
from trialfit.planning.job import NeedKind
from trialfit.planning.money import money_of
from trialfit.planning.plan_dates import deliveries, shares, stages
from trialfit.planning.plan_report import Doubt, MoneyView, PlannedJob, PlanReport, SumView
from trialfit.planning.reports import remarks_on
from trialfit.planning.schedule import EFFORT, schedule
from trialfit.planning.task_list import QUARTER, hours_left, put_together

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import datetime

    from trialfit.planning.critical import Passes
    from trialfit.planning.job import Job
    from trialfit.planning.money import Sum
    from trialfit.planning.schedule import Scheduled
    from trialfit.planning.site import Site
    from trialfit.planning.task_list import Plan

_DRAWS = 2048
_FEW = 12
_LEAST_SHARE = 0.005


def plan_of(
    site: Site,
    *,
    goal: str = "",
    effort: float = EFFORT,
    seconds: float | None = None,
    draws: int = _DRAWS,
    told: Callable[[datetime], None] | None = None,
) -> PlanReport:
    """The plan of a build up to a job or gate. Raises ValueError.

    It is searched with an effort, the same plan each time, or for a number of `seconds`. `told` is called with the end
    of each better one.
    """
    wanted = goal_of(site, goal)
    plan = put_together(site, wanted)
    if not plan.names:
        return _nothing_left(site, wanted)
    horizon = plan.problem.slots

    def better(end: int) -> None:
        if told:
            told(plan.calendar.moment(float(horizon.clock[min(end, len(horizon.clock)) - 1]) + QUARTER))

    try:
        found = schedule(plan.problem, effort, seconds=seconds, told=better)
    except ValueError:
        last = plan.calendar.moment(float(horizon.clock[-1]))
        raise ValueError(
            f"the remaining work does not fit into the working time until {last:%Y-%m-%d}: workshop.hours, holidays, quiet and "
            'helper say when it can be done, for example helper = ["Sat 09:00-17:00"]'
        ) from None
    return _report(site, wanted, plan, found, draws)


def goal_of(site: Site, goal: str = "") -> str:
    """The job that a goal names: a job, a gate's own job, or without a name the job of the last gate. Raises
    ValueError.
    """
    wanted = goal or site.workshop.goal or next(reversed(list(site.network.gates)), "")
    if wanted in site.network.gates:
        wanted = site.network.gates[wanted].job
    if wanted not in site.network.jobs:
        near = nearest(wanted, [*site.network.gates, *site.network.jobs])
        raise ValueError(f'"{wanted}" is neither a job nor a gate of this build: {near}')
    return wanted


def _report(site: Site, goal: str, plan: Plan, found: Scheduled, draws: int) -> PlanReport:
    held = held_links(plan.problem, found.starts)
    way = passes(held)
    drawn_stages, drawn = stages(plan, held, draws)
    place = held.goal or 0
    end = run(drawn_stages, held.order)[place]
    early, middle, late = np.quantile(end[1:], [0.05, 0.5, 0.95]) if draws > 1 else (end[0],) * 3
    found_shares = shares(drawn, end)
    doubts = sorted((Doubt(about=name, share=one) for name, one in found_shares.items()), key=lambda one: -one.share)
    moment = plan.calendar.moment
    jobs = _planned(plan, found, way)
    chain = tuple(dict.fromkeys(plan.of[number] for number in way.chain))
    return PlanReport(
        build=site.build.name,
        moment=site.now,
        goal=goal,
        hours_left=sum(hours_left(site, site.network.jobs[name]).likely for name in plan.names),
        end=next(job.ends for job in jobs if job.id == goal),
        end_early=moment(early),
        end_middle=moment(middle),
        end_late=moment(late),
        chain=chain,
        jobs=tuple(sorted(jobs, key=lambda job: (job.begins, job.ends, job.id))),
        deliveries=deliveries(plan, held, end, place, draws),
        doubts=tuple(one for one in doubts[:_FEW] if one.share > _LEAST_SHARE),
        money=_money(site),
        is_proven=found.is_proven,
        gap=found.gap,
        remarks=(*_remarks(site, goal, plan, found), *remarks_on(site)),
    )


def _planned(plan: Plan, found: Scheduled, way: Passes) -> list[PlannedJob]:
    """Each job from the start of its first piece to the end of its last."""
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


def _remarks(site: Site, goal: str, plan: Plan, found: Scheduled) -> tuple[str, ...]:
    most = site.workshop.people + bool(site.workshop.helper)
    alone = [name for name in plan.names if site.network.jobs[name].people > most]
    told = []
    if alone:
        told.append(f"{', '.join(alone)} need more people than are available: arrange help.")
    cold = site.workshop.temperature
    late = [wait.what for name in plan.names for wait in site.network.jobs[name].waits if wait.temperature is not None
            and cold is not None and cold < wait.temperature]  # fmt: skip
    if late:
        these = ", ".join(dict.fromkeys(late))
        told.append(f"The workshop is below curing temperature: waits lengthened: {these}.")
    others = [name for name in site.network.jobs if name not in plan.names and not site.status.is_done(name)]
    if others:
        told.append(f"Not before {goal}, and so not in this plan: {', '.join(others)}.")
    hoping = [name for name in plan.names if _hopes(site.network.jobs[name])]
    if hoping:
        told.append(
            f"{len(hoping)} of these jobs also need findings that hold, readings or a gate passed: the plan assumes them in time. "
            "trialfit jobs shows what is open now."
        )
    if found.is_cut_short:
        told.append("The search was stopped early: this is the best plan so far.")
    return tuple(told)


def _hopes(job: Job) -> bool:
    """Whether something without a date must be settled before a job."""
    return bool(job.needed(NeedKind.finding) or job.needed(NeedKind.reading) or job.needed(NeedKind.gate))


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
