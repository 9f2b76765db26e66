"""Performance: mass in motion, time through the gears, top speed.

Answers   effective_mass                 the rule of thumb from the total ratio
          effective_mass_with_engine     when the engine's inertia is known, the wheels' is not
          effective_mass_from_inertias   when all inertias are known
          time_and_way_at_constant_force one stretch, closed form
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
from trialfit.handbook.gearing.motion import time_and_way_of_gain
from trialfit.handbook.gearing.top_speed import TopSpeed, TopSpeedLimit, top_speed

__all__ = [
    "AccelerationRun",
    "TopSpeed",
    "TopSpeedLimit",
    "acceleration_run",
    "effective_mass",
    "effective_mass_from_inertias",
    "effective_mass_with_engine",
    "time_and_way_at_constant_force",
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

    Source: Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory, as effective_mass and effective_mass_from_inertias.

    >>> f"{effective_mass_with_engine(1200, 12.21, 0.31, 0.15):.1f} kg"
    '1480.7 kg'
    """
    mass, total_ratio, radius, inertia = as_floats(mass, total_ratio, rolling_radius, engine_inertia)
    sound = (mass > 0) & (total_ratio >= 0) & (radius > 0) & (inertia >= 0)
    turning = inertia * (total_ratio / np.where(radius > 0, radius, 1.0)) ** 2
    return where(sound, mass * (1 + WHEEL_MASS_SHARE) + turning)


def effective_mass_from_inertias(
    mass: Numbers,
    gearbox_ratio: Numbers,
    final_ratio: Numbers,
    rolling_radius: Numbers,
    engine_inertia: Numbers,
    gearbox_inertia: Numbers,
    shaft_inertia: Numbers,
    wheel_inertia: Numbers,
) -> Numbers:
    """Mass that the pull has to speed up, from the inertias of the turning parts.

        m_e = m + [(I_e + I_g)·(i_g·i_f)² + I_p·i_f² + I_w]/r_d²

    mass             m, as driven                          kg      > 0
    gearbox_ratio    i_g; 0 with the clutch open           1       ≥ 0
    final_ratio      i_f                                   1       > 0
    rolling_radius   r_d                                   m       > 0
    engine_inertia   I_e, crank, flywheel, clutch          kg·m²   ≥ 0
    gearbox_inertia  I_g, of the gears, at the input       kg·m²   ≥ 0
    shaft_inertia    I_p, of the prop shaft                kg·m²   ≥ 0
    wheel_inertia    I_w, all four wheels and their shafts kg·m²   ≥ 0
    returns          m_e                                   kg      nan outside that range

    Losses on the way from the engine to the wheels are left out of the inertia term.
    Source: Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory.

    >>> f"{effective_mass_from_inertias(1200, 3.3, 3.7, 0.31, 0.15, 0.05, 0.02, 4.0):.0f} kg"
    '1555 kg'
    """
    values = as_floats(
        mass, gearbox_ratio, final_ratio, rolling_radius, engine_inertia, gearbox_inertia, shaft_inertia, wheel_inertia
    )
    mass, gearbox_ratio, final_ratio, radius, engine, gears, shaft, wheels = values
    sound = (mass > 0) & (gearbox_ratio >= 0) & (final_ratio > 0) & (radius > 0)
    sound = sound & (engine >= 0) & (gears >= 0) & (shaft >= 0) & (wheels >= 0)
    turning = (engine + gears) * (gearbox_ratio * final_ratio) ** 2 + shaft * final_ratio**2 + wheels
    return where(sound, mass + turning / np.where(radius > 0, radius, 1.0) ** 2)


def time_and_way_at_constant_force(
    speed_from: Numbers,
    speed_to: Numbers,
    effective_mass: Numbers,
    force: Numbers,
    resistance: Numbers,
    drag_area: Numbers,
    air_density: Numbers,
) -> tuple[Numbers, Numbers]:
    """Time and way from one speed to a higher one with a constant pull and a constant resistance besides the air's.

        t = ∫ m_e dv/(F − F_r − k·v²),   x = ∫ m_e·v dv/(F − F_r − k·v²),   k = ½·ρ·C_dA
        from rest: t = m_e/√(k·F')·artanh(v·√(k/F')),   x = m_e/(2k)·ln(F'/(F' − k·v²)),   F' = F − F_r

    speed_from      v₁                                     m/s     ≥ 0
    speed_to        v₂                                     m/s     ≥ v₁
    effective_mass  m_e                                    kg      > 0
    force           F                                      N
    resistance      F_r, rolling and slope                 N
    drag_area       C_dA                                   m²      ≥ 0
    air_density     ρ                                      kg/m³   ≥ 0
    returns         t, x                                   s, m    nan outside that range and where v₂ is not reached

    Source: energy balance.

    >>> rolling = 0.012 * 1200 * 9.80665
    >>> t, x = time_and_way_at_constant_force(0.0, 100 / 3.6, 1200, 4000, rolling, 0.665, 1.2)
    >>> f"{t:.4f} s, {x:.2f} m"
    '8.8797 s, 125.03 m'
    """
    values = as_floats(speed_from, speed_to, effective_mass, force, resistance, drag_area, air_density)
    speed_from, speed_to, effective_mass, force, resistance, drag_area, air_density = values
    sound = (speed_from >= 0) & (speed_to >= speed_from) & (effective_mass > 0) & (drag_area >= 0) & (air_density >= 0)
    mass = np.where(sound, effective_mass, 1.0)
    drag = np.where(sound, 0.5 * drag_area * air_density, 0.0) / mass
    start = (force - resistance) / mass - drag * speed_from**2
    slope, gain = -2 * drag * speed_from, speed_to - speed_from
    time, way = time_and_way_of_gain(gain, speed_from, start, slope, drag)
    sound = sound & np.isfinite(time)
    return where(sound, time), where(sound, way)


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
