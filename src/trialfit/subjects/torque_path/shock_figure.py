"""Shock torque over a maker's rating: a figure, because makers seldom state a limit for shocks.

Answers   shock_over_rating   the figure of one rated element
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from trialfit.evaluation.requirement import AtMost, Requirement, Stake
from trialfit.facts.quantity import RATIO
from trialfit.subjects.torque_path.element import SUBJECT, reserve

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.subjects.torque_path.element import Held
    from trialfit.subjects.torque_path.loads import Sides


def shock_over_rating(
    one: Held, shock: Callable[..., Sides], about: str, title: str, formulas: tuple[Callable[..., Any], ...]
) -> Requirement:
    """The shock torque on a rated element over its rating, in the worst gear; the builder may set a limit to it."""
    shocked = replace(
        one, name=f"shock.{one.name}", compared=tuple(replace(each, sees=shock) for each in one.compared[:1])
    )
    return Requirement(
        id=f"{SUBJECT}.shock_over_rating.{one.name}",
        about=about,
        says=f"shock torque over the rating of {title}, in the worst gear",
        value=partial(_inverse, one=shocked),
        quantity=RATIO,
        stake=Stake.durability,
        formulas=formulas,
        turned_by=AtMost,
    )


def _inverse(ev: Evaluation, one: Held) -> Array:
    return 1 / reserve(ev, one)
