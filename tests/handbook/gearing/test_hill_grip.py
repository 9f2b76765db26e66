"""Grip on a hill against moments taken about the front wheels, load by load."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from trialfit.handbook.gearing.hill_grip import BALL_HEIGHT, grip_share_on_hill
from trialfit.handbook.gearing.traction import grip_front_drive, grip_open_solid_axle, grip_rear_drive

G = 9.80665


def slope_by_moments(
    friction: float, body: float, body_behind: float, nose: float, overhang: float, behind: float, *, rear: bool
) -> float:
    """Slope at which the drive force that holds car and trailer is all that the driven axle carries; wheelbase 2.5, h 0.55."""
    wheelbase, height = 2.5, 0.55

    def left_over(slope: float) -> float:
        along, across = math.sin(slope), math.cos(slope)
        pull_at_ball = behind * G * along
        rear_load = (
            body * G * across * body_behind
            + body * G * along * height
            + nose * G * across * (wheelbase + overhang)
            + nose * G * along * height
            + pull_at_ball * BALL_HEIGHT
        ) / wheelbase
        front_load = (body + nose) * G * across - rear_load
        return friction * (rear_load if rear else front_load) - (body + nose + behind) * G * along

    return brentq(left_over, 0.0, 1.2)


@pytest.mark.parametrize("rear", [True, False])
def test_with_a_trailer_against_moments(*, rear: bool) -> None:
    body, to_front, nose, overhang, behind = 1500.0, 1.3, 70.0, 0.9, 1130.0
    at_rear = body * to_front / 2.5 + nose * (2.5 + overhang) / 2.5
    driven = at_rear if rear else body + nose - at_rear
    share = grip_share_on_hill(0.6, driven, body + nose, body + nose + behind, 2.5, 0.55, 1.0 if rear else -1.0)

    slope = slope_by_moments(0.6, body, to_front, nose, overhang, behind, rear=rear)
    assert share == pytest.approx(math.tan(slope), rel=1e-9)


def test_without_a_trailer_it_is_the_grip_on_the_level() -> None:
    weight = 1200 * G
    rear = grip_rear_drive(0.8, 1200, 2.5, 1.3, 0.5) / weight
    front = grip_front_drive(0.8, 1200, 2.5, 1.3, 0.5) / weight
    open_axle = grip_open_solid_axle(0.8, 1200, 2.5, 1.3, 0.5, 1.4, 0.3, 3.7, 0.6, 0.4) / weight
    on_rear, lifted = 1200 * 1.3 / 2.5, 2 * 0.8 * 0.3 / (3.7 * 1.4) * 0.6

    assert grip_share_on_hill(0.8, on_rear, 1200, 1200, 2.5, 0.5, 1.0) == pytest.approx(rear)
    assert grip_share_on_hill(0.8, 1200 - on_rear, 1200, 1200, 2.5, 0.5, -1.0) == pytest.approx(front)
    assert grip_share_on_hill(0.8, on_rear, 1200, 1200, 2.5, 0.5, 1.0, lifted) == pytest.approx(open_axle)
    assert grip_share_on_hill(0.8, 1200, 1200, 2000, 2.5, 0.5, 0.0) == pytest.approx(0.8 * 1200 / 2000)


def test_no_car_climbs_steeper_than_where_its_front_lifts() -> None:
    """A tractor's weight on soft tyres: the slope at which the line of the weight passes behind the rear wheels."""
    assert grip_share_on_hill(1.5, 1000, 1200, 1200, 2.0, 1.0, 1.0) == pytest.approx(200 / 1200 * 2.0 / 1.0)


def test_outside_of_the_range_there_is_no_figure() -> None:
    assert np.isnan(grip_share_on_hill(0.8, 1300, 1200, 1200, 2.5, 0.5, 1.0))
    assert np.isnan(grip_share_on_hill(0.8, 600, 1200, 1100, 2.5, 0.5, 1.0))
    assert np.isnan(grip_share_on_hill(-0.1, 600, 1200, 1200, 2.5, 0.5, 1.0))
