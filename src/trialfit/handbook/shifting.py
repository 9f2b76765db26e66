"""Shifting up: the engine speed at which the next gear pulls harder.

Answers   upshift_speed   for many cars and one pair of gears
Not here  where the engine lands (gearing.speed_after_shift); the run through the gears (acceleration.py)
Symbols   ω rotational speed of the engine, T torque, i gearbox ratio, η efficiency, m_e effective mass
Sources   [1] the rule follows from F = m_e·a: stay in the gear with the larger F/m_e
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.torque_curve import check_speeds, torque_at

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Numbers

    Floats = NDArray[np.float64]


def upshift_speed(
    engine_speeds: Numbers, torques: Numbers, ratio_step: Numbers, force_step: Numbers, rev_limit: Numbers
) -> Numbers:
    """Engine speed at which to change up: where F/m_e of the two gears cross, at the latest at the limit.

        T(ω) = q·T(σ·ω),   σ = i₂/i₁,   q = (i₂·η₂/m_e2)/(i₁·η₁/m_e1)

    engine_speeds  ω_k, rising             rad/s   (K,)
    torques        T_k                     N·m     (..., K)
    ratio_step     σ, next over this       1       0 < σ < 1
    force_step     q                       1       > 0
    rev_limit      limit                   rad/s   > ω₀
    returns        ω                       rad/s   nan outside that range

    The last crossing counts, so that a dip in the curve does not send the car to the next gear too early. The engine
    is not taken past the last point of its curve: what it gives there is not known. The next gear is not taken while
    it would turn the engine below the first point. Road load and the time of the shift are not weighed.
    Source: F = m_e·a.

    >>> flat = [200.0, 200.0, 100.0]
    >>> f"{upshift_speed([100.0, 400.0, 600.0], flat, 0.8, 0.8, 600.0):.0f} rad/s"
    '480 rad/s'
    """
    speeds, torques = check_speeds(engine_speeds), np.asarray(torques, float)
    values = np.broadcast_arrays(*(np.asarray(v, float) for v in (ratio_step, force_step, rev_limit)), torques[..., 0])
    shape = values[0].shape
    step, force, limit = (v.reshape(-1) for v in values[:3])
    torques = np.broadcast_to(torques, (*shape, speeds.size)).reshape(-1, speeds.size)
    sound = (step > 0) & (step < 1) & (force > 0) & (limit > speeds[0]) & (torques >= 0).all(axis=-1)
    step, force = np.where(sound, step, 0.5), np.where(sound, force, 1.0)
    last = np.minimum(limit, speeds[-1])
    found = np.where(sound, last, np.nan)
    # Most cars pull hardest right up to the limit: only the others are worth the search.
    early = sound & (last * step >= speeds[0])
    early[early] = _surplus(speeds, torques[early], last[early], step[early], force[early]) < 0
    if early.any():
        found[early] = _crossing(speeds, torques[early], last[early], step[early], force[early])
    return found.reshape(shape)[()]


def _surplus(speeds: Floats, torques: Floats, at: Floats, step: Floats, force: Floats) -> Floats:
    """T(ω) − q·T(σ·ω): positive while the lower gear pulls harder."""
    # Rounding must not push ω past the end of the curve.
    low, high = speeds[0], speeds[-1]
    here = torque_at(np.clip(at, low, high), speeds, torques)
    after = torque_at(np.clip(at * step, low, high), speeds, torques)
    return np.asarray(here - force * after)


def _crossing(speeds: Floats, torques: Floats, last: Floats, step: Floats, force: Floats) -> Floats:
    """The last speed at which the surplus is not negative; the lowest possible one where it always is."""
    lowest = np.maximum(speeds[0] / step, speeds[0])
    corners = np.concatenate((np.broadcast_to(speeds, torques.shape), speeds / step[:, None]), axis=1)
    corners = np.clip(corners, lowest[:, None], last[:, None])
    surplus = _surplus(speeds, torques[:, None, :], corners, step[:, None], force[:, None])
    below = np.where(surplus >= 0, corners, -np.inf).max(axis=1)
    above = np.where(corners > below[:, None], corners, np.inf).min(axis=1)
    searched = np.isfinite(below)
    below, above = np.where(searched, below, lowest), np.where(searched, above, lowest)
    high = _surplus(speeds, torques, below, step, force)
    low = _surplus(speeds, torques, above, step, force)
    share = np.where(searched, high / np.where(searched, high - low, 1.0), 0.0)
    return below + share * (above - below)
