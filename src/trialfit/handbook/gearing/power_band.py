"""Power band: share of the peak power at an engine speed, and the lowest speed with enough of it.

Answers   power_share   power at an engine speed over the peak power of the curve
          band_start    lowest engine speed that gives a share of the peak power
Not here  torque at an engine speed, peak power itself (torque_curve.py); where the engine lands (ratios.py)
Symbols   ω rotational speed, T torque, P = T·ω power
Sources   [1] straight lines between the points of a torque curve: common practice, no source
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, where
from trialfit.handbook.gearing.torque_curve import check_speeds, peak_power, torque_at


def power_share(engine_speed: Numbers, engine_speeds: Numbers, torques: Numbers) -> Numbers:
    """Full-load power at an engine speed over the largest of the curve.

        T(ω)·ω/P_max

    engine_speed   ω                       rad/s   any shape
    engine_speeds  ω_k, rising             rad/s   (K,)
    torques        T_k                     N·m     (K,); ≥ 0, not all 0
    returns        share                   1       nan outside the curve
    errors         ValueError for engine speeds that do not rise

    A factor on the whole curve drops out. Source: straight lines between the points, common practice, no source.

    >>> f"{power_share(300.0, [100.0, 400.0, 600.0], [200.0, 200.0, 150.0]):.3f}"
    '0.667'
    """
    engine_speed = np.asarray(engine_speed, float)
    peak = np.asarray(peak_power(engine_speeds, torques)[0])
    share = np.asarray(torque_at(engine_speed, engine_speeds, torques)) * engine_speed / np.where(peak > 0, peak, 1.0)
    return where(peak > 0, share)


def band_start(engine_speeds: Numbers, torques: Numbers, share: Numbers) -> Numbers:
    """Lowest engine speed that gives a share of the peak power.

        T(ω)·ω = s·P_max, the first such ω from below

    engine_speeds  ω_k, rising             rad/s   (K,)
    torques        T_k                     N·m     (K,), or one curve for each s: its shape and then K; ≥ 0, not all 0
    share          s                       1       0 < s ≤ 1, any shape
    returns        ω                       rad/s   nan outside that range; ω₀ where the first point gives it already
    errors         ValueError for engine speeds that do not rise

    Between two points T is straight, P = T·ω a parabola: its lower root counts where it rises.
    Source: straight lines between the points, common practice, no source.

    >>> f"{band_start([100.0, 400.0, 600.0], [200.0, 200.0, 150.0], 0.6):.0f} rad/s"
    '270 rad/s'
    """
    speeds, torques, share = check_speeds(engine_speeds), np.asarray(torques, float), np.asarray(share, float)
    slope = np.diff(torques, axis=-1) / np.diff(speeds)
    level = torques[..., :-1] - slope * speeds[:-1]
    target = (np.asarray(peak_power(speeds, torques)[0]) * share)[..., None]
    # level·ω + slope·ω² = target: the root where P rises, written so that a level curve (slope 0) needs no case.
    under = level**2 + 4 * slope * target
    below = level + np.sqrt(np.maximum(under, 0.0))
    root = 2 * target / np.where(below > 0, below, np.nan)
    nearly = 1e-12 * speeds[1:]  # s = 1 is met at the very top of the parabola, where rounding decides
    meets = (under >= -1e-12 * level**2) & (root >= speeds[:-1] - nearly) & (root <= speeds[1:] + nearly)
    found = np.where(meets, root, np.inf).min(axis=-1)
    found = np.where(torques[..., 0] * speeds[0] >= target[..., 0], speeds[0], found)
    sound = (share > 0) & (share <= 1) & (torques >= 0).all(axis=-1) & (target[..., 0] > 0) & np.isfinite(found)
    return where(sound, found)
