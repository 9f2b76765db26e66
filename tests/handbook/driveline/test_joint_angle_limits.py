"""Limits of joint angles by speed: the table, what lies between its rows and what lies outside."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.constants import REVOLUTION_PER_MINUTE
from trialfit.handbook.driveline import joint_angle_limits as limits
from trialfit.handbook.driveline.shaft_lines import direction, residual_angle, torsional_acceleration


@given(st.floats(1500, 5000), st.floats(1500, 5000))
def test_a_faster_shaft_may_bend_less(one: float, other: float) -> None:
    """Monotone between all rows."""
    slow, fast = sorted([one, other])
    allowed = limits.largest_joint_angle(np.array([slow, fast]) * REVOLUTION_PER_MINUTE)

    assert allowed[0] >= allowed[1]


@given(st.floats(1500, 5000))
def test_between_the_rows_the_acceleration_stays_between_theirs(rpm: float) -> None:
    """855 to 1024 rad/s²."""
    speed = rpm * REVOLUTION_PER_MINUTE

    assert 854 < torsional_acceleration(limits.largest_joint_angle(speed), speed) < 1025


@pytest.mark.parametrize("rpm", [0.0, 1499.0, 5001.0, 7000.0, np.nan])
def test_outside_the_printed_table_there_is_no_figure(rpm: float) -> None:
    """The table is not drawn out beyond its ends."""
    assert np.isnan(limits.largest_joint_angle(rpm * REVOLUTION_PER_MINUTE))


@given(st.floats(0, 2000), st.floats(1, 900))
def test_angle_and_acceleration_are_each_others_inverse(acceleration: float, speed: float) -> None:
    """Round trip."""
    assert torsional_acceleration(limits.angle_for_acceleration(acceleration, speed), speed) == pytest.approx(
        acceleration
    )


@given(st.floats(0, 8), st.floats(150, 700))
def test_the_second_angle_leaves_just_the_acceleration_allowed(first: float, speed: float) -> None:
    """The largest second angle, put into a line in one plane, comes out at 400 rad/s²."""
    second = math.degrees(limits.largest_second_angle(math.radians(first), 400.0, speed))
    line = direction(np.radians([0.0, first, first - second]))

    assert torsional_acceleration(residual_angle(line), speed) == pytest.approx(400.0, rel=1e-6)


def test_what_makes_no_sense_is_nan() -> None:
    """A negative acceleration, a shaft that stands still."""
    assert np.isnan(limits.angle_for_acceleration(-1.0, 100.0))
    assert np.isnan(limits.angle_for_acceleration(1000.0, 0.0))
    assert np.isnan(limits.largest_second_angle(0.05, 400.0, 0.0))
    assert np.isnan(limits.largest_second_angle(np.nan, 400.0, 100.0))
