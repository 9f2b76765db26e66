"""Round shafts and tubes that carry torque: stress, twist, capacity, mass.

Answers   polar_second_moment   of a tube or bar
          shear_stress          at its surface
          twist                 over a length
          torque_capacity       torque at which the stress reaches its limit
          limit_torque          torque at which the whole section yields
          tube_buckling_torque       torque at which a thin tube folds
          tube_mass, tube_inertia
Not here  bending vibration (driveline/whirling.py); welds and splines beyond one notch factor; what torque comes (along_the_path.py)
Symbols   T torque, D and d outside and inside diameter, J polar second moment of area, τ shear stress, φ twist, L length,
          G shear modulus, E Young's modulus, σ_y yield strength, K_t notch factor, S reserve, t wall, r mean radius, ρ density
Sources   [1] elastic torsion of round sections: any textbook on the mechanics of materials
          [2] distortion energy: shear yields at 0.577·σ_y   [3] buckling of long thin tubes by torque, from memory
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, plain, where
from trialfit.handbook.tubes import is_tube

SHEAR_MODULUS_STEEL = 79.3e9
"""G [Pa] of steel, from memory: 78 to 80 GPa."""

SHEAR_YIELD_SHARE = 0.577
"""τ_y/σ_y by distortion energy: 1/√3 [2]."""

YIELD_RESERVE = 1.5
"""S against yielding, for a torque whose peaks are not counted: common practice, no source."""

THICKEST_THIN_WALL = 0.1
"""Largest t/r at which a tube counts as thin in tube_buckling_torque: common practice, no source."""


def polar_second_moment(outside_diameter: Numbers, inside_diameter: Numbers = 0.0) -> Numbers:
    """Polar second moment of area of a tube, or of a bar without inside diameter.

        J = π·(D⁴ − d⁴)/32

    outside_diameter  D     m      > 0
    inside_diameter   d     m      0 ≤ d < D
    returns           J     m⁴     nan outside that range

    Source: elastic torsion of round sections.

    >>> f"{polar_second_moment(0.020, 0.010) * 1e12:.0f} mm⁴: 9.3750·π/2 · 10³"
    '14726 mm⁴: 9.3750·π/2 · 10³'
    """
    outside, inside = as_floats(outside_diameter, inside_diameter)
    return where(is_tube(outside, inside), np.pi * (outside**4 - inside**4) / 32)


def shear_stress(torque: Numbers, outside_diameter: Numbers, inside_diameter: Numbers = 0.0) -> Numbers:
    """Shear stress at the surface of a tube or bar.

        τ = 16·T·D/(π·(D⁴ − d⁴))

    torque            T     N·m    any; the sign is kept
    outside_diameter  D     m      > 0
    inside_diameter   d     m      0 ≤ d < D
    returns           τ     Pa     nan outside that range

    Elastic, round, away from welds and splines. Source: elastic torsion of round sections.

    >>> f"{shear_stress(1500.0, 0.0762, 0.0729) / 1e6:.2f} MPa"
    '106.39 MPa'
    """
    torque, outside = as_floats(torque, outside_diameter)
    return plain(torque * outside / 2 / np.asarray(polar_second_moment(outside_diameter, inside_diameter)))


def twist(
    torque: Numbers,
    length: Numbers,
    outside_diameter: Numbers,
    inside_diameter: Numbers = 0.0,
    shear_modulus: Numbers = SHEAR_MODULUS_STEEL,
) -> Numbers:
    """Angle by which one end of a tube or bar turns against the other.

        φ = T·L/(G·J)

    torque            T     N·m    any; the sign is kept
    length            L     m      ≥ 0
    outside_diameter  D     m      > 0
    inside_diameter   d     m      0 ≤ d < D
    shear_modulus     G     Pa     > 0; steel unless another is given
    returns           φ     rad    nan outside that range

    Elastic, one section along the length. Source: elastic torsion of round sections.

    >>> f"{np.degrees(twist(1500.0, 1.0, 0.0762, 0.0729, 79.3e9)):.3f} degrees"
    '2.017 degrees'
    """
    torque, length, modulus = as_floats(torque, length, shear_modulus)
    sound = (length >= 0) & (modulus > 0)
    stiffness = np.where(sound, modulus, 1.0) * np.asarray(polar_second_moment(outside_diameter, inside_diameter))
    return where(sound, torque * length / stiffness)


def torque_capacity(
    outside_diameter: Numbers,
    inside_diameter: Numbers,
    yield_strength: Numbers,
    notch_factor: Numbers = 1.0,
    reserve: Numbers = YIELD_RESERVE,
) -> Numbers:
    """Torque that a tube or bar carries with a reserve against yielding.

        T = (0.577·σ_y/(S·K_t))·π·(D⁴ − d⁴)/(16·D)

    outside_diameter  D                                 m      > 0
    inside_diameter   d, 0 for a bar                    m      0 ≤ d < D
    yield_strength    σ_y, in tension                   Pa     > 0
    notch_factor      K_t, spline, weld or groove       1      ≥ 1; 1.5 to 3 from memory, 1 away from any of them
    reserve           S, 1 is at yield                  1      > 0
    returns           T                                 N·m    nan outside that range

    Elastic. A notch factor stands for a spline or weld without data: say so where it is used. A thin tube may fold
    first: tube_buckling_torque. Source: elastic torsion of round sections, with 0.577 by distortion energy; the reserve of 1.5 is
    common practice, no source.

    >>> f"{torque_capacity(0.0762, 0.0729, 300e6):.0f} N·m: 1500·115.4/106.39"
    '1627 N·m: 1500·115.4/106.39'
    """
    outside, strength, reserve, notch = as_floats(outside_diameter, yield_strength, reserve, notch_factor)
    sound = (strength > 0) & (reserve > 0) & (notch >= 1) & (outside > 0)
    allowed = SHEAR_YIELD_SHARE * strength / np.where(sound, reserve * notch, 1.0)
    section = np.asarray(polar_second_moment(outside_diameter, inside_diameter)) / np.where(sound, outside / 2, 1.0)
    return where(sound, allowed * section)


def limit_torque(outside_diameter: Numbers, inside_diameter: Numbers, yield_strength: Numbers) -> Numbers:
    """Torque at which a tube or bar of ductile steel yields through: the most that it bears without twisting on.

        T = 0.577·σ_y·π·(D³ − d³)/12

    outside_diameter  D                   m      > 0
    inside_diameter   d, 0 for a bar      m      0 ≤ d < D
    yield_strength    σ_y, in tension     Pa     > 0
    returns           T                   N·m    nan outside that range

    4/3 of the torque at which the skin of a bar begins to yield; hardening left out, so that it breaks later. A notch does not
    lower it as long as the diameter is that of the thinnest place. For what comes seldom: the bar keeps a small twist.
    Source: limit analysis of round sections, any textbook of plasticity.

    >>> f"{limit_torque(0.024, 0.0, 850e6):.0f} N·m, {torque_capacity(0.024, 0.0, 850e6, reserve=1.0):.0f} N·m at the skin"
    '1775 N·m, 1331 N·m at the skin'
    """
    outside, inside, strength = as_floats(outside_diameter, inside_diameter, yield_strength)
    sound = is_tube(outside, inside) & (strength > 0)
    return where(sound, SHEAR_YIELD_SHARE * strength * np.pi * (outside**3 - inside**3) / 12)


def tube_buckling_torque(outside_diameter: Numbers, wall_thickness: Numbers, youngs_modulus: Numbers) -> Numbers:
    """Torque at which a long thin tube folds, while its material is still elastic.

        τ_cr = 0.272·E·(t/r)^1.5,   T = 2·π·r²·t·τ_cr,   r = (D − t)/2

    outside_diameter  D     m      > 0
    wall_thickness    t     m      0 < t ≤ 0.1·r
    youngs_modulus    E     Pa     > 0
    returns           T     N·m    nan outside that range

    Where this exceeds the torque at yield the tube yields first: take the smaller. For mild steel that is so above t/r of
    about 0.01 to 0.02, so a common prop shaft (t/r 0.04) does not fold. The round figure is for a long tube; the classical
    shell solution, E/(3·√2·(1 − ν²)^0.75)·(t/r)^1.5, is 0.253·E at ν 0.3, 7 % less: a dented tube folds sooner than either.
    Source: from memory.

    >>> f"{tube_buckling_torque(0.102, 0.002, 206e9) / 1e3:.1f} kN·m: 2·π·0.05²·0.002·0.272·206e9·0.04^1.5"
    '14.1 kN·m: 2·π·0.05²·0.002·0.272·206e9·0.04^1.5'
    """
    outside, wall, modulus = as_floats(outside_diameter, wall_thickness, youngs_modulus)
    radius = (outside - wall) / 2
    sound = (wall > 0) & (wall <= THICKEST_THIN_WALL * radius) & (modulus > 0)
    stress = 0.272 * modulus * (np.where(sound, wall, 0.0) / np.where(sound, radius, 1.0)) ** 1.5
    return where(sound, 2 * np.pi * radius**2 * wall * stress)


def tube_mass(outside_diameter: Numbers, inside_diameter: Numbers, length: Numbers, density: Numbers) -> Numbers:
    """Mass of a tube or bar.

        m = ρ·L·π·(D² − d²)/4

    outside_diameter  D     m        > 0
    inside_diameter   d     m        0 ≤ d < D
    length            L     m        ≥ 0
    density           ρ     kg/m³    > 0
    returns           m     kg       nan outside that range

    Without yokes and joints. Source: geometry.

    >>> f"{tube_mass(0.0762, 0.0729, 1.0, 7850.0):.2f} kg"
    '3.03 kg'
    """
    outside, inside, length, density = as_floats(outside_diameter, inside_diameter, length, density)
    sound = is_tube(outside, inside) & (length >= 0) & (density > 0)
    return where(sound, density * length * np.pi * (outside**2 - inside**2) / 4)


def tube_inertia(outside_diameter: Numbers, inside_diameter: Numbers, length: Numbers, density: Numbers) -> Numbers:
    """Moment of inertia of a tube or bar about its own axis.

        I = ρ·L·J = m·(D² + d²)/8

    outside_diameter  D     m        > 0
    inside_diameter   d     m        0 ≤ d < D
    length            L     m        ≥ 0
    density           ρ     kg/m³    > 0
    returns           I     kg·m²    nan outside that range

    Without yokes and joints. Source: geometry.

    >>> f"{tube_inertia(0.0762, 0.0729, 1.0, 7850.0) * 1e3:.2f} g·m²: 3033·(0.0762² + 0.0729²)/8"
    '4.22 g·m²: 3033·(0.0762² + 0.0729²)/8'
    """
    length, density = as_floats(length, density)
    section = np.asarray(polar_second_moment(outside_diameter, inside_diameter))
    return where((length >= 0) & (density > 0), density * length * section)
