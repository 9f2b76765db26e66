"""`trialfit jobs` and `trialfit next`: all jobs with their state, and what to do in the hours you have."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter

from trialfit.cli.options import BuildFile, Json  # noqa: TC001 - read when the command is run
from trialfit.cli.sites import When  # noqa: TC001 - read when the command is run

All = Annotated[bool, Parameter(name="--all", negative="", show_default=False, help="also the jobs that are done")]
HoursThere = Annotated[float, Parameter(help="hours available, for each person")]
People = Annotated[int, Parameter(help="number of people")]
_MOST_HOURS = 1000.0
_MOST_PEOPLE = 20


def jobs(build: BuildFile, /, *, all_jobs: All = False, when: When = "", json: Json = False) -> int:
    """Shows every job: in hand, ready, waiting (for what, until when), done.

    The usual jobs are chosen by the parts of this build; your own [job.NAME] are added. A finished job is listed to be
    looked at again, with the reason, if it relied on a finding that no longer holds.
    """
    from trialfit.cli.pages.work import jobs_page
    from trialfit.cli.screen import answer
    from trialfit.cli.sites import read_site
    from trialfit.planning.reports import jobs_report

    site, changed = read_site(build, when)
    report = jobs_report(site, changed)
    answer(report, jobs_page(report, with_done=all_jobs), as_json=json)
    return 0


def next_jobs(
    build: BuildFile, /, *, hours: HoursThere = 6.0, people: People = 1, when: When = "", json: Json = False
) -> int:
    """Shows what to do in the hours you have: jobs ready now, first those that free the most others.

    Each job is shown with the parts it needs and where they lie, tools, sheets, readings to take before it is
    finished, loose ends that it leaves, and cautions.
    """
    from trialfit.advice.weekend import what_next
    from trialfit.book.problems import BadInput, Located
    from trialfit.cli.pages.work import next_page
    from trialfit.cli.screen import answer
    from trialfit.cli.sites import read_site

    if not 0 < hours <= _MOST_HOURS:
        raise BadInput("trialfit next", [Located("--hours", f"is {hours:g}: expected a number of hours, such as 6")])
    if not 1 <= people <= _MOST_PEOPLE:
        raise BadInput(
            "trialfit next", [Located("--people", f"is {people}: expected a number from 1 to {_MOST_PEOPLE}")]
        )
    site, _ = read_site(build, when)
    listed = what_next(site, hours, people)
    answer(listed, next_page(listed), as_json=json)
    return 0
