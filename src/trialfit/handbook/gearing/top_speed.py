"""Top speed in each gear, and what sets it.

Answers   top_speed      speed in every gear, what limits it, the best gear
          TopSpeed, TopSpeedLimit
Not here  a rough top speed from power alone (performance.top_speed_from_power)
Symbols   F tractive effort, R road load, v speed, ω rotational speed of the engine
Sources   [1] energy balance
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from enum import IntEnum
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Array, as_floats
from trialfit.handbook.gearing.motion import LEAST_DRAG
from trialfit.handbook.gearing.stretches import RoadLoad
from trialfit.handbook.gearing.torque_curve import check_speeds

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Numbers


_SAME = 1e-12


class TopSpeedLimit(IntEnum):
    """The limit of the speed in a gear."""

    NONE = -1
    """No answer: the gear has no pull at any speed on the curve, is not there, or a figure lies outside its range."""
    PULL = 0
    """Tractive effort and road load balance."""
    REV_LIMIT = 1
    """The limiter."""
    END_OF_CURVE = 2
    """The last point of the torque curve: the torque beyond it is unknown, the car may be faster."""


@dataclass(frozen=True)
class TopSpeed:
    """Result of top_speed: the shape of the cars, then gears."""

    speed: Array
    """[m/s] in each gear; nan where the gear has no pull at any speed on the curve."""
    limited_by: NDArray[np.int_]
    """A TopSpeedLimit for each gear."""

    @property
    def fastest_gear(self) -> NDArray[np.intp]:
        """Index of the gear with the highest speed, 0 is first; the lowest of equals, and 0 where there is none."""
        return np.asarray(np.argmax(np.where(np.isnan(self.speed), -np.inf, self.speed), axis=-1))

    @property
    def highest(self) -> Array:
        """Highest speed of all gears [m/s]; nan where no gear pulls."""
        return np.asarray(np.take_along_axis(self.speed, self.fastest_gear[..., None], axis=-1)[..., 0])


def top_speed(
    *,
    engine_speeds: Numbers,
    torques: Numbers,
    gearbox_ratios: Numbers,
    final_ratio: Numbers,
    efficiency: Numbers,
    rolling_radius: Numbers,
    mass: Numbers,
    rolling: Numbers,
    drag_area: Numbers,
    air_density: Numbers,
    rev_limit: Numbers,
    torque_factor: Numbers = 1.0,
    rolling_doubling_speed: Numbers = np.inf,
    slope_angle: Numbers = 0.0,
) -> TopSpeed:
    """Highest speed a gear holds at full throttle.

        F(v) = R(v), or ω(v) = limit, whichever comes first from above

    engine_speeds           ω_k, rising, shared             rad/s   (K,)
    torques                 T_k                             N·m     (K,) or cars by K; ≥ 0
    gearbox_ratios          nan: no such gear               1       (G,) or cars by G; > 0
    final_ratio             i_f                             1       > 0
    efficiency              η, engine to wheel              1       one, (G,) or cars by G; 0 < η ≤ 1
    rolling_radius          r_d                             m       > 0
    mass                    m                               kg      > 0
    rolling                 f₀, at rest                     1       ≥ 0
    drag_area               C_dA                            m²      ≥ 0
    air_density             ρ                               kg/m³   ≥ 0
    rev_limit               ω of the limiter                rad/s   > ω₀
    torque_factor           on the whole curve              1       > 0
    rolling_doubling_speed  v₂ of f = f₀·(1 + v/v₂)         m/s     > 0; inf: constant
    slope_angle             θ, uphill positive              rad     −π/2 < θ < π/2
    returns                 TopSpeed; nan outside that range
    errors                  ValueError for engine speeds that do not rise

    The whole curve is searched, from the top: where pull and load cross more than once, the highest speed that can be
    held counts, which a lower gear may have to reach first. The engine is not taken past the last point of its curve.
    Still air; drive slip of 2 to 5 % at full pull is left out.
    Source: energy balance.

    >>> result = top_speed(
    ...     engine_speeds=[100.0, 600.0], torques=[200.0, 200.0], gearbox_ratios=[3.3, 1.0, 0.7], final_ratio=3.7,
    ...     efficiency=0.93, rolling_radius=0.31, mass=1200.0, rolling=0.013, drag_area=0.66, air_density=1.2,
    ...     rev_limit=580.0)
    >>> [f"{speed * 3.6:.0f} km/h, {TopSpeedLimit(by).name}" for speed, by in zip(result.speed, result.limited_by)]
    ['53 km/h, REV_LIMIT', '175 km/h, REV_LIMIT', '214 km/h, PULL']
    """
    curve = check_speeds(engine_speeds)
    # What lies outside the range is nan in the end; numpy need not say so on the way.
    with np.errstate(all="ignore"):
        ratios = np.asarray(gearbox_ratios, float) * np.asarray(final_ratio, float)[..., None]
        shares = np.asarray(efficiency, float)
        pull = ratios * shares / np.asarray(rolling_radius, float)[..., None]
        torque = np.asarray(torques, float) * np.asarray(torque_factor, float)[..., None]
        per_turn = np.asarray(rolling_radius, float)[..., None] / np.where(ratios > 0, ratios, np.nan)
        per_car = (mass, np.inf, rolling, rolling_doubling_speed, drag_area, air_density, slope_angle)
        load = RoadLoad.of(*(np.asarray(value, float)[..., None] for value in per_car))
        limit = np.asarray(rev_limit, float)[..., None]
        last = np.minimum(limit, curve[-1])
        sound = (ratios > 0) & (shares > 0) & (shares <= 1) & (per_turn > 0) & (last > curve[0])
        sound = (
            sound
            & (torque >= 0).all(axis=-1)[..., None]
            & _sound_load(load, rolling, rolling_doubling_speed, slope_angle)
        )
        gears = ([gear] for gear in range(ratios.shape[-1]))
        speed = np.stack(
            [_highest(curve, torque, pull[..., gear], per_turn[..., gear], last, load) for gear in gears], axis=-1
        )
        speed = np.where(sound, speed, np.nan)
    held_back = speed < last * per_turn
    at_end = np.where(limit > curve[-1], TopSpeedLimit.END_OF_CURVE, TopSpeedLimit.REV_LIMIT)
    limited_by = np.where(np.isnan(speed), TopSpeedLimit.NONE, np.where(held_back, TopSpeedLimit.PULL, at_end))
    return TopSpeed(speed, limited_by)


def _sound_load(load: RoadLoad, rolling: Numbers, doubling: Numbers, slope_angle: Numbers) -> NDArray[np.bool_]:
    sound = (load.mass > 0) & (load.square >= 0) & np.isfinite(load.constant)
    rolling, doubling, slope_angle = (value[..., None] for value in as_floats(rolling, doubling, slope_angle))
    return np.asarray(sound & (rolling >= 0) & (doubling > 0) & (np.abs(slope_angle) < np.pi / 2))


def _highest(curve: Array, torques: Array, pull: Array, per_turn: Array, last: Array, load: RoadLoad) -> Array:
    """Highest speed with F ≥ R in one gear, nan where there is none: segments of the curve along the first axis.

    On a segment F − R = α + β·u − R₂·u², u counted from its start: the larger root, or the end if F ≥ R there.
    """
    parts = [getattr(load, field.name) for field in fields(load)]
    dims = max(np.ndim(each) for each in (torques, pull, per_turn, last, *parts))
    torques, pull, per_turn, last = (_cars_innermost(each, dims) for each in (torques, pull, per_turn, last))
    load = RoadLoad(*(_cars_innermost(each, dims) for each in parts))
    curve = _cars_innermost(curve, dims)
    turns = np.minimum(curve, last)
    rise = np.diff(torques, axis=0) / np.diff(curve, axis=0)
    force, tilt = pull * torques[:-1], pull * rise / per_turn
    speed, gain = turns[:-1] * per_turn, np.diff(turns, axis=0) * per_turn
    start, slope = force - load.at(speed), tilt - load.linear - 2 * load.square * speed
    bend = np.maximum(load.square, LEAST_DRAG * np.abs(load.mass))
    end = start + (slope - load.square * gain) * gain
    under = slope * slope + 4 * start * bend
    root = np.sqrt(np.maximum(under, 0.0))
    falling = np.where(slope < 0, root - slope, 1.0)
    reach = np.where(slope < 0, 2 * start / falling, (slope + root) / (2 * bend))
    crosses = (under >= 0) & (reach >= 0) & (reach <= gain)
    found = np.where(end >= 0, gain, np.where(crosses, reach, np.nan))
    found = np.where((turns[:-1] < last) & np.isfinite(found), speed + found, -np.inf)
    # The end of the last segment must be the limit to the last digit: what limits is read from it.
    top = last * per_turn
    found = np.where(np.abs(found - top) <= _SAME * np.abs(top), top, found)
    highest = found.max(axis=0).T
    return np.where(np.isfinite(highest), highest, np.nan)


def _cars_innermost(values: Array, dims: int) -> Array:
    """Numbers (cars, points) as (points, cars): there are thousands of cars and a dozen points."""
    return np.ascontiguousarray(values.reshape((1,) * (dims - values.ndim) + values.shape).T)
