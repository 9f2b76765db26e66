"""`trialfit clearances`: every pair that matters where the drivetrain sits now."""

from __future__ import annotations

from trialfit.cli.look import Look  # noqa: TC001 - read when the command is run
from trialfit.cli.options import BuildFile, Draws, Json, draws_wanted, read_build


def clearances(build: BuildFile, /, *, draws: Draws = 4096, look: Look = None, json: Json = False) -> int:
    """Shows the gap of every pair that matters, with the drivetrain where it sits now.

    For each: the gap with its spread, the required gap, the margin, and the nearest place, in words. The tightest
    comes first. The exit code is 1 when a gap fails, else 0.
    """
    from trialfit.advice.clearances import clearances as seen
    from trialfit.cli.look import look_file, write_look
    from trialfit.cli.pages.clearances import page
    from trialfit.cli.screen import answer, working
    from trialfit.evaluation.verdict import Verdict

    read = read_build(build)
    page_file = look_file("trialfit clearances", look) if look else None
    with working(f"working out {draws} draws"):
        found = seen(read, draws_wanted(draws))
    if page_file:
        from trialfit.drawing.look.scene import scene_of_clearances

        write_look(scene_of_clearances(read, found), page_file)
    answer(found, page(found), as_json=json)
    return int(any(pair.verdict is Verdict.fails for pair in found.pairs))
