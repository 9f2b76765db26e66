"""Yield torque of a tube or a bar, divided by the reserve.

Answers   tube_capacity    of the tube of a prop shaft
          bar_capacity     of the bar of a half-shaft
          tube_facts, bar_facts    the facts it takes
          shown            the working, in numbers
Not here  ratings (shafts.py, half_shafts.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.facts.quantity import LENGTH, STRESS
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit, find_unit
from trialfit.handbook.driveline import whirling
from trialfit.handbook.torque_path import torsion
from trialfit.subjects.torque_path import sentences

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef, HalfShaft, PropShaft


FORMULAS = (torsion.torque_capacity, torsion.tube_buckling_torque)


def tube_facts(shaft: PropShaft) -> tuple[FactRef, ...]:
    """Outside diameter, wall, yield strength and notch factor of a tube."""
    return shaft.tube_outside_diameter, shaft.tube_wall_thickness, shaft.yield_strength, shaft.notch_factor


def bar_facts(shaft: HalfShaft) -> tuple[FactRef, ...]:
    """Diameter, yield strength and notch factor of a bar."""
    return shaft.bar_diameter, shaft.yield_strength, shaft.notch_factor


def tube_capacity(ev: Evaluation, shaft: PropShaft) -> Array:
    """Torque that a tube carries with its reserve on yield, or on crumpling where it is so thin that this comes first, N·m."""
    outside, wall, strength, notch = ev.each(*tube_facts(shaft))
    if shaft.material == "aluminium" and shaft.yield_strength.written is None:
        raise MissingFact(
            {shaft.yield_strength.path: f"{shaft.yield_strength.spec.says}: the typical one is that of steel"}
        )
    by_yield = _by_yield(outside, outside - 2 * wall, strength, notch)
    material = whirling.ALUMINIUM if shaft.material == "aluminium" else whirling.STEEL
    crumples = np.asarray(torsion.tube_buckling_torque(outside, wall, material.youngs_modulus))
    return np.fmin(
        by_yield, crumples / torsion.YIELD_RESERVE
    )  # a wall too thick for the thin-tube formula is nan there


def bar_capacity(ev: Evaluation, shaft: HalfShaft) -> Array:
    """Torque that a solid bar carries with its reserve on yield, N·m."""
    diameter, strength, notch = ev.each(*bar_facts(shaft))
    return _by_yield(diameter, np.zeros(ev.draws), strength, notch)


def _by_yield(outside: Array, inside: Array, strength: Array, notch: Array) -> Array:
    """The lesser of two: the plain section with its reserve, and the worst notch just at yield.

    Not both at once: a ductile shaft does not yield through where a notch alone reaches yield.
    """
    plain = torsion.torque_capacity(outside, inside, strength)
    notched = torsion.torque_capacity(outside, inside, strength, notch, reserve=1.0)
    return np.minimum(plain, notched)


def tube_shown(ev: Evaluation, shaft: PropShaft) -> str:
    """The working of a tube in numbers."""
    outside, wall = (show(float(ev(ref)[0]), find_unit(LENGTH, "mm")) for ref in tube_facts(shaft)[:2])
    return _shown(ev, f"tube {outside} × {wall}", shaft, ev.of(tube_capacity, shaft))


def bar_shown(ev: Evaluation, shaft: HalfShaft) -> str:
    """The working of a bar in numbers."""
    diameter = show(float(ev(shaft.bar_diameter)[0]), find_unit(LENGTH, "mm"))
    return _shown(ev, f"bar of {diameter}", shaft, ev.of(bar_capacity, shaft))


def _shown(ev: Evaluation, what: str, shaft: PropShaft | HalfShaft, carried: Array) -> str:
    strength = show(float(ev(shaft.yield_strength)[0]), display_unit(STRESS))
    notch = sentences.ratio(ev(shaft.notch_factor))
    return (
        f"{what}, yield {strength}, reserve {torsion.YIELD_RESERVE} plain or notch factor {notch}: "
        f"{sentences.torque(carried)} allowed"
    )
