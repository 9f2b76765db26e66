"""Shocks by the equations of motion, integrated, against the closed forms and factors that the program goes by."""

from __future__ import annotations

import sys
from dataclasses import replace

import numpy as np
from tests.independent.torque_path.cars import peaks, some_cars, swings
from thorough import some

from trialfit.handbook.torque_path import shocks

MANY = some(400)


def tell(text):
    """A line for who runs it with -s."""
    sys.stdout.write(f"{text}\n")


def worst(found, formula):
    """Largest disagreement over the formula, printed."""
    off = float(np.max(np.abs(found / formula - 1)))
    tell(f"worst disagreement {off:.2e} of {found.size}")
    return off


def test_a_dropped_clutch_while_the_tyres_hold_swings_as_the_closed_form_says():
    """Within 1e-4; a shaft that bears a little less or more falls on the same side of its limit by both."""
    cars = some_cars(MANY, 1)
    nothing = np.zeros(MANY)
    found = swings(cars.driven_inertia, cars.car_inertia, cars.shafts, cars.damping, cars.clutch, nothing, nothing)
    formula = shocks.clutch_drop_peak(cars.clutch, 1.0, cars.driven_inertia, cars.car_inertia, cars.damping)

    assert worst(found, formula) < 1e-4
    for share in (0.99, 1.01):
        assert np.array_equal(found <= share * formula, np.full(MANY, share > 1))


def test_wheels_that_grip_again_swing_as_the_closed_form_says():
    """Within 1e-4, from grips of 0.1 to 0.5 of the high one."""
    cars = some_cars(MANY, 2)
    low = np.linspace(0.1, 0.5, MANY)
    driving = cars.engine_inertia + cars.driven_inertia
    found = swings(driving, cars.wheel_inertia, cars.shafts, cars.damping, cars.engine, cars.grip, low * cars.grip)
    formula = shocks.grip_regained_peak(cars.grip, cars.engine, driving, cars.wheel_inertia, low, cars.damping)
    swinging = low * cars.grip < 0.9 * cars.grip

    assert worst(found[swinging], formula[swinging]) < 1e-4


def test_the_car_shuffles_at_the_frequency_of_two_masses():
    """Half of a period of the undamped swing, by the place of its peak; within the step of 1/4000."""
    cars = some_cars(MANY, 3)
    nothing = np.zeros(MANY)
    both = np.sqrt(cars.shafts * (1 / cars.engine_inertia + 1 / cars.car_inertia)) / 2 / np.pi
    half = swings(cars.engine_inertia, cars.car_inertia, cars.shafts, nothing, cars.engine, nothing, nothing)
    still = cars.engine * cars.car_inertia / (cars.car_inertia + cars.engine_inertia)

    assert worst(half, 2 * still) < 1e-4
    assert worst(shocks.shuffle_frequency(cars.shafts, cars.engine_inertia, cars.car_inertia), both) < 1e-12


def test_the_factors_of_a_dropped_clutch_span_what_cars_do():
    """Neither side is passed by more than one car of twenty; and the peaks are not far below what the factors say."""
    cars = some_cars(MANY, 4)
    found = peaks(cars, dropped=True)
    most = shocks.shock_peak(cars.clutch, cars.grip, 1.95, 2.7)
    least = shocks.shock_peak(cars.clutch, cars.grip, 1.55, 1.4)
    tell(f"over the most in {np.mean(found > most):.1%}, under the least in {np.mean(found < least):.1%} of {MANY}")
    tell(f"peak over grip, 5, 50, 95 %: {np.percentile(found / cars.grip, [5, 50, 95]).round(2)}")

    assert np.mean(found > most) <= 0.05
    assert np.mean(found < 0.9 * least) <= 0.10
    assert np.median(found / cars.grip) > 1.3


def test_the_factors_of_regained_grip_span_what_cars_do():
    """The same, for wheels that turn 5 to 25 rad/s faster than the road when they grip."""
    cars = some_cars(MANY, 5)
    found = peaks(cars, dropped=False, spinning=np.linspace(5, 25, MANY))
    most = shocks.shock_peak(cars.clutch, cars.grip, 1.95, 1.8)
    tell(f"over the most in {np.mean(found > most):.1%} of {MANY}")
    tell(f"peak over grip, 5, 50, 95 %: {np.percentile(found / cars.grip, [5, 50, 95]).round(2)}")

    assert np.mean(found > most) <= 0.05
    assert np.median(found / shocks.shock_peak(cars.clutch, cars.grip, 1.75, 1.65)) > 0.85


def test_where_the_tyres_hold_everything_the_clutch_is_the_fuse():
    """Tyres that never slide: at most twice the clutch's capacity, however the pedal is let go."""
    cars = some_cars(MANY, 6)
    found = peaks(replace(cars, grip=50 * cars.grip), dropped=True)

    assert np.all(found <= 2.0 * cars.clutch)
    assert np.median(found / cars.clutch) > 1.05
