"""A standing start through the gears: time to a speed, time for a distance, for one car or for thousands at once.

Answers   acceleration_run   the run
          AccelerationRun    its times, ways, speeds
Not here  the laws between two points of the torque curve (stretches.py, motion.py); when to shift (shifting.py);
          heat of the clutch (launch.py); top speed (top_speed.py)
Symbols   v speed, F tractive effort, R road load, m mass, m_e effective mass, ω rotational speed of the engine
Sources   [1] Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory   [2] energy balance
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.constants import KILOMETRE_PER_HOUR, MILE_PER_HOUR
from trialfit.handbook.gearing.run_cars import Cars
from trialfit.handbook.gearing.run_targets import Targets
from trialfit.handbook.gearing.run_through_gears import run_through_gears
from trialfit.handbook.gearing.shifting import planned_upshifts
from trialfit.handbook.gearing.stretches import RoadLoad
from trialfit.handbook.gearing.torque_curve import check_speeds

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array, Numbers


CARS_AT_A_TIME = 4096
"""Cars worked on together: the arrays of a block stay within some 10 MB."""

_FREED_AT_ONCE = 1 << 20
"""Numbers in an array that is allocated and freed at once: the C library then keeps freed memory of that
size for the next array instead of fetching every page anew, which took a quarter of the time."""

WHEELS_ONLY = 1.04
"""Effective over plain mass with the clutch open (Fundamentals of Vehicle Dynamics, from memory)."""


@dataclass(frozen=True)
class AccelerationRun:
    """Result of acceleration_run: the shape of the cars, then the targets or gears. nan where it is not reached."""

    time_to_speed: Array
    """[s], for each of the speeds asked for."""
    way_to_speed: Array
    """[m], covered when the speed is reached."""
    shifts_to_speed: Array
    """Number of gear changes before it is reached."""
    time_to_distance: Array
    """[s], for each of the distances asked for."""
    speed_at_distance: Array
    """[m/s]."""
    shifts_to_distance: Array
    """Number of gear changes before it is reached."""
    shift_speeds: Array
    """Road speed [m/s] at which each gear but the last is left, as planned: also those behind the last target."""

    @property
    def reaches_speed(self) -> NDArray[np.bool_]:
        """Whether each speed is reached."""
        return np.isfinite(self.time_to_speed)


def acceleration_run(
    *,
    engine_speeds: Numbers,
    torques: Numbers,
    gearbox_ratios: Numbers,
    final_ratio: Numbers,
    efficiency: Numbers,
    rolling_radius: Numbers,
    mass: Numbers,
    effective_mass: Numbers,
    grip_force: Numbers,
    rolling: Numbers,
    drag_area: Numbers,
    air_density: Numbers,
    rev_limit: Numbers,
    launch_speed: Numbers,
    shift_time: Numbers,
    torque_factor: Numbers = 1.0,
    decoupled_mass: Numbers | None = None,
    rolling_doubling_speed: Numbers = np.inf,
    slope_angle: Numbers = 0.0,
    speeds: Sequence[float] = (100 * KILOMETRE_PER_HOUR, 60 * MILE_PER_HOUR),
    distances: Sequence[float] = (400.0,),
) -> AccelerationRun:
    """Run from rest at full throttle, shifting up where the next gear pulls harder.

        t = ∫ dv/a,   x = ∫ v dv/a,   a = min((F − R)/m_e, (F_grip − R)/m)

    engine_speeds           ω_k, rising, shared                     rad/s   (K,)
    torques                 T_k                                     N·m     (K,) or cars by K; ≥ 0
    gearbox_ratios          falling; nan: no such gear              1       (G,) or cars by G; > 0
    final_ratio             i_f                                     1       > 0
    efficiency              η, engine to wheel                      1       one, (G,) or cars by G; 0 < η ≤ 1
    rolling_radius          r_d                                     m       > 0
    mass                    m                                       kg      > 0
    effective_mass          m_e in each gear                        kg      (G,) or cars by G; ≥ m
    grip_force              F_grip, load transfer inside            N       > 0; inf: no limit
    rolling                 f₀, at rest                             1       ≥ 0
    drag_area               C_dA                                    m²      ≥ 0
    air_density             ρ                                       kg/m³   ≥ 0
    rev_limit               ω of the limiter                        rad/s   > ω₀
    launch_speed            ω held while the clutch slips           rad/s   within the curve and the limit
    shift_time              without pull                            s       ≥ 0
    torque_factor           on the whole curve                      1       > 0
    decoupled_mass          m_e with the clutch open; 1.04·m        kg      ≥ m
    rolling_doubling_speed  v₂ of f = f₀·(1 + v/v₂)                 m/s     > 0; inf: constant
    slope_angle             θ, uphill positive                      rad     −π/2 < θ < π/2
    speeds                  to reach                                m/s     > 0
    distances               to cover                                m       > 0
    returns                 AccelerationRun; nan outside that range, where a target is not reached, and from the
                            moment a shift lands below the first point of the torque curve
    errors                  ValueError for engine speeds that do not rise and a target that is not positive

    Launch: up to the road speed that belongs to launch_speed in first gear the clutch slips, the engine gives its
    torque there, its own inertia takes no part, and the driver lets the tyres have no more than their grip.
    Shift: where F/m_e of two gears cross, at the latest at the limiter or the last point of the curve (shifting.py);
    for shift_time the car rolls against the road load.
    A car whose next gear does not pull stays at the limiter. No gear is skipped, no wheelspin costs more than grip.

    Every piece between two points of the curve has a closed form, so no step width enters. Against a solver of
    differential equations (scipy's solve_ivp with events, rtol 1e-11) 300 generated cars, half of them on hills, agree
    within 3e-7 s, 7e-6 m and 4e-7 m/s.
    Source: Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory; energy balance.

    >>> run = acceleration_run(
    ...     engine_speeds=[100.0, 700.0], torques=[200.0, 200.0], gearbox_ratios=[3.3, 2.0, 1.4, 1.0], final_ratio=3.7,
    ...     efficiency=0.93, rolling_radius=0.31, mass=1200.0, effective_mass=[1690.0, 1410.0, 1330.0, 1290.0],
    ...     grip_force=6000.0, rolling=0.013, drag_area=0.66, air_density=1.2, rev_limit=680.0, launch_speed=300.0,
    ...     shift_time=0.4)
    >>> f"{run.time_to_speed[0]:.2f} s to 100 km/h, {run.time_to_distance[0]:.2f} s for 400 m"
    '7.92 s to 100 km/h, 15.89 s for 400 m'
    """
    curve = check_speeds(engine_speeds)
    _check_targets(speeds, distances)
    gears = np.asarray(gearbox_ratios, float).shape[-1]
    rows = {"torques": (torques, curve.size), "ratios": (gearbox_ratios, gears)}
    rows |= {"efficiency": (efficiency, gears), "effective_mass": (effective_mass, gears)}
    plain = {
        "final_ratio": final_ratio,
        "radius": rolling_radius,
        "mass": mass,
        "decoupled_mass": WHEELS_ONLY * np.asarray(mass, float) if decoupled_mass is None else decoupled_mass,
        "grip": grip_force,
        "rolling": rolling,
        "doubling": rolling_doubling_speed,
        "drag_area": drag_area,
        "density": air_density,
        "slope": slope_angle,
        "limit": rev_limit,
        "launch": launch_speed,
        "shift_time": shift_time,
        "factor": torque_factor,
    }
    shape = np.broadcast_shapes(
        *(np.shape(value) for value in plain.values()), *(np.shape(value)[:-1] for value, _ in rows.values())
    )
    count = int(np.prod(shape))
    flat = {name: np.broadcast_to(np.asarray(value, float), shape).reshape(count) for name, value in plain.items()}
    wide = {
        name: np.broadcast_to(np.asarray(value, float), (*shape, length)).reshape(count, length)
        for name, (value, length) in rows.items()
    }
    targets = Targets.empty(speeds, distances, count)
    shift_speeds = np.full((gears - 1, count), np.nan)
    np.empty(_FREED_AT_ONCE)
    # Cars outside the range run as nan beside the others; numpy need not say so for each of them.
    with np.errstate(all="ignore"):
        for first in range(0, count, CARS_AT_A_TIME):
            block = slice(first, first + CARS_AT_A_TIME)
            here, there = {n: v[block] for n, v in flat.items()}, {n: v[block].T for n, v in wide.items()}
            cars = _cars(curve, here, there)
            run_through_gears(cars, targets.only(block))
            shift_speeds[:, block] = np.where(np.isnan(cars.begin), np.nan, cars.road_speed(cars.leave)[:-1])
    return AccelerationRun(*(_shaped(result, shape) for result in (*targets.results(), shift_speeds)))


def _check_targets(speeds: Sequence[float], distances: Sequence[float]) -> None:
    for target in (*speeds, *distances):
        if not 0 < target < np.inf:
            raise ValueError(
                f"A speed or distance to reach is {target}: expected a positive number, such as 27.8 m/s or 400 m."
            )


def _shaped(result: Array, shape: tuple[int, ...]) -> Array:
    """Targets first and cars last becomes the cars' own shape and then the targets."""
    return np.ascontiguousarray(np.moveaxis(result, 0, -1)).reshape(*shape, result.shape[0])


def _cars(curve: Array, flat: dict[str, Array], wide: dict[str, Array]) -> Cars:
    """One block of cars, ready to run: gears and points of the curve along the first axis."""
    ratios, torques = wide["ratios"] * flat["final_ratio"], wide["torques"] * flat["factor"]
    pull = ratios * wide["efficiency"] / flat["radius"]
    last = np.minimum(flat["limit"], curve[-1])
    rise = np.diff(torques, axis=0) / np.diff(curve)[:, None]
    reach = pull / wide["effective_mass"]
    leave = np.concatenate(
        (planned_upshifts(curve, torques, rise, ratios[1:] / ratios[:-1], reach[1:] / reach[:-1], last), last[None])
    )
    leave[0] = np.maximum(leave[0], flat["launch"])
    return Cars(
        curve=curve,
        torques=torques,
        rise=rise,
        speed_per_turn=flat["radius"] / ratios,
        pull=pull,
        effective_mass=wide["effective_mass"],
        decoupled_mass=flat["decoupled_mass"],
        leave=leave,
        launch=flat["launch"],
        shift_time=flat["shift_time"],
        load=RoadLoad.of(*(flat[n] for n in ("mass", "grip", "rolling", "doubling", "drag_area", "density", "slope"))),
        begin=np.where(_sound(curve, flat, wide), 0.0, np.nan),
    )


def _sound(curve: Array, flat: dict[str, Array], wide: dict[str, Array]) -> NDArray[np.bool_]:
    """Whether a car lies within the range of the formula: the others run as nan."""
    positive = ("final_ratio", "radius", "mass", "grip", "doubling", "factor")
    sound = np.logical_and.reduce([flat[name] > 0 for name in positive])
    sound &= np.logical_and.reduce([flat[name] >= 0 for name in ("rolling", "drag_area", "density", "shift_time")])
    sound &= np.logical_and.reduce([np.isfinite(flat[n]) for n in flat if n not in {"grip", "doubling"}])
    sound &= (np.abs(flat["slope"]) < np.pi / 2) & (flat["decoupled_mass"] >= flat["mass"])
    sound &= (flat["launch"] >= curve[0]) & (flat["launch"] <= np.minimum(flat["limit"], curve[-1]))
    sound &= (flat["limit"] > curve[0]) & (wide["torques"] >= 0).all(axis=0)
    there = np.isfinite(wide["ratios"])
    sound &= there[0]
    good = (wide["ratios"] > 0) & (wide["efficiency"] > 0) & (wide["efficiency"] <= 1)
    good &= (wide["effective_mass"] >= flat["mass"]) & np.isfinite(wide["effective_mass"])
    good[1:] &= wide["ratios"][1:] < wide["ratios"][:-1]
    return np.asarray(sound & (good | ~there).all(axis=0))
