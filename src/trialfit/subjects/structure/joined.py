"""What a weld joins: the plates on both sides of it, and the metal of each.

Answers   held_thickness, base_thickness   of the part that it holds, and of what that is welded to
          held_yield, base_yield           beside the weld
          held_metal, base_metal           their words
          has_doubler                      whether a doubler plate is between the part and the sheet
Rule      Where the weld holds a bracket, the base is that of the two thicknesses which is not the bracket's; else it is the
          thinner one. With a doubler the two thicknesses at the weld are those of part and doubler, and base_thickness is the sheet's.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

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
