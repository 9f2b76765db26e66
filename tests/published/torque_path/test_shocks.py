"""Shocks, converters, semi-floating shafts and conical nuts against figures worked out or printed elsewhere."""

from __future__ import annotations

import math

import numpy as np
import pytest

from trialfit.handbook.fastening.fasteners import nut_factor_of_friction, preload_of_torque
from trialfit.handbook.torque_path import semi_floating, shocks, torque_converter, torsion

# One small car for three worked cases, time stepped in 400,000 steps: 150 N·m, clutch 225 N·m, 3.6·3.9, 900 kg, 0.28 m, both
# half-shafts together 16 000 N·m/rad, 0.018 kg·m² behind the clutch, 0.168 kg·m² in all, two wheels 1.6 kg·m².
RATIO = 3.6 * 3.9
CAR = 900 * 0.28**2
GRIP = 1.0 * 0.55 * 900 * 9.81 * 0.28


@pytest.mark.parametrize(("damping", "peak"), [(0.0, 6016), (0.05, 5578), (0.10, 5201)])
def test_a_dropped_clutch_while_the_tyres_hold(damping, peak):
    """2.86, 2.65 and 2.47 times the engine's torque; 1.90, 1.77 and 1.65 times the clutch's."""
    assert shocks.clutch_drop_peak(225.0, RATIO, 0.018, CAR, damping) == pytest.approx(peak, abs=0.6)


def test_without_slip_the_stored_energy_is_several_times_the_clutch():
    """3000 rpm, 0.15 kg·m²: 1096 N·m at the input, 4.9 times the clutch; the car shuffles at 4.24 Hz, the driven side at 10.95 Hz."""
    peak = shocks.stored_energy_peak(3000 * math.pi / 30, 16e3 / RATIO**2, 0.15)

    assert peak == pytest.approx(1096, abs=0.6)
    assert peak / 225 == pytest.approx(4.9, abs=0.05)
    assert shocks.shuffle_frequency(16e3, 0.168 * RATIO**2, CAR) == pytest.approx(4.24, abs=0.005)
    assert shocks.shuffle_frequency(16e3, 0.018 * RATIO**2, CAR) == pytest.approx(10.95, abs=0.005)


@pytest.mark.parametrize(("damping", "peak"), [(0.0, 2516), (0.05, 2353), (0.10, 2212)])
def test_a_spinning_axle_regains_its_grip(damping, peak):
    """From 0.2 to 1.0: 1.85, 1.73 and 1.63 times what the tyres hold."""
    found = shocks.grip_regained_peak(GRIP, 150 * RATIO, 0.168 * RATIO**2, 1.6, 0.2, damping)

    assert found == pytest.approx(peak, abs=0.6)


# A question page on converters: torque ratio 2.23, 2.07, 1.97, 1.84 at speed ratio 0, 0.1, 0.2, 0.3 and 1.00 at 1;
# K 137.46 rpm per root of lb·ft at stall. Two public calculators print n·√T for K, which has the wrong unit.
def test_a_converter_stalls_an_engine():
    """150 N·m against K 118 rpm per root of N·m: 1446 rpm."""
    factor = 137.46 / math.sqrt(1.35582) * math.pi / 30

    assert factor * 30 / math.pi == pytest.approx(118, abs=0.5)
    assert torque_converter.stall_speed(factor, 150.0) * 30 / math.pi == pytest.approx(1446, abs=0.5)
    assert torque_converter.capacity_factor(1446 * math.pi / 30, 150.0) == pytest.approx(factor, rel=1e-3)


@pytest.mark.parametrize(("speed_ratio", "printed"), [(0.0, 2.23), (0.1, 2.07), (0.2, 1.97), (0.3, 1.84), (1.0, 1.0)])
def test_torque_ratio_of_a_converter(speed_ratio, printed):
    """A straight line to the coupling point, within 0.04 of the printed curve."""
    assert torque_converter.torque_ratio(speed_ratio, 2.23) == pytest.approx(printed, abs=0.04)


def test_a_semi_floating_shaft_bends_as_much_in_a_bend_as_over_a_bump():
    """A bar of 30 mm, 350 kg on the wheel, 60 mm of overhang: bump 155 MPa, with torsion 429; in a bend 456 MPa."""
    load = 350 * 9.81
    bump = semi_floating.bending_stress(semi_floating.bearing_moment(2 * load, 0.060), 0.030)
    turned = torsion.shear_stress(1360 / 2 * 1.8, 0.030)
    bend = semi_floating.bearing_moment(1.6 * load, 0.060, 1.6 * load, 0.28)

    assert bump / 1e6 == pytest.approx(155, abs=0.6)
    assert turned / 1e6 == pytest.approx(231, abs=0.6)
    assert semi_floating.combined_stress(bump, turned) / 1e6 == pytest.approx(429, abs=0.6)
    assert abs(bend) == pytest.approx(1209, abs=0.6)
    assert semi_floating.bending_stress(abs(bend), 0.030) / 1e6 == pytest.approx(456, abs=0.6)


@pytest.mark.parametrize(
    ("friction", "flat", "cone", "clamps"),
    [(0.10, 0.140, 0.206, (60, 40)), (0.15, 0.199, 0.299, (42, 28)), (0.20, 0.259, 0.393, (32, 21))],
)
def test_a_conical_nut_clamps_less(friction, flat, cone, clamps):
    """M12 x 1.5, seat 16 mm, 60 degrees: nut factor flat and on the cone; kN at 100 N·m."""
    factors = [nut_factor_of_friction(0.012, 0.0015, friction, friction, 0.016 / sine) for sine in (1.0, 0.5)]
    loads = [float(preload_of_torque(100.0, factor, 0.012)) / 1e3 for factor in factors]

    assert np.allclose(factors, [flat, cone], atol=6e-4)
    assert np.allclose(loads, clamps, atol=0.6)
