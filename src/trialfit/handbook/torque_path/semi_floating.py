"""Semi-floating shafts: the bar that turns the wheel carries the car too; where it breaks, the wheel leaves.

Answers   bearing_moment    bending moment at the wheel bearing of a semi-floating shaft
          bending_stress    of a round bar
          combined_stress   of bending and torsion
          BUMP, FATIGUE_SHARE
Not here  torsion alone (torsion.py); shafts that float (full-floating hubs): they carry torque only
Symbols   M moment, F_z wheel load, F_y side force at the tyre, towards the middle of the car positive on the outer wheel, a from
          bearing to middle of the tyre, R tyre radius, d bar diameter, σ and τ stresses
Sources   [1] statics; bending of round bars, any textbook on the mechanics of materials   [2] distortion energy
          [3] lectures on loads of vehicle structures: 2 to 3 times the load at rest over bumps, 1 g at most in bends
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where

BUMP = 2.5
"""Wheel load over a bump, over that at rest: 2 to 3 on roads [3]."""

FATIGUE_SHARE = 0.35
"""Bending stress that a turning bar bears for good over its yield strength, with notch and rust: 0.3 to 0.4, from memory."""


def bearing_moment(wheel_load: Numbers, offset: Numbers, side_force: Numbers = 0.0, radius: Numbers = 0.0) -> Numbers:
    """Bending moment of a semi-floating shaft at its bearing.

        M = F_z·a − F_y·R

    wheel_load   F_z                                                                  N      ≥ 0
    offset       a, from the bearing out to the middle of the tyre                    m      any; negative where it is inside
    side_force   F_y, of the road on the tyre towards the car's middle; negative on the inner wheel    N      any
    radius       R, of the tyre                                                       m      ≥ 0
    returns      M                                                                    N·m    nan outside that range

    The side force of the outer wheel works against its load, that of the inner wheel with it. Source: statics.

    >>> f"{bearing_moment(2 * 3434.0, 0.060):.0f} N·m; {bearing_moment(1.6 * 3434.0, 0.060, 1.6 * 3434.0, 0.28):.0f} N·m"
    '412 N·m; -1209 N·m'
    """
    load, offset, side, radius = as_floats(wheel_load, offset, side_force, radius)
    return where((load >= 0) & (radius >= 0), load * offset - side * radius)


def bending_stress(moment: Numbers, diameter: Numbers) -> Numbers:
    """Bending stress at the surface of a round bar.

        σ = 32·M/(π·d³)

    moment     M                  N·m    any; the sign is kept
    diameter   d                  m      > 0
    returns    σ                  Pa     nan outside that range

    Elastic, away from notches. A shaft that turns sees it fully reversed. Source: bending of round bars, any textbook.

    >>> f"{bending_stress(412.0, 0.030) / 1e6:.0f} MPa, {bending_stress(1209.0, 0.030) / 1e6:.0f} MPa"
    '155 MPa, 456 MPa'
    """
    moment, diameter = as_floats(moment, diameter)
    sound = diameter > 0
    return where(sound, 32 * moment / (np.pi * np.where(sound, diameter, 1.0) ** 3))


def combined_stress(bending: Numbers, shear: Numbers) -> Numbers:
    """Stress in tension that yields as soon as bending and torsion together.

        σ_v = √(σ² + 3·τ²)

    bending   σ             Pa    any
    shear     τ             Pa    any
    returns   σ_v           Pa

    Source: distortion energy.

    >>> f"{combined_stress(155e6, 231e6) / 1e6:.0f} MPa"
    '429 MPa'
    """
    bending, shear = as_floats(bending, shear)
    return where(np.isfinite(bending + shear), np.hypot(bending, np.sqrt(3.0) * shear))
