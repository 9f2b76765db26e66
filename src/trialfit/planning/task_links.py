"""Which tasks of a plan come after which: links between jobs, with the waits that must pass.

Answers   links_between      the links of all tasks of a plan
          waits_for_ordering whether a job waits until its parts are ordered
          ORDERING, DELIVERY the job that orders, and the days that parts take then
Not here  the tasks themselves (task_list.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.planning.job import NeedKind
from trialfit.planning.problem import Link
from trialfit.planning.ready import in_the_way
from trialfit.planning.states import State
from trialfit.planning.workshop import passing

if TYPE_CHECKING:
    from collections.abc import Mapping

    from trialfit.planning.job import Job
    from trialfit.planning.site import Site

DAY = 24 * 60.0
ORDERING = "PL07"
DELIVERY = (5.0, 40.0)
"""Days from order to arrival without a promised date: common practice, no source."""


def links_between(site: Site, of: list[str]) -> list[Link]:
    """The links between the jobs of tasks, from the last piece of one to the first of the other; and between the pieces of a job."""
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
            links.append(Link(last[before], place, days * DAY if must_pass else 0.0))
    links += [Link(last[holder], place) for holder in _in_hand_before(site, name) if holder in last]
    if ORDERING in last and waits_for_ordering(site, job):
        links.append(Link(last[ORDERING], place, sum(DELIVERY) / 2 * DAY))
    return links


def _in_hand_before(site: Site, name: str) -> list[str]:
    """The jobs in hand that hold a tool or place that a job needs, if all units of it are taken."""
    found: list[str] = []
    if site.status.job(name).state is State.in_hand:
        return found
    for tool in site.network.jobs[name].takes:
        those = in_the_way(site.network.jobs[name], site.holders.get(tool, {}), site.network)
        if len(those) >= site.workshop.capacity(tool):
            found += [one for one, until in those.items() if until is None]
    return list(dict.fromkeys(found))


def waits_for_ordering(site: Site, job: Job) -> bool:
    """Whether a part that it needs has neither arrived nor been promised."""
    promised = {order.part for order in site.orders.values() if order.promised is not None and not order.state}
    return any(part not in site.ground.arrived and part not in promised for part in job.needed(NeedKind.part))
