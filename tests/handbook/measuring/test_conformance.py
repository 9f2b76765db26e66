"""Conformance: symmetry, tails, shared readings, limits of validity."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from trialfit.handbook.measuring import conformance

READING, UNCERTAINTY = st.floats(-100, 100), st.floats(0.01, 50)


@given(READING, UNCERTAINTY, READING)
def test_to_keep_an_upper_limit_is_to_fail_it_as_a_lower_one(reading: float, u: float, limit: float) -> None:
    """Both probabilities make one; and both are those of the normal distribution."""
    upper, lower = conformance.conformance_upper(reading, u, limit), conformance.conformance_lower(reading, u, limit)

    assert upper + lower == pytest.approx(1.0)
    assert upper == pytest.approx(norm.cdf(limit, reading, u), rel=1e-9, abs=1e-300)


@given(UNCERTAINTY, st.floats(0.5, 0.9999))
def test_a_reading_clear_by_its_guard_band_conforms_with_that_probability(u: float, probability: float) -> None:
    """Either side."""
    band = conformance.guard_band(u, probability)

    assert conformance.conformance_lower(band, u, 0.0) == pytest.approx(probability)
    assert conformance.conformance_upper(-band, u, 0.0) == pytest.approx(probability)


@given(st.lists(st.floats(-10, 10).filter(lambda part: part == 0 or abs(part) > 1e-9), min_size=1, max_size=6))
def test_independent_spreads_add_up_to_less_than_the_worst_case(parts: list[float]) -> None:
    """And never to less than the largest of them."""
    statistical, worst = conformance.root_sum_square(parts), conformance.worst_case(parts)

    assert max(map(abs, parts)) * (1 - 1e-12) <= statistical <= worst * (1 + 1e-12)


def test_correlation_runs_from_difference_to_sum() -> None:
    """Fully shared, two equal spreads double or vanish; independent, they are the root sum square."""
    c, u = np.array([1.0, 1.0]), np.array([0.2, 0.2])
    shared = np.ones((2, 2))

    assert conformance.combined(c, u, shared) == pytest.approx(0.4)
    assert conformance.combined(c * [1, -1], u, shared) == pytest.approx(0.0, abs=1e-12)
    assert conformance.combined(c, u) == pytest.approx(conformance.root_sum_square(c * u))


def test_the_freedom_of_a_single_input_stays_its_own() -> None:
    """And inputs known exactly take nothing from it."""
    assert conformance.effective_freedom(np.array([2.0, 0.0]), np.array([7.0, np.inf])) == pytest.approx(7.0)
    assert conformance.effective_freedom(np.array([1.0, 1.0]), np.array([np.inf, np.inf])) == np.inf


# The standard deviations of the distributions themselves.
def test_half_widths_give_the_standard_deviation_of_their_distribution() -> None:
    """Against the mean square on a fine grid of probabilities."""
    share = (np.arange(200_000) + 0.5) / 200_000
    rectangular = 2 * share - 1
    triangular = np.where(share < 0.5, np.sqrt(2 * share) - 1, 1 - np.sqrt(2 * (1 - share)))
    arcsine = np.sin(np.pi * (share - 0.5))

    assert conformance.standard_of_rectangular(1.0) == pytest.approx(rectangular.std(), rel=1e-5)
    assert conformance.standard_of_triangular(1.0) == pytest.approx(triangular.std(), rel=1e-5)
    assert conformance.standard_of_arcsine(1.0) == pytest.approx(arcsine.std(), rel=1e-5)
    assert conformance.standard_of_resolution(2.0) == pytest.approx(rectangular.std(), rel=1e-5)


@pytest.mark.parametrize(
    "value",
    [
        conformance.conformance_upper(1.0, 0.0, 2.0),
        conformance.conformance_lower(1.0, -1.0, 2.0),
        conformance.guard_band(-1.0),
        conformance.guard_band(1.0, 1.0),
        conformance.guard_band(1.0, 0.4),
        conformance.combined(np.array([1.0]), np.array([-1.0])),
        conformance.combined(np.ones(2), np.ones(2), np.array([[1.0, 2.0], [2.0, 1.0]])),
        conformance.effective_freedom(np.array([1.0]), np.array([0.0])),
        conformance.standard_of_rectangular(-1.0),
    ],
)
def test_outside_its_range_a_formula_says_nothing(value: float) -> None:
    """Nothing that looks like a number."""
    assert np.isnan(value)


def test_many_readings_at_once() -> None:
    """Arrays in, arrays out; one bad draw spoils no other."""
    found = conformance.conformance_lower(np.array([13.0, 12.0, np.nan]), 0.5, 12.0)

    assert found[:2] == pytest.approx([0.97725, 0.5], abs=1e-5)
    assert np.isnan(found[2])
    assert isinstance(conformance.conformance_lower(13.0, 0.5, 12.0), float)
