"""Is the top speed in each gear where pull and load balance, and is it said what limits it?"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.gearing.performance import TopSpeed, TopSpeedLimit, top_speed, top_speed_from_power

TURNS = np.array([100.0, 250.0, 400.0, 550.0, 680.0])
GEARS = np.array([3.4, 2.0, 1.4, 1.0, 0.8])
CAR: dict[str, Any] = {
    "engine_speeds": TURNS,
    "torques": np.array([140.0, 185.0, 200.0, 180.0, 120.0]),
    "gearbox_ratios": GEARS,
    "final_ratio": 3.9,
    "efficiency": 0.92,
    "rolling_radius": 0.30,
    "mass": 1150.0,
    "rolling": 0.012,
    "drag_area": 0.66,
    "air_density": 1.2,
    "rev_limit": 660.0,
}


def the_car(**changes: Any) -> TopSpeed:
    """Top speeds of the car with a few figures changed."""
    return top_speed(**(CAR | changes))


def surplus(speed: float, ratio: float, torques: np.ndarray) -> float:
    """F − R at a speed in a gear, written out again."""
    total = ratio * 3.9
    pull = float(np.interp(speed * total / 0.30, TURNS, torques)) * total * 0.92 / 0.30
    return pull - 1150.0 * 9.80665 * 0.012 - 0.5 * 1.2 * 0.66 * speed**2


@given(st.lists(st.floats(5.0, 400.0), min_size=5, max_size=5).map(np.array))
def test_no_higher_speed_can_be_held_in_any_gear(torques: np.ndarray) -> None:
    """On a fine grid up to the limiter, for any curve; and the one found can."""
    result = the_car(torques=torques)

    for ratio, speed in zip(GEARS, result.speed, strict=True):
        lowest, limit = (turns * 0.30 / (ratio * 3.9) for turns in (100.0, 660.0))
        begin = lowest if np.isnan(speed) else speed
        assert all(surplus(v, ratio, torques) < 1e-6 for v in np.linspace(begin, limit, 300)[1:] if v > begin + 1e-9)
        if not np.isnan(speed):
            assert surplus(speed, ratio, torques) > -1e-6


def test_low_gears_end_at_the_limiter_and_the_last_where_pull_runs_out() -> None:
    """A longer overdrive makes the car slower than its fourth gear."""
    result = the_car(torque_factor=0.7, gearbox_ratios=np.array([3.4, 2.0, 1.4, 1.0, 0.6]))

    assert [TopSpeedLimit(by).name for by in result.limited_by] == ["REV_LIMIT"] * 3 + ["PULL"] * 2
    assert result.speed[0] == pytest.approx(660.0 * 0.30 / (3.4 * 3.9))
    assert result.fastest_gear == 3
    assert result.highest == result.speed[3] > result.speed[4]


def test_the_end_of_the_curve_is_told_from_the_limiter() -> None:
    """Faster may be possible: the torque there is not known."""
    result = the_car(rev_limit=800.0)

    assert result.limited_by[0] == TopSpeedLimit.END_OF_CURVE
    assert result.speed[0] == pytest.approx(680.0 * 0.30 / (3.4 * 3.9))


def test_a_gear_that_pulls_nowhere_has_no_speed() -> None:
    """Up a steep hill the tall gears are of no use."""
    result = the_car(slope_angle=0.45)

    assert np.isfinite(result.speed[0])
    assert np.isnan(result.speed[4])
    assert result.limited_by[4] == TopSpeedLimit.NONE
    assert result.fastest_gear == 0


def test_a_bump_between_two_points_is_found() -> None:
    """At both points of this segment the load is greater; in its middle the pull is: the road load bends away."""
    ratio, total = 0.5, 0.5 * 3.9
    ends = np.array([100.0, 680.0]) * 0.30 / total
    pull_of_load = (1150.0 * 9.80665 * 0.012 + 0.5 * 1.2 * 0.66 * ends**2) / (total * 0.92 / 0.30)
    result = the_car(engine_speeds=[100.0, 680.0], torques=pull_of_load - 1.0, gearbox_ratios=[ratio], rev_limit=680.0)

    assert ends[0] < result.speed[0] < ends[1]
    assert result.limited_by[0] == TopSpeedLimit.PULL


@pytest.mark.parametrize(
    ("name", "slower"),
    [("torque_factor", 0.9), ("mass", 1500.0), ("drag_area", 0.8), ("rolling", 0.02), ("rolling_doubling_speed", 44.8),
     ("slope_angle", 0.02), ("efficiency", 0.85), ("air_density", 1.3)],
)  # fmt: skip
def test_what_makes_a_car_slower(name: str, slower: float) -> None:
    """The sign of each figure is pinned where pull limits."""
    assert the_car(**{name: slower}).speed[4] < the_car().speed[4]


def test_a_curve_of_constant_power_gives_the_speed_by_power() -> None:
    """Many points on T = P/ω: the two ways of asking agree."""
    turns = np.linspace(100.0, 680.0, 2000)
    by_curve = the_car(engine_speeds=turns, torques=100e3 / turns, gearbox_ratios=[0.8]).speed[0]

    assert by_curve == pytest.approx(top_speed_from_power(92e3, 1150.0, 0.012, 0.66, 1.2), rel=1e-5)


def test_draws_and_gears_broadcast() -> None:
    """A bad draw and a gear that is not there stay alone; shapes follow the cars."""
    result = the_car(mass=np.array([1150.0, -1.0, np.nan]), gearbox_ratios=np.array([1.0, np.nan]))

    assert np.isfinite(result.speed).tolist() == [[True, False], [False, False], [False, False]]
    assert result.limited_by.shape == (3, 2)
    assert result.fastest_gear.tolist() == [0, 0, 0]
    assert np.isfinite(result.highest).tolist() == [True, False, False]
    assert the_car(mass=np.full((2, 1), 1150.0), drag_area=np.full(3, 0.66)).speed.shape == (2, 3, 5)


@pytest.mark.parametrize(
    ("name", "value"),
    [("rolling_radius", 0.0), ("rolling_radius", -0.3), ("final_ratio", -1.0), ("efficiency", 0.0), ("efficiency", 1.01),
     ("mass", 0.0), ("rolling", -0.1), ("drag_area", -0.1), ("air_density", np.nan), ("rev_limit", 90.0),
     ("torque_factor", -1.0), ("rolling_doubling_speed", 0.0), ("slope_angle", 1.6), ("slope_angle", np.nan)],
)  # fmt: skip
def test_a_car_outside_the_range_is_nan_without_a_warning(name: str, value: float) -> None:
    """Every figure that cannot be."""
    result = the_car(**{name: value})

    assert np.isnan(result.speed).all()
    assert (result.limited_by == TopSpeedLimit.NONE).all()


@pytest.mark.parametrize(
    ("name", "values"),
    [
        ("drag_area", [0.4, 0.9]),
        ("drag_area", [0.4, 0.9, 1.3]),
        ("rolling", [0.01, 0.02, 0.03]),
        ("air_density", [1.0, 1.2]),
        ("slope_angle", [0.0, 0.1]),
    ],
)
def test_cars_that_differ_in_one_resistance_alone_are_each_what_they_are_alone(name: str, values: list[float]) -> None:
    """Everything else is one number for all of them."""
    together = top_speed(**(CAR | {name: values}))

    for number, value in enumerate(values):
        assert together.speed[number] == pytest.approx(top_speed(**(CAR | {name: value})).speed)
