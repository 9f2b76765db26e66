"""Climbing in gear: the steepest slope on which each gear holds a speed, whichever speed that is.

Answers   steepest_climb   for every gear, on the whole torque curve
          SteepestClimb
Not here  the slope at one given speed (road_load.gradeability_by_torque); starting on a hill (launch.py)
Symbols   F tractive effort, v speed, ω rotational speed of the engine, m mass, f rolling coefficient, C_dA drag area,
          ρ air density, θ slope
Sources   [1] statics, as in road_load.py
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from trialfit.handbook.arrays import Array, Numbers, as_floats, where
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.gearing.ratios import road_speed, tractive_effort
from trialfit.handbook.gearing.road_load import gradeability_by_grip, gradeability_by_torque
from trialfit.handbook.gearing.torque_curve import check_speeds

_LEAST_DRAG = 1e-30
"""[N·s²] that stands in for no drag at all, so that the top of the parabola lies far away instead of nowhere."""


@dataclass(frozen=True)
class SteepestClimb:
    """Steepest slopes held in each gear: the shape of the cars, then gears."""

    slope_angle: Numbers
    """[rad], by torque or by grip, whichever is less; negative where the gear holds no speed on the level."""
    by_torque: Numbers
    """[rad], π/2 where torque is enough for any slope."""
    speed: Numbers
    """[m/s] at which the gear climbs it by torque."""


def steepest_climb(
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
    grip_share: Numbers = np.inf,
) -> SteepestClimb:
    """Steepest slope on which a gear holds some speed at full throttle.

        F(v) − ½·ρ·C_dA·v² = m·g·(f·cos θ + sin θ), at the v where the left side is largest
        tan θ = F_grip/(m·g)                          by grip

    engine_speeds   ω_k, rising, shared        rad/s   (K,)
    torques         T_k                        N·m     (K,) or cars by K; ≥ 0
    gearbox_ratios  i_g                        1       (G,) or cars by G; > 0
    final_ratio     i_f                        1       > 0
    efficiency      η, engine to wheel         1       0 < η ≤ 1
    rolling_radius  r_d                        m       > 0
    mass            m                          kg      > 0
    rolling         f, constant                1       ≥ 0
    drag_area       C_dA                       m²      ≥ 0
    air_density     ρ                          kg/m³   ≥ 0
    rev_limit       ω of the limiter           rad/s   > ω₀
    torque_factor   on the whole curve         1       > 0
    grip_share      F_grip/(m·g), level road   1       ≥ 0; inf: no limit
    returns         SteepestClimb; nan outside that range
    errors          ValueError for engine speeds that do not rise

    Between two points of the curve F is straight in v and the drag a parabola, so the best v has a closed form. The
    engine is not taken past its limiter or the last point of its curve. Source: statics, see road_load.py.

    >>> climb = steepest_climb(
    ...     engine_speeds=[100.0, 600.0], torques=[200.0, 200.0], gearbox_ratios=[3.3, 1.0], final_ratio=3.7,
    ...     efficiency=0.93, rolling_radius=0.31, mass=1200.0, rolling=0.013, drag_area=0.66, air_density=1.2,
    ...     rev_limit=580.0, grip_share=0.5)
    >>> [f"{np.tan(slope):.1%}" for slope in climb.slope_angle]
    ['50.0%', '17.6%']
    """
    curve, torques = check_speeds(engine_speeds), np.asarray(torques, float)[..., None, :]
    values = as_floats(final_ratio, efficiency, rolling_radius, mass, rolling, drag_area, air_density, rev_limit)
    final, share, radius, mass, rolling, drag_area, density, limit = (value[..., None] for value in values)
    ratios, factor = np.asarray(gearbox_ratios, float), np.asarray(torque_factor, float)[..., None]
    pull = np.asarray(tractive_effort(1.0, ratios, final, share, radius)) * factor
    per_turn = np.asarray(road_speed(1.0, radius, ratios, final))
    drag = 0.5 * density * drag_area
    turns, force = _best(curve, torques, pull, drag * per_turn**2, np.minimum(limit, curve[-1]))
    speed = turns * per_turn
    angle = np.asarray(gradeability_by_torque(force, mass, rolling, drag_area, density, speed))
    beats_all = force - drag * speed**2 > mass * STANDARD_GRAVITY * np.sqrt(1 + rolling**2)
    sound = (torques >= 0).all(axis=-1) & (limit > curve[0]) & (factor > 0) & (mass > 0)
    by_torque = where(sound, np.where(beats_all, np.pi / 2, angle))
    by_grip = np.asarray(gradeability_by_grip(np.asarray(grip_share, float)[..., None]))
    return SteepestClimb(np.minimum(by_torque, by_grip)[()], by_torque, where(sound, speed))


def _best(curve: Array, torques: Array, pull: Array, drag: Array, last: Array) -> tuple[Array, Array]:
    """Engine speed up to `last` with the largest pull·T(ω) − drag·ω², and the pull there: on each segment a parabola."""
    rise, pull, drag = np.diff(torques, axis=-1) / np.diff(curve), pull[..., None], drag[..., None]
    top = pull * rise / (2 * np.maximum(drag, _LEAST_DRAG))
    end = np.minimum(curve[1:], last[..., None])
    turns = np.clip(top, curve[:-1], np.maximum(end, curve[:-1]))
    force = pull * (torques[..., :-1] + rise * (turns - curve[:-1]))
    surplus = np.where(curve[:-1] < last[..., None], force - drag * turns**2, -np.inf)
    best = np.argmax(surplus, axis=-1)[..., None]
    turns, force = np.broadcast_arrays(turns, force)
    return np.take_along_axis(turns, best, axis=-1)[..., 0], np.take_along_axis(force, best, axis=-1)[..., 0]
