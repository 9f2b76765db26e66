"""`trialfit jobs` and `trialfit next`: the network as it stands, and what to do in the hours there are."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter

from trialfit.cli.options import BuildFile, Json  # noqa: TC001 - read when the command is run
from trialfit.cli.sites import When  # noqa: TC001 - read when the command is run

All = Annotated[bool, Parameter(name="--all", negative="", show_default=False, help="also the jobs that are done")]
HoursThere = Annotated[float, Parameter(help="hours there are, for each person")]
People = Annotated[int, Parameter(help="how many people there are")]
_MOST_HOURS = 1000.0
_MOST_PEOPLE = 20


def jobs(build: BuildFile, /, *, all_jobs: All = False, when: When = "", json: Json = False) -> int:
    """Shows every job: in hand, ready, waiting and for what until when, done.

    Jobs are made for what this build has; a [job.NAME] of your own stands beside them. A job that is done and relied on a
    finding that has turned since is listed as to be looked at again, with the reason.
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
    """Says what to do in the hours there are: jobs ready now, in the order that frees the most.

    With each job stand the parts it needs and where they lie, tools, sheets, the readings to take before it is
    finished, what it leaves open, and cautions. No solver is needed for it.
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
