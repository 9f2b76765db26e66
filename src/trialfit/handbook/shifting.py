"""Shifting up: the engine speed at which the next gear pulls harder.

Answers   upshift_speed      for one pair of gears
          planned_upshifts   for all gears of many cars, as acceleration.py needs it
Not here  where the engine lands (gearing.speed_after_shift); the run through the gears (acceleration.py)
Symbols   ω rotational speed of the engine, T torque, i gearbox ratio, η efficiency, m_e effective mass
Sources   [1] the rule follows from F = m_e·a: stay in the gear with the larger F/m_e
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import as_floats
from trialfit.handbook.torque_curve import check_speeds

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
    step, force, limit = as_floats(ratio_step, force_step, rev_limit)
    shape = np.broadcast_shapes(step.shape, force.shape, limit.shape, torques.shape[:-1])
    step, force, limit = (np.broadcast_to(value, shape).reshape(-1) for value in (step, force, limit))
    curves = np.broadcast_to(torques, (*shape, speeds.size)).reshape(-1, speeds.size).T
    sound = (step > 0) & (step < 1) & (force > 0) & (limit > speeds[0]) & (curves >= 0).all(axis=0)
    last = np.where(sound, np.minimum(limit, speeds[-1]), np.nan)
    return planned_upshifts(speeds, curves, step[None], force[None], last)[0].reshape(shape)[()]


def planned_upshifts(speeds: Floats, torques: Floats, step: Floats, force: Floats, last: Floats) -> Floats:
    """upshift_speed for all pairs of gears of many cars, points and pairs along the first axis, without its checks.

    speeds   ω_k                                           rad/s   (K,)
    torques  T_k                                           N·m     (K, N)
    step     σ                                             1       (G − 1, N)
    force    q                                             1       (G − 1, N)
    last     smaller of the limit and the curve's end      rad/s   (N,)
    returns  ω                                             rad/s   (G − 1, N); `last` where a figure is nan
    """
    car = np.broadcast_to(np.arange(last.size), step.shape).reshape(-1)
    search = _Search(speeds, torques, np.diff(torques, axis=0) / np.diff(speeds)[:, None])
    planned = np.array(np.broadcast_to(last, step.shape)).reshape(-1)
    step, force = step.reshape(-1), force.reshape(-1)
    here, after = search.segment(planned), search.segment(planned * step)
    surplus = search.surplus(planned, here, after, car, step, force)
    # Most cars pull hardest right up to the limit: only the others are worth the search.
    early = np.flatnonzero((planned * step > speeds[0]) & (surplus < 0))
    found = search.downwards(*(v[early] for v in (planned, surplus, here, after, car, step, force)))
    planned[early] = found
    return planned.reshape(-1, last.size)


@dataclass(frozen=True)
class _Search:
    """Looks for the speed below which the lower gear pulls harder, from point to point of the curve."""

    speeds: Floats
    torques: Floats
    rise: Floats

    def segment(self, turns: Floats) -> NDArray[np.intp]:
        """Segment of the curve that ends at or holds an engine speed."""
        return np.clip(np.searchsorted(self.speeds, turns) - 1, 0, self.speeds.size - 2)

    def surplus(
        self,
        turns: Floats,
        here: NDArray[np.intp],
        after: NDArray[np.intp],
        car: NDArray[np.intp],
        step: Floats,
        force: Floats,
    ) -> Floats:
        """T(ω) − q·T(σ·ω) on the segments given: positive while the lower gear pulls harder."""
        low = self.torques[here, car] + self.rise[here, car] * (turns - self.speeds[here])
        high = self.torques[after, car] + self.rise[after, car] * (turns * step - self.speeds[after])
        return low - force * high

    def downwards(
        self,
        turns: Floats,
        surplus: Floats,
        here: NDArray[np.intp],
        after: NDArray[np.intp],
        car: NDArray[np.intp],
        step: Floats,
        force: Floats,
    ) -> Floats:
        """Where the surplus turns positive, or the lowest speed that the next gear can take over at."""
        found = np.empty_like(turns)
        left = np.arange(turns.size)
        while left.size:
            own, taken = self.speeds[here], self.speeds[after] / step
            below = np.maximum(own, taken)
            there = self.surplus(below, here, after, car, step, force)
            crossed = there >= 0
            share = np.where(crossed, there / np.where(crossed, there - surplus, 1.0), 0.0)
            lowest = (below == taken) & (after == 0)
            ends = crossed | lowest | ((below == own) & (here == 0))
            found[left[ends]] = (below + share * (turns - below))[ends]
            on = ~ends
            here, after = (here - (below == own))[on], (after - (below == taken))[on]
            left, car, step, force, turns, surplus = (v[on] for v in (left, car, step, force, below, there))
        return found
