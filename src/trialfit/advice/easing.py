"""What to move, cut or have made if no place fits: one change for each requirement of the conflict.

Answers   easing_of    the change in words, with the least amount
          summary      the answer in one sentence: what is left or short at the tightest requirement
Not here  how much is needed (placement/infeasible.py); the pose itself (placing.py)
What is done in each case is common practice, no source.
"""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

from trialfit.advice.placement_shapes import Easing
from trialfit.evaluation.verdict import Verdict
from trialfit.facts.units import from_si

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.advice.placement_shapes import PlacedRequirement
    from trialfit.facts.units import Unit

_CLEAR = 1.96
_WAYS = {
    "clearance.gap": "move {pair} {amount} apart, cut one of them back by the same amount, or accept a smaller gap",
    "clearance.ground": "raise the body by {amount} on its springs, fit a flatter part, or accept less ground clearance",
    "clearance.removal": "move or notch the part in the way by {amount}, or lift the drivetrain by the same amount to remove the part",
    "clearance.lever": "cut the opening {amount} wider there, or move the lever by the same amount",
    "clearance.level": "tilt the drivetrain {amount} further from level, and correct for it under the carburettor and in the sump",
    "clearance.rear_share": "move weight to the rear until its share is {amount} higher, for example the battery",
    "driveline.slip.gap": "have the shaft made {amount} shorter, or fit a slip joint with that much more travel in",
    "driveline.slip.overlap": "have the shaft made {amount} longer, or fit a slip joint with a spline longer by the same amount",
    "driveline.length": "have that shaft made {amount} longer or shorter, to the length between its joints as placed",
    "driveline.working_angle": "straighten the joint by {amount} with shims at the centre bearing or the final drive, or fit a joint with a larger permitted angle",
    "driveline.needle_roll": "increase the joint angle by {amount} with shims at the centre bearing or the final drive",
    "driveline.difference": "bring the two angles {amount} closer together: tilt the final drive with a wedge at its seat or shims",
    "driveline.residual": "correct the shaft line by {amount}: tilt the final drive with a wedge at its seat, or shim the centre bearing",
}


def easing_of(name: str, by: float | None, unit: Unit, pair: tuple[str, str] | None, more: str = "") -> Easing:
    """One change; `by` in SI, None if that alone is not enough; `more` is the effect of a larger step, in words."""
    if by is None:
        says = "this change alone is not enough"
        return Easing(id=name, by=None, unit=unit.canonical, says=says)
    amount = amount_up(float(from_si(by, unit)), unit.canonical)
    way = next((words for start, words in _WAYS.items() if f"{name}.".startswith(f"{start}.")), "relax it by {amount}")
    two = " and ".join(one.replace("_", " ") for one in pair) if pair else "the two"
    says = way.format(amount=amount, pair=two) + (f"; {more}" if more else "")
    return Easing(id=name, by=float(from_si(by, unit)), unit=unit.canonical, says=says)


def amount_up(value: float, symbol: str) -> str:
    """An amount that is enough: rounded up, to 0.1.

    >>> amount_up(1.62, "mm"), amount_up(0.03, "°")
    ('1.7 mm', '0.1°')
    """
    up = ceil(round(value * 10, 6)) / 10
    return f"{up:.1f}{symbol}" if symbol == "°" else f"{up:.1f} {symbol}"


def summary(requirements: Sequence[PlacedRequirement], normalised: float) -> str:
    """The answer in one sentence; `requirements` with the tightest first."""
    if not requirements:
        return "No requirement applies there: any place in the window is possible."
    one = requirements[0]
    length = f"{abs(one.margin):.1f}{one.unit if one.unit == '°' else f' {one.unit}'}"
    tightest = f"at the tightest, {one.id}"
    if normalised < 0:
        return f"No pose was found that fits: the best one is {length} short {tightest}."
    doubtful = sum(each.verdict in {Verdict.fails, Verdict.unsettled} for each in requirements)
    if normalised < _CLEAR:
        return f"It fits on paper with {length} left {tightest}, which is within the spread: measure better before a bracket is welded."
    if doubtful:
        these = "1 requirement is" if doubtful == 1 else f"{doubtful} requirements are"
        return f"It fits on paper with {length} left {tightest}, but {these} not settled over the spread: measure better before a bracket is welded."
    return f"It fits with {length} left {tightest}: beyond the spread of what was taped."
