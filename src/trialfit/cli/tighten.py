"""`trialfit tighten`: the order and the stages of one joint, with the pattern as a figure."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter

from trialfit.cli.options import BuildFile, Draws, Json, draws_wanted, read_build

Joint = Annotated[str, Parameter(help="name of a bolted joint of the build")]


def tighten(build: BuildFile, joint: Joint, /, *, draws: Draws = 4096, json: Json = False) -> int:
    """Shows how a joint is tightened: the pattern with each bolt's turn in its place, and stage by stage.

    The maker's torques, angles and order come first if they are written; the figure worked out is shown beside them,
    with the reason if they differ. The setting is in the unit of the wrench. The exit code is 1 when a finding of the
    joint fails, else 0.
    """
    from trialfit.advice.how_to_tighten import tightening
    from trialfit.cli.pages.joint_to_tighten import page
    from trialfit.cli.screen import answer, working

    read = read_build(build)
    with working(f"working out {draws} draws"):
        sheet = tightening(read, joint, draws_wanted(draws))
    answer(sheet, page(sheet), as_json=json)
    return int(sheet.fails)
