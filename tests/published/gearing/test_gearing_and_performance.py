"""Gearing and performance against values printed or worked out elsewhere; the source stands beside each."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from trialfit.handbook.constants import INCH, POUND, POUND_FORCE, STANDARD_GRAVITY
from trialfit.handbook.gearing.launch import clutch_slip
from trialfit.handbook.gearing.motion import time_and_distance_of_gain
from trialfit.handbook.gearing.performance import (
    effective_mass,
    top_speed,
    top_speed_from_power,
)
from trialfit.handbook.gearing.ratios import road_speed, speed_after_shift
from trialfit.handbook.gearing.road_load import gradeability_by_grip, road_load
from trialfit.handbook.gearing.traction import grip_all_drive, grip_front_drive, grip_open_solid_axle, grip_rear_drive
from trialfit.handbook.gearing.tyres import ROLLING_RULE_SPREAD, read_size, rolling_circumference

RPM = 2 * math.pi / 60


# Arithmetic on the ISO 4000-1 designation and the ETRTO factor 3.05 (from memory): derived, no print.
def test_a_common_size_gives_diameter_circumference_and_radius() -> None:
    """205/55 R16: D 631.9 mm, U 1.9273 m, r_d 306.7 mm, within 0.05 %."""
    diameter = read_size("205/55 R16").free_diameter

    assert diameter == pytest.approx(0.6319, rel=5e-4)
    assert rolling_circumference(diameter) == pytest.approx(1.9273, rel=5e-4)
    assert rolling_circumference(diameter) / (2 * math.pi) == pytest.approx(0.3067, rel=5e-4)


# Web encyclopaedia of engineering, tyre rolling radius and circumference, a fit to two makers' data books:
# 245/35 R17 has a rolling radius of 295 mm and a circumference of 1854 mm. Our rule reads 0.75 % lower.
def test_the_rolling_rule_is_within_its_spread_of_a_published_fit() -> None:
    """245/35 R17: D 603.3 mm; U and r_d within the 1.5 % that the rule claims."""
    diameter = read_size("245/35 R17").free_diameter

    assert diameter == pytest.approx(0.6033, abs=0.00005)
    assert rolling_circumference(diameter) == pytest.approx(1.854, rel=ROLLING_RULE_SPREAD)
    assert rolling_circumference(diameter) / (2 * math.pi) == pytest.approx(0.295, rel=ROLLING_RULE_SPREAD)
    assert rolling_circumference(diameter) / 1.854 - 1 == pytest.approx(-0.0075, abs=0.0005)


# Hydraulics maker's formula page, rolling radius of driving tyre: r = 168·R·v/n, worked example ratio 10, 15 mph,
# 1680 rpm gives 15.0 in (the exact factor is 168.07).
def test_rolling_radius_from_speed_and_engine_speed() -> None:
    """The speed on that radius is the example's 15 mph within 0.1 %."""
    speed = road_speed(1680 * RPM, 15.0 * INCH, 10.0, 1.0)

    assert speed / 0.44704 == pytest.approx(15.0, rel=1e-3)


# Derived by arithmetic from U = 1.9273 m, no print.
def test_speed_per_thousand_turns_in_direct_gear() -> None:
    """Axle 3.73: 31.002 km/h per 1000 rpm, 186.01 km/h at 6000 rpm, within 0.05 %."""
    radius = 1.9273 / (2 * math.pi)

    assert road_speed(1000 * RPM, radius, 1.00, 3.73) * 3.6 == pytest.approx(31.002, rel=5e-4)
    assert road_speed(6000 * RPM, radius, 1.00, 3.73) * 3.6 == pytest.approx(186.01, rel=5e-4)


# Fundamentals of Vehicle Dynamics (SAE), ch. 2, worked example as recalled (0.304 g and 0.330 g), recomputed.
def test_grip_of_a_solid_axle_with_open_and_locked_differential() -> None:
    """Open 1201 lb and 0.3040 g, locked 1304 lb and 0.3302 g, within 0.2 %."""
    mass, wheelbase, to_centre = (2100 + 1850) * POUND, 108 * INCH, 108 * INCH * 1850 / 3950
    axle = (59.0 * INCH, 13.0 * INCH, 2.90, 1150.0, 280.0)
    opened = grip_open_solid_axle(0.62, mass, wheelbase, to_centre, 21.0 * INCH, *axle)
    locked = grip_rear_drive(0.62, mass, wheelbase, to_centre, 21.0 * INCH)

    assert opened / POUND_FORCE == pytest.approx(1201, rel=2e-3)
    assert locked / POUND_FORCE == pytest.approx(1304, rel=2e-3)
    assert opened / mass / STANDARD_GRAVITY == pytest.approx(0.3040, rel=2e-3)
    assert locked / mass / STANDARD_GRAVITY == pytest.approx(0.3302, rel=2e-3)


# scipy.integrate.quad, and the closed form t = m/√(kF)·artanh(v√(k/F)), x = m/2k·ln(F/(F − kv²)), F net of rolling.
def test_constant_pull_from_rest_to_100_km_h() -> None:
    """1200 kg, 4000 N: 8.8797 s and 125.03 m within 0.01 %; quadrature and closed form within 1e-9."""
    force, rolling, square, speed = 4000.0, 0.012 * 1200 * 9.80665, 0.5 * 1.2 * 0.665, 100 / 3.6
    begin, drag = np.zeros(()), np.array(square / 1200)
    time, way = time_and_distance_of_gain(np.array(speed), begin, np.array((force - rolling) / 1200), begin, drag)

    assert time == pytest.approx(8.8797, rel=1e-4)
    assert way == pytest.approx(125.03, rel=1e-4)
    net = force - rolling
    assert time == pytest.approx(1200 / math.sqrt(square * net) * math.atanh(speed * math.sqrt(square / net)), rel=1e-9)
    assert way == pytest.approx(1200 / (2 * square) * math.log(net / (net - square * speed**2)), rel=1e-9)
    assert time == pytest.approx(quad(lambda v: 1200 / (net - square * v**2), 0, speed)[0], rel=1e-9)
    assert way == pytest.approx(quad(lambda v: 1200 * v / (net - square * v**2), 0, speed)[0], rel=1e-9)


# scipy.optimize.brentq on the power balance.
def test_top_speed_by_power() -> None:
    """120 kW at the wheels, 1300 kg: 234.33 km/h within 0.05 %; the root finder within 1e-9."""
    found = top_speed_from_power(120e3, 1300.0, 0.012, 0.665, 1.2)

    assert found * 3.6 == pytest.approx(234.33, rel=5e-4)
    assert found == pytest.approx(
        brentq(lambda v: road_load(v, 1300.0, 0.012, 0.665, 1.2) * v - 120e3, 1, 200), rel=1e-9
    )


# Derived: 6500·2.00/3.30.
def test_engine_speed_after_a_shift() -> None:
    """From 6500 rpm, 3.30 to 2.00: 3939 rpm within 0.05 %."""
    assert speed_after_shift(6500 * RPM, 3.30, 2.00) / RPM == pytest.approx(3939, rel=5e-4)


# Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory.
def test_mass_factor_in_first_gear() -> None:
    """Total ratio 12.21: 1.4127 within 0.05 %."""
    assert effective_mass(1.0, 12.21) == pytest.approx(1.4127, rel=5e-4)


# Derived by statics, no print.
def test_steepest_grade_by_grip() -> None:
    """μ 0.8, l_f 1.30, l_r 1.25, h 0.52 m: rear 0.4873, front 0.3372, all wheels 0.8 (tan θ), within 0.05 %."""
    weight = 1200 * STANDARD_GRAVITY
    rear = grip_rear_drive(0.8, 1200.0, 2.55, 1.30, 0.52)
    front = grip_front_drive(0.8, 1200.0, 2.55, 1.30, 0.52)

    assert np.tan(gradeability_by_grip(rear / weight)) == pytest.approx(0.4873, rel=5e-4)
    assert np.tan(gradeability_by_grip(front / weight)) == pytest.approx(0.3372, rel=5e-4)
    assert np.tan(gradeability_by_grip(grip_all_drive(0.8, 1200.0) / weight)) == pytest.approx(0.8, rel=1e-12)


# Theory of Machines, friction clutches, exercise on a cone clutch and flywheel: the heat of slip is ½·I·ω² of the
# flywheel brought to speed (13.5 kg, radius of gyration 150 mm, 1000 rpm: printed 1674 J, exact 1665.5 J; 4.1 s).
def test_slip_heat_of_a_body_brought_to_speed() -> None:
    """The car takes the flywheel's place: equal inertia seen from the clutch, printed torque 7.8 N·m."""
    inertia = 13.5 * 0.150**2
    start = clutch_slip(
        engine_speed=1000 * RPM,
        clutch_torque=7.8,
        total_ratio=1.0,
        efficiency=1.0,
        rolling_radius=1.0,
        mass=inertia,
        decoupled_mass=inertia,
        rolling=0.0,
    )

    assert start.heat == pytest.approx(1665.5, abs=0.1)
    assert start.heat == pytest.approx(1674, rel=0.01)
    assert start.time == pytest.approx(4.1, rel=0.01)


# scipy.optimize.brentq on F(v) − R(v), written out without the handbook.
def test_top_speed_on_the_whole_curve_against_a_root_finder() -> None:
    """In every gear of an invented car the pull and the load balance, or the limiter comes first."""
    turns, torques = np.array([1000, 3000, 5000, 6500]) * RPM, np.array([140.0, 185.0, 170.0, 110.0])
    ratios, final, radius, mass = np.array([3.5, 2.1, 1.4, 1.0, 0.8]), 3.9, 0.30, 1150.0
    result = top_speed(
        engine_speeds=turns,
        torques=torques,
        gearbox_ratios=ratios,
        final_ratio=final,
        efficiency=0.92,
        rolling_radius=radius,
        mass=mass,
        rolling=0.01,
        rolling_doubling_speed=44.8,
        drag_area=0.68,
        air_density=1.2,
        rev_limit=6300 * RPM,
    )

    for ratio, speed in zip(ratios, result.speed, strict=True):

        def surplus(v: float, total: float = ratio * final) -> float:
            pull = float(np.interp(v * total / radius, turns, torques)) * total * 0.92 / radius
            return pull - mass * 9.80665 * 0.01 * (1 + v / 44.8) - 0.5 * 1.2 * 0.68 * v * v

        limit = 6300 * RPM * radius / (ratio * final)
        expected = limit if surplus(limit) >= 0 else brentq(surplus, limit / 2, limit, xtol=1e-12)
        assert speed == pytest.approx(expected, rel=1e-9)
