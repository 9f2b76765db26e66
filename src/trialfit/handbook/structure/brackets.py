"""Brackets and arms made of plate: stress at the root, at a hole, and the edge distance.

Answers   plate_modulus, equivalent_stress     at the root and through a hole
          bearing_stress, edge_left            of a bolt hole
          slenderness, THICKEST_STIFF          whether a plate edge folds before it yields
Not here  the weld that holds the root (weld_lines.py, welds.py)
Symbols   b depth of the plate in the direction of the load, t thickness, d hole, σ along, τ across
Sources   [1] Mechanics of Materials, bending and combined stress
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where

THICKEST_STIFF = 15.0
"""Free width over thickness up to which a plate edge needs no flange or rib: common practice, no source."""

LEAST_EDGE = 1.5
"""Hole centre to the edge over hole diameter: common practice, no source."""


def plate_modulus(depth: Numbers, thickness: Numbers, hole: Numbers = 0.0) -> Numbers:
    """Section modulus of a plate on edge, with a hole in the middle of its depth or none.

        Z = t·(b³ − d³)/(6·b)

    depth      b              m     > 0
    thickness  t              m     > 0
    hole       d              m     0 ≤ d < b
    returns    Z              m³    nan outside that range

    Nominal stress of what is left: the edge of the hole sees about twice that under a load that comes and goes.
    Source: Mechanics of Materials, bending.

    >>> f"{plate_modulus(60e-3, 5e-3) * 1e9:.0f} mm³, {plate_modulus(60e-3, 5e-3, 13e-3) * 1e9:.0f} mm³"
    '3000 mm³, 2969 mm³'
    """
    depth, thickness, hole = as_floats(depth, thickness, hole)
    sound = (depth > 0) & (thickness > 0) & (hole >= 0) & (hole < depth)
    return where(sound, thickness * (depth**3 - hole**3) / np.where(sound, 6 * depth, 1.0))


def equivalent_stress(along: Numbers, across: Numbers) -> Numbers:
    """The single tension that strains steel as much as a stress along and a shear across together.

        σ_v = √(σ² + 3·τ²)

    along     σ          Pa    any
    across    τ          Pa    any
    returns   σ_v        Pa

    Source: distortion energy (von Mises) as in Mechanics of Materials.

    >>> f"{equivalent_stress(100e6, 50e6) / 1e6:.1f} MPa"
    '132.3 MPa'
    """
    along, across = as_floats(along, across)
    return where(np.isfinite(along), np.sqrt(along**2 + 3 * across**2))


def bearing_stress(force: Numbers, hole: Numbers, thickness: Numbers) -> Numbers:
    """Pressure of a bolt on the side of its hole.

        σ = F/(d·t)

    force      F, across the bolt     N     any
    hole       d                      m     > 0
    thickness  t, all plates together m     > 0
    returns    σ                      Pa    nan outside that range

    A tightly clamped joint carries by friction: the bolt does not bear on its hole. Source: Mechanics of Materials, bolted joints.

    >>> f"{bearing_stress(6000.0, 12e-3, 5e-3) / 1e6:.0f} MPa"
    '100 MPa'
    """
    force, hole, thickness = as_floats(force, hole, thickness)
    sound = (hole > 0) & (thickness > 0)
    return where(sound, np.abs(force) / np.where(sound, hole * thickness, 1.0))


def edge_left(centre_to_edge: Numbers, hole: Numbers) -> Numbers:
    """Distance of a hole's centre from the nearest edge, in hole diameters.

        n = e/d

    centre_to_edge   e     m    > 0
    hole             d     m    > 0
    returns          n     1    nan outside that range

    Source: common practice, no source.

    >>> f"{edge_left(18e-3, 12e-3):.1f}"
    '1.5'
    """
    edge, hole = as_floats(centre_to_edge, hole)
    sound = (edge > 0) & (hole > 0)
    return where(sound, edge / np.where(sound, hole, 1.0))


def slenderness(free_width: Numbers, thickness: Numbers) -> Numbers:
    """Free width of a plate over its thickness.

        b/t

    free_width   b, from the weld or fold to the free edge     m    > 0
    thickness    t                                             m    > 0
    returns      b/t                                           1    nan outside that range

    Source: common practice, no source: below 15, or stiffened.

    >>> f"{slenderness(60e-3, 5e-3):.0f}"
    '12'
    """
    width, thickness = as_floats(free_width, thickness)
    sound = (width > 0) & (thickness > 0)
    return where(sound, width / np.where(sound, thickness, 1.0))
