"""Equations of motion of engine, clutch, gearbox, shafts, wheels, tyres and car, for many cars at once: no formula of the handbook.

Everything is carried to the wheels of one axle. The clutch passes what keeps both sides together, up to its capacity; the tyre is
a spring that slides at the grip torque. scipy.integrate.solve_ivp integrates all cars as one system.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

Array = NDArray[np.float64]
STIFF = 2e3  # N·m·s/rad of the clutch at the wheels while it does not slip


@dataclass(frozen=True)
class Cars:
    """Many guessed small cars: torques N·m, inertias kg·m² and stiffnesses N·m/rad, all at the wheels of the driven axle."""

    engine: Array
    clutch: Array
    grip: Array
    engine_inertia: Array
    driven_inertia: Array
    wheel_inertia: Array
    car_inertia: Array
    shafts: Array
    tyres: Array
    damping: Array
    speed: Array
    bite: Array


def some_cars(count: int, seed: int) -> Cars:
    """Draws over what is found on small cars in first gear; the same each time for a seed."""
    rng = np.random.default_rng(seed)

    def between(low: float, high: float) -> Array:
        return rng.uniform(low, high, count)

    ratio = between(3.2, 4.0) * between(3.5, 4.4)
    torque, mass, radius = between(120, 250), between(750, 1200), between(0.26, 0.31)
    return Cars(
        engine=torque * ratio,
        clutch=torque * between(1.2, 2.0) * ratio,
        grip=between(0.8, 1.1) * between(0.5, 0.65) * mass * 9.81 * radius,
        engine_inertia=between(0.10, 0.22) * ratio**2,
        driven_inertia=between(0.008, 0.02) * ratio**2,
        wheel_inertia=2 * between(0.5, 1.0),
        car_inertia=mass * radius**2,
        shafts=2 * between(5e3, 12e3),
        tyres=2 * between(80e3, 160e3) * radius**2,
        damping=between(0.03, 0.10),
        speed=between(2500, 5500) * np.pi / 30 / ratio,
        bite=between(0.02, 0.15),
    )


def peaks(cars: Cars, *, dropped: bool, spinning: Array | float = 0.0, low_share: float = 0.2) -> Array:
    """Largest torque of both shafts together: after a dropped clutch at rest, or when wheels that spin grip again."""
    count = cars.grip.size
    damps_shafts = 2 * cars.damping * np.sqrt(cars.shafts / (1 / cars.driven_inertia + 1 / cars.wheel_inertia))
    damps_tyres = 0.1 * np.sqrt(cars.tyres * cars.wheel_inertia)
    still = np.zeros(count)
    if dropped:
        start = [cars.speed, still, still, still, still, still]
    else:
        ahead = still + spinning
        start = [ahead, ahead, ahead, still, low_share * cars.grip / cars.shafts, low_share * cars.grip / cars.tyres]

    def torque(turned: Array, driven: Array, wheels: Array) -> Array:
        return np.asarray(cars.shafts * turned + damps_shafts * (driven - wheels))

    def moves(time: float, state: Array) -> Array:
        engine, driven, wheels, car, turned, tyre = state.reshape(6, count)
        holds = cars.clutch * (np.clip(time / cars.bite, 0, 1) if dropped else 1.0)
        through = np.clip(STIFF * (engine - driven), -holds, holds)
        shaft = torque(turned, driven, wheels)
        road = np.clip(cars.tyres * tyre + damps_tyres * (wheels - car), -cars.grip, cars.grip)
        slides = np.abs(cars.tyres * tyre) >= cars.grip
        creeps = np.where(slides & (tyre * (wheels - car) > 0), 0.0, wheels - car)
        return np.concatenate(
            [
                (0.97 * cars.engine - through) / cars.engine_inertia,
                (through - shaft) / cars.driven_inertia,
                (shaft - road) / cars.wheel_inertia,
                road / cars.car_inertia,
                driven - wheels,
                creeps,
            ]
        )

    times = np.linspace(0, 0.45, 1501)
    found = solve_ivp(moves, (0, 0.45), np.concatenate(start), "RK23", times, max_step=6e-4, rtol=1e-4, atol=1e-5)
    _, driven, wheels, _, turned, _ = found.y.reshape(6, count, -1)
    return np.asarray(np.max([torque(turned[:, k], driven[:, k], wheels[:, k]) for k in range(times.size)], axis=0))


def swings(
    inertia: Array, other: Array, stiffness: Array, damping: Array, drive: Array, held: Array, start: Array
) -> Array:
    """Largest torque of the spring between two masses: one driven by a steady torque, the other held back by one."""
    count = inertia.size
    damps = 2 * damping * np.sqrt(stiffness / (1 / inertia + 1 / other))

    def moves(_time: float, state: Array) -> Array:
        one, two, turned = state.reshape(3, count)
        spring = stiffness * turned + damps * (one - two)
        return np.concatenate([(drive - spring) / inertia, (spring - held) / other, one - two])

    slowest = 2 * np.pi / np.sqrt(stiffness * (1 / inertia + 1 / other))
    times = np.linspace(0, float(slowest.max()), 4001)
    begin = np.concatenate([np.zeros(2 * count), start / stiffness])
    found = solve_ivp(moves, (0, times[-1]), begin, "DOP853", times, rtol=1e-8, atol=1e-10)
    turned = found.y.reshape(3, count, -1)[2]
    return np.asarray((stiffness[:, None] * turned).max(axis=1))
