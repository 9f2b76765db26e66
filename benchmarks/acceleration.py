"""10,000 cars from rest through the gears: closed forms against a solver of differential equations.

    python benchmarks/acceleration.py [CARS] [CARS_WITH_SOLVER]

One run draws CARS cars (10,000), works all of them out with trialfit.handbook.gearing.performance.acceleration_run, and the
first CARS_WITH_SOLVER of them (100) one by one with scipy's solve_ivp, whose events stop at the shifts and note the
targets. It prints the time for one car each way, their ratio, and the largest difference of the three times
(0-100 km/h, 0-60 mph, standing 400 m).

The solver runs with several methods and tolerances, its right-hand side written for speed, events only for targets not
yet met. The ratio that counts is the one against the fastest of them that still agrees within 1e-3 s.

Measured 2026-11-25, 2 shared cores, Python 3.11, numpy 2.4, scipy 1.17: 4.5 µs a car (0.045 s for 10,000). Fastest solver
that agrees within 1e-3 s: LSODA at rtol 1e-6, 5.2 ms a car, 7.6e-4 s off: 1160 times. With DOP853 at rtol 1e-10 the two
agree within 6e-7 s, and the ratio is 5300. While another process had both cores, 790 times.

Not here: other benchmarks of the folder. Needs scipy, which the handbook does not.
"""

from __future__ import annotations

import sys
import time
from bisect import bisect
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from scipy.integrate import solve_ivp

from trialfit.handbook.gearing.performance import acceleration_run, effective_mass
from trialfit.handbook.gearing.traction import grip_rear_drive

if TYPE_CHECKING:
    from collections.abc import Callable

    from scipy.optimize import OptimizeResult

GRAVITY = 9.80665
SPEEDS = (100 / 3.6, 60 * 0.44704)
DISTANCE = 400.0
LAUNCH, SHIFT = -1, -2
"""Phases of a run that are no gear."""
GROWING_ROLLING, INSTANT_SHIFT = 0.5, 0.2
"""Shares of the cars whose rolling resistance grows with speed, and that shift in no time."""
CURVE_RPM = np.array([1000, 1500, 2000, 2500, 3000, 3500, 4000, 4500, 5000, 5500, 6000, 6500, 7000], float)
CURVE_SHAPE = np.array([0.62, 0.74, 0.83, 0.90, 0.95, 0.98, 1.0, 0.99, 0.96, 0.91, 0.83, 0.72, 0.58])


def draw_cars(count: int, seed: int = 1) -> dict[str, np.ndarray]:
    """Invented rear-driven cars, from a tired pickup to a light one with far too much engine: keywords of the run."""
    rng = np.random.default_rng(seed)
    peak = rng.uniform(110, 420, count)
    shape = CURVE_SHAPE * (1 + rng.normal(0, 0.02, (count, CURVE_SHAPE.size)))
    first, top = rng.uniform(3.0, 4.2, count), rng.uniform(0.68, 1.0, count)
    ratios = first[:, None] * (top / first)[:, None] ** (np.linspace(0, 1, 6) ** 0.8)
    final, mass = rng.uniform(2.9, 4.5, count), rng.uniform(800, 2000, count)
    grip = grip_rear_drive(
        rng.uniform(0.7, 1.1, count), mass, 2.5, rng.uniform(1.15, 1.4, count), rng.uniform(0.45, 0.6, count)
    )
    return {
        "engine_speeds": CURVE_RPM * np.pi / 30,
        "torques": peak[:, None] * shape,
        "gearbox_ratios": ratios,
        "final_ratio": final,
        "efficiency": np.repeat(rng.uniform(0.88, 0.95, (count, 1)), 6, axis=1),
        "rolling_radius": rng.uniform(0.28, 0.34, count),
        "mass": mass,
        "effective_mass": effective_mass(mass[:, None], ratios * final[:, None]),
        "decoupled_mass": 1.04 * mass,
        "grip_force": grip,
        "rolling": rng.uniform(0.010, 0.016, count),
        "rolling_doubling_speed": np.where(rng.random(count) < GROWING_ROLLING, 44.8, np.inf),
        "drag_area": rng.uniform(0.55, 0.95, count),
        "air_density": rng.uniform(1.0, 1.25, count),
        "rev_limit": rng.uniform(5800, 7000, count) * np.pi / 30,
        "launch_speed": rng.uniform(1500, 3500, count) * np.pi / 30,
        "shift_time": np.where(rng.random(count) < INSTANT_SHIFT, 0.0, rng.uniform(0.2, 0.8, count)),
        "slope_angle": np.zeros(count),
    }


def one_car(cars: dict[str, np.ndarray], index: int) -> dict[str, np.ndarray]:
    """The keywords of one car among many."""
    return {name: value if name == "engine_speeds" else value[index] for name, value in cars.items()}


@dataclass(frozen=True)
class Reference:
    """What the solver finds for one car: times [s], ways [m], the speed at the distance [m/s]; nan if not met."""

    time_to_speed: list[float]
    way_to_speed: list[float]
    time_to_distance: float
    speed_at_distance: float


class _Car:
    """Forces and masses of one car, written out again from the equations: it shares no code with the handbook."""

    def __init__(self, car: dict[str, np.ndarray]) -> None:
        self.curve, self.torques = np.asarray(car["engine_speeds"]).tolist(), np.asarray(car["torques"]).tolist()
        self.total = (np.asarray(car["gearbox_ratios"]) * float(car["final_ratio"])).tolist()
        self.radius, self.efficiency = float(car["rolling_radius"]), np.asarray(car["efficiency"]).tolist()
        self.mass, self.in_gear = float(car["mass"]), np.asarray(car["effective_mass"]).tolist()
        self.open_clutch, self.grip = float(car["decoupled_mass"]), float(car["grip_force"])
        self.rolling, self.doubling = float(car["rolling"]), float(car["rolling_doubling_speed"])
        self.air = 0.5 * float(car["air_density"]) * float(car["drag_area"])
        self.level, self.uphill = np.cos(float(car["slope_angle"])), np.sin(float(car["slope_angle"]))
        self.at_rest = self.mass * GRAVITY * (self.rolling * self.level + self.uphill)
        self.growing = self.mass * GRAVITY * self.rolling * self.level / self.doubling
        self.shift_time = float(car["shift_time"])
        self.launch, self.last = float(car["launch_speed"]), min(float(car["rev_limit"]), self.curve[-1])

    def resistance(self, v: float) -> float:
        return self.at_rest + (self.growing + self.air * v) * v

    def pull(self, gear: int, turns: float) -> float:
        # bisect and floats: for one value they are five times as fast as np.interp.
        right = min(max(bisect(self.curve, turns), 1), len(self.curve) - 1)
        share = (turns - self.curve[right - 1]) / (self.curve[right] - self.curve[right - 1])
        torque = self.torques[right - 1] + share * (self.torques[right] - self.torques[right - 1])
        return torque * self.total[gear] * self.efficiency[gear] / self.radius

    def acceleration(self, gear: int, v: float) -> float:
        """In a gear, while the clutch slips in first, or during a shift."""
        if gear == SHIFT:
            return -self.resistance(v) / self.open_clutch
        if gear == LAUNCH:
            force, mass = self.pull(0, self.launch), self.open_clutch
        else:
            force, mass = self.pull(gear, v * self.total[gear] / self.radius), self.in_gear[gear]
        return min((force - self.resistance(v)) / mass, (self.grip - self.resistance(v)) / self.mass)

    def shift_point(self, gear: int) -> float:
        """Road speed at which the gear is left: the crossing of F/m_e found on a fine grid and by bisection."""
        if gear == len(self.total) - 1:
            return self.last * self.radius / self.total[gear]
        step = self.total[gear + 1] / self.total[gear]

        def surplus(turns: float) -> float:
            here, after = self.pull(gear, turns), self.pull(gear + 1, turns * step)
            return here / self.in_gear[gear] - after / self.in_gear[gear + 1]

        high = self.last
        if surplus(high) < 0:
            low = high
            while surplus(low) < 0 and low * step > self.curve[0]:
                high, low = low, low - 1.0
            for _ in range(60):
                middle = (low + high) / 2
                low, high = (middle, high) if surplus(middle) >= 0 else (low, middle)
        turns = max(high, self.launch) if gear == 0 else high
        return turns * self.radius / self.total[gear]


def solve(car: dict[str, np.ndarray], method: str, rtol: float) -> Reference:
    """One car with solve_ivp: a phase for the launch, each gear and each shift; targets are events."""
    it, met = _Car(car), _Met()
    phases = [(LAUNCH, it.launch * it.radius / it.total[0])]
    for gear in range(len(it.total)):
        phases += [(gear, it.shift_point(gear)), (SHIFT, it.shift_time)]
    t, state = 0.0, np.array([0.0, 0.0])
    for phase, end in phases[:-1]:
        if (phase == SHIFT and end == 0) or (phase != SHIFT and state[0] >= end):
            continue
        # In a gear until a speed is reached, in a shift until the time is over.
        events = met.open_events()
        if phase != SHIFT:
            events[END] = _event(0, end, stops=True)
        result = solve_ivp(
            lambda _t, y, phase=phase: (it.acceleration(phase, float(y[0])), y[0]),
            (t, t + (end if phase == SHIFT else 300.0)),
            state,
            method=method,
            rtol=rtol,
            atol=rtol * 1e-2,
            events=list(events.values()),
        )
        met.note(events, result)
        t, state = result.t[-1], result.y[:, -1].copy()
        if met.all() or (phase != SHIFT and result.status == 0):
            return met.reference()
        if phase != SHIFT:
            # The event stops within rounding of the speed: start the next phase exactly there.
            state[0] = end
    # Out of gears: the rest at the limiter.
    met.found.setdefault(TO_DISTANCE, (t + (DISTANCE - state[1]) / state[0], (state[0], DISTANCE)))
    return met.reference()


END, TO_DISTANCE = "end", "distance"


class _Met:
    """Targets met so far: the time and the state (speed, way) at each."""

    def __init__(self) -> None:
        self.found: dict[float | str, tuple[float, tuple[float, float]]] = {}

    def open_events(self) -> dict[float | str, Callable[[float, np.ndarray], float]]:
        """An event for each target that has yet to be met."""
        events: dict[float | str, Callable[[float, np.ndarray], float]] = {v: _event(0, v) for v in SPEEDS}
        events[TO_DISTANCE] = _event(1, DISTANCE)
        return {target: event for target, event in events.items() if target not in self.found}

    def note(self, events: dict[float | str, Any], result: OptimizeResult) -> None:
        """Keep the first crossing of each target in this phase."""
        for target, times, states in zip(events, result.t_events, result.y_events, strict=True):
            if target != END and len(times):
                self.found[target] = (float(times[0]), tuple(states[0]))

    def all(self) -> bool:
        """Whether nothing is left to meet."""
        return len(self.found) == len(SPEEDS) + 1

    def reference(self) -> Reference:
        """The targets in order, nan for those never met."""
        never = (np.nan, (np.nan, np.nan))
        speeds, distance = [self.found.get(v, never) for v in SPEEDS], self.found.get(TO_DISTANCE, never)
        return Reference([one[0] for one in speeds], [one[1][1] for one in speeds], distance[0], distance[1][0])


def _event(part: int, value: float, *, stops: bool = False) -> Callable[[float, np.ndarray], float]:
    def crossing(_t: float, y: np.ndarray) -> float:
        return float(y[part]) - value

    crossing.terminal = stops  # type: ignore[attr-defined]
    crossing.direction = 1  # type: ignore[attr-defined]
    return crossing


SOLVERS = (
    ("RK23", 1e-5),
    ("RK45", 1e-5),
    ("RK45", 1e-6),
    ("RK45", 1e-7),
    ("LSODA", 1e-5),
    ("LSODA", 1e-6),
    ("DOP853", 1e-6),
    ("DOP853", 1e-10),
)
AGREEMENT = 1e-3


def main(count: int, solved: int) -> None:
    """Run both ways by turns and print times, agreement and ratios."""
    cars = draw_cars(count)
    few = [one_car(cars, index) for index in range(solved)]
    acceleration_run(**draw_cars(50), speeds=SPEEDS, distances=(DISTANCE,))
    ours, theirs, differences = [], [], []
    for method, rtol in SOLVERS:
        begin = time.perf_counter()
        run = acceleration_run(**cars, speeds=SPEEDS, distances=(DISTANCE,))
        ours.append((time.perf_counter() - begin) / count)
        begin = time.perf_counter()
        found = [solve(car, method, rtol) for car in few]
        theirs.append((time.perf_counter() - begin) / solved)
        other = np.array([[*one.time_to_speed, one.time_to_distance] for one in found])
        times = np.concatenate((run.time_to_speed, run.time_to_distance), axis=1)[:solved]
        same = np.array_equal(np.isnan(other), np.isnan(times))
        differences.append(float(np.nanmax(np.abs(other - times))) if same else np.inf)
    mine = float(np.median(ours))
    print(f"closed forms: {mine * count:.3f} s for {count} cars, {mine * 1e6:.1f} µs each (median of {len(ours)} runs)")
    print(f"{'solver':>8} {'rtol':>7} {'ms each':>8} {'ratio':>7} {'largest difference':>19}")
    for (method, rtol), each, difference in zip(SOLVERS, theirs, differences, strict=True):
        print(f"{method:>8} {rtol:7.0e} {each * 1e3:8.2f} {each / mine:7.0f} {difference:17.1e} s")
    good = [each for each, difference in zip(theirs, differences, strict=True) if difference <= AGREEMENT]
    print(f"against the fastest that agrees within {AGREEMENT:g} s: {min(good) / mine:.0f} times as fast")


if __name__ == "__main__":
    main(*(int(word) for word in (sys.argv[1:] + ["10000", "100"][len(sys.argv) - 1 :])))
