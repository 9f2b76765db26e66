"""`trialfit plan`: dates on the builder's own calendar, and the chain that sets them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from trialfit.cli.options import BuildFile, Draws, Json, draws_wanted
from trialfit.cli.sites import When  # noqa: TC001 - read when the command is run

if TYPE_CHECKING:
    from datetime import datetime

Goal = Annotated[str, Parameter(show_default=False, help="the job or gate at the end of the plan; else the road")]
Effort = Annotated[float, Parameter(help="how long the solver searches, in its own units; 0: take the first plan")]
Seconds = Annotated[
    float | None,
    Parameter(show_default=False, help="search for this time instead, on all processors; two runs may then differ"),
]
AllJobs = Annotated[
    bool, Parameter(name="--all", negative="", show_default=False, help="show every job with its dates")
]
_MOST_EFFORT = 10_000.0
_MOST_SECONDS = 86_400.0


def plan(
    build: BuildFile,
    /,
    *,
    goal: Goal = "",
    effort: Effort = 1.0,
    seconds: Seconds = None,
    draws: Draws = 2048,
    all_jobs: AllJobs = False,
    when: When = "",
    json: Json = False,
) -> int:
    """Plans the remaining work: dates, the chain that sets the end, its spread, the cost of one day late.

    The first plan is ready within a second; the search then improves it, and the terminal shows its end so far. Ctrl-C
    stops the search and shows the best plan so far. The same build, moment and effort give the same plan. Hours, waits
    and deliveries are drawn, so the end is shown with its spread. Money is shown below: spent, committed, to come.
    """
    from trialfit.book.problems import BadInput, Located
    from trialfit.cli.pages.plan import page
    from trialfit.cli.screen import answer, working
    from trialfit.cli.sites import read_site
    from trialfit.planning.plans import plan_of

    if not 0 <= effort <= _MOST_EFFORT:
        raise BadInput(
            "trialfit plan", [Located("--effort", f"is {effort:g}: expected 0 or a larger number, for example 1")]
        )
    if seconds is not None and not 0 < seconds <= _MOST_SECONDS:
        raise BadInput(
            "trialfit plan",
            [
                Located(
                    "--seconds",
                    f"is {seconds:g}: expected a time above 0 s and up to {_MOST_SECONDS:g} s, for example 20",
                )
            ],
        )
    site, _ = read_site(build, when, with_findings=False)
    try:
        with working("planning") as say:

            def better(end: datetime) -> None:
                say(f"planning: the end so far is {end:%a %Y-%m-%d}; Ctrl-C takes this plan")

            report = plan_of(site, goal=goal, effort=effort, seconds=seconds, draws=draws_wanted(draws), told=better)
    except ValueError as wrong:
        raise BadInput(build, [Located("", str(wrong))]) from None
    answer(report, page(report, with_all=all_jobs), as_json=json)
    return 0
