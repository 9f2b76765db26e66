"""The plan on the calendar: jobs, waiting times after them, deliveries, the end with its spread.

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
    from trialfit.planning.plan_report import PlannedJob, PlanReport
    from trialfit.planning.site import Site

_DAY = timedelta(days=1)
_MOST = 40


def schedule(site: Site, draws: int, effort: float = 1.0) -> Plot:
    """The remaining jobs, in the order in which they begin; if a page is too short for all, the notes say so. Raises ValueError."""
    plan = plan_of(site, effort=effort, draws=draws)
    jobs = sorted(plan.jobs, key=lambda job: (job.begins, job.ends, job.id))[:_MOST]
    rows = [f"{job.id}  {job.title}" for job in jobs]
    bars = [bar for row, job in enumerate(jobs) for bar in _bars(site, job, row)]
    spots = []
    last = max((bar.end for bar in bars), default=0.0)
    for delivery in sorted(plan.deliveries, key=lambda one: (one.expected, one.part)):
        if day_of(delivery.expected) <= last:
            rows.append(f"delivery: {delivery.part}")
            says = f"expected {delivery.expected:%Y-%m-%d}"
            spots.append(Spot(says=says, x=day_of(delivery.expected), y=len(rows) - 1))
    if plan.end is not None and 0 < len(plan.jobs) <= _MOST:
        rows.append(f"end: {plan.goal}")
        spots.append(_end(plan, len(rows) - 1))
    return Plot(
        build=plan.build,
        name="schedule",
        title=f"Remaining work, from {plan.moment:%Y-%m-%d}",
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
    bars = [Bar(row=row, start=day_of(job.begins), end=day_of(job.ends), fill=fill)]
    planned = site.network.jobs.get(job.id)
    for wait in planned.waits if planned else ():
        _, likely, _ = passing(wait, site.workshop.temperature)
        end = day_of(job.ends + likely * _DAY)
        bars.append(
            Bar(row=row, start=day_of(job.ends), end=end, says=f"then {wait.what}", fill=Fill.none, hatched=True)
        )
    return bars


def _end(plan: PlanReport, row: int) -> Spot:
    early, late = (day_of(one) if one else None for one in (plan.end_early, plan.end_late))
    return Spot(says=_end_words(plan), x=day_of(plan.end or plan.moment), y=row, low=early, high=late)


def _end_words(plan: PlanReport) -> str:
    says = f"{plan.end:%Y-%m-%d}" if plan.end else "no work remains"
    if plan.end_early and plan.end_late:
        says += f", 5 to 95 % of the draws by {plan.end_early:%Y-%m-%d} to {plan.end_late:%Y-%m-%d}"
    return says


def _notes(plan: PlanReport) -> list[str]:
    notes = ["grey: critical path; light: time to spare; hatched: waiting time"]
    if len(plan.jobs) > _MOST:
        notes.append(f"the first {_MOST} of {len(plan.jobs)} jobs, and the deliveries during them")
    notes.append(f"end ({plan.goal}): {_end_words(plan)}")
    return [*notes, *plan.remarks]
