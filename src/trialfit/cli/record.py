"""`trialfit record`: several readings written into a build as one fact."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from trialfit.cli.options import BuildFile, Draws, Json, draws_wanted

Wanted = Annotated[str, Parameter(help="the finding that the measurement is for, or the fact itself: part.fact")]
Readings = Annotated[
    str,
    Parameter(help='such as "12.9 mm, calipered" 13.1 13.0', allow_leading_hyphen=True),
]
MethodWord = Annotated[str | None, Parameter(help="tape, caliper, clay, feeler, dial, angle gauge or scales")]
FactPath = Annotated[str | None, Parameter(name="--fact", help="which fact, if the finding depends on several")]
LeaveOut = Annotated[int | None, Parameter(help="number of a reading to leave out")]
Because = Annotated[str, Parameter(show_default=False, help="the reason for leaving it out; goes into the note")]


def record(
    build: BuildFile,
    requirement: Wanted,
    /,
    *readings: Readings,
    method: MethodWord = None,
    fact: FactPath = None,
    leave_out: LeaveOut = None,
    because: Because = "",
    draws: Draws = 4096,
    json: Json = False,
) -> int:
    """Writes several readings of one thing into a build as one fact.

    The mean is written with its spread: from the scatter of the readings and the spread of the instrument, with a
    larger factor for few readings. The note keeps all readings. An outlier is pointed out; it counts unless you leave
    it out with a reason. The verdicts before and after are shown.
    """
    from trialfit.advice.recording import record as write
    from trialfit.cli.change import writer_of
    from trialfit.cli.pages.recorded import page
    from trialfit.cli.screen import answer, working

    wanted = draws_wanted(draws)
    with working("working the build out before and after"):
        done = write(
            Path(build),
            requirement,
            readings,
            method=method,
            fact=fact,
            leave_out=leave_out,
            because=because,
            draws=wanted,
            write=writer_of(build),
        )
    answer(done, page(done), as_json=json)
    return 0
