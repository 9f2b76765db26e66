"""The steepest slope of each gear against a search over the whole curve, and where the formula ends."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from scipy.optimize import brentq, minimize_scalar

from trialfit.handbook.gearing.climbing import steepest_climb

CAR = {
    "engine_speeds": [80.0, 200.0, 350.0, 500.0, 650.0],
    "torques": [120.0, 190.0, 230.0, 220.0, 160.0],
    "final_ratio": 3.7,
    "efficiency": 0.92,
    "rolling_radius": 0.31,
    "mass": 1250.0,
    "rolling": 0.014,
    "drag_area": 0.68,
    "air_density": 1.2,
    "rev_limit": 620.0,
}
RATIOS = [2.4, 1.4, 0.8]


def slope_by_search(ratio: float, **car: float | list[float]) -> float:
    """Tangent of the steepest slope in one gear: a bounded search over speed, and a root finder on the balance."""
    total = ratio * car["final_ratio"]

    def surplus(turns: float) -> float:
        force = (
            np.interp(turns, car["engine_speeds"], car["torques"]) * total * car["efficiency"] / car["rolling_radius"]
        )
        speed = turns * car["rolling_radius"] / total
        return float(force - 0.5 * car["air_density"] * car["drag_area"] * speed**2)

    knots = [*(knot for knot in car["engine_speeds"] if knot < car["rev_limit"]), car["rev_limit"]]
    best = max(
        -minimize_scalar(lambda turns: -surplus(turns), bounds=pair, method="bounded", options={"xatol": 1e-9}).fun
        for pair in itertools.pairwise(knots)
    )
    weight = car["mass"] * 9.80665
    angle = brentq(lambda a: weight * (car["rolling"] * math.cos(a) + math.sin(a)) - best, -0.5, 1.5)
    return math.tan(angle)


@pytest.mark.parametrize("number", range(3))
def test_steepest_slope_agrees_with_a_search(number: int) -> None:
    """Closed form against scipy's bounded search and root finder, gear by gear."""
    climb = steepest_climb(gearbox_ratios=RATIOS, **CAR)

    assert math.tan(climb.slope_angle[number]) == pytest.approx(slope_by_search(RATIOS[number], **CAR), rel=1e-6)


def test_a_shorter_gear_climbs_more_and_a_heavier_car_less() -> None:
    """The signs of both effects are pinned."""
    climb = steepest_climb(gearbox_ratios=RATIOS, **CAR).slope_angle
    heavy = steepest_climb(gearbox_ratios=RATIOS, **CAR | {"mass": 1500.0}).slope_angle

    assert climb[0] > climb[1] > climb[2] > 0
    assert (heavy < climb).all()


def test_grip_caps_the_low_gears_only() -> None:
    """The tyres' slope stands where the torque would climb more."""
    climb = steepest_climb(gearbox_ratios=RATIOS, grip_share=0.35, **CAR)

    assert np.tan(climb.slope_angle[0]) == pytest.approx(0.35)
    assert climb.slope_angle[2] == climb.by_torque[2]


def test_a_gear_too_long_for_the_level_has_a_negative_slope() -> None:
    """It would need a downhill."""
    assert steepest_climb(gearbox_ratios=[0.1], **CAR).slope_angle[0] < 0


def test_torque_beyond_every_slope_is_upright() -> None:
    """Where the pull beats the weight the torque knows no limit."""
    assert steepest_climb(gearbox_ratios=[9.0], **CAR).by_torque[0] == pytest.approx(math.pi / 2)


def test_without_drag_the_peak_of_torque_decides() -> None:
    """No air: the best speed is that of the highest torque."""
    climb = steepest_climb(gearbox_ratios=[1.0], **CAR | {"drag_area": 0.0})

    assert climb.speed[0] == pytest.approx(350.0 * 0.31 / 3.7)


def test_many_cars_at_once_are_each_car_alone() -> None:
    """Arrays of cars give what one car gives, and one bad car is nan alone."""
    masses = np.array([1000.0, 1250.0, -1.0])
    both = steepest_climb(gearbox_ratios=np.array([RATIOS] * 3), **CAR | {"mass": masses}).slope_angle

    assert both[1] == pytest.approx(steepest_climb(gearbox_ratios=RATIOS, **CAR).slope_angle)
    assert np.isnan(both[2]).all()
    assert np.isfinite(both[:2]).all()


def test_a_limiter_below_the_curve_has_no_answer() -> None:
    """Nothing is known of an engine below the first point of its curve."""
    assert np.isnan(steepest_climb(gearbox_ratios=RATIOS, **CAR | {"rev_limit": 70.0}).slope_angle).all()


def test_an_engine_that_pulls_hardest_at_the_end_of_its_curve_climbs_best_there() -> None:
    """A limiter far beyond the curve takes nothing off its last piece."""
    car = CAR | {"torques": [120.0, 150.0, 180.0, 220.0, 300.0], "rev_limit": 800.0}
    climb = steepest_climb(gearbox_ratios=[2.4], **car)

    assert climb.speed[0] == pytest.approx(650.0 * 0.31 / (2.4 * 3.7))
    assert math.tan(climb.by_torque[0]) == pytest.approx(slope_by_search(2.4, **car | {"rev_limit": 650.0}), rel=1e-6)
