"""Conformance and the adding up of spreads against worked examples, plain draws and another library."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.stats import norm
from uncertainties import correlated_values, ufloat

from trialfit.handbook.measuring import conformance

DRAWS = 200_000


# Measurement Systems, ch. 3, example 3.2: power 2πRFL/t of a dynamometer, R 1202 ± 1 turns, F 45 ± 0.18 N, L 0.397 ±
# 0.00127 m, t 60 ± 0.5 s: 2248.7 W; worst case 36.80 W, root sum square 22.08 W; 72 % of it is the time.
def test_power_of_a_dynamometer() -> None:
    """Within 0.1 %; the same from the `uncertainties` library, and from draws within 1 %."""
    values, spreads = np.array([1202.0, 45.0, 0.397, 60.0]), np.array([1.0, 0.18, 0.00127, 0.5])
    power = 2 * math.pi * values[0] * values[1] * values[2] / values[3]
    contributions = power / values * [1, 1, 1, -1] * spreads
    turns, force, arm, time = (ufloat(value, spread) for value, spread in zip(values, spreads, strict=True))
    library = 2 * math.pi * turns * force * arm / time
    drawn = np.random.default_rng(3).normal(values, spreads, (DRAWS, 4)).T

    assert power == pytest.approx(2248.7, rel=1e-3)
    assert conformance.worst_case(contributions) == pytest.approx(36.80, rel=1e-3)
    assert conformance.root_sum_square(contributions) == pytest.approx(22.08, rel=1e-3)
    assert contributions[3] ** 2 / np.sum(contributions**2) == pytest.approx(0.72, abs=0.005)
    assert conformance.root_sum_square(contributions) == pytest.approx(library.std_dev, rel=1e-9)
    assert np.std(2 * math.pi * drawn[0] * drawn[1] * drawn[2] / drawn[3]) == pytest.approx(library.std_dev, rel=0.01)


# JCGM 100:2008 (GUM), H.1, end-gauge calibration, nm and K: l = l_s + d − l_s·(δα·θ + α·δθ) = 50 000 838 nm, u 31.66 nm
# (printed 32), effective degrees of freedom 16.75 (printed 16). Degrees of freedom of the inputs 18; 24, 5, 8; 50; 2.
def test_end_gauge_of_the_gum() -> None:
    """Within 0.2 %; the same from the `uncertainties` library, and from draws within 1 %."""
    length, expansion, mean, swing = 50_000_623.0, 11.5e-6, -0.1, 0.5
    difference_expansion = conformance.standard_of_rectangular(1e-6)
    difference_temperature = conformance.standard_of_rectangular(0.05)
    temperature = conformance.root_sum_square([0.2, conformance.standard_of_arcsine(swing)])
    sensitivities = np.array([1, 1, 1, 1, -length * mean, -length * expansion, 0.0])
    uncertainties = np.array([25, 5.8, 3.9, 6.7, difference_expansion, difference_temperature, temperature])
    freedoms = np.array([18, 24, 5, 8, 50, 2, np.inf])
    u = conformance.combined(sensitivities, uncertainties)

    inputs = [ufloat(0, spread) for spread in uncertainties]
    gauge = inputs[0] + length + 215 + sum(inputs[1:4])
    library = gauge - length * (inputs[4] * (mean + inputs[6]) + expansion * inputs[5])
    rng = np.random.default_rng(1)
    drawn = rng.normal(0, [25, 5.8, 3.9, 6.7], (DRAWS, 4)).sum(axis=1)
    drawn -= length * (rng.uniform(-1e-6, 1e-6, DRAWS) * mean + expansion * rng.uniform(-0.05, 0.05, DRAWS))

    assert u == pytest.approx(31.66, rel=2e-3)
    assert conformance.effective_freedom(sensitivities * uncertainties, freedoms) == pytest.approx(16.75, rel=2e-3)
    assert library.nominal_value == pytest.approx(50_000_838, abs=0.5)
    assert library.std_dev == pytest.approx(u, rel=1e-9)
    assert drawn.std() == pytest.approx(u, rel=0.01)


# JCGM 101:2008, 9.2.3, from memory: four rectangular inputs of standard uncertainty 1: shortest 95 % interval ±3.88, where
# the normal law gives ±3.92.
def test_sum_of_four_rectangular_inputs() -> None:
    """Normal law within 0.2 %; the true interval from a numeric convolution within 0.2 %, from draws within 1 %."""
    half, steps = math.sqrt(3), 2001
    step = 2 * half / (steps - 1)
    box = np.full(steps, 1 / (2 * half))
    box[[0, -1]] /= 2  # trapezoidal ends
    density = box
    for _ in range(3):
        density = np.convolve(density, box) * step
    below = np.cumsum(density) * step
    place = (np.arange(len(density)) - (len(density) - 1) / 2) * step
    drawn = np.random.default_rng(2).uniform(-half, half, (DRAWS, 4)).sum(axis=1)

    one = conformance.standard_of_rectangular(half)
    assert conformance.guard_band(conformance.root_sum_square([one] * 4)) == pytest.approx(3.92, rel=2e-3)
    assert np.interp(0.975, below, place + step / 2) == pytest.approx(3.880, rel=2e-3)
    assert np.quantile(drawn, 0.975) == pytest.approx(3.880, rel=0.01)


# JCGM 106:2012, 7.3.3, example 1, from memory: upper limit −5.40 V, reading −5.47 V, u 0.05 V: 0.92.
def test_probability_of_conformance_to_an_upper_limit() -> None:
    """Within 0.2 %, and the normal distribution of scipy within 1e-12."""
    found = conformance.conformance_upper(-5.47, 0.05, -5.40)

    assert found == pytest.approx(0.92, rel=2e-3)
    assert found == pytest.approx(norm.cdf(-5.40, -5.47, 0.05), rel=1e-12)


# Closed form, any table of the normal distribution: Φ(2) = 0.9772. Taped 13.0 ± 1.0 mm (k = 2), 12.0 mm wanted: kept for
# 0.975 (durability), not yet for 0.995 (safety). Bands 0.98·U and 1.29·U with U = 2u.
def test_a_taped_gap_one_spread_clear_of_its_limit() -> None:
    """Within 0.05 %; the same by the width of the guard band."""
    u = 0.5

    assert conformance.conformance_lower(13.0, u, 12.0) == pytest.approx(0.9772, rel=5e-4)
    assert conformance.guard_band(u, 0.975) < 13.0 - 12.0 < conformance.guard_band(u, 0.995)
    assert conformance.guard_band(u, 0.975) == pytest.approx(0.98 * 2 * u, abs=0.005)
    assert conformance.guard_band(u, 0.995) == pytest.approx(1.29 * 2 * u, abs=0.005)


# ISO 14253-1:2017, as summarised on two public pages (the standard was not seen): 95 % unless agreed otherwise; normal
# table: 1.645, 1.960 and 2.576.
@pytest.mark.parametrize(("probability", "printed"), [(0.95, 1.645), (0.975, 1.960), (0.995, 2.576)])
def test_guard_band_in_standard_uncertainties(probability: float, printed: float) -> None:
    """To the last printed digit."""
    assert conformance.guard_band(1.0, probability) == pytest.approx(printed, abs=5e-4)


# Mechanical Engineering Design, 9th ed., ch. 1, example from memory: 1.750 ± 0.003 less 0.750 ± 0.001, 0.120 ± 0.005 and
# 0.875 ± 0.001 in: gap 0.005, worst case ± 0.010, statistical ± 0.006 in.
def test_gap_of_a_stack() -> None:
    """To the last printed digit."""
    tolerances = [0.003, 0.001, 0.005, 0.001]

    assert 1.750 - 0.750 - 0.120 - 0.875 == pytest.approx(0.005, abs=1e-9)  # noqa: SIM300
    assert conformance.worst_case(tolerances) == pytest.approx(0.010, abs=1e-9)
    assert conformance.root_sum_square(tolerances) == pytest.approx(0.006, abs=5e-4)


# The `uncertainties` library as reference: linear results of correlated inputs.
def test_correlated_inputs_of_a_linear_result() -> None:
    """Two working angles that share one reading: their difference is 2·s_p − s_g − s_a. Within 1e-6."""
    sensitivities, u = np.array([1.0, -2.0, 1.0]), np.array([0.10, 0.12, 0.09])
    correlations = np.array([[1, 0.3, -0.2], [0.3, 1, 0.5], [-0.2, 0.5, 1]])
    readings = correlated_values([2.0, 3.5, 1.0], correlations * np.outer(u, u))
    library = sum(c * reading for c, reading in zip(sensitivities, readings, strict=True))

    assert conformance.combined(sensitivities, u, correlations) == pytest.approx(library.std_dev, rel=1e-6)


# Draws as reference: an angle from two readings of ± 0.2° (k = 2) is good to ± 0.28°; the difference of the two working
# angles, which reads the shaft twice, to ± 0.49°. Derived.
def test_spread_of_working_angles_and_of_their_difference() -> None:
    """To the last printed digit; draws within 1 %."""
    drawn = np.random.default_rng(4).normal(0, 0.1, (DRAWS, 3)).T
    difference = 2 * drawn[1] - drawn[0] - drawn[2]

    assert conformance.root_sum_square([0.2, -0.2]) == pytest.approx(0.28, abs=0.005)
    assert conformance.root_sum_square([0.2, -0.4, 0.2]) == pytest.approx(0.49, abs=0.005)
    assert 2 * difference.std() == pytest.approx(conformance.root_sum_square([0.2, -0.4, 0.2]), rel=0.01)
