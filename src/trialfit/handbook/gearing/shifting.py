"""Shifting up: the engine speed at which the next gear pulls harder.

Answers   upshift_speed      for one pair of gears
          planned_upshifts   for all gears of many cars, as acceleration.py needs it
Not here  where the engine lands (gearing.speed_after_shift); the run through the gears (acceleration.py)
Symbols   ω rotational speed of the engine, T torque, i gearbox ratio, η efficiency, m_e effective mass
Sources   [1] the rule follows from F = m_e·a: stay in the gear with the larger F/m_e
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Array, as_floats, plain
from trialfit.handbook.gearing.torque_curve import check_speeds

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Numbers

    Places = NDArray[np.intp]


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
    rise = np.diff(curves, axis=0) / np.diff(speeds)[:, None]
    found = planned_upshifts(speeds, curves, rise, step[None], force[None], last)[0]
    return plain(found.reshape(shape))


def planned_upshifts(speeds: Array, torques: Array, rise: Array, step: Array, force: Array, last: Array) -> Array:
    """upshift_speed for all pairs of gears of many cars, points and pairs along the first axis, without its checks.

    speeds   ω_k                                           rad/s   (K,)
    torques  T_k                                           N·m     (K, N)
    rise     slope of the torque between the points        N·m·s   (K − 1, N)
    step     σ                                             1       (G − 1, N)
    force    q                                             1       (G − 1, N)
    last     smaller of the limit and the curve's end      rad/s   (N,)
    returns  ω                                             rad/s   (G − 1, N); `last` where a figure is nan
    """
    planned = np.array(np.broadcast_to(last, step.shape)).reshape(-1)
    car = np.broadcast_to(np.arange(last.size), step.shape).reshape(-1)
    pairs, steps, forces = step.shape, step.reshape(-1), force.reshape(-1)
    shifts = _Shifts(planned, _segment(speeds, planned), _segment(speeds, planned * steps), car, steps, forces)
    lines = _Lines(speeds, torques.ravel(), rise.ravel(), last.size)
    # Most cars pull hardest right up to the limit: only the others are worth the search.
    early = np.flatnonzero((planned * steps > speeds[0]) & (lines.surplus(shifts) < 0))
    planned[early] = _search_downwards(lines, shifts.only(early))
    return planned.reshape(pairs)


def _segment(speeds: Array, turns: Array) -> Places:
    """Segment of the curve that holds an engine speed or ends at it."""
    return np.clip(np.searchsorted(speeds, turns) - 1, 0, speeds.size - 2)


@dataclass(frozen=True)
class _Shifts:
    """Pairs of gears at an engine speed each, (n,)."""

    turns: Array
    """ω [rad/s] in the lower gear."""
    here: Places
    """Segment of the curve that holds ω."""
    after: Places
    """Segment that holds σ·ω."""
    car: Places
    step: Array
    """σ."""
    force: Array
    """q."""

    def only(self, places: Places) -> _Shifts:
        """Some of the pairs."""
        return _Shifts(*(getattr(self, field.name)[places] for field in fields(self)))


@dataclass(frozen=True)
class _Lines:
    """The torque curves as straight lines between their points: flat arrays, which are faster to pick from."""

    speeds: Array
    torques: Array
    """(K·N,)."""
    rise: Array
    cars: int
    """N."""

    def surplus(self, at: _Shifts) -> Array:
        """T(ω) − q·T(σ·ω): positive while the lower gear pulls harder."""
        here, after = at.here * self.cars + at.car, at.after * self.cars + at.car
        low = self.torques.take(here) + self.rise.take(here) * (at.turns - self.speeds.take(at.here))
        turns = at.turns * at.step - self.speeds.take(at.after)
        return low - at.force * (self.torques.take(after) + self.rise.take(after) * turns)


def _search_downwards(lines: _Lines, at: _Shifts) -> Array:
    """From point to point of either gear's curve until the surplus turns positive: between two, it is a straight line.

    Where it never does, the answer is the lowest speed at which the next gear can take over.
    """
    found, left, surplus = np.empty_like(at.turns), np.arange(at.turns.size), lines.surplus(at)
    while left.size:
        own, taken = lines.speeds[at.here], lines.speeds[at.after] / at.step
        below = np.maximum(own, taken)
        there = lines.surplus(replace(at, turns=below))
        crossed = there >= 0
        share = np.where(crossed, there / np.where(crossed, there - surplus, 1.0), 0.0)
        ends = crossed | ((below == taken) & (at.after == 0)) | ((below == own) & (at.here == 0))
        found[left[ends]] = (below + share * (at.turns - below))[ends]
        on = np.flatnonzero(~ends)
        at = replace(at, turns=below, here=at.here - (below == own), after=at.after - (below == taken)).only(on)
        left, surplus = left[on], there[on]
    return found
