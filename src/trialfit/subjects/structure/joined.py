"""What a weld joins: the plates on both sides of it, and the metal of each.

Answers   held_thickness, base_thickness   of the part that it holds, and of what that is welded to
          held_yield, base_yield           beside the weld
          held_metal, base_metal           their words
          has_doubler                      whether a doubler plate is between the part and the sheet
          bends                            whether what it is welded to can bend
          not_solid                        what is said of a "solid" that is too thin for it
Rule      Where the weld holds a bracket, the base is that of the two thicknesses which is not the bracket's; else it is the
          thinner one. With a doubler the two thicknesses at the weld are those of part and doubler, and base_thickness is the sheet's.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.facts.quantity import LENGTH
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.parts import Bracket
from trialfit.subjects.structure import metals

if TYPE_CHECKING:
    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import Weld


def bracket_of(build: Build, weld: Weld) -> Bracket | None:
    """The bracket that it holds."""
    held = build.named(weld.carries)
    return held if isinstance(held, Bracket) else None


def has_doubler(weld: Weld) -> bool:
    """Whether a doubler plate is written."""
    return weld.doubler_thickness.written is not None


SOLID, LEGS = 0.006, 3.0
"""Thickness from which what is welded to counts as solid by the builder's word, m, or in legs of the weld: a choice, no source."""


def bends(build: Build, weld: Weld) -> bool:
    """Whether what it is welded to can bend: all that is not called solid, or is too thin to be."""
    return weld.base != "solid" or bool(not_solid(build, weld))


def not_solid(build: Build, weld: Weld) -> str:
    """Why what is called solid is not; nothing where it is, or is not called so."""
    leg, thickness = weld.leg.written, _base_as_written(build, weld)
    if weld.base != "solid" or leg is None or thickness is None or thickness >= min(SOLID, LEGS * leg.si):
        return ""
    return (
        f'{weld.name}.base "solid" does not count, it is judged as a wall: {show(thickness, display_unit(LENGTH))} is less than '
        f"{LEGS:g} legs and less than {show(SOLID, display_unit(LENGTH))}, and bends. If what it is welded to is thicker, write {weld.name}.base_thickness"
    )


def _base_as_written(build: Build, weld: Weld) -> float | None:
    """Thickness of what is called solid, m: as written, else the one of both that is not the bracket's, else the thicker."""
    if weld.base_thickness.written:
        return weld.base_thickness.written.si
    both = [ref.written.si for ref in (weld.thinner, weld.thicker) if ref.written]
    bracket = bracket_of(build, weld)
    if bracket is None or bracket.thickness.written is None:
        return max(both, default=None)
    own = bracket.thickness.written.si
    return max(both, key=lambda one: abs(one - own), default=None)


def thinner(ev: Evaluation, weld: Weld) -> Array:
    """The thinner of the two plates in each draw, m: two that are equally thick come either way round."""
    return np.minimum(*ev.each(weld.thicker, weld.thinner))


def thicker(ev: Evaluation, weld: Weld) -> Array:
    """The thicker one, m."""
    return np.maximum(*ev.each(weld.thicker, weld.thinner))


def base_thickness(ev: Evaluation, weld: Weld) -> Array:
    """Thickness of the plate at the weld on the side of the car, m: the doubler where there is one."""
    if has_doubler(weld):
        return ev(weld.doubler_thickness)
    if weld.base_thickness.written is not None:
        return ev(weld.base_thickness)
    thin, thick = ev.of(thinner, weld), ev.of(thicker, weld)
    bracket = bracket_of(ev.build, weld)
    if bracket is None:
        return thin
    own = ev(bracket.thickness)
    return np.where(np.abs(thin - own) < np.abs(thick - own), thick, thin)


def held_thickness(ev: Evaluation, weld: Weld) -> Array:
    """Thickness of the plate on the side of the part that is held, m."""
    bracket = bracket_of(ev.build, weld)
    if bracket is not None:
        return ev(bracket.thickness)
    thin, thick, base = ev.of(thinner, weld), ev.of(thicker, weld), ev.of(base_thickness, weld)
    return np.where(np.abs(thin - base) <= np.abs(thick - base), thick, thin)


def held_metal(build: Build, weld: Weld) -> str | None:
    """Metal of the part that is held: the weld's word, else the bracket's."""
    bracket = bracket_of(build, weld)
    return weld.material or (bracket.material if bracket else None)


def base_metal(build: Build, weld: Weld) -> str | None:
    """Metal of what it is welded to: its own word, else that of the part that is held."""
    return weld.base_material or held_metal(build, weld)


def held_yield(ev: Evaluation, weld: Weld) -> Array:
    """Yield beside the weld of the part that is held, Pa. Raises MissingFact."""
    bracket = bracket_of(ev.build, weld)
    if bracket and weld.material is None and weld.yield_strength.written is None:
        return ev.of(metals.beside_weld, bracket)
    metal = held_metal(ev.build, weld)
    return metals.of_metal(ev, weld.yield_strength, metal, f"{weld.name}.material")


def base_yield(ev: Evaluation, weld: Weld) -> Array:
    """Yield beside the weld of what it is welded to, Pa. Raises MissingFact."""
    if weld.base_material is None and weld.base_yield_strength.written is None:
        return ev.of(held_yield, weld)
    metal = base_metal(ev.build, weld)
    return metals.of_metal(ev, weld.base_yield_strength, metal, f"{weld.name}.base_material")
