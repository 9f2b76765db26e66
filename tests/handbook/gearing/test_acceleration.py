"""Does the run through the gears agree with a solver of differential equations, and does it behave?"""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import some

from trialfit.handbook.gearing import acceleration
from trialfit.handbook.gearing.performance import AccelerationRun, acceleration_run, effective_mass

SPEEDS = (100 / 3.6, 60 * 0.44704)
RPM = np.pi / 30
GEARS = np.array([3.4, 2.0, 1.4, 1.0, 0.8])

# An invented coupe: 120 kW, 1150 kg, rear drive.
COUPE: dict[str, Any] = {
    "engine_speeds": np.array([1000, 2000, 3000, 4000, 5000, 6000, 6800]) * RPM,
    "torques": np.array([140.0, 175.0, 200.0, 215.0, 213.0, 190.0, 150.0]),
    "gearbox_ratios": GEARS,
    "final_ratio": 3.9,
    "efficiency": 0.92,
    "rolling_radius": 0.30,
    "mass": 1150.0,
    "effective_mass": effective_mass(1150.0, GEARS * 3.9),
    "decoupled_mass": 1196.0,
    "grip_force": 6200.0,
    "rolling": 0.012,
    "drag_area": 0.66,
    "air_density": 1.2,
    "rev_limit": 6500 * RPM,
    "launch_speed": 2500 * RPM,
    "shift_time": 0.4,
    "slope_angle": 0.0,
    "rolling_doubling_speed": 44.8,
}


def the_coupe(**changes: Any) -> AccelerationRun:
    """Run the coupe with a few figures changed."""
    return acceleration_run(**(COUPE | changes))


@pytest.fixture(scope="module")
def solver() -> ModuleType:
    """The benchmark, whose solver of differential equations shares no code with the handbook."""
    path = Path(__file__).parents[3] / "benchmarks" / "acceleration.py"
    spec = importlib.util.spec_from_file_location("benchmark_of_acceleration", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def assert_agrees(run: AccelerationRun, index: Any, reference: Any) -> None:
    """Times within 1e-5 s, ways within 1e-4 m, speed within 1e-5 m/s; nan where the solver never gets there."""
    np.testing.assert_allclose(run.time_to_speed[index], reference.time_to_speed, rtol=0, atol=1e-5)
    np.testing.assert_allclose(run.way_to_speed[index], reference.way_to_speed, rtol=0, atol=1e-4)
    np.testing.assert_allclose(run.time_to_distance[index], [reference.time_to_distance], rtol=0, atol=1e-5)
    np.testing.assert_allclose(run.speed_at_distance[index], [reference.speed_at_distance], rtol=0, atol=1e-5)


# scipy.integrate.solve_ivp, DOP853, rtol 1e-11, with events at shifts and targets.
def test_generated_cars_agree_with_a_solver(solver: ModuleType) -> None:
    """Thirty cars of every kind: grip-limited or not, with and without shift time, both rolling laws."""
    cars = solver.draw_cars(30, seed=7)
    run = acceleration_run(**cars)

    assert (cars["shift_time"] == 0).any()
    assert np.isinf(cars["rolling_doubling_speed"]).any()
    for index in some(range(30)):
        assert_agrees(run, index, solver.solve(solver.one_car(cars, index), "DOP853", 1e-11))


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"grip_force": 2500.0},
        {"grip_force": np.inf},
        {"slope_angle": np.arctan(0.12)},
        {"slope_angle": np.arctan(-0.12)},
        {"shift_time": 2.5},
        {"shift_time": 0.0},
        {"drag_area": 0.0},
        {"torques": COUPE["torques"] * 0.35},
        {"torques": np.array([140.0, 175.0, 60.0, 215.0, 213.0, 190.0, 150.0])},
        {"launch_speed": 1000 * RPM},
        {"launch_speed": 6500 * RPM},
        {"rev_limit": 7500 * RPM},
    ],
    ids=str,
)
def test_unusual_cars_agree_with_a_solver(solver: ModuleType, changes: dict[str, Any]) -> None:
    """Wheelspin in three gears, none, hills, slow hands, no drag, a weak engine, a hole in its curve."""
    car = COUPE | changes
    reference = solver.solve(car | {"efficiency": np.full(5, car["efficiency"])}, "DOP853", 1e-11)

    assert_agrees(acceleration_run(**car), ..., reference)


def test_targets_met_while_grip_hands_over_agree_with_a_solver(
    solver: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Fine steps of speed across the moment at which the tyres can use it all, and distances in between."""
    slippery = COUPE | {"grip_force": 4800.0, "torques": np.linspace(220.0, 120.0, 7)}
    speeds = tuple(np.arange(8.6, 10.0, 0.05))
    run = acceleration_run(**slippery, speeds=speeds)
    monkeypatch.setattr(solver, "SPEEDS", speeds)

    assert_agrees(run, ..., solver.solve(slippery | {"efficiency": np.full(5, 0.92)}, "DOP853", 1e-11))
    # The distances at which those speeds are reached are met with those speeds, at those times.
    by_way = acceleration_run(**slippery, speeds=(), distances=tuple(run.way_to_speed))
    np.testing.assert_allclose(by_way.time_to_distance, run.time_to_speed, rtol=1e-9)
    np.testing.assert_allclose(by_way.speed_at_distance, speeds, rtol=1e-9)


def test_a_launch_above_the_upshift_and_close_gears_agree_with_a_solver(solver: ModuleType) -> None:
    """The clutch takes hold above the speed of the upshift: first is left at once, and so is second behind it."""
    gears = np.array([3.4, 3.1, 2.0, 1.4, 1.0])
    early = COUPE | {
        "torques": np.array([200.0, 220.0, 210.0, 150.0, 110.0, 80.0, 60.0]),
        "gearbox_ratios": gears,
        "effective_mass": effective_mass(1150.0, gears * 3.9),
        "launch_speed": 5800 * RPM,
    }
    run = acceleration_run(**early)

    assert run.shift_speeds[0] == pytest.approx(5800 * RPM * 0.30 / (3.4 * 3.9))
    assert run.shift_speeds[1] < run.shift_speeds[0]
    assert_agrees(run, ..., solver.solve(early | {"efficiency": np.full(5, 0.92)}, "DOP853", 1e-11))


def test_targets_met_during_a_shift_agree_with_a_solver(solver: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    """A distance that ends while the car rolls between two gears; downhill a speed too."""
    downhill = COUPE | {"slope_angle": -0.12, "shift_time": 1.5}
    shift_speed = acceleration_run(**downhill).shift_speeds[0]
    speeds = (shift_speed + 0.1, shift_speed + 0.4)
    distance = float(acceleration_run(**downhill, speeds=(shift_speed,)).way_to_speed[0] + 12.0)
    monkeypatch.setattr(solver, "SPEEDS", speeds)
    monkeypatch.setattr(solver, "DISTANCE", distance)
    run = acceleration_run(**downhill, speeds=speeds, distances=(distance,))

    assert run.shifts_to_speed.tolist() == [0, 0]
    assert run.shifts_to_distance.tolist() == [0]
    assert_agrees(run, ..., solver.solve(downhill | {"efficiency": np.full(5, 0.92)}, "DOP853", 1e-11))


@pytest.mark.parametrize(
    ("name", "slower"),
    [
        ("torque_factor", 0.95),
        ("mass", 1250.0),
        ("grip_force", 4000.0),
        ("drag_area", 0.9),
        ("air_density", 1.3),
        ("rolling", 0.02),
        ("efficiency", 0.85),
        ("shift_time", 0.7),
        ("slope_angle", 0.02),
        ("rolling_doubling_speed", 20.0),
    ],
)
def test_what_makes_a_car_slower(name: str, slower: float) -> None:
    """The sign of each figure is pinned, for speeds and distance."""
    changes: dict[str, Any] = {name: slower}
    if name == "mass":
        changes |= {"effective_mass": effective_mass(slower, GEARS * 3.9), "decoupled_mass": 1.04 * slower}
    run, usual = the_coupe(**changes), the_coupe()

    assert (run.time_to_speed > usual.time_to_speed).all()
    assert (run.time_to_distance > usual.time_to_distance).all()


factors = st.floats(0.4, 1.6)


@settings(max_examples=60)
@given(factors, factors, st.floats(1500.0, 9000.0), st.floats(0.0, 1.0))
def test_more_torque_is_never_slower(one: float, other: float, grip: float, shift_time: float) -> None:
    """At any grip and shift time; a speed not reached counts as reached at no time.

    To a distance only without shift time: a slower car that shifts behind the distance can beat one that shifts before.
    """
    car: dict[str, Any] = {"torque_factor": np.array(sorted((one, other))), "grip_force": grip}
    times = the_coupe(**car, shift_time=shift_time).time_to_speed
    times = np.where(np.isnan(times), np.inf, times)
    at_distance = the_coupe(**car, shift_time=0.0).time_to_distance

    assert (times[1] <= times[0] + 1e-9).all()
    assert at_distance[1, 0] <= at_distance[0, 0] + 1e-9


@settings(max_examples=60)
@given(st.floats(900.0, 2500.0), st.floats(0.0, 500.0))
def test_more_mass_is_never_faster(mass: float, load: float) -> None:
    """With the grip held: the tyres gain by load what the mass takes, so that alone would hide it."""
    masses = np.array([mass, mass + load])
    car: dict[str, Any] = {"mass": masses, "effective_mass": effective_mass(masses[:, None], GEARS * 3.9)}
    times = the_coupe(**car, decoupled_mass=1.04 * masses).time_to_speed
    at_distance = the_coupe(**car, decoupled_mass=1.04 * masses, shift_time=0.0).time_to_distance

    assert (times[1] >= times[0] - 1e-9).all()
    assert at_distance[1, 0] >= at_distance[0, 0] - 1e-9


@settings(max_examples=60)
@given(st.floats(1500.0, 9000.0), st.floats(0.0, 3000.0), factors)
def test_more_grip_is_never_slower(grip: float, more: float, factor: float) -> None:
    """At any torque."""
    run = the_coupe(grip_force=np.array([grip, grip + more]), torque_factor=factor)
    times = np.where(np.isnan(run.time_to_speed), np.inf, run.time_to_speed)

    assert (times[1] <= times[0] + 1e-9).all()


def test_time_way_and_shifts_grow_along_the_run() -> None:
    """Targets in rising order are met in that order, and twice the distance takes less than twice the time."""
    run = the_coupe(speeds=tuple(np.arange(1.0, 50.0)), distances=(100.0, 200.0, 400.0, 800.0))

    assert (np.diff(run.time_to_speed) > 0).all()
    assert (np.diff(run.way_to_speed) > 0).all()
    assert (np.diff(run.shifts_to_speed) >= 0).all()
    assert (np.diff(run.speed_at_distance) > 0).all()
    assert (run.time_to_distance[1:] < 2 * run.time_to_distance[:-1]).all()
    assert run.shifts_to_speed[0] == 0
    assert run.shifts_to_speed[-1] >= 2


def test_the_shifts_lie_where_the_limiter_or_the_crossing_is() -> None:
    """In first the limiter comes first; no shift is planned out of the last gear."""
    run = the_coupe()

    assert run.shift_speeds.shape == (4,)
    assert run.shift_speeds[0] == pytest.approx(6500 * RPM * 0.30 / (3.4 * 3.9))
    assert (np.diff(run.shift_speeds) > 0).all()


def test_a_car_of_endless_grip_and_flat_pull_is_school_physics() -> None:
    """No drag, no rolling, one gear, constant torque: v = a·t."""
    run = acceleration_run(
        engine_speeds=[10.0, 1000.0],
        torques=[100.0, 100.0],
        gearbox_ratios=[1.0],
        final_ratio=10.0,
        efficiency=1.0,
        rolling_radius=0.5,
        mass=1000.0,
        effective_mass=[1000.0],
        decoupled_mass=1000.0,
        grip_force=np.inf,
        rolling=0.0,
        drag_area=0.0,
        air_density=1.2,
        rev_limit=1000.0,
        launch_speed=100.0,
        shift_time=0.5,
        speeds=(20.0,),
        distances=(100.0,),
    )

    assert run.time_to_speed[0] == pytest.approx(10.0, rel=1e-6)
    assert run.way_to_speed[0] == pytest.approx(100.0, rel=1e-6)
    assert run.time_to_distance[0] == pytest.approx(10.0, rel=1e-6)
    assert run.speed_at_distance[0] == pytest.approx(20.0, rel=1e-6)


def test_grip_alone_sets_a_run_on_ice() -> None:
    """The tyres push the plain mass: the engine's own inertia does not slow a car whose wheels spin."""
    ice: dict[str, Any] = {"grip_force": 1000.0, "rolling": 0.0, "drag_area": 0.0, "speeds": (5.0,)}
    run = the_coupe(**ice)

    assert run.time_to_speed[0] == pytest.approx(5.0 / (1000.0 / 1150.0), rel=1e-6)
    assert the_coupe(**ice, effective_mass=2 * COUPE["effective_mass"]).time_to_speed[0] == run.time_to_speed[0]


def test_a_speed_the_car_cannot_reach_is_nan_and_the_distance_is_still_met() -> None:
    """Half the torque up a hill: the car crawls to the 400 m at its highest speed."""
    run = the_coupe(torque_factor=0.5, slope_angle=np.arctan(0.15))

    assert np.isnan(run.time_to_speed).all()
    assert np.isnan(run.way_to_speed).all()
    assert np.isnan(run.shifts_to_speed).all()
    assert not run.reaches_speed.any()
    assert np.isfinite(run.time_to_distance).all()
    assert run.speed_at_distance[0] < SPEEDS[1]


def test_a_car_that_cannot_move_is_nan_throughout() -> None:
    """Too steep for its torque, or for its grip."""
    for changes in ({"torque_factor": 0.2, "slope_angle": 0.4}, {"grip_force": 100.0}):
        run = the_coupe(**changes)
        assert np.isnan(run.time_to_speed).all()
        assert np.isnan(run.time_to_distance).all()


def test_without_a_next_gear_that_pulls_the_car_stays_at_the_limiter() -> None:
    """One gear only: the distance is covered at its highest speed from where that is reached."""
    limited = {"gearbox_ratios": GEARS[:1], "effective_mass": COUPE["effective_mass"][:1]}
    run = the_coupe(**limited, speeds=(10.0, 17.0), distances=(100.0, 400.0))
    top = 6500 * RPM * 0.30 / (3.4 * 3.9)

    assert np.isfinite(run.time_to_speed[0])
    assert np.isnan(run.time_to_speed[1])
    assert run.speed_at_distance[1] == pytest.approx(top)
    assert run.time_to_distance[1] - run.time_to_distance[0] == pytest.approx(300.0 / top)
    assert run.shift_speeds.shape == (0,)


def test_a_next_gear_too_long_to_pull_is_not_taken() -> None:
    """An overdrive of 0.1 on a hill: the car stays in first at the limiter."""
    gears = np.array([3.4, 0.9])
    run = the_coupe(
        gearbox_ratios=gears,
        effective_mass=effective_mass(1150.0, gears * 3.9),
        slope_angle=np.arctan(0.25),
        distances=(400.0,),
    )

    assert run.shifts_to_distance[0] == 0
    assert run.speed_at_distance[0] == pytest.approx(6500 * RPM * 0.30 / (3.4 * 3.9))


def test_a_shift_that_lands_below_the_curve_ends_in_nan() -> None:
    """What the engine gives there is not known; what was met before stays."""
    curve = {"engine_speeds": np.array([4000.0, 5000.0, 6000.0, 6800.0]) * RPM, "torques": COUPE["torques"][3:]}
    gears = np.array([3.4, 1.0])
    run = the_coupe(
        **curve,
        gearbox_ratios=gears,
        effective_mass=effective_mass(1150.0, gears * 3.9),
        launch_speed=4000 * RPM,
        speeds=(10.0, 20.0),
    )

    assert np.isfinite(run.time_to_speed[0])
    assert np.isnan(run.time_to_speed[1])
    assert np.isnan(run.time_to_distance[0])


def test_gears_a_car_does_not_have_are_nan() -> None:
    """A five-speed and a four-speed car in one run, each as it is alone."""
    gears = np.array([GEARS, [*GEARS[:4], np.nan]])
    both = the_coupe(gearbox_ratios=gears, effective_mass=effective_mass(1150.0, gears * 3.9), distances=(3000.0,))
    four = the_coupe(gearbox_ratios=GEARS[:4], effective_mass=COUPE["effective_mass"][:4], distances=(3000.0,))

    np.testing.assert_allclose(both.time_to_distance[0], the_coupe(distances=(3000.0,)).time_to_distance, rtol=1e-12)
    np.testing.assert_allclose(both.time_to_distance[1], four.time_to_distance, rtol=1e-12)


def test_blocks_do_not_show(monkeypatch: pytest.MonkeyPatch) -> None:
    """Seven cars three at a time are the seven at once, and each alone."""
    factors = np.linspace(0.5, 1.6, 7)
    whole = the_coupe(torque_factor=factors)
    monkeypatch.setattr(acceleration, "CARS_AT_A_TIME", 3)
    blocks = the_coupe(torque_factor=factors)

    for name in ("time_to_distance", "time_to_speed", "shift_speeds"):
        np.testing.assert_allclose(getattr(blocks, name), getattr(whole, name), rtol=1e-12)
    for index, factor in enumerate(factors):
        np.testing.assert_allclose(
            the_coupe(torque_factor=factor).time_to_speed, whole.time_to_speed[index], rtol=1e-12
        )


def test_shapes_follow_the_cars() -> None:
    """No axis, one, two; and no target of a kind at all."""
    assert the_coupe().time_to_speed.shape == (2,)
    assert the_coupe(mass=np.full(3, 1150.0)).time_to_distance.shape == (3, 1)
    grid = the_coupe(mass=np.full((3, 1), 1150.0), drag_area=np.full(4, 0.66))
    assert grid.time_to_speed.shape == (3, 4, 2)
    assert grid.shift_speeds.shape == (3, 4, 4)
    assert the_coupe(speeds=()).time_to_speed.shape == (0,)
    assert the_coupe(distances=()).time_to_distance.shape == (0,)


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("mass", 0.0),
        ("mass", 1151.0 * 1.04),
        ("rolling_radius", -0.3),
        ("efficiency", 1.1),
        ("final_ratio", 0.0),
        ("drag_area", -0.1),
        ("air_density", np.nan),
        ("rolling", -0.01),
        ("rolling_doubling_speed", 0.0),
        ("grip_force", 0.0),
        ("shift_time", -0.1),
        ("launch_speed", 900 * RPM),
        ("launch_speed", 6600 * RPM),
        ("rev_limit", 50.0),
        ("slope_angle", 1.6),
        ("torque_factor", -1.0),
        ("torques", -COUPE["torques"]),
        ("gearbox_ratios", GEARS[::-1]),
        ("gearbox_ratios", np.array([3.4, np.nan, 1.4, 1.0, 0.8])),
        ("gearbox_ratios", np.array([np.nan, 2.0, 1.4, 1.0, 0.8])),
        ("gearbox_ratios", np.full(5, np.nan)),
        ("effective_mass", COUPE["effective_mass"] * 0.5),
    ],
)
def test_a_car_outside_the_range_is_nan_without_a_warning(name: str, value: Any) -> None:
    """Every figure that cannot be; the shift speeds are nan too."""
    run = the_coupe(**{name: value})

    assert np.isnan(run.time_to_speed).all()
    assert np.isnan(run.time_to_distance).all()
    assert np.isnan(run.shift_speeds).all()


def test_one_bad_draw_leaves_the_others_alone() -> None:
    """Good draws beside a bad one are what they are alone."""
    run = the_coupe(rolling=np.array([0.012, np.nan, 0.012, -1.0]))

    assert np.isfinite(run.time_to_speed[:, 0]).tolist() == [True, False, True, False]
    np.testing.assert_allclose(run.time_to_speed[0], the_coupe().time_to_speed, rtol=1e-12)


@pytest.mark.parametrize(
    "targets", [{"speeds": (0.0,)}, {"distances": (-1.0,)}, {"speeds": (np.nan,)}, {"distances": (np.inf,)}]
)
def test_a_target_must_be_positive(targets: dict[str, Any]) -> None:
    """The refusal names it."""
    with pytest.raises(
        ValueError,
        match=r"^A speed or distance to reach is .+: expected a positive number, such as 27.8 m/s or 400 m\.$",
    ):
        the_coupe(**targets)
