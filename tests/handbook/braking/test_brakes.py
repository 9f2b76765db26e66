"""Brakes: what both axles do adds up, the valve only ever takes from the rear, and reach is where grip is used up."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from trialfit.handbook.braking.brakes import (
    adhesion_utilisation,
    force_over_pressure,
    front_share,
    line_pressure,
    reach,
    rear_force,
    synchronous_rate,
    wheel_torque,
)

CAR = (2.6, 1.15, 0.54)
CARS = st.tuples(st.floats(1.8, 4.0), st.floats(0.3, 0.7), st.floats(0.2, 1.0)).map(
    lambda car: (car[0], car[0] * car[1], car[2])
)
SHARES = st.floats(0.05, 0.95)
CORNERS = st.one_of(st.just(np.inf), st.floats(0.05, 1.0))
SLOPES = st.floats(0, 1)


@given(car=CARS, share=SHARES, rate=st.floats(0.01, 0.9), corner=CORNERS, slope=SLOPES)
def test_grip_used_times_load_is_the_whole_braking(car, share, rate, corner, slope) -> None:
    """k_f·N_f + k_r·N_r = z·m·g."""
    length, to_centre, height = car
    assume(to_centre > rate * height + 0.01)
    front, rear = adhesion_utilisation(rate, share, *car, corner, slope)
    loads = (length - to_centre + rate * height) / length, (to_centre - rate * height) / length

    assert front * loads[0] + rear * loads[1] == pytest.approx(rate)


@given(car=CARS, share=SHARES, grip=st.floats(0.05, 1.2), corner=CORNERS, slope=SLOPES)
def test_at_its_reach_an_axle_uses_the_whole_grip(car, share, grip, corner, slope) -> None:
    """k(z_f) = μ in front and k(z_r) = μ at the rear, with a valve or without."""
    front, rear = reach(grip, share, *car, corner, slope)

    assert adhesion_utilisation(rear, share, *car, corner, slope)[1] == pytest.approx(grip, rel=1e-6)
    if front * car[2] < 0.99 * car[1]:
        assert adhesion_utilisation(front, share, *car, corner, slope)[0] == pytest.approx(grip, rel=1e-6)


@given(car=CARS, share=SHARES)
def test_at_the_synchronous_rate_both_axles_use_the_same_grip_which_is_that_rate(car, share) -> None:
    """k_f = k_r = z_s; below it the front uses more, above it the rear."""
    rate = synchronous_rate(share, *car)
    assume(rate > 0.02 and rate * car[2] < 0.95 * car[1])
    used = adhesion_utilisation(rate, share, *car)
    gentler, harder = (adhesion_utilisation(factor * rate, share, *car) for factor in (0.98, 1.01))

    assert used == pytest.approx((rate, rate))
    assert gentler[0] > gentler[1]
    assert harder[0] < harder[1]


@given(share=SHARES, rate=st.floats(0, 1.5), corner=st.floats(0, 1.5), slope=SLOPES)
def test_a_valve_only_takes_from_the_rear_and_never_gives_pressure_back(share, rate, corner, slope) -> None:
    """Between a rear held where the valve began, and one without a valve; pressures of both axles follow the slope."""
    free, held = rear_force(rate, share), rear_force(rate, share, corner, slope)

    assert min(free, (1 - share) * corner) - 1e-12 <= held <= free + 1e-12
    if rate > corner:
        front_pressure, rear_pressure = (rate - held) / share, held / (1 - share)
        assert rear_pressure - corner == pytest.approx(slope * (front_pressure - corner), abs=1e-9)


def test_figures_worked_out_by_hand() -> None:
    """M 1240 kg, l_f 1.15, h 0.54, L 2.6 m, 70 % in front: z_s = (1.82 − 1.45)/0.54; 70 bar on 54 mm, μ 0.38, 115 mm."""
    assert synchronous_rate(0.70, *CAR) == pytest.approx(0.37 / 0.54)
    assert adhesion_utilisation(0.8, 0.70, *CAR) == pytest.approx((0.7736, 0.8691), abs=5e-5)
    assert min(reach(0.8, 0.70, *CAR)) == pytest.approx(0.7591, abs=5e-5)
    assert wheel_torque(69.99e5, np.pi / 4 * 0.054**2, 0.115, 0.76) == pytest.approx(1401, abs=0.5)


def test_the_front_share_is_that_of_areas_radii_and_friction_over_tyre_radii() -> None:
    """Twice the area, 3/2 the radius, the same pads, tyres 5/4 as large: 2.4 to 1."""
    front, rear = force_over_pressure(20e-4, 0.12, 0.8, 0.375), force_over_pressure(10e-4, 0.08, 0.8, 0.3)

    assert front_share(front, rear) == pytest.approx(2.4 / 3.4)


def test_an_axle_without_brakes_never_locks() -> None:
    """Nor one with so little that its load grows faster than its brake force; a rear axle without brakes lifts first."""
    assert reach(0.8, 0.0, *CAR)[0] == np.inf
    assert reach(0.8, 0.1, *CAR)[0] == np.inf
    assert reach(0.8, 1.0, *CAR)[1] == pytest.approx(1.15 / 0.54)


def test_outside_their_range_formulas_give_nan_for_that_draw_alone() -> None:
    """Centre of mass behind the rear axle, rear axle lifted, share above 1, no cylinder, negative pressure."""
    used = adhesion_utilisation(np.array([0.5, 0.5, 2.5]), 0.7, 2.6, np.array([1.15, 2.7, 1.15]), 0.54)
    for one in used:
        assert np.isnan(one).tolist() == [False, True, True]
    assert np.isnan(rear_force(0.5, np.array([0.7, 1.2]))).tolist() == [False, True]
    assert np.isnan(rear_force(-0.1, 0.7))
    assert np.isnan(reach(-0.1, 0.7, *CAR)).all()
    assert np.isnan(synchronous_rate(0.7, 2.6, 1.15, 0.0))
    assert np.isnan(line_pressure(300, 5, 0.9, 0, 0.0))
    assert np.isnan(wheel_torque(-1.0, 1e-3, 0.1, 0.8))
    assert np.isnan(force_over_pressure(1e-3, 0.1, 0.8, 0.0))
    assert np.isnan(front_share(0.0, 0.0))
