"""Heat of a start on the clutch: what torque a start takes, and the temperature rise of the iron.

Answers   torque_to_pull_away   clutch torque for a given acceleration, on the level or on a slope
          heat_rise             of flywheel and pressure plate
Not here  the heat itself (launch.clutch_slip); what a clutch carries (torque_path/clutch.py)
Symbols   T torque, i total ratio, η efficiency, r_d rolling radius, m mass, m_c effective mass with the clutch open,
          f rolling coefficient, θ slope, E heat, c specific heat
Sources   [1] momentum and energy balance   [2] specific heat of cast iron, from memory
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.gearing.road_load import road_load

SPECIFIC_HEAT_OF_CAST_IRON = 500.0
"""c [J/(kg·K)] of cast iron at garage temperature, from memory [2]: 460 to 540; steel 460 to 500."""

EASY_START = 0.5
"""a [m/s²] of a start that can be driven without haste: common practice, no source."""


def torque_to_pull_away(
    *,
    acceleration: Numbers,
    total_ratio: Numbers,
    efficiency: Numbers,
    rolling_radius: Numbers,
    mass: Numbers,
    decoupled_mass: Numbers,
    rolling: Numbers,
    slope_angle: Numbers = 0.0,
) -> Numbers:
    """Torque through the slipping clutch that pulls the car away with a given acceleration.

        T_c = (m_c·a + m·g·(f·cos θ + sin θ))·r_d/(i·η)

    acceleration    a                                        m/s²    ≥ 0
    total_ratio     i = i_g·i_f                              1       > 0
    efficiency      η, gearbox to wheel                      1       0 < η ≤ 1
    rolling_radius  r_d                                      m       > 0
    mass            m                                        kg      > 0
    decoupled_mass  m_c, wheels and driveline counted in     kg      ≥ m
    rolling         f                                        1       ≥ 0
    slope_angle     θ, uphill positive                       rad     −π/2 < θ < π/2
    returns         T_c                                      N·m     nan outside that range; negative: it rolls by itself

    Air drag is left out: a start is over below 30 km/h. Source: momentum balance, the one behind launch.clutch_slip.

    >>> torque = torque_to_pull_away(
    ...     acceleration=0.5, total_ratio=12.0, efficiency=0.93, rolling_radius=0.30, mass=1200.0, decoupled_mass=1248.0,
    ...     rolling=0.013, slope_angle=np.arctan(0.20))
    >>> f"{torque:.2f} N·m"
    '82.85 N·m'
    """
    values = as_floats(acceleration, total_ratio, efficiency, rolling_radius, mass, decoupled_mass)
    acceleration, ratio, efficiency, radius, mass, decoupled = values
    sound = (
        (acceleration >= 0) & (ratio > 0) & (efficiency > 0) & (efficiency <= 1) & (radius > 0) & (decoupled >= mass)
    )
    resistance = np.asarray(road_load(0.0, mass, rolling, 0.0, 0.0, slope_angle))
    return where(sound, (decoupled * acceleration + resistance) * radius / np.where(sound, ratio * efficiency, 1.0))


def heat_rise(heat: Numbers, mass: Numbers, specific_heat: Numbers = SPECIFIC_HEAT_OF_CAST_IRON) -> Numbers:
    """Temperature rise of flywheel and pressure plate, once the heat has spread through the iron.

        ΔT = E/(m·c)

    heat           E                             J           ≥ 0
    mass           m, of the iron that takes it  kg          > 0
    specific_heat  c, 500                        J/(kg·K)    > 0
    returns        ΔT                            K           nan outside that range

    None of it goes into the facing or the air: on the safe side, for one start. The rubbing faces are far hotter for a
    moment, and several starts in a row add up.
    Source: energy balance; specific heat of cast iron from memory, 460 to 540 J/(kg·K).

    >>> f"{heat_rise(30e3, 12.0):.1f} K"
    '5.0 K'
    """
    heat, mass, specific_heat = as_floats(heat, mass, specific_heat)
    sound = (heat >= 0) & (mass > 0) & (specific_heat > 0)
    return where(sound, heat / np.where(sound, mass * specific_heat, 1.0))
