"""One fillet weld: its throat, what it may carry, and how large or small it may be.

Answers   throat                    of a fillet with equal legs
          allowable_shear, factored_strength    of the weld metal
          smallest_leg, longest_leg, largest_leg_on_sheet, shortest_run     for the thickness of the parts
          steel                     the strengths of mild steel, plain and as welded
Not here  how a load spreads over a group of runs (weld_lines.py)
Symbols   h leg, t throat, F_EXX strength of the weld metal, L length of run
Sources   [1] AISC 360 J2.4   [2] AISC/AWS table of least fillet sizes (tables/least_fillets.csv)
          [3] student racing-car competition rules, F.3.4.2 (tables/steel_as_welded.csv)
"""

from __future__ import annotations

from functools import cache

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.tables import rows

ALLOWED_SHARE = 0.30
"""Allowable shear on the throat over the strength of the weld metal: welding knowledge page, after AISC."""

SHORTEST_RUN_LEGS = 4.0
SHORTEST_RUN = 0.038
"""A run is no shorter than four legs, nor than 38 mm [m]: AISC/AWS."""

THIN_EDGE = 6e-3
"""Thickness of an edge [m] below which the leg may be as large as the edge: AISC/AWS."""


def throat(leg: Numbers, throat_deduction: Numbers = 0.0) -> Numbers:
    """Throat of a fillet with equal legs.

        t = h/√2 − a

    leg        h                                     m    > 0
    throat_deduction   a, for a poor root or end crater      m    0 ≤ a < h/√2
    returns    t                                     m    nan outside that range

    Flat or convex face: a hollow one has less, measure it. Source: geometry; 0.707 h as in Mechanical Engineering Design.

    >>> f"{throat(3e-3) * 1e3:.2f} mm"
    '2.12 mm'
    """
    leg, throat_deduction = as_floats(leg, throat_deduction)
    thick = leg / np.sqrt(2.0) - throat_deduction
    return where((leg > 0) & (throat_deduction >= 0) & (thick > 0), thick)


def allowable_shear(metal_strength: Numbers) -> Numbers:
    """Shear that the throat of a fillet may carry under the real load.

        τ = 0.30·F_EXX

    metal_strength   F_EXX     Pa    > 0
    returns          τ         Pa    nan outside that range

    For the load as it is, static. Source: welding knowledge page, after AISC.

    >>> f"{allowable_shear(480e6) / 1e6:.0f} MPa"
    '144 MPa'
    """
    (strength,) = as_floats(metal_strength)
    return where(strength > 0, ALLOWED_SHARE * strength)


def factored_strength(metal_strength: Numbers, leg: Numbers) -> Numbers:
    """What one length of fillet carries against a load that was multiplied by its factors.

        q = 0.75·0.60·F_EXX·h/√2

    metal_strength   F_EXX     Pa     > 0
    leg              h         m      > 0
    returns          q         N/m    nan outside that range

    Source: AISC 360 J2.4.

    >>> f"{factored_strength(480e6, 6e-3) / 1e3:.0f} N/mm"
    '916 N/mm'
    """
    strength, leg = as_floats(metal_strength, leg)
    return where((strength > 0) & (leg > 0), 0.75 * 0.60 * strength * leg / np.sqrt(2.0))


def smallest_leg(thicker: Numbers, thinner: Numbers) -> Numbers:
    """Least leg for the parts it joins: the thicker takes the heat away and would quench a small run.

        by the table of the thicker part, but no more than the thinner part

    thicker   of the two parts     m    > 0
    thinner   of the two parts     m    0 < thinner ≤ thicker
    returns   h                    m    nan outside that range

    A sheet of 1.5 mm cannot hold the table's 3 mm. Source: AISC/AWS table of least fillet sizes; the limit to the thinner part
    from memory, AISC J2.2b.

    >>> f"{smallest_leg(8e-3, 8e-3) * 1e3:.0f} mm, {smallest_leg(8e-3, 2e-3) * 1e3:.0f} mm"
    '5 mm, 2 mm'
    """
    thicker, thinner = as_floats(thicker, thinner)
    upto, legs = _least_fillets()
    sound = (thinner > 0) & (thinner <= thicker * (1 + 1e-12))
    by_table = legs[np.searchsorted(upto, np.where(sound, thicker, 0.0) * (1 - 1e-9))]
    return where(sound, np.minimum(by_table, thinner))


def longest_leg(edge: Numbers) -> Numbers:
    """Largest leg along the edge of a plate: a larger one melts the edge away and its size cannot be seen.

        h = t up to 6 mm, else t − 2 mm

    edge      t, thickness at the edge     m    > 0
    returns   h                            m    nan outside that range

    Source: AISC/AWS.

    >>> f"{longest_leg(4e-3) * 1e3:.0f} mm, {longest_leg(10e-3) * 1e3:.0f} mm"
    '4 mm, 8 mm'
    """
    (edge,) = as_floats(edge)
    return where(edge > 0, np.where(edge < THIN_EDGE, edge, edge - 2e-3))


def largest_leg_on_sheet(thinner: Numbers) -> Numbers:
    """Largest leg that a sheet takes: a larger one burns through or draws it, and carries no more than the sheet beside it.

        h = max(1.2·t, t + 1 mm)

    thinner   t, of the two parts     m    > 0
    returns   h                       m    nan outside that range

    A leg of 1.0 to 1.2 times the sheet is aimed for; a bead of hobby wire is a millimetre larger than that at best. Source: common
    practice, no source.

    >>> [f"{largest_leg_on_sheet(t * 1e-3) * 1e3:.1f} mm" for t in (0.9, 2.0, 8.0)]
    ['1.9 mm', '3.0 mm', '9.6 mm']
    """
    (thinner,) = as_floats(thinner)
    return where(thinner > 0, np.maximum(1.2 * thinner, thinner + 1e-3))


def shortest_run(leg: Numbers) -> Numbers:
    """Least length of one run.

        L = 4·h, and no less than 38 mm

    leg       h     m    > 0
    returns   L     m    nan outside that range

    Source: AISC/AWS.

    >>> f"{shortest_run(5e-3) * 1e3:.0f} mm"
    '38 mm'
    """
    (leg,) = as_floats(leg)
    return where(leg > 0, np.maximum(SHORTEST_RUN_LEGS * leg, SHORTEST_RUN))


def steel(what: str) -> float:
    """A calculation value for mild steel, Pa.

    what      "parent_yield", "parent_ultimate", "welded_yield", "welded_ultimate" or "youngs_modulus"
    returns   Pa
    errors    KeyError for another word

    Beside a weld the steel counts with its welded values. Source: student racing-car competition rules, F.3.4.2.

    >>> f"{steel('welded_yield') / 1e6:.0f} MPa of {steel('parent_yield') / 1e6:.0f} MPa"
    '180 MPa of 305 MPa'
    """
    return _steel()[what]


@cache
def _steel() -> dict[str, float]:
    return {row["name"]: float(row["value_MPa"]) * 1e6 for row in rows("structure", "steel_as_welded")}


@cache
def _least_fillets() -> tuple[np.ndarray, np.ndarray]:
    """Thickness up to which a row holds, rising, and its leg, m."""
    printed = [(float(row["thicker_up_to_mm"]), float(row["leg_mm"])) for row in rows("structure", "least_fillets")]
    upto, legs = np.array(printed).T * 1e-3
    return upto, legs
