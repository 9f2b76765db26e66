"""The fittings between two ends as a page, or why there are none."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.text import Text

from trialfit.cli.screen import CAUTION, indented, line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.advice.joining import JoinPiece, JoinPlan


def page(plan: JoinPlan) -> Iterator[RenderableType]:
    """The run as a page."""
    yield line(f"{plan.start} to {plan.goal}", "bold")
    if not plan.found:
        yield from _impossible(plan)
    elif not plan.pieces:
        yield line("They fit as they are.")
    else:
        yield line(f"as they are: {plan.direct}")
    for number, piece in enumerate(plan.pieces, 1):
        yield indented(f"{number}. {_piece(piece)}")
    if plan.joints:
        yield Text()
        yield line("joints", "bold")
    for joint in plan.joints:
        yield indented(f"{joint.joins}: {joint.sealing}")
    if plan.pieces:
        yield Text()
        yield line(_sums(plan))
    yield line(CAUTION)


def _piece(piece: JoinPiece) -> str:
    length = "length not known" if piece.length_mm is None else f"{piece.length_mm:g} mm"
    bore = "bore not known" if piece.bore_mm is None else f"bore {piece.bore_mm:g} mm"
    price = "no price" if piece.price is None else f"price {piece.price:.2f}"
    return (
        f"{piece.name}: {piece.near} to {piece.far}; {length}, {bore}, {price}{', of this build' if piece.own else ''}"
    )


def _sums(plan: JoinPlan) -> str:
    length = "added length not known" if plan.length_mm is None else f"adds {plan.length_mm:g} mm"
    bore = "bore not known" if plan.bore_mm is None else f"leaves a bore of {plan.bore_mm:g} mm"
    price = "price missing" if plan.price is None else f"costs {plan.price:.2f}"
    some = f", {plan.unpriced} without a price" if plan.price is not None and plan.unpriced else ""
    return f"{plan.best}: {length}, {bore}, {price}{some}. Lengths and bores of usual fittings are common practice: measure yours."


def _impossible(plan: JoinPlan) -> Iterator[RenderableType]:
    yield line(f"as they are: {plan.direct}")
    yield line(f"no run: {plan.impossible}")
    for said, ends in (("first", plan.reached_from_start), ("second", plan.reached_from_goal)):
        if ends:
            yield indented(
                f"from the {said} end, fittings lead to {len(ends)} other ends, the nearest {'; '.join(ends[:4])}"
            )
    if plan.custom:
        yield line(f"one piece would join them: {plan.custom.end} to {plan.custom.other_end}")
