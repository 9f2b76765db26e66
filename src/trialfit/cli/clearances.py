"""`trialfit clearances`: every pair that matters where the drivetrain sits now."""

from __future__ import annotations

from trialfit.cli.options import BuildFile, Draws, Json, draws_wanted, read_build


def clearances(build: BuildFile, /, *, draws: Draws = 4096, json: Json = False) -> int:
    """Shows every pair that matters where the drivetrain sits now.

    The gap with its spread, the gap wanted, what is left, and where the two come nearest, in words. The tightest comes first.
    The exit code is 1 when a gap fails, else 0.
    """
    from trialfit.advice.clearances import clearances as seen
    from trialfit.cli.pages.clearances import page
    from trialfit.cli.screen import answer, working
    from trialfit.evaluation.verdict import Verdict

    read = read_build(build)
    with working(f"working out {draws} draws"):
        found = seen(read, draws_wanted(draws))
    answer(found, page(found), as_json=json)
    return int(any(pair.verdict is Verdict.fails for pair in found.pairs))
