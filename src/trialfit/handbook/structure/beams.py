"""A straight member under load: stress, deflection, twist.

Answers   bending_stress    the largest stress along it, from bending and pull
          bend_at_middle    deflection under a force
          twist_of          twist of one end against the other
Not here  its section (sections.py, walled_sections.py); frames of several members (frame_work.py)
Symbols   M moment, N force along it, F force across it, T torque, L length, E and G moduli, I, Z, J, A as in sections.py
Sources   beam theory as in Mechanics of Materials
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where

MIDDLE_LOAD = {"pinned": 48.0, "fixed": 192.0, "cantilever": 3.0}
"""k of δ = F·L³/(k·E·I): ends held, ends built in, built in at one end and loaded at the other. Beam tables, from memory."""

MIDDLE_MOMENT = {"pinned": 4.0, "fixed": 8.0, "cantilever": 1.0}
"""k of M = F·L/k, the largest moment of the same three. Beam tables, from memory."""


def bending_stress(moment: Numbers, modulus: Numbers, force: Numbers = 0.0, area: Numbers = 1.0) -> Numbers:
    """Largest stress along a member from bending and pull.

        σ = |M|/Z + |N|/A

    moment    M                        N·m    any
    modulus   Z                        m³     > 0
    force     N, along the member      N      any
    area      A                        m²     > 0
    returns   σ                        Pa     nan outside that range

    Elastic, no buckling, away from holes and weld roots. Source: beam theory as in Mechanics of Materials.

    >>> f"{bending_stress(600.0, 5.908e-6) / 1e6:.1f} MPa"
    '101.6 MPa'
    """
    moment, modulus, force, area = as_floats(moment, modulus, force, area)
    sound = (modulus > 0) & (area > 0)
    return where(sound, np.abs(moment) / np.where(sound, modulus, 1.0) + np.abs(force) / np.where(sound, area, 1.0))


def bend_at_middle(
    force: Numbers, length: Numbers, moment_of_area: Numbers, youngs_modulus: Numbers, ends: str
) -> Numbers:
    """Deflection of a member under a force on its middle, or on its free end if only one end is held.

        δ = F·L³/(k·E·I),   k 48 (pinned), 192 (fixed), 3 (cantilever)

    force           F                                         N      any
    length          L                                         m      ≥ 0
    moment_of_area  I                                         m⁴     > 0
    youngs_modulus  E                                         Pa     > 0
    ends            "pinned", "fixed" or "cantilever"
    returns         δ                                         m      nan outside that range

    Slender members: shear is left out. Errors: KeyError for other ends. Source: beam tables, from memory.

    >>> f"{bend_at_middle(1000.0, 0.8, 147712e-12, 200e9, 'pinned') * 1e3:.2f} mm"
    '0.36 mm'
    """
    force, length, moment, modulus = as_floats(force, length, moment_of_area, youngs_modulus)
    sound = (length >= 0) & (moment > 0) & (modulus > 0)
    return where(sound, force * length**3 / np.where(sound, MIDDLE_LOAD[ends] * modulus * moment, 1.0))


def twist_of(torque: Numbers, length: Numbers, torsion_constant: Numbers, shear_modulus: Numbers) -> Numbers:
    """Angle by which one end of a member turns against the other.

        φ = T·L/(G·J)

    torque            T     N·m    any; the sign is kept
    length            L     m      ≥ 0
    torsion_constant  J     m⁴     > 0
    shear_modulus     G     Pa     > 0
    returns           φ     rad    nan outside that range

    Source: torsion as in Mechanics of Materials.

    >>> f"{np.degrees(twist_of(100.0, 1.0, 221184e-12, 77e9)):.2f}°"
    '0.34°'
    """
    torque, length, constant, modulus = as_floats(torque, length, torsion_constant, shear_modulus)
    sound = (length >= 0) & (constant > 0) & (modulus > 0)
    return where(sound, torque * length / np.where(sound, modulus * constant, 1.0))
