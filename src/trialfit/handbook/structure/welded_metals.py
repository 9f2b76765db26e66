"""Metals as they are beside a weld: what is left of their yield strength, and how far the heat reaches.

Answers   METALS                 the words for metal and temper
          metal_named            the figures of one of them
          repeated_yield         yield that counts for a load that repeats
Not here  the filler's own strength in a joint (welds.py)
Sources   [1] tables/welded_metals.csv, a source for each row
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.tables import rows


@dataclass(frozen=True)
class WeldedMetal:
    """One metal in SI: yield plain, as welded from low to high, and the most that counts for a repeated load, Pa; tensile strength
    of its usual fillers, Pa (for aluminium: allowable shear of the fillet over 0.30); width of the heat zone, m; source.
    """

    name: str
    family: str
    plain_yield: float
    welded_yield: tuple[float, float] | None
    repeated_yield: float
    filler: tuple[float, float]
    heat_zone: float
    source: str


@cache
def _metals() -> dict[str, WeldedMetal]:
    return {row["name"]: _metal(row) for row in rows("structure", "welded_metals")}


def _metal(row: dict[str, str]) -> WeldedMetal:
    def pressure(column: str) -> float:
        return float(row[f"{column}_MPa"] or "nan") * 1e6

    low, high = pressure("welded_yield_low"), pressure("welded_yield_high")
    return WeldedMetal(
        name=row["name"],
        family=row["family"],
        plain_yield=pressure("plain_yield"),
        welded_yield=(low, high) if np.isfinite(low) else None,
        repeated_yield=pressure("repeated_yield"),
        filler=(pressure("filler_low"), pressure("filler_high")),
        heat_zone=float(row["heat_zone_mm"]) * 1e-3,
        source=row["source"],
    )


METALS = tuple(_metals())


def metal_named(name: str) -> WeldedMetal:
    """The figures of a metal and temper beside a weld.

    name      one of METALS
    returns   WeldedMetal; no welded yield for a metal that is not welded at home
    errors    KeyError for another word

    Source: tables/welded_metals.csv.

    >>> metal = metal_named("6061-T6")
    >>> low, high = metal.welded_yield
    >>> f"{low / 1e6:.0f} to {high / 1e6:.0f} of {metal.plain_yield / 1e6:.0f} MPa, within {metal.heat_zone * 1e3:.0f} mm"
    '80 to 131 of 240 MPa, within 25 mm'
    """
    return _metals()[name]


def repeated_yield(welded_yield: Numbers, name: str) -> Numbers:
    """Yield beside a weld that counts for a load that repeats: a weld cracks from its toe, however strong the metal is.

        the welded yield, but no more than that of mild steel at welds, and 0.4 of it for aluminium

    welded_yield   of the metal beside the weld      Pa    > 0
    name           one of METALS
    returns        yield                             Pa    nan outside that range

    Source: from memory, IIW recommendations: fatigue of a weld does not grow with the strength of the metal; classes of
    aluminium 0.35 to 0.45 of those of steel.

    >>> f"{repeated_yield(400e6, 'DP600') / 1e6:.0f} MPa, {repeated_yield(125e6, '6082-T6') / 1e6:.0f} MPa"
    '180 MPa, 72 MPa'
    """
    (strength,) = as_floats(welded_yield)
    return where(strength > 0, np.minimum(strength, metal_named(name).repeated_yield))
