"""Torque curves: points of engine speed and torque, straight lines between them, nothing beyond the ends.

Answers   torque_at    torque at an engine speed
          peak_power   largest power of a curve and where it stands
          check_speeds refuses engine speeds that do not rise
Not here  reading a curve from text; what the torque does (ratios.py, performance.py)
Symbols   ω rotational speed, T torque, P = T·ω power
Sources   [1] linear interpolation between the points of a dynamometer sheet: common practice, no source
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Numbers, where

if TYPE_CHECKING:
    from numpy.typing import NDArray


def check_speeds(engine_speeds: Numbers) -> NDArray[np.float64]:
    """The engine speeds of a curve as an array.

    engine_speeds  ω of the points, shared by all curves    rad/s    (K,), K ≥ 2, rising, ≥ 0
    errors         ValueError, one sentence, for a curve of one point or whose speeds do not rise

    >>> check_speeds([100, 200])
    array([100., 200.])
    """
    speeds = np.asarray(engine_speeds, float)
    if speeds.ndim != 1 or speeds.size <= 1:
        raise ValueError(
            "A torque curve needs two points or more, such as 150 N·m at 1000 rpm and 180 N·m at 2000 rpm."
        )
    if not (np.all(np.diff(speeds) > 0) and speeds[0] >= 0 and np.isfinite(speeds[-1])):
        raise ValueError(
            "The engine speeds of a torque curve must rise from point to point, as in 1000, 2000, 3000 rpm."
        )
    return speeds


def torque_at(engine_speed: Numbers, engine_speeds: Numbers, torques: Numbers) -> Numbers:
    """Torque at an engine speed.

        T = T_k + (T_k+1 − T_k)·(ω − ω_k)/(ω_k+1 − ω_k)

    engine_speed   ω                       rad/s   any shape
    engine_speeds  ω_k, rising             rad/s   (K,)
    torques        T_k                     N·m     (K,), or one curve for each ω: its shape and then K
    returns        T                       N·m     nan outside the curve

    Straight lines between the points: common practice, no source.

    >>> torque_at([150.0, 400.0], [100.0, 200.0, 300.0], [120.0, 160.0, 150.0])
    array([140.,  nan])
    """
    speeds = check_speeds(engine_speeds)
    engine_speed, torques = np.asarray(engine_speed, float), np.asarray(torques, float)
    shape = np.broadcast_shapes(engine_speed.shape, torques.shape[:-1])
    engine_speed = np.broadcast_to(engine_speed, shape)
    torques = np.broadcast_to(torques, (*shape, speeds.size))
    left = np.clip(np.searchsorted(speeds, engine_speed, side="right") - 1, 0, speeds.size - 2)
    low = np.take_along_axis(torques, left[..., None], axis=-1)[..., 0]
    high = np.take_along_axis(torques, left[..., None] + 1, axis=-1)[..., 0]
    share = (engine_speed - speeds[left]) / (speeds[left + 1] - speeds[left])
    return where((share >= 0) & (share <= 1), low + share * (high - low))


def peak_power(engine_speeds: Numbers, torques: Numbers) -> tuple[Numbers, Numbers]:
    """Largest power on a torque curve, and the engine speed that gives it.

        P = max T(ω)·ω

    engine_speeds  ω_k, rising             rad/s    (K,)
    torques        T_k                     N·m      (..., K)
    returns        P, ω                    W, rad/s

    T is linear between the points, so P is a parabola there: its top may lie between two points.
    Source: definition of power.

    >>> power, speed = peak_power([100.0, 200.0, 400.0], [100.0, 100.0, 20.0])
    >>> f"{power / 1e3:.2f} kW at {speed:.0f} rad/s"
    '20.25 kW at 225 rad/s'
    """
    speeds, torques = check_speeds(engine_speeds), np.asarray(torques, float)
    slope = np.diff(torques) / np.diff(speeds)
    level = torques[..., :-1] - slope * speeds[:-1]
    falling = slope < 0
    top = np.where(falling, -level / (2 * np.where(falling, slope, -1.0)), speeds[1:])
    top = np.clip(top, speeds[:-1], speeds[1:])
    candidates = np.concatenate((np.broadcast_to(speeds[:1], (*top.shape[:-1], 1)), top), axis=-1)
    power = np.concatenate((torques[..., :1] * speeds[0], (level + slope * top) * top), axis=-1)
    best = np.argmax(np.where(np.isnan(power), -np.inf, power), axis=-1)[..., None]
    pick = np.take_along_axis(power, best, axis=-1)[..., 0]
    return pick[()], np.take_along_axis(candidates, best, axis=-1)[..., 0][()]
