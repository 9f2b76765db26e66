"""A member before and after: as stiff as what was cut, and within the strength of its steel beside the welds.

Answers   requirements   bending_ratio.upright.CUT, bending_ratio.sideways.CUT, torsion_ratio.CUT, mass_ratio.CUT (a figure),
                         stress.NEW, and the figures deflection.NEW, twist.NEW, same_mass.SHAPE.NEW
Not here  frames of several members (frames.py); the welds that hold it (welds.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import ANGLE, LENGTH, RATIO, STRESS
from trialfit.handbook.sources import NO_SOURCE
from trialfit.handbook.structure import beams, sections
from trialfit.handbook.structure.brackets import equivalent_stress
from trialfit.handbook.structure.walled_sections import thin_walls
from trialfit.handbook.structure.welded_metals import repeated_yield
from trialfit.parts import CutMember, Reinforcement
from trialfit.subjects.structure.margins import SAFETY_ON_YIELD, WELDING, counts_as, in_life, once_unsaid
from trialfit.subjects.structure.metals import allowed_stress, said
from trialfit.subjects.structure.section_of import section_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef
    from trialfit.parts.structure.members import Sectioned

    Stiffness = Callable[[Evaluation, Sectioned], Array]

AS_MUCH_AS_CUT = Source(
    f"{NO_SOURCE}: no less than what was cut; South Australia's fact sheet MR810 asks that beam and torsion "
    "strength of the altered body be shown adequate against the unaltered one",
    SourceKind.common_practice,
)
SHAPES = {"round tube": "round_tube", "square tube": "square_tube", "channel": "channel", "flat": "flat"}
_FORMULAS = (sections.box, sections.round_tube, sections.channel, sections.flat, thin_walls)


def requirements(build: Build) -> Iterator[Requirement]:
    """The reinforcement of each cut member, and the load on each new member."""
    new = build.all(Reinforcement)
    for cut in build.all(CutMember):
        yield from _against_the_cut(cut, next((one for one in new if one.replaces == cut.name), None))
    for one in new:
        if _is_loaded(one):
            yield from _under_load(one)
        yield from _other_shapes(one)


def _against_the_cut(cut: CutMember, new: Reinforcement | None) -> Iterator[Requirement]:
    about = new.name if new else cut.name
    for which, words, stiffness in (
        ("bending_ratio.upright", "in bending from above", upright_stiffness),
        ("bending_ratio.sideways", "in bending from the side", sideways_stiffness),
        ("torsion_ratio", "in torsion", torsion_stiffness),
    ):
        yield Requirement(
            id=f"structure.{which}.{cut.name}",
            about=about,
            says=f"the reinforcement for {cut.name} is at least as stiff {words} as the cut member",
            value=partial(_ratio, cut=cut, new=new, stiffness=stiffness),
            quantity=RATIO,
            stake=Stake.safety,
            limit=AtLeast(1.0),
            source=AS_MUCH_AS_CUT,
            formulas=_FORMULAS,
            caution=WELDING,
        )
    yield Requirement(
        id=f"structure.mass_ratio.{cut.name}",
        about=about,
        says=f"mass per length of the reinforcement for {cut.name}, over that of the cut member",
        value=partial(_ratio, cut=cut, new=new, stiffness=area),
        quantity=RATIO,
        stake=Stake.comfort,
        formulas=_FORMULAS,
        caution=WELDING,
    )


def _under_load(new: Reinforcement) -> Iterator[Requirement]:
    yield Requirement(
        id=f"structure.stress.{new.name}",
        about=new.name,
        says=f"{new.name} carries its load, which comes {in_life(counts_as(new))}, beside its welds",
        value=partial(stress, new=new),
        quantity=STRESS,
        stake=Stake.safety,
        limit=AtMost(partial(allowed_stress, part=new, repeats=counts_as(new))),
        source=SAFETY_ON_YIELD,
        formulas=(beams.bending_stress, equivalent_stress, repeated_yield, *_FORMULAS),
        shows=lambda _: "; ".join(filter(None, (said(new), once_unsaid(new)))),
        caution=WELDING,
    )
    if new.load.written:
        yield Requirement(
            id=f"structure.deflection.{new.name}",
            about=new.name,
            says=f"deflection of {new.name} at the worst load from above",
            value=partial(deflection, new=new),
            quantity=LENGTH,
            stake=Stake.comfort,
            formulas=(beams.bend_at_middle, *_FORMULAS),
            caution=WELDING,
        )
    if new.torque.written:
        yield Requirement(
            id=f"structure.twist.{new.name}",
            about=new.name,
            says=f"twist of {new.name} at the worst torque, free to warp at its ends",
            value=partial(twist, new=new),
            quantity=ANGLE,
            stake=Stake.comfort,
            formulas=(beams.twist_of, *_FORMULAS),
            caution=WELDING,
        )


def _other_shapes(new: Reinforcement) -> Iterator[Requirement]:
    for shape, word in SHAPES.items():
        yield Requirement(
            id=f"structure.same_mass.{word}.{new.name}",
            about=new.name,
            says=f"torsional stiffness that a {shape} of the same height and mass would have, over that of {new.name}",
            value=partial(_same_mass, new=new, shape=shape),
            quantity=RATIO,
            stake=Stake.comfort,
            formulas=(sections.same_mass, *_FORMULAS),
            caution=WELDING,
        )


def upright_stiffness(ev: Evaluation, part: Sectioned) -> Array:
    """E·I against a load from above, N·m²."""
    return np.asarray(ev(part.youngs_modulus) * ev.of(section_of, part).upright)


def sideways_stiffness(ev: Evaluation, part: Sectioned) -> Array:
    """E·I against a load from the side, N·m²."""
    return np.asarray(ev(part.youngs_modulus) * ev.of(section_of, part).sideways)


def torsion_stiffness(ev: Evaluation, part: Sectioned) -> Array:
    """G·J, N·m²."""
    return np.asarray(ev(part.shear_modulus) * ev.of(section_of, part).torsion)


def area(ev: Evaluation, part: Sectioned) -> Array:
    """Area of steel, m²."""
    return np.asarray(ev.of(section_of, part).area)


def _ratio(ev: Evaluation, cut: CutMember, new: Reinforcement | None, stiffness: Stiffness) -> Array:
    if new is None:
        raise MissingFact({Reinforcement.kind: f"no part of this kind replaces {cut.name}: what was welded in for it"})
    return stiffness(ev, new) / stiffness(ev, cut)


def _is_loaded(new: Reinforcement) -> bool:
    return any(ref.written for ref in (new.load, new.side_load, new.pull, new.torque))


def _worst(ev: Evaluation, new: Reinforcement, ref: FactRef) -> Array:
    """A load of the member at its worst; nothing where it is not written."""
    if ref.written is None:
        return np.zeros(ev.draws)
    return np.asarray(np.abs(ev(ref)) * ev(new.load_factor))


def stress(ev: Evaluation, new: Reinforcement) -> Array:
    """The worst stress in a new member, Pa: bending both ways and pull at one corner, twist with them."""
    section = ev.of(section_of, new)
    length, k = ev(new.length), beams.MIDDLE_MOMENT[new.end_support or "pinned"]
    upright = beams.bending_stress(
        _worst(ev, new, new.load) * length / k, section.upright_modulus, _worst(ev, new, new.pull), section.area
    )
    sideways = beams.bending_stress(_worst(ev, new, new.side_load) * length / k, section.sideways_modulus)
    across = _worst(ev, new, new.torque) / section.torsion_modulus
    return np.asarray(equivalent_stress(upright + sideways, across))


def deflection(ev: Evaluation, new: Reinforcement) -> Array:
    """Deflection under the load from above, m."""
    modulus, length = ev.each(new.youngs_modulus, new.length)
    moment = ev.of(section_of, new).upright
    return np.asarray(
        beams.bend_at_middle(_worst(ev, new, new.load), length, moment, modulus, new.end_support or "pinned")
    )


def twist(ev: Evaluation, new: Reinforcement) -> Array:
    """How far it twists, rad."""
    modulus, length = ev.each(new.shear_modulus, new.length)
    return np.asarray(beams.twist_of(_worst(ev, new, new.torque), length, ev.of(section_of, new).torsion, modulus))


def _same_mass(ev: Evaluation, new: Reinforcement, shape: str) -> Array:
    section = ev.of(section_of, new)
    return np.asarray(sections.same_mass(section.area, _height(ev, new))[shape].torsion / section.torsion)


def _height(ev: Evaluation, new: Reinforcement) -> Array:
    if new.shape == "round tube":
        return ev(new.diameter)
    if new.shape == "walls":
        upright = ev.rows(new.corner_z, f"{new.name}.corner_z")
        return np.asarray(np.ptp(upright, axis=-1) + ev.rows(new.wall_thicknesses, "walls").max(axis=-1))
    return ev(new.height)
