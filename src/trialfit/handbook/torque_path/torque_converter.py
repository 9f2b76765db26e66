"""Torque converters: the speed at which the engine stalls against one, and what it makes of the engine's torque.

Answers   capacity_factor       K of a converter from one reading
          stall_speed           of a converter behind one torque
          stall_speed_of_curve  of a converter behind an engine
          torque_ratio          over speed ratio
          multiplied_torque     the most that leaves it
Not here  its slip heat and oil cooler (cooling)
Symbols   ω speed of the engine, T torque, K = ω/√T capacity factor, ν speed ratio turbine over pump, μ torque ratio turbine over
          pump, μ_0 at stall, ν_c where it couples
Sources   [1] similarity of hydrodynamic machines: T = (ω/K)²   [2] truck drive-shaft installation guide: stall ratios 1.5 to 2.8
          [3] two example curves on public pages: 1.8 to 2.5 for road cars; 2.23, 2.07, 1.97, 1.84 at ν 0, 0.1, 0.2, 0.3

K has the unit rad/s over √(N·m) here; makers print rpm over √(lb·ft), 100 of which are 85.9 rpm over √(N·m).
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Array, Numbers, as_floats, where
from trialfit.handbook.gearing.torque_curve import check_speeds, torque_at

COUPLING = 0.875
"""Speed ratio from which a converter only couples: 0.85 to 0.9, from memory."""


def capacity_factor(speed: Numbers, torque: Numbers) -> Numbers:
    """Capacity factor of a converter from its stall speed at a torque.

        K = ω/√T

    speed    ω, of the engine at stall    rad/s               > 0
    torque   T, at the engine             N·m                 > 0
    returns  K                            rad/s per √(N·m)    nan outside that range

    Source: similarity of hydrodynamic machines.

    >>> f"{capacity_factor(1446 * np.pi / 30, 150.0) * 30 / np.pi:.0f} rpm per root of N·m"
    '118 rpm per root of N·m'
    """
    speed, torque = as_floats(speed, torque)
    sound = (speed > 0) & (torque > 0)
    return where(sound, speed / np.sqrt(np.where(sound, torque, 1.0)))


def stall_speed(capacity_factor: Numbers, torque: Numbers) -> Numbers:
    """Engine speed at which a converter holds a torque, its turbine at rest.

        ω = K·√T

    capacity_factor   K                   rad/s per √(N·m)    > 0
    torque            T                   N·m                 ≥ 0
    returns           ω                   rad/s               nan outside that range

    Source: similarity of hydrodynamic machines.

    >>> f"{stall_speed(118 * np.pi / 30, 150.0) * 30 / np.pi:.0f} rpm: 118·√150"
    '1445 rpm: 118·√150'
    """
    factor, torque = as_floats(capacity_factor, torque)
    sound = (factor > 0) & (torque >= 0)
    return where(sound, factor * np.sqrt(np.where(sound, torque, 0.0)))


def stall_speed_of_curve(capacity_factor: Numbers, engine_speeds: Numbers, torques: Numbers) -> Numbers:
    """Engine speed at which an engine at full load stalls against a converter: where its curve meets (ω/K)².

    capacity_factor   K                               rad/s per √(N·m)    > 0
    engine_speeds     ω_k, rising                     rad/s               (points,)
    torques           T_k, along the last axis        N·m                 (..., points)
    returns           ω                               rad/s               nan outside that range and where they do not meet

    Below the curve's first point the engine is taken to make that point's torque. Source: similarity of hydrodynamic machines.

    >>> curve = np.array([100.0, 300.0, 600.0]), np.array([150.0, 150.0, 120.0])
    >>> f"{stall_speed_of_curve(118 * np.pi / 30, *curve) * 30 / np.pi:.0f} rpm"
    '1445 rpm'
    """
    speeds = check_speeds(engine_speeds)
    factor, torques = as_floats(capacity_factor, torques)
    sound = factor > 0
    over: Array = torques - (speeds / np.where(sound, factor, 1.0)[..., None]) ** 2
    at_first = np.asarray(stall_speed(factor, torques[..., 0]))
    meets = np.argmax(over <= 0, axis=-1)
    right = np.maximum(meets, 1)[..., None]
    low_t, high_t = (
        np.take_along_axis(np.broadcast_to(torques, over.shape), at, axis=-1)[..., 0] for at in (right - 1, right)
    )
    low, high = speeds[right[..., 0] - 1], speeds[right[..., 0]]
    slope = (high_t - low_t) / (high - low)
    square = np.where(sound, factor, 1.0) ** 2  # ω² = K²·(T_low + slope·(ω − low))
    met = (slope * square + np.sqrt(np.maximum((slope * square) ** 2 + 4 * square * (low_t - slope * low), 0.0))) / 2
    found = np.where(over[..., 0] <= 0, at_first, met)
    return where(sound & np.any(over <= 0, axis=-1), found)


def torque_ratio(speed_ratio: Numbers, stall_ratio: Numbers, coupling: Numbers = COUPLING) -> Numbers:
    """Torque of the turbine over that of the engine.

        μ = μ_0 − (μ_0 − 1)·ν/ν_c below ν_c,   1 above

    speed_ratio   ν, turbine over engine          1    0 ≤ ν ≤ 1
    stall_ratio   μ_0, at ν = 0                   1    ≥ 1; road cars 1.8 to 2.5
    coupling      ν_c                             1    0 < ν_c ≤ 1
    returns       μ                               1    nan outside that range

    A straight line: within 0.04 of the example curve of source [3]. Source: two example curves on public pages.

    >>> [round(float(torque_ratio(ratio, 2.23)), 2) for ratio in (0.0, 0.1, 0.2, 0.3, 1.0)]
    [2.23, 2.09, 1.95, 1.81, 1.0]
    """
    ratio, stall, coupling = as_floats(speed_ratio, stall_ratio, coupling)
    sound = (ratio >= 0) & (ratio <= 1) & (stall >= 1) & (coupling > 0) & (coupling <= 1)
    share = np.minimum(ratio / np.where(sound, coupling, 1.0), 1.0)
    return where(sound, stall - (stall - 1) * share)


def multiplied_torque(stall_speed: Numbers, stall_ratio: Numbers, engine_speeds: Numbers, torques: Numbers) -> Numbers:
    """Most torque that leaves a converter behind an engine at full load.

        T = μ_0·max T_e(ω) over ω ≥ ω_stall

    stall_speed     ω_stall                         rad/s    > 0
    stall_ratio     μ_0                             1        ≥ 1
    engine_speeds   ω_k, rising                     rad/s    (points,)
    torques         T_k, along the last axis        N·m      (..., points)
    returns         T                               N·m      nan outside that range and where the curve ends below ω_stall

    From stall on the engine only turns faster and the ratio only falls: exact where the curve falls from ω_stall on, otherwise on
    the safe side. Source: similarity of hydrodynamic machines.

    >>> curve = np.array([100.0, 200.0, 600.0]), np.array([120.0, 150.0, 110.0])
    >>> f"{multiplied_torque(300.0, 2.0, *curve):.0f} N·m: 2·140"
    '280 N·m: 2·140'
    """
    speeds = check_speeds(engine_speeds)
    stall, ratio, torques = as_floats(stall_speed, stall_ratio, torques)
    sound = (stall > 0) & (ratio >= 1) & (stall <= speeds[-1])
    at_stall = np.asarray(torque_at(np.maximum(np.where(sound, stall, speeds[0]), speeds[0]), speeds, torques))
    faster = np.where(speeds >= stall[..., None], torques, -np.inf).max(axis=-1)
    return where(sound, ratio * np.maximum(at_stall, faster))
