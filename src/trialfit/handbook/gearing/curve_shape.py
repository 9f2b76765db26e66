"""The shape of a torque curve where its points are few: between them, and up to the limiter.

Answers   wide_stretches   which stretches between two points are too wide for a straight line
          with_bulge       the curve with points set into them, above or below the straight line
          torque_of_power  torque at an engine speed from a share of a power
Not here  torque between the points (torque_curve.py); which facts make the curve (subjects/full_load.py)
Symbols   ω rotational speed, T torque, P power, b bulge, Δ width of a stretch, Ω width of the whole curve
Sources   [1] full-load curves are arched: a parabola of the whole width departs from a chord by the square of the chord's
          width; common practice, no source
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Array, Numbers, as_floats, where
from trialfit.handbook.gearing.torque_curve import check_speeds

if TYPE_CHECKING:
    from numpy.typing import NDArray

WIDE = 0.15
"""Width of a stretch over that of the curve, from which it gets a point of its own: below, an arch of 40 % adds under 1 %."""

_VERY_WIDE = 0.35
_LEAST_WIDTH = 0.5


def wide_stretches(engine_speeds: Numbers) -> NDArray[np.float64]:
    """Width of each stretch between two points over that of the whole curve.

        Δ/Ω,   Ω = max(ω_K − ω_1, ω_K/2)

    engine_speeds  ω_k, rising   rad/s   (K,)
    returns        Δ/Ω           1       (K − 1,)
    errors         ValueError for engine speeds that do not rise

    Source: common practice, no source.

    >>> wide_stretches([100.0, 200.0, 600.0])
    array([0.2, 0.8])
    """
    speeds = check_speeds(engine_speeds)
    whole = max(float(speeds[-1] - speeds[0]), _LEAST_WIDTH * float(speeds[-1]))
    return np.asarray(np.diff(speeds) / whole)


def with_bulge(engine_speeds: Numbers, torques: Numbers, bulge: Numbers) -> tuple[Array, Array]:
    """A curve with points set into its wide stretches.

        T(s) = T_k + s·(T_k+1 − T_k) + b·(T_k + T_k+1)/2·(Δ/Ω)²·4·s·(1 − s)

    engine_speeds  ω_k, rising                                            rad/s   (K,)
    torques        T_k                                                    N·m     (K,) or cars by K
    bulge          b, how far a curve of two points lies above its line   1       any shape of cars
    returns        ω and T with the points set in: one in the middle of a stretch wider than 0.15 of the curve, three in
                   one wider than 0.35
    errors         ValueError for engine speeds that do not rise

    s runs from 0 to 1 along a stretch. Source: common practice, no source.

    >>> speeds, torques = with_bulge([100.0, 600.0], [200.0, 200.0], 0.4)
    >>> speeds, np.round(torques, 1)
    (array([100., 225., 350., 475., 600.]), array([200., 260., 280., 260., 200.]))
    """
    speeds, torques, bulge = check_speeds(engine_speeds), np.asarray(torques, float), np.asarray(bulge, float)
    widths = wide_stretches(speeds)
    at, found = [speeds[0]], [torques[..., 0] + 0.0 * bulge]
    for k, width in enumerate(widths):
        low, high = torques[..., k], torques[..., k + 1]
        for s in _places(float(width)):
            at.append(speeds[k] + s * (speeds[k + 1] - speeds[k]))
            found.append(low + s * (high - low) + bulge * (low + high) / 2 * width**2 * 4 * s * (1 - s))
        at.append(speeds[k + 1])
        found.append(high + 0.0 * bulge)
    return np.array(at), np.stack(np.broadcast_arrays(*found), axis=-1)


def _places(width: float) -> tuple[float, ...]:
    if width <= WIDE:
        return ()
    return (0.5,) if width <= _VERY_WIDE else (0.25, 0.5, 0.75)


def torque_of_power(power: Numbers, engine_speed: Numbers) -> Numbers:
    """Torque that gives a power at an engine speed.

        T = P/ω

    power         P   W       ≥ 0
    engine_speed  ω   rad/s   > 0
    returns       T   N·m     nan outside that range

    Source: definition of power.

    >>> f"{torque_of_power(115.6e3, 5500 * 0.10472):.1f} N·m"
    '200.7 N·m'
    """
    power, engine_speed = as_floats(power, engine_speed)
    sound = (power >= 0) & (engine_speed > 0)
    return where(sound, power / np.where(sound, engine_speed, 1.0))
