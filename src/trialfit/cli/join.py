"""`trialfit join`: the run of fittings between two ends."""

from __future__ import annotations

from math import inf
from typing import Annotated, Literal

from cyclopts import Parameter

from trialfit.cli.options import BuildFile, Json, read_build

EndName = Annotated[str, Parameter(help='a port, or the far end of a fitting or line; or in words: "male 1/8-27 NPT"')]
By = Annotated[Literal["fewest", "shortest", "cheapest"], Parameter(help="rule for choosing the run")]
Bore = Annotated[str | None, Parameter(help='smallest bore allowed, such as "6 mm"')]
Length = Annotated[str | None, Parameter(help='greatest added length, such as "60 mm"')]


def join(
    build: BuildFile,
    port: EndName,
    other: EndName,
    /,
    *,
    by: By = "fewest",
    bore: Bore = None,
    length: Length = None,
    json: Json = False,
) -> int:
    """Finds the fittings that lead from one end to another.

    It uses the usual fittings, and those of the build with their price. For each joint it says how it seals and what
    to put on the thread. If no run exists, it says why, and which single piece could be made. The exit code is 1 when
    there is no run.
    """
    from trialfit.advice.joining import join as plan_of
    from trialfit.cli.pages.joining import page
    from trialfit.cli.screen import answer
    from trialfit.handbook.ports.fitting_chain import Best

    least_bore, most_length = _length("--bore", bore, 0.0), _length("--length", length, inf)
    plan = plan_of(read_build(build), port, other, Best(by), least_bore, most_length)
    answer(plan, page(plan), as_json=json)
    return int(not plan.found)


def _length(option: str, text: str | None, default: float) -> float:
    from trialfit.book.problems import BadInput, Located
    from trialfit.facts.quantity import LENGTH
    from trialfit.facts.reading import Unreadable, read_fact

    if text is None:
        return default
    try:
        return read_fact(text, LENGTH).si
    except Unreadable as wrong:
        raise BadInput("trialfit join", [Located(option, str(wrong))]) from None
