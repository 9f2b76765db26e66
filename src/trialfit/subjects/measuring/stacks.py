"""Tolerance stacks: does the gap stay within its bounds, in the worst case and statistically.

Answers   requirements   smallest, smallest_at_worst, largest, largest_at_worst; gap, worst_case, root_sum_square, shifted
Not here  the sums (handbook/measuring/conformance.py)
Sources   JCGM 100, 5.1.2: independent spreads add by their squares; 1.5 times that for lots off their middle: common
          practice, no source
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import LENGTH
from trialfit.handbook.measuring.conformance import root_sum_square, worst_case
from trialfit.handbook.sources import NO_SOURCE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef, Stack


SHIFTED_LOTS = 1.5
"""What root-sum-square is multiplied by where lots may lie off their middle: common practice, no source."""

_WANTED = Source("the target gap", SourceKind.builder)


def requirements(stack: Stack) -> Iterator[Requirement]:
    """Figures for a chain, and two findings for each bound that is written."""
    name = stack.name
    figures = (
        ("gap", "resulting gap of the stack", partial(gap, stack=stack), ()),
        (
            "worst_case",
            "worst-case half-width: every member at its limit, all in one direction",
            partial(at_worst, stack=stack),
            (worst_case,),
        ),
        (
            "root_sum_square",
            "statistical half-width (root sum square): members independent and centred",
            partial(by_squares, stack=stack),
            (root_sum_square,),
        ),
        (
            "shifted",
            f"{SHIFTED_LOTS} times that, for lots that may be off-centre: {NO_SOURCE}",
            partial(by_shifted, stack=stack),
            (root_sum_square,),
        ),
    )
    for what, says, value, formulas in figures:
        yield Requirement(
            id=f"measuring.{name}.{what}",
            about=name,
            says=says,
            value=value,
            quantity=LENGTH,
            stake=Stake.durability,
            formulas=formulas,
        )
    for bound, side, end in (("smallest", AtLeast, -1), ("largest", AtMost, 1)):
        ref = getattr(stack, bound)
        if ref.written is None:
            continue
        limit = side(partial(_bound, ref=ref))
        yield Requirement(
            id=f"measuring.{name}.{bound}",
            about=name,
            says=f"statistically the gap is not {'smaller' if end < 0 else 'larger'} than its target",
            value=partial(gap, stack=stack),
            quantity=LENGTH,
            stake=Stake.durability,
            limit=limit,
            source=_WANTED,
            formulas=(root_sum_square,),
            cure="Shim it, or change the length of one member.",
        )
        yield Requirement(
            id=f"measuring.{name}.{bound}_at_worst",
            about=name,
            says=f"in the worst case the gap is not {'smaller' if end < 0 else 'larger'} than its target",
            value=partial(gap_at_worst, stack=stack, end=end),
            quantity=LENGTH,
            stake=Stake.durability,
            limit=limit,
            source=_WANTED,
            formulas=(worst_case,),
            cure="Measure the actual members instead of using their tolerances, or shim at assembly.",
        )


def _bound(ev: Evaluation, ref: FactRef) -> Array:
    return ev(ref)


def gap(ev: Evaluation, stack: Stack) -> Array:
    """What the chain leaves, each member drawn by itself."""
    return np.asarray(ev.rows(stack.members, f"{stack.name}.members").sum(axis=-1))


def gap_at_worst(ev: Evaluation, stack: Stack, end: int) -> float:
    """The gap when every member stands at the end of its tolerance that makes it smaller (-1) or larger (1)."""
    nominal = float(gap(ev, stack)[0])
    return nominal + end * float(worst_case(np.array(_halves(stack, end))))


def at_worst(ev: Evaluation, stack: Stack) -> float:
    """The wider half-width of the two ends."""
    nominal = float(gap(ev, stack)[0])
    return max(abs(gap_at_worst(ev, stack, end) - nominal) for end in (-1, 1))


def by_squares(ev: Evaluation, stack: Stack) -> float:
    """Half-width by root-sum-square of the tolerances as written."""
    gap(ev, stack)
    return float(
        root_sum_square(np.array([max(pair) for pair in zip(_halves(stack, -1), _halves(stack, 1), strict=True)]))
    )


def by_shifted(ev: Evaluation, stack: Stack) -> float:
    """Half-width for lots that lie off their middle."""
    return SHIFTED_LOTS * by_squares(ev, stack)


def _halves(stack: Stack, end: int) -> list[float]:
    spreads = [ref.written.spread for ref in stack.members if ref.written]
    return [spread.minus if end < 0 else spread.plus for spread in spreads]
