"""`trialfit check`: the findings of a build, subject by subject, the worst first."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter

from trialfit.cli.options import BuildFile, Draws, Json, Subjects, draws_wanted, read_build

Figures = Annotated[bool, Parameter(negative="", show_default=False, help="also the figures that have no limit")]


def check(
    build: BuildFile, /, *, subject: Subjects = None, draws: Draws = 4096, json: Json = False, figures: Figures = False
) -> int:
    """Says what holds, what fails, and what cannot be said yet.

    Each finding is shown with its value and spread, its limit and where the limit comes from, and how much is left. What
    does not hold comes first, with the next step. The exit code is 1 when a finding fails, else 0.
    """
    from trialfit.cli.pages.report import page
    from trialfit.cli.screen import answer, working
    from trialfit.subjects.catalogue import evaluate

    read = read_build(build, remarks_shown=True)
    with working(f"working out {draws} draws"):
        report = evaluate(read, draws_wanted(draws), subject or (), all_figures=figures or json, all_facts=json)
    answer(report, page(read, report, with_figures=figures), as_json=json)
    return int(report.fails)
