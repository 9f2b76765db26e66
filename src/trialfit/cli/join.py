"""`trialfit join`: the run of fittings between two ends."""

from __future__ import annotations

import sys
from math import inf
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter
from rich.text import Text

from trialfit.advice.joining import join as plan_of
from trialfit.book.problems import BadInput, Located
from trialfit.cli.options import BuildFile, Json, read_build
from trialfit.cli.screen import CAUTION, line, show
from trialfit.facts.quantity import LENGTH
from trialfit.facts.reading import Unreadable, read_fact
from trialfit.handbook.fitting_chain import Best

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.advice.joining import JoinPiece, JoinPlan

EndName = Annotated[str, Parameter(help='a port, or the far end of a fitting or line; or in words: "male 1/8-27 NPT"')]
By = Annotated[Literal["fewest", "shortest", "cheapest"], Parameter(help="what the run is chosen by")]
Bore = Annotated[str | None, Parameter(help='narrowest bore that will do, such as "6 mm"')]
Length = Annotated[str | None, Parameter(help='most length that may be added, such as "60 mm"')]


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

    The usual fittings are known; those of the build, with their price, come on top. Each joint says how it seals and what
    goes on its thread. Where nothing leads there, it says why, and which one piece would have to be made. The exit code is
    1 when there is no run.
    """
    plan = plan_of(read_build(build), port, other, Best(by), _length("--bore", bore, 0.0), _length("--length", length, inf))
    if json:
        from trialfit.cli.shapes import as_json

        sys.stdout.write(as_json(plan))
    else:
        show(*page(plan))
    return int(not plan.found)


def _length(option: str, text: str | None, default: float) -> float:
    if text is None:
        return default
    try:
        return read_fact(text, LENGTH).si
    except Unreadable as wrong:
        raise BadInput("trialfit join", [Located(option, str(wrong))]) from None


def page(plan: JoinPlan) -> Iterator[RenderableType]:
    """The run as a page."""
    yield line(f"{plan.start} to {plan.goal}", "bold")
    if not plan.found:
        yield from _impossible(plan)
    elif not plan.pieces:
        yield line("They go together as they are.")
    else:
        yield line(f"as they are: {plan.direct}")
    for number, piece in enumerate(plan.pieces, 1):
        yield line(f"  {number}. {_piece(piece)}")
    if plan.joints:
        yield Text()
        yield line("joints", "bold")
    for joint in plan.joints:
        yield line(f"  {joint.joins}: {joint.sealing}")
    if plan.pieces:
        yield Text()
        yield line(_sums(plan))
    yield line(CAUTION)


def _piece(piece: JoinPiece) -> str:
    length = "length not known" if piece.length_mm is None else f"{piece.length_mm:g} mm"
    bore = "bore not known" if piece.bore_mm is None else f"bore {piece.bore_mm:g} mm"
    price = "no price" if piece.price is None else f"price {piece.price:.2f}"
    return f"{piece.name}: {piece.near} to {piece.far}; {length}, {bore}, {price}{', of this build' if piece.own else ''}"


def _sums(plan: JoinPlan) -> str:
    length = "length added is not known" if plan.length_mm is None else f"adds {plan.length_mm:g} mm"
    bore = "bore left is not known" if plan.bore_mm is None else f"leaves a bore of {plan.bore_mm:g} mm"
    price = "no price is written" if plan.price is None else f"costs {plan.price:.2f}"
    some = f", {plan.unpriced} without a price" if plan.price is not None and plan.unpriced else ""
    return f"{plan.best}: {length}, {bore}, {price}{some}. Lengths and bores of usual fittings are common practice: measure yours."


def _impossible(plan: JoinPlan) -> Iterator[Text]:
    yield line(f"as they are: {plan.direct}")
    yield line(f"no run: {plan.impossible}")
    for said, ends in (("from the first", plan.reached_from_start), ("from the second", plan.reached_from_goal)):
        if ends:
            yield line(f"  {said} fittings lead to {len(ends)} other ends, the nearest {'; '.join(ends[:4])}")
    if plan.custom:
        yield line(f"one piece would solve it: {plan.custom.end} to {plan.custom.other_end}")
