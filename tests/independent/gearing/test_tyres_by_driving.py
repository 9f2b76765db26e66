"""Tyres and speedometer by another route: the car is loaded seat by seat, driven flat out by solve_ivp, and its cable is counted.

Nothing of the handbook is used: loads come from two equations of moments, the top speed from a run that starts at the limiter and
settles where it settles, the reading from turns of the cable on a kilometre.
"""

from __future__ import annotations

import math

import numpy as np
from independent.gearing.cars import CURVE, RPM, Cars, G, cars
from scipy.integrate import solve_ivp
from thorough import some

PEAK = 330.0
DRAWS = 401
LOADS = {85: 515.0, 95: 690.0}
"""kg, typed again from the series."""
RATED = {"V": 240 / 3.6, "H": 210 / 3.6}
TOLERANCE = 1e-4
"""Speeds to this share: a run that only settles by and by. Loads and readings are exact, and stay far below it."""


def flat_out(one: Cars, draw: int) -> float:
    """Speed that a car settles at when it comes down from the limiter, the best of its gears, m/s."""
    car = {
        name: float(one[f"car.{name}"][draw]) for name in ("mass", "rolling_coefficient", "drag_area", "air_density")
    }
    efficiency = float(one["gearbox.efficiency"][draw]) * float(one["final_drive.efficiency"][draw])
    factor = float(one.ev.curve(one.build.parts["engine"].torque_curve).scale[draw])
    limit = float(one["engine.max_speed"][draw])
    best = 0.0
    for ref in one.build.parts["gearbox"].ratios[2:]:
        turns = float(one.ev(ref)[draw]) * float(one["final_drive.ratio"][draw]) / one.driven_radius(draw)

        def slows(_time: float, speed: np.ndarray, turns: float = turns) -> np.ndarray:
            torque = (
                np.interp(speed * turns, [rpm * RPM for rpm, _ in CURVE], [share * PEAK for _, share in CURVE]) * factor
            )
            drag = car["mass"] * G * car["rolling_coefficient"] + 0.5 * car["air_density"] * car["drag_area"] * speed**2
            return (torque * turns * efficiency - drag) / car["mass"]

        start = limit / turns
        if slows(0.0, np.array([start]))[0] >= 0:
            best = max(best, start)
            continue
        run = solve_ivp(slows, (0.0, 4000.0), [start], method="LSODA", rtol=1e-8, atol=1e-8)
        settled = float(run.y[0, -1])
        if settled * turns > CURVE[0][0] * RPM:
            best = max(best, settled)
    return best


def by_moments(one: Cars, draw: int) -> dict[str, tuple[float, float]]:
    """Front and rear axle in each state, kg: two equations, for height and for moments about the rear axle."""
    c = {
        name: float(one[f"car.{name}"][draw])
        for name in (
            "mass",
            "rear_axle_mass",
            "laden_mass",
            "load_on_rear",
            "driver_only_mass",
            "trailer_mass",
            "nose_share",
            "ball_overhang",
            "wheelbase",
        )
    }
    wheelbase = c["wheelbase"]
    own = (c["mass"], wheelbase * (1 - c["rear_axle_mass"] / c["mass"]))  # kg, m in front of the rear axle
    added = wheelbase * (1 - c["load_on_rear"])
    nose = (max(25.0, c["nose_share"] * c["trailer_mass"]), -c["ball_overhang"])
    cargo = (c["laden_mass"] - c["mass"], added)
    states = {
        "as weighed": [own],
        "driver only": [own, (c["driver_only_mass"] - c["mass"], added)],
        "laden": [own, cargo],
        "towing": [own, cargo, nose],
    }
    found = {}
    for name, things in states.items():
        right = [sum(kg for kg, _ in things), sum(kg * at for kg, at in things)]
        front, rear = np.linalg.solve([[1.0, 1.0], [wheelbase, 0.0]], right)
        found[name] = (float(front), float(rear))
    return found


def test_tyres_bear_the_axles_at_the_speed_that_the_car_settles_at() -> None:
    """Both axles of rear-driven cars, either side of load and of speed."""
    worst_load = worst_speed = 0.0
    sides: dict[str, list[bool]] = {"load": [], "speed": []}
    one = cars(
        "rear, independent",
        grade="10 %",
        peak=f"{PEAK:.0f} ± 20",
        draws=DRAWS,
        tyres='load_index = "85V"',
        final="2.6 ± 0.4",
    )
    speeds = one.value("gearing.tyre_speed.rear").values[:, 0]
    keeps_speed = one.keeps("gearing.tyre_speed.rear")
    for axle, place in (("front", 0), ("rear", 1)):
        program, keeps = one.value(f"gearing.tyre_load.{axle}"), one.keeps(f"gearing.tyre_load.{axle}")
        for draw in some(range(1, DRAWS)):
            loads = by_moments(one, draw)
            top = flat_out(one, draw) if axle == "front" else float(speeds[draw])
            worst_speed = max(worst_speed, abs(float(speeds[draw]) / top - 1))
            share = float(np.interp(top, [210 / 3.6, 240 / 3.6], [1.0, 0.91]))
            bears = [loads[name][place] <= 2 * LOADS[85] * (1.0 if name == "towing" else share) for name in loads]
            for name in loads:
                worst_load = max(
                    worst_load, abs(float(program.values[draw, program.names.index(name)]) / loads[name][place] - 1)
                )
            assert bool(keeps[draw]) == all(bears), (axle, draw)
            sides["load"].append(all(bears))
            if axle == "front":
                assert bool(keeps_speed[draw]) == (top <= RATED["V"]), draw
                sides["speed"].append(top <= RATED["V"])

    count = {name: (sum(kept), len(kept)) for name, kept in sides.items()}
    print(f"kept, of: {count}; worst disagreement of loads {worst_load:.1e}, of speeds {worst_speed:.1e}")
    assert worst_load < 1e-9
    assert worst_speed < TOLERANCE
    assert all(0.15 < np.mean(kept) < 0.85 for kept in sides.values())


def test_the_speedometer_counts_the_turns_of_its_cable() -> None:
    """One kilometre at a true 120 km/h: turns of the gearbox output, and of the instrument, against those it was made for."""
    one = cars("rear, independent", grade="10 %", peak=f"{PEAK:.0f} ± 20", draws=DRAWS)
    program, keeps = one.value("gearing.speedometer").values[:, 0], one.keeps("gearing.speedometer")
    true, worst, kept = 120 / 3.6, 0.0, []
    for draw in range(1, DRAWS):
        turns = 1000 / float(one["rear_tyre.circumference"][draw]) * float(one["final_drive.ratio"][draw])
        of_needle = turns * float(one["speedometer.drive_factor"][draw])
        made_for = (
            1000
            / float(one["speedometer.original_circumference"][draw])
            * float(one["speedometer.original_final_drive"][draw])
        )
        shown = of_needle / made_for * true * (1 + float(one["speedometer.original_over_reading"][draw]))
        worst = max(worst, abs(float(program[draw]) - (shown - true)))
        within = true <= shown <= 1.1 * true + 4 / 3.6
        assert bool(keeps[draw]) == within, draw
        kept.append(within)

    print(f"{len(kept)} speedometers, {sum(kept)} within, worst disagreement {worst * 3.6:.1e} km/h")
    assert worst < 1e-9
    assert 0.2 < np.mean(kept) < 0.8
    assert math.isfinite(worst)
