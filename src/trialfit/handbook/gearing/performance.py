"""Performance: mass in motion, time through the gears, top speed.

Answers   effective_mass                 the rule of thumb from the total ratio
          effective_mass_with_engine     when the engine's inertia is known, the wheels' is not
          top_speed_from_power           when only the power at the wheels is known
          acceleration_run, AccelerationRun                 (from acceleration.py)
          top_speed, TopSpeed, TopSpeedLimit                (from top_speed.py)
Not here  starting from rest on the clutch, hill starts (launch.py); closed forms of motion (motion.py)
Symbols   m mass, m_e effective mass, i total ratio, i_f final ratio, I moment of inertia, r_d rolling radius,
          f rolling coefficient, C_dA drag area, ρ air density, P power, v speed
Sources   [1] Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory   [2] energy balance
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.gearing.acceleration import AccelerationRun, acceleration_run
from trialfit.handbook.gearing.top_speed import TopSpeed, TopSpeedLimit, top_speed

__all__ = [
    "AccelerationRun",
    "TopSpeed",
    "TopSpeedLimit",
    "acceleration_run",
    "effective_mass",
    "effective_mass_with_engine",
    "top_speed",
    "top_speed_from_power",
]

WHEEL_MASS_SHARE = 0.04
"""Share of the car's mass that its wheels and driveline add, from memory [1]."""

ENGINE_MASS_SHARE = 0.0025
"""Share of the car's mass that engine and clutch add, per total ratio squared, from memory [1]."""


def effective_mass(mass: Numbers, total_ratio: Numbers) -> Numbers:
    """Mass that the pull has to speed up, turning parts counted in.

        m_e = m·(1 + 0.04 + 0.0025·i²)

    mass         m, as driven                              kg     > 0
    total_ratio  i = i_g·i_f; 0 with the clutch open       1      ≥ 0
    returns      m_e                                       kg     nan outside that range

    For a car with an engine of its own size; sum the inertias when they are known. A light car with a heavy flywheel
    can be well above it in first gear.
    Source: Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory.

    >>> f"{effective_mass(1.0, 12.21):.4f}"
    '1.4127'
    """
    mass, total_ratio = as_floats(mass, total_ratio)
    sound = (mass > 0) & (total_ratio >= 0)
    return where(sound, mass * (1 + WHEEL_MASS_SHARE + ENGINE_MASS_SHARE * total_ratio**2))


def effective_mass_with_engine(
    mass: Numbers, total_ratio: Numbers, rolling_radius: Numbers, engine_inertia: Numbers
) -> Numbers:
    """Mass that the pull has to speed up: the engine by its inertia, wheels and driveline by the rule of thumb.

        m_e = m·(1 + 0.04) + I_e·i²/r_d²

    mass            m, as driven                           kg      > 0
    total_ratio     i = i_g·i_f; 0 with the clutch open    1       ≥ 0
    rolling_radius  r_d                                    m       > 0
    engine_inertia  I_e, crank, flywheel, clutch           kg·m²   ≥ 0
    returns         m_e                                    kg      nan outside that range

    Source: Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory, as effective_mass.

    >>> f"{effective_mass_with_engine(1200, 12.21, 0.31, 0.15):.1f} kg"
    '1480.7 kg'
    """
    mass, total_ratio, radius, inertia = as_floats(mass, total_ratio, rolling_radius, engine_inertia)
    sound = (mass > 0) & (total_ratio >= 0) & (radius > 0) & (inertia >= 0)
    turning = inertia * (total_ratio / np.where(radius > 0, radius, 1.0)) ** 2
    return where(sound, mass * (1 + WHEEL_MASS_SHARE) + turning)


def top_speed_from_power(
    power: Numbers, mass: Numbers, rolling: Numbers, drag_area: Numbers, air_density: Numbers
) -> Numbers:
    """Speed at which a power at the wheels is used up on the level.

        P = m·g·f·v + ½·ρ·C_dA·v³
        v = 2·√(p/3)·sinh(⅓·arsinh(3q/(2p)·√(3/p))),   p = m·g·f/(½ρC_dA),   q = P/(½ρC_dA)

    power        P, at the wheels                          W       ≥ 0
    mass         m                                         kg      > 0
    rolling      f, constant                               1       > 0
    drag_area    C_dA                                      m²      > 0
    air_density  ρ                                         kg/m³   > 0
    returns      v                                         m/s     nan outside that range

    Right only if a gear puts the engine at its peak power at that speed: top_speed works on the whole curve.
    Source: energy balance; the one real root of the cubic.

    >>> f"{top_speed_from_power(120e3, 1300, 0.012, 0.665, 1.2) * 3.6:.2f} km/h"
    '234.33 km/h'
    """
    power, mass, rolling, drag_area, air_density = as_floats(power, mass, rolling, drag_area, air_density)
    sound = (power >= 0) & (mass > 0) & (rolling > 0) & (drag_area > 0) & (air_density > 0)
    drag = np.where(sound, 0.5 * drag_area * air_density, 1.0)
    linear = np.where(sound, mass * STANDARD_GRAVITY * rolling, 1.0) / drag
    argument = 1.5 * np.where(sound, power, 0.0) / drag / linear * np.sqrt(3 / linear)
    return where(sound, 2 * np.sqrt(linear / 3) * np.sinh(np.arcsinh(argument) / 3))
