"""Brackets and mount arms of plate: stress at the root, the edge round the bolt hole, thickness and stiffness of the plate.

Answers   requirements   bracket_stress, bracket_bearing, bracket_edge, bracket_thickness, bracket_slender, each with the name
          load, reach    of a bracket, for the weld that holds it
Not here  the weld (welds.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import LENGTH, RATIO, STRESS
from trialfit.handbook.sources import NO_SOURCE
from trialfit.handbook.structure import brackets as handbook
from trialfit.handbook.structure.welds import steel
from trialfit.parts import Bracket, Mount
from trialfit.subjects import power_unit
from trialfit.subjects.structure.margins import SAFETY, SAFETY_ON_YIELD, WELDING, in_life, safety

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


THINNEST_TAB = 1.6e-3
TAB = Source("student racing-car competition rules, T.2.4.4: a tab of at least 1.6 mm", SourceKind.published)
ON_THE_HOLE = Source(
    f"{NO_SOURCE}: yield over 1.5; plain steel 305 MPa by student racing-car competition rules, F.3.4.2",
    SourceKind.common_practice,
)


def requirements(build: Build) -> Iterator[Requirement]:
    """What each bracket must carry."""
    for bracket in build.all(Bracket):
        yield from _strength(bracket)
        yield Requirement(
            id=f"structure.bracket_thickness.{bracket.name}",
            about=bracket.name,
            says=f"the plate of {bracket.name} is thick enough to weld and to carry a bolt",
            value=lambda ev, one=bracket: ev(one.thickness),  # type: ignore[misc]
            quantity=LENGTH,
            stake=Stake.safety,
            limit=AtLeast(THINNEST_TAB),
            source=TAB,
            caution=WELDING,
        )
        if bracket.stiffened == "no":
            yield Requirement(
                id=f"structure.bracket_slender.{bracket.name}",
                about=bracket.name,
                says=f"the free edge of {bracket.name} is short enough for its thickness, so that it does not fold; else fit a flange or a rib",
                value=partial(_slenderness, bracket=bracket),
                quantity=RATIO,
                stake=Stake.durability,
                limit=AtMost(handbook.THICKEST_STIFF),
                source=COMMON_PRACTICE,
                formulas=(handbook.slenderness,),
                caution=WELDING,
            )


def _strength(bracket: Bracket) -> Iterator[Requirement]:
    yield Requirement(
        id=f"structure.bracket_stress.{bracket.name}",
        about=bracket.name,
        says=f"the root of {bracket.name} carries its load, which comes {in_life(repeats(bracket))}, beside the weld",
        value=partial(stress, bracket=bracket),
        quantity=STRESS,
        stake=Stake.safety,
        limit=AtMost(lambda ev: ev(bracket.yield_strength) / safety(repeats(bracket))),
        source=SAFETY_ON_YIELD,
        formulas=(handbook.plate_modulus, handbook.equivalent_stress),
        caution=WELDING,
    )
    yield Requirement(
        id=f"structure.bracket_bearing.{bracket.name}",
        about=bracket.name,
        says=f"the bearing stress of the bolt hole in {bracket.name} stays within its limit",
        value=partial(_bearing, bracket=bracket),
        quantity=STRESS,
        stake=Stake.durability,
        limit=AtMost(steel("parent_yield") / SAFETY["once"]),
        source=ON_THE_HOLE,
        formulas=(handbook.bearing_stress,),
        caution=WELDING,
    )
    yield Requirement(
        id=f"structure.bracket_edge.{bracket.name}",
        about=bracket.name,
        says=f"enough plate is left round the bolt hole of {bracket.name}: centre to edge, in hole diameters",
        value=lambda ev: handbook.edge_left(*ev.each(bracket.bolt_edge, bracket.bolt_hole)),
        quantity=RATIO,
        stake=Stake.safety,
        limit=AtLeast(handbook.LEAST_EDGE),
        source=COMMON_PRACTICE,
        formulas=(handbook.edge_left,),
        caution=WELDING,
    )


def repeats(bracket: Bracket) -> str | None:
    """How often its load comes: the worst load of a mount is that of one bump in a life."""
    return "once" if bracket.carries else bracket.repeats


def load(ev: Evaluation, bracket: Bracket) -> Array:
    """The worst load on its end, N: of the mount it carries, pressed or pulled, or as written."""
    mount = ev.build.named(bracket.carries)
    if isinstance(mount, Mount):
        return np.asarray(np.maximum(ev.of(power_unit.pressed, mount), ev.of(power_unit.pulled, mount)))
    at_rest, factor = ev.each(bracket.load, bracket.load_factor)
    return np.asarray(np.abs(at_rest) * factor)


def stress(ev: Evaluation, bracket: Bracket) -> Array:
    """The worst stress at its root, Pa, bending and shear together."""
    reach, depth, thickness, plates, hole = ev.each(
        bracket.reach, bracket.depth, bracket.thickness, bracket.plates, bracket.root_hole
    )
    force = ev.of(load, bracket)
    bending = force * reach / np.asarray(handbook.plate_modulus(depth, plates * thickness, hole))
    shear = force / (plates * thickness * (depth - hole))
    return np.asarray(handbook.equivalent_stress(bending, shear))


def _bearing(ev: Evaluation, bracket: Bracket) -> Array:
    hole, thickness, plates = ev.each(bracket.bolt_hole, bracket.thickness, bracket.plates)
    return np.asarray(handbook.bearing_stress(ev.of(load, bracket), hole, thickness * plates))


def _slenderness(ev: Evaluation, bracket: Bracket) -> Array:
    depth, thickness = ev.each(bracket.depth, bracket.thickness)
    return np.asarray(handbook.slenderness(depth, thickness))
