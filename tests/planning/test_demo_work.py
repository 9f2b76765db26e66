"""The work on the demo builds as it stood when it was last looked at: jobs, gates, loose ends, money, tasks and their first plan.

A change that is meant is written down anew by `.setup/venv/bin/python tests/planning/test_demo_work.py`; look at the difference.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from trialfit.book import read
from trialfit.planning.critical import least_end, passes
from trialfit.planning.gates import look_at
from trialfit.planning.money import money_of
from trialfit.planning.plans import goal_of, plan_of
from trialfit.planning.serial import serial
from trialfit.planning.site import Site, site_of
from trialfit.planning.task_list import put_together

NOW = datetime.fromisoformat("2026-03-07T09:00:00+01:00")
DEMOS = Path(__file__).parents[2] / "demos"


def lines(demo: str) -> list[str]:
    """One line for each thing."""
    site = site_of(read(DEMOS / f"{demo}.toml"), NOW, where=demo)
    return [line.rstrip() for part in (standing(site), money(site), planned(site), dated(site)) for line in part]


def standing(site: Site) -> Iterator[str]:
    for name, one in site.standings.items():
        against = " ".join(f"{unmet.kind}:{unmet.name}" for unmet in one.unmet)
        yield f"job {name} {one.stand} {against}"
    for name in site.network.gates:
        look = look_at(name, site.network, site.status, site.ground)
        yield f"gate {name} {look.is_passed} {look.may_pass} {' '.join(f'{one.kind}:{one.name}' for one in look.blocks)}"
    for one in site.status.open_ends:
        yield f"open {one.end.id} {one.since:%Y-%m-%d}"
    for name, job in site.network.jobs.items():
        hours = f"{job.hours.low:g}/{job.hours.likely:g}/{job.hours.high:g}"
        yield f"network {name} {hours} {job.people} {' '.join(job.takes)} {' '.join(f'{need.kind}:{need.name}' for need in job.needs)}"


def money(site: Site) -> Iterator[str]:
    found = money_of(site.build, site.network, site.orders)
    for name, sums in {**found.totals, **found.by_job}.items():
        yield f"money {name} {' '.join(f'{one.amount:.2f} {one.low:.2f} {one.high:.2f} {one.currency}' for one in sums)}"
    yield f"without price {' '.join(found.without_price)}"


def planned(site: Site) -> Iterator[str]:
    """The first plan, before the solver is asked."""
    plan = put_together(site, goal_of(site))
    problem = plan.problem
    starts = serial(problem)
    way = passes(problem)
    for name, task, start, early, late in zip(plan.of, problem.tasks, starts, way.earliest, way.latest, strict=True):
        uses = " ".join(f"{what}={count}" for what, count in task.uses.items() if count)
        holds = " ".join(f"{what}={time:g}" for what, time in task.holds.items())
        yield f"task {name} {task.length} kind {task.kind} from {task.release} at {start} {early} {late} {uses} {holds}"
    for link in problem.links:
        yield f"link {plan.of[link.before]} {plan.of[link.after]} {link.wait:g}"
    yield f"end {problem.makespan(starts)} least {least_end(problem)} path {way.end}"


def dated(site: Site) -> Iterator[str]:
    """The same plan in dates, with its spread to the quarter of an hour."""
    report = plan_of(site, effort=0, draws=64)
    for name in ("end", "end_early", "end_middle", "end_late"):
        yield f"{name} {to_the_quarter(getattr(report, name))}"
    yield f"hours left {report.hours_left:g}, proven {report.is_proven}, gap {report.gap:.3f}, chain {' '.join(report.chain)}"
    for job in report.jobs:
        yield f"planned {job.id} {to_the_quarter(job.begins)} {to_the_quarter(job.ends)}"
    for delivery in report.deliveries:
        yield f"delivery {delivery.part}"
    yield f"doubts {' '.join(sorted(one.about.replace(' ', '_') for one in report.doubts))}"


def to_the_quarter(moment: datetime) -> str:
    return f"{datetime.fromtimestamp(round(moment.timestamp() / 900) * 900, moment.tzinfo):%Y-%m-%d %H:%M}"


def place(demo: str) -> Path:
    return Path(__file__).with_name(f"demo_work_{demo}.txt")


@pytest.mark.parametrize("demo", sorted(one.stem for one in DEMOS.glob("*.toml")))
def test_the_work_on_the_demo_builds_is_what_it_was(demo: str) -> None:
    assert lines(demo) == place(demo).read_text(encoding="utf-8").splitlines()


if __name__ == "__main__":
    for path in sorted(DEMOS.glob("*.toml")):
        place(path.stem).write_text("\n".join(lines(path.stem)) + "\n", encoding="utf-8")
        sys.stdout.write(f"written: {place(path.stem)}\n")
