"""Coolant: density and heat capacity of water and glycol, and the boiling point under the cap.

Answers   glycol_mass_fraction    from the share by volume that is on the can
          coolant_density, coolant_heat_capacity   of the mixture, hot
          air_pressure            at an altitude
          saturation_pressure, saturation_temperature   of water
          boiling_point           of the mixture under the pressure of its cap
Not here  the radiator (heat_exchange.py)
Symbols   φ share of glycol by volume at 20 °C, w by mass, x_w mole fraction of water, p pressure, T temperature, z altitude
Sources   [1] IAPWS-IF97, region 4: equations 30 and 31, from memory; checked against its printed tables 35 and 36
          [2] Raoult's law, the vapour taken as water alone   [3] ISO 2533, standard atmosphere
          [4] CoolProp 8.0, ethylene glycol in water by mass (INCOMP::MEG), at w = 0.5 and 90 °C
          [5] steam tables, water at 90 °C: from memory
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where

READS_HIGH = 2.0
"""[K] to take off the boiling point to be safe: published antifreeze page, 127.8 °C at 15 psi, against 130.1 °C here."""

_GLYCOL, _WATER = 1.113, 0.998  # density at 20 °C, g/cm³, from memory
_GLYCOL_MOLE, _WATER_MOLE = 62.068, 18.015  # g/mol
_MOST_GLYCOL = 0.6  # by mass: as far as [4] goes
_HALF = 0.5
_DENSITIES = (965.3, 1019.0)  # of water [5], of half and half [4], kg/m³
_CAPACITIES = (4205.0, 3615.8)  # the same, J/(kg·K)
_LOWEST, _HIGHEST = 611.213, 22.064e6  # Pa, range of [1]
_COLDEST, _HOTTEST = 273.15, 647.096
_N = (
    1167.0521452767,
    -724213.16703206,
    -17.073846940092,
    12020.82470247,
    -3232555.0322333,
    14.91510861353,
    -4823.2657361591,
    405113.40542057,
    -0.23855557567849,
    650.17534844798,
)
_LOWEST_ALTITUDE, _HIGHEST_ALTITUDE = -500.0, 11_000.0


def glycol_mass_fraction(volume_share: Numbers) -> Numbers:
    """Mass fraction of ethylene glycol in a mixture with water.

        w = 1.113·φ/(1.113·φ + 0.998·(1 − φ))

    volume_share  φ, both at 20 °C   1    0 ≤ φ ≤ 1
    returns       w                  1    nan outside that range

    Source: densities of glycol and water at 20 °C, from memory.

    >>> f"{glycol_mass_fraction(0.5):.3f}"
    '0.527'
    """
    (share,) = as_floats(volume_share)
    sound = (share >= 0) & (share <= 1)
    share = np.where(sound, share, 0.0)
    return where(sound, _GLYCOL * share / (_GLYCOL * share + _WATER * (1 - share)))


def coolant_density(mass_fraction: Numbers) -> Numbers:
    """Density of hot coolant.

        ρ = 965.3 + (1019.0 − 965.3)·w/0.5

    mass_fraction  w, of ethylene glycol   1        0 ≤ w ≤ 0.6
    returns        ρ at 90 °C              kg/m³    nan outside that range

    Held against the same library at w = 0.527: within 0.1 %; other mixtures were not held against anything. Lighter by 0.07 % for
    each kelvin above 90 °C. Source: water from steam tables, from memory; half and half from CoolProp 8.0; a straight line
    between and a little beyond.

    >>> f"{coolant_density(0.527):.0f} kg/m³"
    '1022 kg/m³'
    """
    return _between(mass_fraction, *_DENSITIES)


def coolant_heat_capacity(mass_fraction: Numbers) -> Numbers:
    """Specific heat capacity of hot coolant.

        c = 4205 − (4205 − 3615.8)·w/0.5

    mass_fraction  w, of ethylene glycol   1           0 ≤ w ≤ 0.6
    returns        c at 90 °C              J/(kg·K)    nan outside that range

    Larger by 0.1 % for each kelvin above 90 °C. Held against the same, and source: as coolant_density.

    >>> f"{coolant_heat_capacity(0.527):.0f} J/(kg·K)"
    '3584 J/(kg·K)'
    """
    return _between(mass_fraction, *_CAPACITIES)


def _between(mass_fraction: Numbers, water: float, half: float) -> Numbers:
    (share,) = as_floats(mass_fraction)
    return where((share >= 0) & (share <= _MOST_GLYCOL), water + (half - water) * share / _HALF)


def air_pressure(altitude: Numbers) -> Numbers:
    """Pressure of the air at an altitude.

        p = 101325·(1 − 2.25577·10⁻⁵·z)^5.25588

    altitude  z, above the sea   m     −500 ≤ z ≤ 11000
    returns   p                  Pa    nan outside that range

    The weather moves it by ±3 %. Source: ISO 2533, standard atmosphere, from memory.

    >>> f"{air_pressure(2000.0) / 1000:.1f} kPa"
    '79.5 kPa'
    """
    (height,) = as_floats(altitude)
    sound = (height >= _LOWEST_ALTITUDE) & (height <= _HIGHEST_ALTITUDE)
    return where(sound, 101325.0 * (1 - 2.25577e-5 * np.where(sound, height, 0.0)) ** 5.25588)


def saturation_pressure(temperature: Numbers) -> Numbers:
    """Pressure at which water boils at a temperature.

        p = (2·C/(−B + √(B² − 4·A·C)))⁴ in MPa, with A, B, C of ϑ = T + n₉/(T − n₁₀)

    temperature  T    K     273.15 ≤ T ≤ 647.096
    returns      p    Pa    nan outside that range

    Good to 0.03 %. Source: IAPWS-IF97 equation 30.

    >>> f"{saturation_pressure(373.15) / 1000:.2f} kPa"
    '101.42 kPa'
    """
    (kelvins,) = as_floats(temperature)
    sound = (kelvins >= _COLDEST) & (kelvins <= _HOTTEST)
    kelvins = np.where(sound, kelvins, 373.15)
    place = kelvins + _N[8] / (kelvins - _N[9])
    a = place**2 + _N[0] * place + _N[1]
    b = _N[2] * place**2 + _N[3] * place + _N[4]
    c = _N[5] * place**2 + _N[6] * place + _N[7]
    return where(sound, 1e6 * (2 * c / (-b + np.sqrt(b**2 - 4 * a * c))) ** 4)


def saturation_temperature(pressure: Numbers) -> Numbers:
    """Temperature at which water boils under a pressure: the inverse of saturation_pressure.

        T = (n₁₀ + D − √((n₁₀ + D)² − 4·(n₉ + n₁₀·D)))/2, with D of β = ⁴√p, p in MPa

    pressure  p, absolute   Pa    611.213 ≤ p ≤ 22.064·10⁶
    returns   T             K     nan outside that range

    Good to 0.01 K. Source: IAPWS-IF97 equation 31.

    >>> f"{saturation_temperature(101325.0) - 273.15:.2f} °C"
    '99.97 °C'
    """
    (pascals,) = as_floats(pressure)
    sound = (pascals >= _LOWEST) & (pascals <= _HIGHEST)
    root = (np.where(sound, pascals, 1e5) / 1e6) ** 0.25
    e = root**2 + _N[2] * root + _N[5]
    f = _N[0] * root**2 + _N[3] * root + _N[6]
    g = _N[1] * root**2 + _N[4] * root + _N[7]
    d = 2 * g / (-f - np.sqrt(f**2 - 4 * e * g))
    return where(sound, (_N[9] + d - np.sqrt((_N[9] + d) ** 2 - 4 * (_N[8] + _N[9] * d))) / 2)


def boiling_point(glycol_share: Numbers, air: Numbers, cap: Numbers) -> Numbers:
    """Temperature at which coolant boils under its cap.

        x_w·p_sat(T) = p_air + p_cap, x_w = ((1 − w)/18.015)/((1 − w)/18.015 + w/62.068)

    glycol_share  φ by volume at 20 °C         1     0 ≤ φ ≤ 0.57, the range of the mixture's other properties
    air           p_air, absolute              Pa    > 0
    cap           p_cap, opening, above air    Pa    ≥ 0
    returns       T                            K     nan outside that range

    Reads high: 0.2 K for half and half in the open, 2.3 K under 15 psi, against a published antifreeze page; take READS_HIGH
    off. A leaking cap holds no pressure. Source: Raoult's law with IAPWS-IF97, the vapour taken as water alone.

    >>> f"{boiling_point(0.5, 101325.0, 90e3) - 273.15:.1f} °C"
    '127.8 °C'
    """
    share, outside, held = as_floats(glycol_share, air, cap)
    mass = np.asarray(glycol_mass_fraction(share))
    water = (1 - mass) / _WATER_MOLE
    of_water = water / (water + mass / _GLYCOL_MOLE)
    sound = (mass <= _MOST_GLYCOL) & (outside > 0) & (held >= 0)
    return where(sound, saturation_temperature((outside + held) / np.where(sound, of_water, 1.0)))
