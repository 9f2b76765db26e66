"""`trialfit measure`: what to measure next."""

from __future__ import annotations

from trialfit.cli.options import BuildFile, Draws, Json, Subjects, draws_wanted, read_build


def measure(build: BuildFile, /, *, subject: Subjects = None, draws: Draws = 4096, json: Json = False) -> int:
    """Says what to measure next, with what, and what it would settle.

    The list begins with what is at stake most and settles most for the least trouble. Each line names the instrument, the
    spread to expect of it, the spread that each finding needs, and what to write down afterwards.
    """
    from trialfit.advice.what_to_measure import measure_list
    from trialfit.cli.pages.measurements import page
    from trialfit.cli.screen import answer, working

    read = read_build(build)
    with working("working out what each measurement would settle"):
        listed = measure_list(read, draws_wanted(draws), subject or ())
    answer(listed, page(listed, build), as_json=json)
    return 0
