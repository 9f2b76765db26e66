"""Shocks, converters, semi-floating shafts, splines and conical nuts: signs, limits and what bounds what."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.torque_path import semi_floating, shocks, splines, torque_converter, wheel_joint

TORQUES = st.floats(10, 1e4)


@given(TORQUES, TORQUES, st.floats(1, 3), st.floats(1, 3))
def test_a_shock_is_bounded_by_either_side(drive, grip, by_drive, by_grip):
    """What slips first sets it."""
    peak = shocks.shock_peak(drive, grip, by_drive, by_grip)

    assert peak == pytest.approx(min(by_drive * drive, by_grip * grip))


@given(st.floats(0, 0.9), st.floats(0, 0.9))
def test_damping_takes_from_the_swing(one, other):
    """Without any, a shaft swings to twice its torque."""
    low, high = sorted((one, other))

    assert shocks.overshoot(0.0) == 1
    assert shocks.overshoot(high) <= shocks.overshoot(low)


def test_a_stiffer_shaft_is_hit_harder():
    """By the square root."""
    assert shocks.stored_energy_peak(300.0, 400.0, 0.15) == pytest.approx(
        2 * shocks.stored_energy_peak(300.0, 100.0, 0.15)
    )


@given(st.floats(8, 25), st.floats(100, 300))
def test_an_engine_of_even_torque_stalls_where_one_torque_says(factor, torque):
    """A flat curve and a single figure are the same engine."""
    curve = np.array([20.0, 300.0, 900.0]), np.full(3, torque)

    assert torque_converter.stall_speed_of_curve(factor, *curve) == pytest.approx(
        torque_converter.stall_speed(factor, torque)
    )


def test_a_stall_speed_lies_on_the_curve():
    """There, the converter takes just what the engine makes."""
    speeds, torques = np.array([100.0, 250.0, 500.0]), np.array([140.0, 210.0, 170.0])
    for factor in (6.0, 14.0, 20.0, 33.0):
        speed = float(torque_converter.stall_speed_of_curve(factor, speeds, torques))
        assert (speed / factor) ** 2 == pytest.approx(np.interp(speed, speeds, torques))


def test_a_converter_too_loose_for_the_curve_says_nothing():
    """The engine reaches the end of its curve before the converter holds it."""
    curve = np.array([100.0, 300.0]), np.array([150.0, 150.0])

    assert np.isnan(torque_converter.stall_speed_of_curve(40.0, *curve))
    assert np.isnan(torque_converter.multiplied_torque(310.0, 2.0, *curve))


def test_a_converter_multiplies_the_best_torque_from_its_stall_speed_on():
    """Stalled below the peak, the engine still gets there; stalled above, it never does."""
    curve = np.array([100.0, 300.0, 600.0]), np.array([120.0, 200.0, 110.0])

    assert torque_converter.multiplied_torque(150.0, 2.0, *curve) == pytest.approx(400)
    assert torque_converter.multiplied_torque(450.0, 2.0, *curve) == pytest.approx(310)


def test_the_inner_wheel_bends_its_shaft_the_other_way():
    """Side force towards the middle on the outer wheel, away from it on the inner one."""
    outer = semi_floating.bearing_moment(4000.0, 0.06, 4000.0, 0.3)
    inner = semi_floating.bearing_moment(2000.0, 0.06, -2000.0, 0.3)

    assert outer == pytest.approx(-960)
    assert inner == pytest.approx(720)


def test_a_spline_carries_by_its_flanks():
    """Twice the length carries twice the torque."""
    short = splines.flank_torque(150e6, 24, 0.028, 0.0256, 0.02)

    assert splines.flank_torque(150e6, 24, 0.028, 0.0256, 0.04) == pytest.approx(2 * short)


@given(st.floats(5e3, 40e3), st.floats(0.08, 0.3))
def test_cones_hold_at_least_what_friction_holds(preload, friction):
    """A wheel that has to climb out of its cones needs more than one that slides on its face."""
    sliding = wheel_joint.wheel_slip_torque(4, preload, friction, 0.05)
    shear = wheel_joint.stud_shear_force(88e-6, 640e6, preload)

    assert wheel_joint.locked_torque(4, preload, friction, 0.05, shear, friction) > sliding
    assert wheel_joint.seat_friction(friction) == pytest.approx(2 * friction)
    assert wheel_joint.seat_friction(friction, np.pi / 2) == pytest.approx(friction)


def test_a_stud_past_its_yield_carries_nothing_across():
    """Nothing that looks like a number."""
    assert np.isnan(wheel_joint.stud_shear_force(88e-6, 640e6, 60e3))
