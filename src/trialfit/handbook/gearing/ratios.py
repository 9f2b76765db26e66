"""Gearing: effect of ratios on speed, engine speed and pull.

Answers   road_speed, engine_speed   one from the other in a gear
          speed_after_shift          where the engine lands
          tractive_effort            pull at the wheels
          speedometer_reading        what a gearbox-driven instrument shows after a change
Not here  tyres (tyres.py); what the pull is used for (road_load.py, traction.py, performance.py)
Symbols   ω rotational speed of the engine, v road speed, r_d rolling radius, i_g gearbox ratio, i_f final ratio
          (both input turns per output turn), T torque, η efficiency
Sources   [1] kinematics and power balance: any vehicle dynamics textbook
          [2] driveline efficiencies, from memory
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where

if TYPE_CHECKING:
    from numpy.typing import NDArray

GEARBOX_EFFICIENCY = (0.96, 0.97)
"""Range of η for a pair of gears under load, from memory [2]."""

DIRECT_GEAR_EFFICIENCY = 0.98
"""η of a gearbox in direct drive, from memory [2]."""

HYPOID_EFFICIENCY = (0.95, 0.97)
"""Range of η for a hypoid final drive, from memory [2]."""


def road_speed(
    rotational_speed: Numbers, rolling_radius: Numbers, gearbox_ratio: Numbers, final_ratio: Numbers
) -> Numbers:
    """Road speed in a gear.

        v = r_d·ω/(i_g·i_f)

    rotational_speed  ω                    rad/s
    rolling_radius    r_d                  m        > 0
    gearbox_ratio     i_g                  1        > 0
    final_ratio       i_f                  1        > 0
    returns           v                    m/s      nan outside that range

    No slip: at full pull the driven tyres turn 2 to 5 % faster than this (from memory).
    Source: kinematics.

    >>> per_thousand = road_speed(1000 * np.pi / 30, 1.9273 / (2 * np.pi), 1.00, 3.73)
    >>> f"{per_thousand * 3.6:.3f} km/h"
    '31.002 km/h'
    """
    rotational_speed, rolling_radius, total = as_floats(
        rotational_speed, rolling_radius, _total(gearbox_ratio, final_ratio)
    )
    return where(rolling_radius > 0, rotational_speed * rolling_radius / total)


def engine_speed(road_speed: Numbers, rolling_radius: Numbers, gearbox_ratio: Numbers, final_ratio: Numbers) -> Numbers:
    """Rotational speed of the engine at a road speed, clutch closed.

        ω = v·i_g·i_f/r_d

    road_speed        v                    m/s
    rolling_radius    r_d                  m        > 0
    gearbox_ratio     i_g                  1        > 0
    final_ratio       i_f                  1        > 0
    returns           ω                    rad/s    nan outside that range

    No slip. Source: kinematics.

    >>> f"{engine_speed(120 / 3.6, 0.3067, 0.82, 3.73) * 30 / np.pi:.0f} rpm"
    '3174 rpm'
    """
    road_speed, rolling_radius, total = as_floats(road_speed, rolling_radius, _total(gearbox_ratio, final_ratio))
    sound = rolling_radius > 0
    return where(sound, road_speed * total / np.where(sound, rolling_radius, 1.0))


def speed_after_shift(rotational_speed: Numbers, ratio_from: Numbers, ratio_to: Numbers) -> Numbers:
    """Where the engine lands when the gear is changed and the road speed stays.

        ω₂ = ω₁·i₂/i₁

    rotational_speed  ω₁                   rad/s (or rpm: the unit carries over)
    ratio_from        i₁                   1        > 0
    ratio_to          i₂                   1        > 0
    returns           ω₂                   as ω₁    nan outside that range

    Source: kinematics.

    >>> f"{speed_after_shift(6500, 3.30, 2.00):.0f} rpm"
    '3939 rpm'
    """
    rotational_speed, ratio_from, ratio_to = as_floats(rotational_speed, ratio_from, ratio_to)
    sound = (ratio_from > 0) & (ratio_to > 0)
    return where(sound, rotational_speed * ratio_to / np.where(sound, ratio_from, 1.0))


def tractive_effort(
    torque: Numbers, gearbox_ratio: Numbers, final_ratio: Numbers, efficiency: Numbers, rolling_radius: Numbers
) -> Numbers:
    """Pull of the driven wheels at the road, steady.

        F = T·i_g·i_f·η/r_d

    torque            T, at the engine     N·m
    gearbox_ratio     i_g                  1        > 0
    final_ratio       i_f                  1        > 0
    efficiency        η, engine to wheel   1        0 < η ≤ 1
    rolling_radius    r_d                  m        > 0
    returns           F                    N        nan outside that range

    Steady: what speeds up the engine and wheels themselves is in the effective mass (performance.py). Pull only:
    on the overrun the losses turn round and a negative torque gives nan.
    Source: power balance; efficiencies GEARBOX_EFFICIENCY and HYPOID_EFFICIENCY are from memory.

    >>> f"{tractive_effort(200, 3.30, 3.73, 0.93, 0.3067):.0f} N"
    '7465 N'
    """
    torque, efficiency, rolling_radius, total = as_floats(
        torque, efficiency, rolling_radius, _total(gearbox_ratio, final_ratio)
    )
    sound = (torque >= 0) & (efficiency > 0) & (efficiency <= 1) & (rolling_radius > 0)
    return where(sound, torque * total * efficiency / np.where(sound, rolling_radius, 1.0))


def speedometer_reading(
    true_speed: Numbers,
    final_ratio: Numbers,
    circumference: Numbers,
    original_final_ratio: Numbers,
    original_circumference: Numbers,
    drive_gear_factor: Numbers = 1.0,
) -> Numbers:
    """Reading of a speedometer driven from the gearbox output after a change of final drive or tyres.

        v_shown = v·(i_f/i_f0)·(U₀/U)·k

    true_speed              v                                       m/s    (1 gives the factor shown/true)
    final_ratio             i_f, now                                1      > 0
    circumference           U, rolling, now                         m      > 0
    original_final_ratio    i_f0                                    1      > 0
    original_circumference  U₀                                      m      > 0
    drive_gear_factor       k, instrument turns per turn of the     1      > 0
                            output shaft, now over before
    returns                 v_shown                                 m/s    nan outside that range

    Takes the instrument as true before the change: multiply by its own reading over true if that is known. An
    instrument driven from a wheel sensor sees the tyres only: give the final ratio twice.
    Source: kinematics.

    >>> f"{speedometer_reading(100, 3.73, 1.927, 4.10, 1.800):.1f} shown at 100"
    '85.0 shown at 100'
    """
    values = as_floats(final_ratio, circumference, original_final_ratio, original_circumference, drive_gear_factor)
    final_ratio, circumference, original_final_ratio, original_circumference, drive_gear_factor = values
    sound: NDArray[np.bool_] = np.logical_and.reduce(np.broadcast_arrays(*(value > 0 for value in values)))
    below = np.where(sound, original_final_ratio * circumference, 1.0)
    shown_over_true = final_ratio * original_circumference * drive_gear_factor / below
    return where(sound, np.asarray(true_speed, float) * shown_over_true)


def _total(gearbox_ratio: Numbers, final_ratio: Numbers) -> Numbers:
    """Engine turns per turn of the wheel; nan unless both ratios are positive."""
    gearbox_ratio, final_ratio = as_floats(gearbox_ratio, final_ratio)
    return where((gearbox_ratio > 0) & (final_ratio > 0), gearbox_ratio * final_ratio)
