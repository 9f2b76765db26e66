"""Brackets and mount arms of plate: stress at the root, the edge round the bolt hole, thickness and stiffness of the plate.

Answers   requirements   bracket_stress, bracket_bearing, bracket_edge, bracket_thickness, bracket_slender, each with the name
          of             those of them by which a bracket gives under its load
          stress         at the root, (comings, draws)
Not here  the weld (welds.py); how often the load comes (loads.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import LENGTH, RATIO, STRESS
from trialfit.handbook.sources import NO_SOURCE
from trialfit.handbook.structure import brackets as handbook
from trialfit.handbook.structure.welded_metals import metal_named, repeated_yield
from trialfit.parts import Bracket
from trialfit.subjects.structure import loads, metals
from trialfit.subjects.structure.margins import SAFETY, SAFETY_ON_YIELD, WELDING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.states import InStates
    from trialfit.handbook.arrays import Array


THINNEST_TAB = 1.6e-3
TAB = Source("student racing-car competition rules, T.2.4.4: a tab of at least 1.6 mm", SourceKind.published)
ON_THE_HOLE = Source(
    f"{NO_SOURCE}: yield over 1.5, as welded within the heat zone; plain mild steel 305 MPa by student racing-car competition "
    "rules, F.3.4.2",
    SourceKind.common_practice,
)


def requirements(build: Build) -> Iterator[Requirement]:
    """What each bracket must carry."""
    for bracket in build.all(Bracket):
        yield from _strength(build, bracket)
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


def of(build: Build, some: Iterable[Bracket]) -> Iterator[Requirement]:
    """What decides whether brackets carry their load: root and bolt hole."""
    for bracket in some:
        yield from (one for one in _strength(build, bracket) if one.quantity is STRESS)


def _strength(build: Build, bracket: Bracket) -> Iterator[Requirement]:
    yield Requirement(
        id=f"structure.bracket_stress.{bracket.name}",
        about=bracket.name,
        says=f"the root of {bracket.name} carries its load, which comes {loads.how_often(build, bracket)}, beside the weld",
        value=lambda ev: loads.in_comings(ev.build, bracket, ev.of(stress, bracket)),
        quantity=STRESS,
        stake=Stake.safety,
        limit=AtMost(partial(_allowed, bracket=bracket)),
        source=SAFETY_ON_YIELD,
        formulas=(handbook.plate_modulus, handbook.equivalent_stress, repeated_yield),
        shows=lambda ev: "; ".join(filter(None, (metals.said(bracket), loads.unheeded(ev.build, bracket)))),
        caution=WELDING,
        cure="make the plate deeper along the load (twice the depth carries four times as much), add a second plate, or shorten the arm",
    )
    yield Requirement(
        id=f"structure.bracket_bearing.{bracket.name}",
        about=bracket.name,
        says=f"the bearing stress of the bolt hole in {bracket.name} stays within its limit",
        value=partial(_bearing, bracket=bracket),
        quantity=STRESS,
        stake=Stake.durability,
        limit=AtMost(partial(_allowed_on_the_hole, bracket=bracket)),
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


def stress(ev: Evaluation, bracket: Bracket) -> Array:
    """Stress at its root, Pa, bending and shear together, (comings, draws)."""
    reach, depth, thickness, plates, hole = ev.each(
        bracket.reach, bracket.depth, bracket.thickness, bracket.plates, bracket.root_hole
    )
    force = ev.of(loads.forces, bracket)
    bending = force * reach / np.asarray(handbook.plate_modulus(depth, plates * thickness, hole))
    shear = force / (plates * thickness * (depth - hole))
    return np.asarray(handbook.equivalent_stress(bending, shear))


def _bearing(ev: Evaluation, bracket: Bracket) -> Array:
    hole, thickness, plates = ev.each(bracket.bolt_hole, bracket.thickness, bracket.plates)
    return np.asarray(handbook.bearing_stress(ev.of(loads.forces, bracket)[0], hole, thickness * plates))


def _allowed(ev: Evaluation, bracket: Bracket) -> Array | InStates:
    ways = loads.comings(ev.build, bracket)
    each = np.stack([metals.allowed_stress(ev, bracket, way.repeats) for way in ways])
    return loads.in_comings(ev.build, bracket, each)


def _allowed_on_the_hole(ev: Evaluation, bracket: Bracket) -> Array:
    """Of the plain metal; as welded where the hole is within the heat of the weld at the root."""
    plain = metals.plain_yield(bracket)
    if bracket.material is None:
        return np.full(ev.draws, plain / SAFETY["once"])
    zone = metal_named(bracket.material).heat_zone
    reach, hole, welded = *ev.each(bracket.reach, bracket.bolt_hole), ev.of(metals.beside_weld, bracket)
    return np.where(reach - hole / 2 < zone, welded, plain) / SAFETY["once"]


def _slenderness(ev: Evaluation, bracket: Bracket) -> Array:
    depth, thickness = ev.each(bracket.depth, bracket.thickness)
    return np.asarray(handbook.slenderness(depth, thickness))
