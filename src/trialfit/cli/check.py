"""`trialfit check`: the findings of a build, subject by subject, the worst first."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter

from trialfit.cli.options import BuildFile, Draws, Json, Subjects, draws_wanted, read_build

Figures = Annotated[bool, Parameter(negative="", show_default=False, help="also show the figures without a limit")]


def check(
    build: BuildFile, /, *, subject: Subjects = None, draws: Draws = 4096, json: Json = False, figures: Figures = False
) -> int:
    """Shows what holds, what fails, and what is still open.

    Each finding is shown with its value and spread, its limit with its source, and the margin. Findings that do not
    hold come first, with the next step. The exit code is 1 when a finding fails, else 0.
    """
    from trialfit.cli.pages.report import page
    from trialfit.cli.screen import answer, working
    from trialfit.subjects.catalogue import evaluate

    read = read_build(build, remarks_shown=True)
    with working(f"working out {draws} draws"):
        report = evaluate(read, draws_wanted(draws), subject or (), all_figures=figures or json, all_facts=json)
    answer(report, page(read, report, with_figures=figures), as_json=json)
    return int(report.fails)
