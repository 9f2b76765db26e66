"""Whirling: the critical speed of a shaft.

Answers   critical_speed         of a tube or bar hinged at its joints
          longest_shaft          how far apart the joints may be for a critical speed to be reached
          STEEL, ALUMINIUM       what tubes are made of
Not here  the tube's strength (torque_path/torsion.py)
Symbols   ω_c critical speed, L length between the joint centres, D and d outside and inside diameter, E Young's modulus,
          ρ density, A area, I second moment of area
Sources   [1] bending vibration of a uniform hinged beam: any textbook on vibration
          [2] cardan-shaft supplier, critical speeds
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.tubes import is_tube

USABLE_SHARE = 0.7
"""Highest speed of a car's shaft over its critical speed; 0.65 in industry. Cardan-shaft supplier, critical speeds [2]."""


@dataclass(frozen=True)
class TubeMaterial:
    """What a tube is made of, as far as whirling goes."""

    youngs_modulus: float
    """E [Pa]."""
    density: float
    """ρ [kg/m³]."""


STEEL = TubeMaterial(206e9, 7850.0)
"""From memory: E 200 to 210 GPa."""

ALUMINIUM = TubeMaterial(69e9, 2700.0)
"""From memory. √(E/ρ) is within 2 % of steel: the same tube in aluminium gains nothing."""


def critical_speed(
    length: Numbers,
    outside_diameter: Numbers,
    inside_diameter: Numbers,
    youngs_modulus: Numbers = STEEL.youngs_modulus,
    density: Numbers = STEEL.density,
) -> Numbers:
    """First critical speed of a uniform tube, hinged at both ends.

        ω_c = (π/L)²·√(E·I/(ρ·A)) = (π/L)²·√(E/ρ)·√(D² + d²)/4

    length            L, between the joint centres    m        > 0
    outside_diameter  D                               m        > 0
    inside_diameter   d, 0 for a solid bar            m        0 ≤ d < D
    youngs_modulus    E                               Pa       > 0
    density           ρ                               kg/m³    > 0
    returns           ω_c                             rad/s    nan outside that range

    A slender shaft of one section, L above about 10·D. Yokes, a slip joint, soft supports and a bent tube all lower it: this
    is the upper end. Source: bending vibration of a uniform hinged beam.

    >>> f"{critical_speed(1.3, 0.0762, 0.0729) * 60 / (2 * np.pi):.0f} rpm"
    '7532 rpm'
    """
    length, outside, inside, modulus, density = as_floats(
        length, outside_diameter, inside_diameter, youngs_modulus, density
    )
    sound = is_tube(outside, inside) & (length > 0) & (modulus > 0) & (density > 0)
    speed_of_sound = np.sqrt(np.where(sound, modulus, 1.0) / np.where(sound, density, 1.0))
    return where(
        sound, (np.pi / np.where(sound, length, 1.0)) ** 2 * speed_of_sound * np.sqrt(outside**2 + inside**2) / 4
    )


def longest_shaft(
    critical_speed: Numbers,
    outside_diameter: Numbers,
    inside_diameter: Numbers,
    youngs_modulus: Numbers = STEEL.youngs_modulus,
    density: Numbers = STEEL.density,
) -> Numbers:
    """Largest distance between the joints at which the tube still has a required critical speed.

        L = π·√(√(E/ρ)·√(D² + d²)/(4·ω_c))

    critical_speed    ω_c, wanted                     rad/s    > 0
    outside_diameter  D                               m        > 0
    inside_diameter   d, 0 for a solid bar            m        0 ≤ d < D
    youngs_modulus    E                               Pa       > 0
    density           ρ                               kg/m³    > 0
    returns           L                               m        nan outside that range

    critical_speed turned round, with the same validity. Source: bending vibration of a uniform hinged beam.

    >>> f"{longest_shaft(7532 * 2 * np.pi / 60, 0.0762, 0.0729):.3f} m"
    '1.300 m'
    """
    wanted, outside, inside, modulus, density = as_floats(
        critical_speed, outside_diameter, inside_diameter, youngs_modulus, density
    )
    sound = is_tube(outside, inside) & (wanted > 0) & (modulus > 0) & (density > 0)
    speed_of_sound = np.sqrt(np.where(sound, modulus, 1.0) / np.where(sound, density, 1.0))
    return where(
        sound,
        np.pi * np.sqrt(speed_of_sound * np.sqrt(outside**2 + inside**2) / (4 * np.where(sound, wanted, 1.0))),
    )
