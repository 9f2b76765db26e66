"""Wheelspin: in which gear, and up to what speed, the engine spins the wheels.

Answers   grip_limited_up_to_speed   for every gear, on the whole torque curve
          torque_at_grip             engine torque beyond which the driven wheels spin
Not here  the grip itself (traction.py); time lost by it (acceleration.py)
Symbols   T torque, i_g gearbox ratio, i_f final ratio, η efficiency, r_d rolling radius, m_e effective mass
Sources   [1] power balance   [2] Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.gearing.torque_curve import check_speeds


def torque_at_grip(
    grip_force: Numbers,
    gearbox_ratio: Numbers,
    final_ratio: Numbers,
    efficiency: Numbers,
    rolling_radius: Numbers,
    mass_factor: Numbers = 1.0,
) -> Numbers:
    """Engine torque beyond which the driven wheels spin.

        T = F_grip·r_d/(i_g·i_f·η)·(m_e/m)

    grip_force      F_grip                     N      ≥ 0
    gearbox_ratio   i_g                        1      > 0
    final_ratio     i_f                        1      > 0
    efficiency      η, engine to wheel         1      0 < η ≤ 1
    rolling_radius  r_d                        m      > 0
    mass_factor     m_e/m; 1: steady           1      ≥ 1
    returns         T                          N·m    nan outside that range

    Under acceleration the engine spends part of its torque on speeding up itself and the wheels: with m_e/m the
    torque at full acceleration, the road load left out (it lowers T by less than 2 % below 100 km/h).
    Source: power balance; Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory.

    >>> f"{torque_at_grip(6000, 3.30, 3.73, 0.93, 0.3067):.1f} N·m"
    '160.8 N·m'
    """
    values = as_floats(grip_force, gearbox_ratio, final_ratio, efficiency, rolling_radius, mass_factor)
    grip_force, gearbox_ratio, final_ratio, efficiency, rolling_radius, mass_factor = values
    sound = (grip_force >= 0) & (gearbox_ratio > 0) & (final_ratio > 0) & (efficiency > 0) & (efficiency <= 1)
    sound = sound & (rolling_radius > 0) & (mass_factor >= 1)
    multiplied = np.where(sound, gearbox_ratio * final_ratio * efficiency, 1.0)
    return where(sound, grip_force * rolling_radius * mass_factor / multiplied)


def grip_limited_up_to_speed(
    *,
    engine_speeds: Numbers,
    torques: Numbers,
    gearbox_ratios: Numbers,
    final_ratio: Numbers,
    efficiency: Numbers,
    rolling_radius: Numbers,
    grip_force: Numbers,
    rev_limit: Numbers,
    torque_factor: Numbers = 1.0,
    mass_factor: Numbers = 1.0,
) -> Numbers:
    """Highest road speed in each gear at which full throttle spins the driven wheels.

        T(ω) > T_grip, see torque_at_grip;  v = ω·r_d/(i_g·i_f)

    engine_speeds   ω_k, rising, shared        rad/s   (K,)
    torques         T_k                        N·m     (K,) or cars by K; ≥ 0
    gearbox_ratios  i_g; nan: no such gear     1       (G,) or cars by G; > 0
    final_ratio     i_f                        1       > 0
    efficiency      η, engine to wheel         1       one, (G,) or cars by G; 0 < η ≤ 1
    rolling_radius  r_d                        m       > 0
    grip_force      F_grip                     N       ≥ 0
    rev_limit       ω of the limiter           rad/s   > ω₀
    torque_factor   on the whole curve         1       > 0
    mass_factor     m_e/m; 1: steady           1       one, (G,) or cars by G; ≥ 1
    returns         v, cars by G               m/s     0 where the tyres can use it all; nan outside that range
    errors          ValueError for engine speeds that do not rise

    The speed of the limiter (or of the last point of the curve, if that is lower) where the tyres spin right up to it.
    Below the first point of the curve nothing is known. Accelerations that press the rear down are in the grip
    already when it comes from traction.py.
    Source: power balance.

    >>> v = grip_limited_up_to_speed(
    ...     engine_speeds=[100.0, 400.0, 600.0], torques=[200.0, 200.0, 100.0], gearbox_ratios=[3.3, 2.0],
    ...     final_ratio=3.73, efficiency=0.93, rolling_radius=0.3067, grip_force=6000.0, rev_limit=600.0)
    >>> [f"{speed:.2f} m/s" for speed in v]
    ['11.92 m/s', '0.00 m/s']
    """
    curve = check_speeds(engine_speeds)
    final, radius, grip, limit, factor = (
        value[..., None] for value in as_floats(final_ratio, rolling_radius, grip_force, rev_limit, torque_factor)
    )
    ratios, *rest = as_floats(gearbox_ratios, efficiency, mass_factor)
    allowed = np.asarray(torque_at_grip(grip, ratios, final, rest[0], radius, rest[1]))
    torques = np.asarray(torques, float) * factor
    sound = np.isfinite(allowed) & (limit > curve[0]) & (factor > 0) & (torques >= 0).all(axis=-1, keepdims=True)
    last = np.minimum(limit, curve[-1])[..., None]
    highest = _last_above(curve, torques[..., None, :], allowed[..., None], last)
    return where(sound, highest * radius / np.where(sound, ratios * final, 1.0))


def _last_above(curve: np.ndarray, torques: np.ndarray, allowed: np.ndarray, last: np.ndarray) -> np.ndarray:
    """Highest engine speed up to `last` at which the torque is above what is allowed; 0 where there is none."""
    rise = np.diff(torques, axis=-1) / np.diff(curve)
    begin, low = curve[:-1], torques[..., :-1]
    width = np.clip(last - begin, 0.0, np.diff(curve))
    above_begin, above_end = low > allowed, low + rise * width > allowed
    falls = above_begin & ~above_end
    cut = np.where(falls, (allowed - low) / np.where(falls, rise, 1.0), 0.0)
    reach = np.where(above_end, width, cut)
    found = np.where((above_end | above_begin) & (width > 0), begin + reach, 0.0)
    return np.asarray(found.max(axis=-1))
