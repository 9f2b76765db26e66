"""`trialfit why`: one finding with everything it depends on."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter

from trialfit.cli.options import BuildFile, Draws, Json, draws_wanted, read_build

FindingId = Annotated[str, Parameter(help="id of the finding or figure, as check prints it")]


def why(build: BuildFile, finding: FindingId, /, *, draws: Draws = 4096, json: Json = False) -> int:
    """Shows what a finding depends on.

    The value with its limit, the formula and its source, every fact that was read with where it came from, and the share
    of the uncertainty that each fact causes. The exit code is 1 when the finding fails, else 0.
    """
    from trialfit.advice.explaining import explain
    from trialfit.cli.pages.explanation import page
    from trialfit.cli.screen import answer, working

    read = read_build(build)
    with working(f"working out {draws} draws"):
        explanation = explain(read, finding, draws_wanted(draws))
    answer(explanation, page(explanation), as_json=json)
    return int(explanation.fails)
