"""The plan on the calendar: jobs, the waits behind them, deliveries, the end with its spread.

Answers   schedule
Not here  the plan itself (planning/plans.py)
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from trialfit.drawing.pen import Fill
from trialfit.drawing.plot import Axis, Bar, Plot, Spot
from trialfit.planning.plans import plan_of
from trialfit.planning.workshop import passing

if TYPE_CHECKING:
    from trialfit.planning.plans import PlannedJob, PlanReport
    from trialfit.planning.site import Site

_DAY = timedelta(days=1)
_MOST = 80


def schedule(site: Site, draws: int, effort: float = 1.0) -> Plot:
    """Every job left, in the order in which they begin; at most the first 80, which the notes say. Raises ValueError."""
    plan = plan_of(site, effort=effort, draws=draws)
    jobs = sorted(plan.jobs, key=lambda job: (job.begins, job.ends, job.id))[:_MOST]
    rows = [f"{job.id}  {job.title}" for job in jobs]
    bars = [bar for row, job in enumerate(jobs) for bar in _bars(site, job, row)]
    spots = []
    for delivery in plan.deliveries:
        rows.append(f"delivery: {delivery.part}")
        says = f"expected {delivery.expected:%Y-%m-%d}"
        spots.append(Spot(says=says, x=day_of(delivery.expected), y=len(rows) - 1))
    if plan.end is not None and jobs:
        rows.append(f"end: {plan.goal}")
        spots.append(_end(plan, len(rows) - 1))
    return Plot(
        build=plan.build,
        name="schedule",
        title=f"The work that is left, from {plan.moment:%Y-%m-%d}",
        x=Axis(says="date", dates=True),
        y=Axis(says="job", rows=tuple(rows)),
        bars=tuple(bars),
        spots=tuple(spots),
        notes=tuple(_notes(plan)),
        draws=draws,
    )


def day_of(moment: datetime) -> float:
    """A moment as days, 1 January of the year 1 being day 1."""
    midnight = moment.replace(hour=0, minute=0, second=0, microsecond=0)
    return round(moment.toordinal() + (moment - midnight) / _DAY, 4)


def _bars(site: Site, job: PlannedJob, row: int) -> list[Bar]:
    fill = Fill.grey if job.is_on_chain else Fill.light
    says = "on the chain" if job.is_on_chain else ""
    bars = [Bar(row=row, start=day_of(job.begins), end=day_of(job.ends), says=says, fill=fill)]
    planned = site.network.jobs.get(job.id)
    for wait in planned.waits if planned else ():
        _, likely, _ = passing(wait, site.workshop.temperature)
        end = day_of(job.ends + likely * _DAY)
        bars.append(
            Bar(row=row, start=day_of(job.ends), end=end, says=f"then {wait.what}", fill=Fill.none, hatched=True)
        )
    return bars


def _end(plan: PlanReport, row: int) -> Spot:
    end = plan.end or plan.moment
    early, late = (day_of(one) if one else None for one in (plan.end_early, plan.end_late))
    says = f"{end:%Y-%m-%d}"
    if plan.end_early and plan.end_late:
        says += f"; 5 to 95 % of the draws end {plan.end_early:%Y-%m-%d} to {plan.end_late:%Y-%m-%d}"
    return Spot(says=says, x=day_of(end), y=row, low=early, high=late)


def _notes(plan: PlanReport) -> list[str]:
    notes = ["grey: on the chain that sets the end; light: with time to spare; hatched: waits, without work"]
    if not plan.jobs:
        notes.append("nothing is left to do")
    if len(plan.jobs) > _MOST:
        notes.append(f"the first {_MOST} of {len(plan.jobs)} jobs; the others come later")
    return [*notes, *plan.remarks]
