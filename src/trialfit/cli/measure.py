"""`trialfit measure`: what to measure next."""

from __future__ import annotations

from trialfit.cli.options import BuildFile, Draws, Json, Subjects, draws_wanted, read_build


def measure(build: BuildFile, /, *, subject: Subjects = None, draws: Draws = 4096, json: Json = False) -> int:
    """Shows what to measure next, with which instrument, and what it would settle.

    First come the highest stakes, and then what settles most for the least effort. Each line names the instrument, its
    usual spread, the spread that each finding needs, and the command to write the value down.
    """
    from trialfit.advice.what_to_measure import measure_list
    from trialfit.cli.pages.measurements import page
    from trialfit.cli.screen import answer, working

    read = read_build(build)
    with working("working out what each measurement would settle"):
        listed = measure_list(read, draws_wanted(draws), subject or ())
    answer(listed, page(listed, build), as_json=json)
    return 0
