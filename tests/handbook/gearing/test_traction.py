"""Does the grip of the driven axle behave, and does it agree with the axle loads it stands on?"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.gearing.road_load import gradeability_by_grip
from trialfit.handbook.gearing.traction import (
    axle_loads,
    best_wheel_share,
    grip_all_drive,
    grip_front_drive,
    grip_open_solid_axle,
    grip_rear_drive,
)

MASS, BASE, TO_CENTRE, HEIGHT = 1200.0, 2.55, 1.30, 0.52
WEIGHT = MASS * 9.80665
AXLE = {"track": 1.4, "wheel_radius": 0.31, "final_ratio": 3.9, "front_roll_stiffness": 3.0, "rear_roll_stiffness": 1.0}
grips = st.floats(0.05, 1.5)


@given(grips)
def test_rear_grip_is_the_load_that_it_brings_about_itself(grip: float) -> None:
    """F = μ·F_rear at the acceleration F/m, without iteration."""
    force = grip_rear_drive(grip, MASS, BASE, TO_CENTRE, HEIGHT)
    _, rear = axle_loads(MASS, BASE, TO_CENTRE, HEIGHT, acceleration=force / MASS)

    assert force == pytest.approx(grip * rear)


@given(grips)
def test_front_grip_is_the_load_that_it_leaves_itself(grip: float) -> None:
    """F = μ·F_front at the acceleration F/m."""
    force = grip_front_drive(grip, MASS, BASE, TO_CENTRE, HEIGHT)
    front, _ = axle_loads(MASS, BASE, TO_CENTRE, HEIGHT, acceleration=force / MASS)

    assert force == pytest.approx(grip * front)


@given(grips)
def test_the_steepest_slope_by_grip_is_where_the_driven_axle_gives_way(grip: float) -> None:
    """m·g·sin θ = μ·F_rear on that slope, at a standstill."""
    angle = gradeability_by_grip(grip_rear_drive(grip, MASS, BASE, TO_CENTRE, HEIGHT) / WEIGHT)
    _, rear = axle_loads(MASS, BASE, TO_CENTRE, HEIGHT, slope_angle=angle)

    assert WEIGHT * math.sin(angle) == pytest.approx(grip * rear)


def test_standing_loads_add_up_to_the_weight() -> None:
    """And the axle nearer to the centre of gravity bears more."""
    front, rear = axle_loads(MASS, BASE, TO_CENTRE)

    assert front + rear == pytest.approx(WEIGHT)
    assert rear == pytest.approx(WEIGHT * TO_CENTRE / BASE)
    assert rear > front


def test_height_helps_the_rear_and_hurts_the_front() -> None:
    """The sign of the load transfer is pinned."""
    assert grip_rear_drive(0.8, MASS, BASE, TO_CENTRE, 0.6) > grip_rear_drive(0.8, MASS, BASE, TO_CENTRE, 0.5)
    assert grip_front_drive(0.8, MASS, BASE, TO_CENTRE, 0.6) < grip_front_drive(0.8, MASS, BASE, TO_CENTRE, 0.5)


def test_an_open_solid_axle_grips_less_than_a_locked_one() -> None:
    """The more the front springs resist roll, the more; without them nothing is lost."""
    locked = grip_rear_drive(0.8, MASS, BASE, TO_CENTRE, HEIGHT)
    opened = grip_open_solid_axle(0.8, MASS, BASE, TO_CENTRE, HEIGHT, **AXLE)
    stiff_front = grip_open_solid_axle(0.8, MASS, BASE, TO_CENTRE, HEIGHT, **(AXLE | {"front_roll_stiffness": 9.0}))
    no_front = grip_open_solid_axle(0.8, MASS, BASE, TO_CENTRE, HEIGHT, **(AXLE | {"front_roll_stiffness": 0.0}))

    assert stiff_front < opened < locked
    assert no_front == pytest.approx(locked)


def test_all_wheels_grip_most() -> None:
    """Each axle alone is below the sum, whatever the height."""
    assert grip_all_drive(0.8, MASS) == pytest.approx(0.8 * WEIGHT)
    assert grip_rear_drive(0.8, MASS, BASE, TO_CENTRE, HEIGHT) < grip_all_drive(0.8, MASS)


def test_no_answer_where_the_front_axle_would_lift() -> None:
    """μ·h may not pass l_r: beyond it the car rears up before its tyres give way."""
    high = np.array([1.55, 1.57])

    assert np.isfinite(grip_rear_drive(0.8, MASS, BASE, TO_CENTRE, high)).tolist() == [True, False]
    assert np.isfinite(grip_open_solid_axle(0.8, MASS, BASE, TO_CENTRE, high, **AXLE)).tolist() == [True, False]
    front, rear = axle_loads(MASS, BASE, TO_CENTRE, HEIGHT, acceleration=30.0)
    assert np.isnan(front)
    assert np.isnan(rear)


def test_what_cannot_be_is_nan() -> None:
    """A centre of gravity behind the rear axle, no wheelbase, no track, no mass."""
    assert np.isnan(grip_rear_drive(0.8, MASS, BASE, 2.6, HEIGHT))
    assert np.isnan(grip_front_drive(0.8, MASS, 0.0, 0.0, HEIGHT))
    assert np.isnan(grip_front_drive(-0.1, MASS, BASE, TO_CENTRE, HEIGHT))
    assert np.isnan(grip_all_drive(0.8, -1.0))
    assert np.isnan(grip_open_solid_axle(0.8, MASS, BASE, TO_CENTRE, HEIGHT, **(AXLE | {"track": 0.0})))
    no_springs = AXLE | {"front_roll_stiffness": 0.0, "rear_roll_stiffness": 0.0}
    assert np.isnan(grip_open_solid_axle(0.8, MASS, BASE, TO_CENTRE, HEIGHT, **no_springs))


def test_draws_of_any_fact_broadcast() -> None:
    """Acceleration and slope may have more axes than the car."""
    front, rear = axle_loads(np.full((3, 1), MASS), BASE, TO_CENTRE, HEIGHT, acceleration=np.zeros(4))

    assert np.shape(front) == np.shape(rear) == (3, 4)
    assert np.shape(grip_rear_drive(np.ones((3, 1)) * 0.8, np.full(4, MASS), BASE, TO_CENTRE, HEIGHT)) == (3, 4)


@pytest.mark.parametrize(
    ("grip", "height", "track"), [(0.9, 0.5, 1.5), (0.95, 0.47, 1.42), (1.2, 1.4, 1.2), (0.3, 0.5, 1.5)]
)
def test_the_best_a_wheel_can_drive_with_is_the_largest_of_all_corners(grip, height, track):
    """Load of the outer wheel times what the friction circle leaves, searched over all cornering forces."""
    cornering = np.linspace(0, 1, 200_001)
    loaded = np.minimum(0.5 + cornering * grip * height / track, 1.0)

    assert best_wheel_share(grip, height, track) == pytest.approx((loaded * np.sqrt(1 - cornering**2)).max(), abs=1e-6)


def test_a_rear_drive_whose_front_axle_is_just_off_the_ground_pulls_with_its_whole_weight():
    """μ·h = l_r: all load is behind. A little more grip and the front axle lifts."""
    assert grip_rear_drive(1.0, 1000.0, 2.5, 1.5, 1.0) == pytest.approx(1000.0 * 9.80665)
    assert np.isnan(grip_rear_drive(1.001, 1000.0, 2.5, 1.5, 1.0))
