"""Hill starts and clutch heat by motion: each car is driven off by solve_ivp, wheel loads by moments about the ground.

Nothing of the handbook is used. The steepest hill is searched for by driving off on steeper and steeper ones; it must agree with the
program's on both sides of the limit, in every layout and load state.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import pytest
from independent.gearing.cars import LAYOUTS, Cars, G, cars, torque
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from thorough import some

PEAK = 200.0
DRAWS = 121
EASY = 0.5
BALL = 0.40
WHEELS = 1.04
TOLERANCE = 1e-6
"""Slopes (as tangents) and heats agree to this share: two exact routes and an integrator's own error."""


@dataclass(frozen=True)
class Load:
    """One load state of one car: masses in kg, the load on the driven axle at rest and the moment arm of what a hill moves."""

    own: float
    moved: float
    front: float
    rear: float


def loads(one: Cars, draw: int) -> dict[str, Load]:
    """The four states, load by load: moments about the front axle."""
    c = {
        path: float(one[f"car.{path}"][draw])
        for path in (
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
    found = {}
    for name, mass in (("as weighed", c["mass"]), ("driver only", c["driver_only_mass"]), ("laden", c["laden_mass"])):
        moment = c["rear_axle_mass"] * c["wheelbase"] + (mass - c["mass"]) * c["load_on_rear"] * c["wheelbase"]
        rear = moment / c["wheelbase"]
        found[name] = Load(mass, mass, mass - rear, rear)
    nose, laden = max(25.0, c["nose_share"] * c["trailer_mass"]), found["laden"]
    rear = (laden.rear * c["wheelbase"] + nose * (c["wheelbase"] + c["ball_overhang"])) / c["wheelbase"]
    own = laden.own + nose
    found["towing"] = Load(own, laden.own + c["trailer_mass"], own - rear, rear)
    return found


def pushes(one: Cars, draw: int, layout: str, load: Load, slope: float, push: float) -> float:
    """Largest push of the driven tyres while they push with `push` on a slope, N."""
    friction, wheelbase, height = (
        float(one[f"car.{name}"][draw]) for name in ("tyre_friction", "wheelbase", "centre_of_mass_height")
    )
    weight = push / load.moved  # what a hill takes along the slope, for each kg
    moved_back = weight * (load.own * height + (load.moved - load.own) * BALL) / wheelbase
    across = G * math.cos(slope)
    if layout == "all":
        return friction * load.own * across
    if layout == "front":
        return friction * (load.front * across - moved_back)
    rear = load.rear * across + moved_back
    if "open" not in layout:
        return friction * rear
    radius = one.driven_radius(draw)
    twist = push * radius / float(one["final_drive.ratio"][draw])
    lifted = twist * float(one["car.front_roll_share"][draw]) / float(one["car.rear_track"][draw])
    return 2 * friction * (rear / 2 - lifted)


def at_the_wheels(one: Cars, draw: int) -> tuple[float, float]:
    """Force of the engine at launch speed at the wheels, N, and turns of the engine over metres, rad/m."""
    radius = one.driven_radius(draw)
    ratio = float(one.ev(one.build.parts["gearbox"].ratios[0])[draw]) * float(one["final_drive.ratio"][draw])
    efficiency = float(one["gearbox.efficiency"][draw]) * float(one["final_drive.efficiency"][draw])
    engine = torque(one, draw, float(one["engine.launch_speed"][draw]), PEAK)
    return engine * ratio * efficiency / radius, ratio / radius


def drives_off(one: Cars, draw: int, load: Load, slope: float) -> float:
    """Speed after two seconds on a slope over that of an easy start, less 1: what the engine has left."""
    force, _ = at_the_wheels(one, draw)
    rolling = float(one["car.rolling_coefficient"][draw])
    resistance = load.moved * G * (rolling * math.cos(slope) + math.sin(slope))
    run = solve_ivp(lambda _t, _v: [(force - resistance) / load.moved], (0.0, 2.0), [0.0], rtol=1e-9)
    return float(run.y[0, -1]) / (2.0 * EASY) - 1.0


def _steepest_by_tyres(one: Cars, draw: int, layout: str, load: Load) -> float:
    def spare(slope: float) -> float:
        push = load.moved * G * math.sin(slope)
        return pushes(one, draw, layout, load, slope, push) - push

    by_tyres = float(brentq(spare, 0.0, 1.4, xtol=1e-12)) if spare(1.4) < 0 else 1.4
    if layout.startswith("rear"):  # no steeper than where the front wheels carry nothing
        wheelbase, height = float(one["car.wheelbase"][draw]), float(one["car.centre_of_mass_height"][draw])
        arm = (load.own * height + (load.moved - load.own) * BALL) / wheelbase
        by_tyres = min(by_tyres, math.atan2(load.front, arm))
    return by_tyres


def steepest(one: Cars, draw: int, layout: str, load: Load) -> float:
    """Tangent of the steepest slope, by engine and by tyres."""
    by_engine = math.pi / 2
    if drives_off(one, draw, load, 1.5) < 0:
        by_engine = brentq(lambda slope: drives_off(one, draw, load, slope), -0.5, 1.5, xtol=1e-10)

    by_tyres = _steepest_by_tyres(one, draw, layout, load)
    return math.tan(min(by_engine, by_tyres))


@pytest.mark.parametrize("layout", LAYOUTS)
def test_the_steepest_hill_is_the_one_that_driving_off_finds(layout: str) -> None:
    one = cars(layout, grade="16 ± 14 %, manual", peak=f"{PEAK:.0f} ± 40", draws=DRAWS)
    program, keeps = one.value("gearing.hill_start.grade"), one.keeps("gearing.hill_start.grade")
    worst, sides = 0.0, []
    for draw in some(range(1, DRAWS)):
        slopes = {name: steepest(one, draw, layout, load) for name, load in loads(one, draw).items()}
        for state, slope in slopes.items():
            worst = max(worst, abs(float(program.values[draw, program.names.index(state)]) / slope - 1))
        grade = float(one["car.hill_grade"][draw])
        starts = min(slopes.values()) >= grade
        assert bool(keeps[draw]) == starts, (draw, slopes, grade)
        sides.append(starts)

    print(f"{layout}: {len(sides)} cars, {sum(sides)} start, worst disagreement {worst:.1e}")
    assert worst < TOLERANCE
    assert 0.2 < np.mean(sides) < 0.8


def _slip(one: Cars, draw: int, load: Load, clutch: float, grip: float, slope: float) -> float:
    """Heat into the clutch, J: car and engine followed until they turn together, the engine held by its driver."""
    force, per_metre = at_the_wheels(one, draw)
    turning = float(one["engine.launch_speed"][draw])
    engine = torque(one, draw, turning, PEAK)
    pull = force / engine
    rolling = float(one["car.rolling_coefficient"][draw])
    resistance = load.moved * G * (rolling * math.cos(slope) + math.sin(slope))
    mass = WHEELS * load.moved
    # the driver lets in no more than the tyres carry: then the car speeds up as fast as grip pushes it
    speeding_up = min((clutch * pull - resistance) / mass, (grip - resistance) / load.moved)
    carried = (speeding_up * mass + resistance) / pull

    def motion(_time: float, state: np.ndarray) -> list[float]:
        return [speeding_up, carried * (turning - state[0] * per_metre)]

    def together(_time: float, state: np.ndarray) -> float:
        return turning - state[0] * per_metre

    together.terminal = True  # type: ignore[attr-defined]
    if speeding_up <= 0:
        return math.nan
    run = solve_ivp(motion, (0.0, 1e4), [0.0, 0.0], events=together, rtol=1e-8, atol=1e-8)
    return float(run.y[1, -1])


@pytest.mark.parametrize("layout", ["rear, independent", "front"])
def test_the_heat_of_a_start_is_what_slips_away(layout: str) -> None:
    """An easy start on the hill, and a hard one on the level, in each load state."""
    one = cars(layout, grade="12 ± 10 %, manual", peak=f"{PEAK:.0f} ± 30", draws=61)
    level, hill = one.value("gearing.launch.heat"), one.value("gearing.hill_start.heat")
    worst, count = 0.0, 0
    for draw in some(range(1, 61)):
        force, _ = at_the_wheels(one, draw)
        engine = torque(one, draw, float(one["engine.launch_speed"][draw]), PEAK)
        slope, rolling = math.atan(float(one["car.hill_grade"][draw])), float(one["car.rolling_coefficient"][draw])
        for state, load in loads(one, draw).items():
            top = _steepest_by_tyres(one, draw, layout, load)
            grip = load.moved * G * math.tan(top)
            resistance = load.moved * G * (rolling * math.cos(slope) + math.sin(slope))
            easy = min((WHEELS * load.moved * EASY + resistance) * engine / force, engine)
            for found, route in (
                (level, _slip(one, draw, load, engine, grip, 0.0)),
                (hill, _slip(one, draw, load, easy, grip, slope)),
            ):
                heat = float(found.values[draw, found.names.index(state)])
                assert math.isnan(heat) == math.isnan(route), (draw, state)
                if not math.isnan(heat):
                    worst, count = max(worst, abs(heat / route - 1)), count + 1

    print(f"{layout}: {count} starts, worst disagreement {worst:.1e}")
    assert count > 20
    assert worst < TOLERANCE
