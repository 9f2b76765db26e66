"""Grip of one axle, reversing and with all wheels driven: it behaves as statics says it must."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.gearing.axle_grip import (
    grip_front_of_all_drive_reversing,
    grip_rear_of_all_drive,
    grip_reversing_front_drive,
    grip_reversing_open_solid_axle,
    grip_reversing_rear_drive,
)
from trialfit.handbook.gearing.traction import (
    axle_loads,
    grip_all_drive,
    grip_front_drive,
    grip_open_solid_axle,
    grip_rear_drive,
)

CAR = {"mass": 1250.0, "wheelbase": 2.55, "front_axle_to_gravity_centre": 1.30, "gravity_centre_height": 0.50}
AXLE = {
    "track": 1.45,
    "wheel_radius": 0.31,
    "final_ratio": 3.7,
    "front_roll_stiffness": 60.0,
    "rear_roll_stiffness": 40.0,
}
SOME_GRIP = st.floats(0.1, 1.2)


@given(SOME_GRIP)
def test_the_force_is_the_grip_of_the_load_it_moves(grip) -> None:
    """Independent of the closed form: the force found must be μ times the axle load at the acceleration it gives."""
    rear = grip_reversing_rear_drive(grip, **CAR)
    front = grip_reversing_front_drive(grip, **CAR)

    assert rear == pytest.approx(grip * axle_loads(**CAR, acceleration=-rear / CAR["mass"])[1])
    assert front == pytest.approx(grip * axle_loads(**CAR, acceleration=-front / CAR["mass"])[0])


@given(SOME_GRIP)
def test_the_axles_of_all_drive_add_up(grip) -> None:
    """At μ·g the rear axle's share and the front axle's are the whole grip of the car."""
    rear = grip_rear_of_all_drive(grip, **CAR)
    front = grip * axle_loads(**CAR, acceleration=grip * STANDARD_GRAVITY)[0]

    assert rear + front == pytest.approx(grip_all_drive(grip, CAR["mass"]))


def test_reversing_takes_load_off_the_rear_and_puts_it_on_the_front() -> None:
    """The sign of the effect is pinned."""
    assert grip_reversing_rear_drive(0.9, **CAR) < grip_rear_drive(0.9, **CAR)
    assert grip_reversing_front_drive(0.9, **CAR) > grip_front_drive(0.9, **CAR)


def test_all_drive_can_load_the_rear_axle_more_than_rear_drive() -> None:
    """The front tyres help to gain speed, and that moves load to the rear."""
    assert grip_rear_of_all_drive(0.9, **CAR) > grip_rear_drive(0.9, **CAR)
    assert grip_front_of_all_drive_reversing(0.9, **CAR) > grip_reversing_front_drive(0.9, **CAR)


def test_an_open_solid_axle_loses_to_a_locked_one_and_more_so_in_reverse() -> None:
    """One wheel is lifted either way round; in reverse the axle is lighter too."""
    reversing = grip_reversing_open_solid_axle(0.9, **CAR, **AXLE)

    assert reversing < grip_reversing_rear_drive(0.9, **CAR)
    assert reversing < grip_open_solid_axle(0.9, **CAR, **AXLE)


def test_without_front_springs_an_open_axle_loses_nothing() -> None:
    """The front springs are what holds the body against the axle: none of them, no lifted wheel."""
    axle = AXLE | {"front_roll_stiffness": 0.0}

    assert grip_reversing_open_solid_axle(0.9, **CAR, **axle) == pytest.approx(grip_reversing_rear_drive(0.9, **CAR))


def test_outside_of_its_range_each_is_nan() -> None:
    """A centre of mass behind the rear axle, an axle that would lift, a negative grip."""
    assert np.isnan(grip_reversing_rear_drive(0.9, **(CAR | {"front_axle_to_gravity_centre": 2.6})))
    assert np.isnan(grip_reversing_front_drive(0.9, **(CAR | {"gravity_centre_height": 1.6})))
    assert np.isnan(grip_rear_of_all_drive(0.9, **(CAR | {"gravity_centre_height": 1.6})))
    assert np.isnan(grip_rear_of_all_drive(-0.1, **CAR))
    assert np.isnan(grip_reversing_open_solid_axle(0.9, **CAR, **(AXLE | {"track": 0.0})))


def test_arrays_in_arrays_out_with_one_bad_draw_nan() -> None:
    """One bad draw among sound ones is nan, the others stay."""
    forces = grip_reversing_rear_drive(np.array([0.8, -1.0]), **CAR)

    assert np.isfinite(forces[0])
    assert np.isnan(forces[1])
