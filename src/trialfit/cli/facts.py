"""`trialfit facts`: what is written of a build."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter

from trialfit.cli.options import BuildFile, Json, read_build

PartName = Annotated[str | None, Parameter(help="only this part, also with the facts that are not needed so far")]


def facts(build: BuildFile, part: PartName = None, /, *, json: Json = False) -> int:
    """Shows the facts as they are written, the typical values in use, and what is missing.

    A typical value replaces a missing fact; it is marked, and its source is named. Missing are the facts
    that a finding needs and that the build does not have.
    """
    from trialfit.advice.inventory import inventory
    from trialfit.cli.pages.inventory import page
    from trialfit.cli.screen import answer

    stock = inventory(read_build(build), part)
    answer(stock, page(stock, with_open=part is not None), as_json=json)
    return 0
