"""The yield that counts beside a weld: of the metal that is written, as welded, for a load that comes once or repeats.

Answers   beside_weld      yield beside a weld by metal and written yield
          counted          the same for a load that repeats: it grows no more than a weld's toe bears
          allowed_stress   that over its margin
          plain_yield      of the metal away from any weld
          said             a remark on what the metal is taken as
Rule      Mild steel is assumed while neither metal nor yield is written. A yield without its metal is not enough: nobody can tell
          whether it is that of the plain metal. A yield above what the metal has beside a weld is the plain one: the lowest
          as-welded value counts in its place. Press-hardened steel has none but its maker's.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.ranks import is_from_its_maker
from trialfit.handbook.structure.welded_metals import metal_named, repeated_yield
from trialfit.subjects.structure.margins import safety

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import Bracket, FactRef, Reinforcement, Weld

ASSUMED = "mild steel"
_NOT_AT_HOME = "is not for welding at home: bolt it, or write the yield strength beside a weld from its maker's manual"
_TINY = 1e-9


def beside_weld(ev: Evaluation, part: Bracket | Weld | Reinforcement) -> Array:
    """Yield of a part beside its weld, Pa. Raises MissingFact."""
    return of_metal(ev, part.yield_strength, part.material, f"{part.name}.material")


def of_metal(ev: Evaluation, strength: FactRef, metal: str | None, path: str) -> Array:
    """Yield beside a weld of a metal, Pa; `path` is where the metal is written. Raises MissingFact."""
    _needs_metal(strength, metal, path)
    if metal is None:
        return ev(strength)
    figures = metal_named(metal)
    if figures.welded_yield is None:
        if not is_from_its_maker(strength):
            raise MissingFact({strength.path: f"{metal} {_NOT_AT_HOME}"})
        return ev(strength)
    low, high = figures.welded_yield
    values = ev(strength)
    return np.where(values > high * (1 + _TINY), low, values) if strength.written else values


def counted(strength: Array, metal: str | None, repeats: str | None) -> Array:
    """The yield that counts for a load that comes once or repeats, Pa."""
    return strength if repeats == "once" else np.asarray(repeated_yield(strength, metal or ASSUMED))


def allowed_stress(ev: Evaluation, part: Bracket | Reinforcement, repeats: str | None) -> Array:
    """Yield beside a weld over its margin, Pa."""
    return np.asarray(counted(ev.of(beside_weld, part), part.material, repeats) / safety(repeats))


def plain_yield(part: Bracket) -> float:
    """Yield of the metal of a part away from any weld, Pa. Raises MissingFact."""
    _needs_metal(part.yield_strength, part.material, f"{part.name}.material")
    return metal_named(part.material or ASSUMED).plain_yield


def _needs_metal(strength: FactRef, metal: str | None, path: str) -> None:
    if metal is None and strength.written is not None:
        raise MissingFact({path: f"metal and temper that {strength.path} belongs to"})


def said(part: Bracket | Weld | Reinforcement) -> str:
    """What the metal is taken as; nothing where it is written."""
    return f"taken as {ASSUMED}: write {part.name}.material if it is another metal" if part.material is None else ""
