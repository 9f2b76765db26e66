"""Spot welds and plug welds in steel sheet: what one bears, how large it is, and how a lever loads a group of them.

Answers   spot_strength, plug_strength    shear at which one breaks
          least_nugget, least_plug        their least diameters by the sheet
          row_share                       pull of a lever on the hardest pulled spot
          THINNEST, THICKEST              sheet that the chart covers
Not here  fillets (welds.py)
Symbols   t thickness of the thinner sheet, d diameter of nugget or hole, n number
Sources   [1] tables/spot_welds.csv   [2] from memory: AISI S100, E2.2, arc spot welds
"""

from __future__ import annotations

from functools import cache

import numpy as np

from trialfit.handbook.arrays import Array, Numbers, as_floats, where
from trialfit.handbook.structure.welds import steel
from trialfit.handbook.tables import rows

THINNEST, THICKEST = 0.6e-3, 3.0e-3
SPACING, EDGE = 3.0, 1.5
"""Least distance between centres, and from a centre to the edge, over the diameter: a planning table for spot welds on a public
page; the edge by common practice, no source."""

SQUARE, PEELED = (0.5, 0.75), (0.1, 0.2)
"""Strength of a spot pulled square off, and peeled from one side, over its shear: from memory."""

REACHED = (0.5, 1.0)
"""Share of the chart's shear that mild sheet reaches: the chart is for steel up to 480 MPa; AWS D8.9's formula gives half of it for
steel of 300 MPa, from memory."""


def spot_strength(thickness: Numbers, diameter: Numbers) -> Numbers:
    """Shear at which one spot weld breaks, by the chart for steel under 480 MPa.

        F = F_chart(t)·min(1, (d/d_chart(t))²); past the ends of the chart F and d_chart go with t^1.5 and √t

    thickness   t, of the thinner sheet     m    0.0006 ≤ t ≤ 0.003
    diameter    d, of the nugget            m    > 0
    returns     F                           N    nan outside that range

    A larger nugget than the chart's counts as the chart's: the sheet tears round it. Source: tables/spot_welds.csv, from memory; the share of a small nugget is
    geometry.

    >>> f"{spot_strength(1e-3, 4.8e-3) / 1e3:.1f} kN, {spot_strength(1e-3, 4e-3) / 1e3:.1f} kN"
    '4.1 kN, 2.8 kN'
    """
    thickness, diameter = as_floats(thickness, diameter)
    sound = (thickness >= THINNEST) & (thickness <= THICKEST) & (diameter > 0)
    within, shear, nugget = _chart()
    inside = np.clip(thickness, within[0], within[-1])
    beyond = np.where(sound, thickness, 1.0) / np.where(sound, inside, 1.0)
    full = np.interp(inside, within, shear) * beyond**1.5
    of_chart = np.interp(inside, within, nugget) * np.sqrt(beyond)
    return where(sound, full * np.minimum(1.0, diameter / of_chart) ** 2)


def plug_strength(thickness: Numbers, diameter: Numbers, metal_strength: Numbers) -> Numbers:
    """Shear at which one plug weld breaks: its metal, or the sheet round it.

        F = min(0.6·F_EXX·π·d²/4, 2.2·t·d·F_u)

    thickness        t, of the sheet with the hole     m     0.0006 ≤ t ≤ 0.003
    diameter         d, of the hole                    m     > 0
    metal_strength   F_EXX, of the weld metal          Pa    > 0
    returns          F                                 N     nan outside that range

    F_u is that of mild steel at welds, 300 MPa, for all steels; the hole is filled to its edge. Source: from memory, AISI S100, E2.2; student racing-car
    competition rules, F.3.4.2.

    >>> f"{plug_strength(1e-3, 8e-3, 480e6) / 1e3:.1f} kN"
    '5.3 kN'
    """
    thickness, diameter, metal = as_floats(thickness, diameter, metal_strength)
    sound = (thickness >= THINNEST) & (thickness <= THICKEST) & (diameter > 0) & (metal > 0)
    by_metal = 0.6 * metal * np.pi / 4 * diameter**2
    return where(sound, np.minimum(by_metal, 2.2 * thickness * diameter * steel("welded_ultimate")))


def least_nugget(thickness: Numbers) -> Numbers:
    """Least nugget that is accepted.

        d = 4·√t, d and t in mm

    thickness   t, of the thinner sheet     m    > 0
    returns     d                           m    nan outside that range

    5·√t is aimed for. Source: planning table for spot welds on a public page, and a lecture.

    >>> f"{least_nugget(1e-3) * 1e3:.1f} mm"
    '4.0 mm'
    """
    (thickness,) = as_floats(thickness)
    return where(thickness > 0, 4e-3 * np.sqrt(np.where(thickness > 0, thickness, 0.0) * 1e3))


def least_plug(thickness: Numbers) -> Numbers:
    """Least hole of a plug weld that replaces a spot, one for one.

        d = 8 mm·√(t/1.5 mm)

    thickness   t, of the thinner sheet     m    > 0
    returns     d                           m    nan outside that range

    8 mm for sheet of 1 to 1.5 mm. Source: common practice, no source.

    >>> f"{least_plug(1.5e-3) * 1e3:.1f} mm"
    '8.0 mm'
    """
    (thickness,) = as_floats(thickness)
    return where(thickness > 0, 8e-3 * np.sqrt(np.where(thickness > 0, thickness, 0.0) / 1.5e-3))


def row_share(moment: Numbers, spots: Numbers, rows: Numbers, depth: Numbers) -> Numbers:
    """Pull of a lever on a spot of the outermost row, the rows evenly apart and with as many spots in each.

        P = M·(6/(n·h))·(k − 1)/(k + 1)

    moment    M                                                   N·m    any
    spots     n, in all rows together                             1      > 0
    rows      k, across the lever                                 1      ≥ 2
    depth     h, from the first row to the last                   m      > 0
    returns   P                                                   N      nan outside that range

    Stiff part on a sheet that gives alike at every spot. Source: statics.

    >>> f"{row_share(60.0, 4.0, 2.0, 0.05):.0f} N"
    '600 N'
    """
    moment, spots, rows, depth = as_floats(moment, spots, rows, depth)
    sound = (spots > 0) & (rows >= 2) & (depth > 0)  # noqa: PLR2004 - one row has no depth
    rows = np.where(sound, rows, 2.0)
    return where(sound, np.abs(moment) * 6 * (rows - 1) / (rows + 1) / np.where(sound, spots * depth, 1.0))


@cache
def _chart() -> tuple[Array, Array, Array]:
    """Thickness, m, shear, N, and nugget, m."""
    printed = [
        (float(row["thickness_mm"]) * 1e-3, float(row["shear_kN"]) * 1e3, float(row["nugget_mm"]) * 1e-3)
        for row in rows("structure", "spot_welds")
    ]
    thickness, shear, nugget = np.array(printed).T
    return thickness, shear, nugget
