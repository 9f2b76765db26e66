"""The dates of a plan as distributions: how much each job, wait and delivery moves the end.

Answers   stages        each task as it is drawn, and the draws by job, wait or delivery
          shares        the share of the end's variance that each of them causes
          deliveries    the parts on order, and the cost of one day late on each
Not here  the drawing itself (dates.py); the plan (plans.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.shares import Shares
from trialfit.planning.dates import Stage, drawn_between, drawn_date, drawn_hours, run
from trialfit.planning.job import NeedKind
from trialfit.planning.plan_report import Delivery
from trialfit.planning.task_links import DAY, DELIVERY, ORDERING, waits_for_ordering
from trialfit.planning.task_list import hours_left, kind_of, running_waits
from trialfit.planning.workshop import passing

if TYPE_CHECKING:
    from collections.abc import Mapping

    from trialfit.handbook.arrays import Array
    from trialfit.planning.problem import Link, Problem
    from trialfit.planning.task_list import Plan


_MOST_SHARED = 400


def stages(plan: Plan, held: Problem, draws: int, late: str = "") -> tuple[list[Stage], dict[str, Array]]:
    """Each job as it is drawn, and the draws by job, wait or delivery; `late` names a part that comes a day later."""
    site, drawn = plan.site, {}
    comes = {}
    for part, (middle, half) in plan.arrivals.items():
        drawn[f"delivery of {part}"] = drawn_date(f"order.{part}.promised", middle, half, draws)
        comes[part] = drawn[f"delivery of {part}"] + (DAY if part == late else 0.0)
    whole: dict[str, int] = {}
    for name, task in zip(plan.of, plan.problem.tasks, strict=True):
        whole[name] = whole.get(name, 0) + task.length
    found = []
    for number, (name, task) in enumerate(zip(plan.of, plan.problem.tasks, strict=True)):
        job = site.network.jobs[name]
        if name not in drawn:
            drawn[name] = drawn_hours(name, hours_left(site, job), draws) * 60
        release = np.full(draws, max(0.0, plan.calendar.minute(site.now)))
        for before, (low, likely, latest) in running_waits(site, job, plan.calendar).items():
            wait = drawn.setdefault(f"wait after {before}", drawn_between(f"wait after {before}", low, latest, draws))
            wait[0] = likely
            release = np.maximum(release, wait)
        for part in job.needed(NeedKind.part):
            if part in comes:
                release = np.maximum(release, comes[part])
        follows = tuple((link.before, _drawn_wait(plan, link, draws, drawn, late)) for link in held.before[number])
        people, is_loud = kind_of(site, job)
        minutes = drawn[name] * (task.length / whole[name])
        found.append(Stage(minutes, plan.calendar.work_time(people, is_loud=is_loud), release, follows))
    return found, drawn


def _drawn_wait(plan: Plan, link: Link, draws: int, drawn: dict[str, Array], late: str) -> Array:
    if not link.wait:
        return np.zeros(draws)
    before, after = plan.of[link.before], plan.site.network.jobs[plan.of[link.after]]
    if before == ORDERING and waits_for_ordering(plan.site, after):
        name = f"delivery for {after.id}"
        drawn.setdefault(name, drawn_between(name, DELIVERY[0] * DAY, DELIVERY[1] * DAY, draws))
        return drawn[name] + (DAY if late in after.needed(NeedKind.part) else 0.0)
    times = [passing(wait, plan.site.workshop.temperature) for wait in plan.site.network.jobs[before].waits]
    low, _, high = max(times, key=lambda time: time[1])
    name = f"wait after {before}"
    drawn.setdefault(name, drawn_between(name, low * DAY, high * DAY, draws))
    return drawn[name]


def shares(drawn: Mapping[str, Array], end: Array) -> dict[str, float]:
    """The share of the end's variance that each job, wait or delivery causes; where there are very many, each alone,
    by its correlation.
    """
    if len(drawn) <= _MOST_SHARED:
        return Shares(drawn)(end, list(drawn))
    centred = end[1:] - end[1:].mean()
    variance = float(centred @ centred)
    found = {}
    for name, values in drawn.items():
        about = values[1:] - values[1:].mean()
        spread = float(about @ about)
        found[name] = float(about @ centred) ** 2 / (spread * variance) if spread and variance else 0.0
    return found


def deliveries(plan: Plan, held: Problem, end: Array, place: int, draws: int) -> tuple[Delivery, ...]:
    """Every part on order; the one whose day late costs most comes first."""
    site, found = plan.site, []
    awaited: dict[str, list[str]] = {}
    for name in plan.names:
        for part in site.network.jobs[name].needed(NeedKind.part):
            if part not in site.ground.arrived:
                awaited.setdefault(part, []).append(name)
    ordered = max((number for number, name in enumerate(plan.of) if name == ORDERING), default=None)
    ends = run(stages(plan, held, 1)[0], held.order)
    for part, jobs in awaited.items():
        later = run(stages(plan, held, draws, late=part)[0], held.order)[place]
        middle = plan.arrivals[part][0] if part in plan.arrivals else None
        if middle is None:
            begin = float(ends[ordered][0]) if ordered is not None else plan.calendar.minute(site.now)
            middle = begin + sum(DELIVERY) / 2 * DAY
        costs = float(np.mean(later - end)) / DAY
        found.append(Delivery(part=part, expected=plan.calendar.moment(middle), jobs=tuple(jobs), day_late_costs=costs))
    return tuple(sorted(found, key=lambda one: (-one.day_late_costs, one.part)))
