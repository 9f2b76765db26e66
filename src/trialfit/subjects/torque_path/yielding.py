"""What the tube of a prop shaft and the bar of a half-shaft carry by their steel.

Answers   tube_capacity    of the tube of a prop shaft
          bar_capacity     of the bar of a half-shaft
          tube_facts, bar_facts    the facts it takes
          tube_shown, bar_shown    the working, in numbers
          beside_rating            the same where a maker's rating decides
Not here  which reserve belongs to which load (reserves.py); ratings (shafts.py, half_shafts.py)
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
from trialfit.subjects.torque_path import reserves, sentences
from trialfit.subjects.torque_path.events import Load

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef, HalfShaft, PropShaft


FORMULAS = (*reserves.FORMULAS, torsion.tube_buckling_torque)


def tube_facts(shaft: PropShaft) -> tuple[FactRef, ...]:
    """Outside diameter, wall, yield strength and notch factor of a tube."""
    return shaft.tube_outside_diameter, shaft.tube_wall_thickness, shaft.yield_strength, shaft.notch_factor


def bar_facts(shaft: HalfShaft) -> tuple[FactRef, ...]:
    """Diameter, yield strength and notch factor of a bar."""
    return shaft.bar_diameter, shaft.yield_strength, shaft.notch_factor


def tube_capacity(ev: Evaluation, shaft: PropShaft, load: Load = Load.steady) -> Array:
    """Torque that a tube carries by yield, or before it crumples where it is so thin that this comes first, N·m."""
    outside, wall, strength, notch = ev.each(*tube_facts(shaft))
    if shaft.material == "aluminium" and shaft.yield_strength.written is None:
        raise MissingFact(
            {shaft.yield_strength.path: f"{shaft.yield_strength.spec.says}: the typical one is that of steel"}
        )
    by_yield = reserves.section_capacity(load, outside, outside - 2 * wall, strength, notch)
    material = whirling.ALUMINIUM if shaft.material == "aluminium" else whirling.STEEL
    crumples = np.asarray(torsion.tube_buckling_torque(outside, wall, material.youngs_modulus))
    return np.fmin(
        by_yield, crumples / torsion.YIELD_RESERVE
    )  # a wall too thick for the thin-tube formula is nan there; a tube that folds does so at once: its reserve stays


def bar_capacity(ev: Evaluation, shaft: HalfShaft, load: Load = Load.steady) -> Array:
    """Torque that a solid bar carries by yield, N·m."""
    diameter, strength, notch = ev.each(*bar_facts(shaft))
    return reserves.section_capacity(load, diameter, np.zeros(ev.draws), strength, notch)


def tube_shown(ev: Evaluation, shaft: PropShaft, load: Load = Load.steady) -> str:
    """The working of a tube in numbers."""
    outside, wall = (show(float(ev(ref)[0]), find_unit(LENGTH, "mm")) for ref in tube_facts(shaft)[:2])
    return _shown(ev, f"tube {outside} × {wall}", shaft, load, ev.of(tube_capacity, shaft, load))


def bar_shown(ev: Evaluation, shaft: HalfShaft, load: Load = Load.steady) -> str:
    """The working of a bar in numbers."""
    diameter = show(float(ev(shaft.bar_diameter)[0]), find_unit(LENGTH, "mm"))
    return _shown(ev, f"bar of {diameter}", shaft, load, ev.of(bar_capacity, shaft, load))


def beside_rating(shaft: PropShaft | HalfShaft, shown: str) -> str:
    """What is worked out, beside a rating that outranks it; whether both can be true is asked in measuring/relations.csv."""
    return f"worked out beside it: {shown}{'' if shaft.yield_strength.written else ', with a typical steel'}"


def _shown(ev: Evaluation, what: str, shaft: PropShaft | HalfShaft, load: Load, carried: Array) -> str:
    strength = show(float(ev(shaft.yield_strength)[0]), display_unit(STRESS))
    asked = reserves.asked(load, sentences.ratio(ev(shaft.notch_factor)))
    return f"{what}, yield {strength}, {asked}: {sentences.torque(carried)} allowed"
