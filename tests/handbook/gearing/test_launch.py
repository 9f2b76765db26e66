"""Do the heat of a start and the steepest hill start follow from the equations of motion?"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from trialfit.handbook.gearing.launch import ClutchSlip, HillStart, clutch_slip, steepest_hill_start
from trialfit.handbook.gearing.road_load import road_load

CAR: dict[str, Any] = {
    "engine_speed": 250.0,
    "clutch_torque": 180.0,
    "total_ratio": 13.0,
    "efficiency": 0.92,
    "rolling_radius": 0.30,
    "mass": 1300.0,
    "decoupled_mass": 1350.0,
    "rolling": 0.012,
}
HILL: dict[str, Any] = {name: CAR[name] for name in CAR if name not in {"engine_speed", "decoupled_mass"}} | {
    "grip_share": 0.45
}


def start(**changes: Any) -> ClutchSlip:
    """Start the car with a few figures changed."""
    return clutch_slip(**(CAR | changes))


def hill(**changes: Any) -> HillStart:
    """Steepest hill of the car with a few figures changed."""
    return steepest_hill_start(**(HILL | changes))


# scipy.integrate.solve_ivp: engine, car and heat as three differential equations, stopped when the speeds meet.
@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"slope_angle": 0.15},
        {"engine_torque": 120.0, "engine_inertia": 0.2},
        {"engine_torque": 200.0, "engine_inertia": 0.3},
    ],
    ids=str,
)
def test_time_heat_and_way_against_a_solver(changes: dict[str, float]) -> None:
    """Held engine speed, a hill, an engine that is pulled down and one that runs up."""
    car = {"slope_angle": 0.0, "engine_torque": 180.0, "engine_inertia": math.inf} | CAR | changes
    resistance = 1300.0 * 9.80665 * (0.012 * math.cos(car["slope_angle"]) + math.sin(car["slope_angle"]))

    def motion(_: float, y: np.ndarray) -> tuple[float, ...]:
        engine, speed, _, _ = y
        slip = engine - speed * 13.0 / 0.30
        acceleration = (180.0 * 13.0 * 0.92 / 0.30 - resistance) / 1350.0
        return (car["engine_torque"] - 180.0) / car["engine_inertia"], acceleration, speed, 180.0 * slip

    def meet(_: float, y: np.ndarray) -> float:
        return float(y[0] - y[1] * 13.0 / 0.30)

    meet.terminal = True  # type: ignore[attr-defined]
    solved = solve_ivp(motion, (0, 60), (250.0, 0.0, 0.0, 0.0), events=meet, rtol=1e-10, atol=1e-9)
    found = start(**changes)

    assert found.time == pytest.approx(solved.t[-1], rel=1e-7)
    assert found.engaged_speed == pytest.approx(solved.y[0, -1], rel=1e-7)
    assert found.way == pytest.approx(solved.y[2, -1], rel=1e-7)
    assert found.heat == pytest.approx(solved.y[3, -1], rel=1e-7)


def test_on_the_level_the_torque_hardly_matters_for_the_heat() -> None:
    """Without resistance it is ½·I·ω² whatever the torque; with it a feeble clutch burns more."""
    free = {"rolling": 0.0}

    assert start(**free, clutch_torque=90.0).heat == pytest.approx(start(**free).heat)
    assert start(clutch_torque=90.0, slope_angle=0.1).heat > start(slope_angle=0.1).heat


@pytest.mark.parametrize(
    "more",
    [{"engine_speed": 300.0}, {"mass": 1340.0}, {"slope_angle": 0.05}, {"total_ratio": 11.0}, {"rolling": 0.03}],
    ids=str,
)
def test_what_makes_a_start_hotter(more: dict[str, float]) -> None:
    """The sign of each figure is pinned: also that a longer gear costs clutch."""
    assert start(**more).heat > start().heat
    assert start(**more).time > start().time


def test_grip_takes_torque_off_the_clutch() -> None:
    """The tyres carry no more: less torque through the clutch, and the acceleration is (F − R)/m."""
    found, free = start(grip_force=4000.0), start()
    acceleration = (4000.0 - 1300.0 * 9.80665 * 0.012) / 1300.0

    assert found.torque < free.torque == 180.0
    assert found.way == pytest.approx(acceleration * found.time**2 / 2)
    assert start(grip_force=1e6).torque == 180.0


def test_a_car_that_does_not_pull_away_has_no_start() -> None:
    """Too steep for the clutch or for the grip; an engine that runs away from the car never meets it."""
    assert np.isnan(start(slope_angle=0.6).heat)
    assert np.isnan(start(slope_angle=0.2, grip_force=2000.0).time)
    assert np.isnan(start(engine_torque=500.0, engine_inertia=0.1).time)


def test_an_engine_that_gives_less_than_the_clutch_takes_is_pulled_down() -> None:
    """It meets the gearbox below the speed it began at, sooner and with less heat."""
    found = start(engine_torque=100.0, engine_inertia=0.2)

    assert found.engaged_speed < 250.0
    assert found.heat < start().heat
    assert start().engaged_speed == pytest.approx(250.0)


def test_the_steepest_hill_asks_for_the_whole_torque() -> None:
    """Put back into road_load, the slope by torque is the tractive effort; the smaller of the two decides."""
    found = hill(clutch_torque=100.0)

    assert road_load(0.0, 1300.0, 0.012, 0.0, 0.0, found.by_torque) == pytest.approx(100.0 * 13.0 * 0.92 / 0.30)
    assert np.tan(found.by_grip) == pytest.approx(0.45)
    assert found.slope_angle == found.by_torque
    assert hill().slope_angle == hill().by_grip < hill().by_torque


def test_what_makes_a_hill_steeper() -> None:
    """The sign of each figure is pinned where torque decides."""
    usual = hill(clutch_torque=100.0).slope_angle

    assert hill(clutch_torque=110.0).slope_angle > usual
    assert hill(clutch_torque=100.0, total_ratio=15.0).slope_angle > usual
    assert hill(clutch_torque=100.0, mass=1500.0).slope_angle < usual
    assert hill(clutch_torque=100.0, acceleration=0.5).slope_angle < usual
    assert hill(grip_share=0.3).slope_angle < hill().slope_angle


def test_a_torque_that_beats_every_slope_leaves_it_to_the_grip() -> None:
    """A crawler gear: straight up by torque."""
    found = hill(total_ratio=60.0)

    assert found.by_torque == pytest.approx(math.pi / 2)
    assert found.slope_angle == found.by_grip


def test_what_cannot_be_is_nan_and_the_rest_stays() -> None:
    """One bad draw among many stays alone, without a warning."""
    found = start(mass=np.array([1300.0, 0.0, np.nan, 1400.0]))
    hills = hill(mass=np.array([1300.0, 0.0, np.nan]))

    assert np.isfinite(found.heat).tolist() == [True, False, False, False]
    assert np.isfinite(hills.slope_angle).tolist() == [True, False, False]
    for change in ({"efficiency": 0.0}, {"rolling_radius": 0.0}, {"clutch_torque": 0.0}, {"slope_angle": 1.6}):
        assert np.isnan(start(**change).time)
    assert hill(clutch_torque=1.0).slope_angle < 0
    assert np.isnan(hill(rolling_radius=0.0).slope_angle)
    assert np.isnan(hill(efficiency=0.0, rolling=0.0).slope_angle)
