"""What every part that carries a load of its own declares: how often it comes, and the metal beside its weld.

Answers   load_factor, REPEATS        how hard a load comes, and how often
          once_as                     what makes a load one that comes once
          material, yield_strength    the metal, and what is left of it beside a weld
          as_welded                   the typical yield of a metal beside a weld
Not here  the parts (members.py, brackets_and_welds.py, spot_welds.py, mounts.py)
"""

from __future__ import annotations

from trialfit.facts.quantity import COEFFICIENT, STRESS
from trialfit.handbook.sources import NO_SOURCE
from trialfit.handbook.structure.welded_metals import METALS, WeldedMetal, metal_named
from trialfit.parts.declaring import POSITIVE, FactSpec, WordSpec

AS_WELDED = "student racing-car competition rules, F.3.4.2: mild steel at welds"
REPEATS = "whether the load repeats, or comes once in the life of the car"

ONCE_AS = ("battery hold", "tank hold", "seat hold", "belt anchor", "tow eye", "by its manual")
"""Loads that come once in the life of a car: what holds in a crash, and a tow eye; or the maker's manual says so."""


def once_as() -> WordSpec:
    """Why a load that is written as coming once does."""
    return WordSpec(
        'what the load is if repeats = "once": a hold in a crash or a tow eye, or its maker\'s manual says so', *ONCE_AS
    )


def load_factor() -> FactSpec:
    """Worst load over the load at rest; declared by every kind that carries a load of its own."""
    return FactSpec(
        COEFFICIENT,
        "load factor: worst load over the load written; 3 for weight on a rough road, 1 if the worst load is written",
        bounds=POSITIVE,
        typical="3 ± 0",
        source=f"{NO_SOURCE}: 3 g down for chassis points",
        example="3",
        is_wish=True,
        lax="low",
    )


def material(says: str = "metal and temper") -> WordSpec:
    """The metal; mild steel is assumed while neither it nor a yield strength is written."""
    return WordSpec(f"{says}; mild steel if missing", *METALS)


def yield_strength(says: str = "yield strength, beside a weld") -> FactSpec:
    """The yield of the metal beside the weld."""
    return FactSpec(STRESS, says, bounds=POSITIVE, typical="180 ± 0 MPa", source=AS_WELDED, is_rating=True)


def as_welded(spec: FactSpec, metal: str | None) -> FactSpec:
    """The yield of a metal beside a weld as its typical value; none where the metal is not welded at home."""
    if metal is None:
        return spec
    figures: WeldedMetal = metal_named(metal)
    if figures.welded_yield is None:
        return spec.without_typical()
    low, high = (end / 1e6 for end in figures.welded_yield)
    return spec.with_typical(
        f"{(low + high) / 2:g} ± {(high - low) / 2:g} MPa", f"{metal}, as welded: {figures.source}"
    )


def by_filler(spec: FactSpec, metal: str | None) -> FactSpec:
    """The strength of the usual fillers of a metal as the typical value of weld metal; steel keeps its own."""
    if metal is None or metal_named(metal).family == "steel":
        return spec
    low, high = (end / 1e6 for end in metal_named(metal).filler)
    return spec.with_typical(
        f"{(low + high) / 2:g} ± {(high - low) / 2:g} MPa",
        "from memory: AWS D1.2 and Aluminum Design Manual, allowable shear of fillets 34 MPa (4043) to 48 MPa (5356) over 0.30",
    )
