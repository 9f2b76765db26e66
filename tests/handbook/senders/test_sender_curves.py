"""Senders, gauges and the resistors between them: signs, round trips, ends of the range."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.senders.e_series import SERIES, e_series
from trialfit.handbook.senders.sender_curves import (
    is_on_scale,
    resistance_at,
    resistance_by_beta,
    shown_at,
    steinhart_hart,
    temperature_by_beta,
    thermistor_resistance,
    thermistor_temperature,
)
from trialfit.handbook.senders.sender_resistors import (
    best_pair,
    corrected_resistance,
    ends_right,
    reading_errors,
    resistor_powers,
)

CONSTANTS = steinhart_hart([253.15, 313.15, 373.15], [15971.0, 1152.0, 175.7])
LEVELS = np.linspace(0, 1, 21)


@given(st.floats(233.15, 413.15))
def test_a_thermistor_goes_there_and_back(kelvins: float) -> None:
    """Temperature to resistance to temperature, by both formulas."""
    by_three = thermistor_temperature(thermistor_resistance(kelvins, *CONSTANTS), *CONSTANTS)
    by_beta = temperature_by_beta(resistance_by_beta(kelvins, 2044.0, 298.15, 3619.0), 2044.0, 298.15, 3619.0)

    assert (by_three, by_beta) == pytest.approx((kelvins, kelvins), rel=1e-9)


def test_a_warmer_thermistor_has_less_resistance() -> None:
    """The sign is pinned."""
    assert thermistor_resistance(363.15, *CONSTANTS) < thermistor_resistance(353.15, *CONSTANTS)


def test_two_equal_points_give_no_thermistor() -> None:
    """Three points that are two."""
    assert np.isnan(steinhart_hart([300.0, 300.0, 350.0], [1000.0, 1000.0, 100.0])).all()


@given(st.floats(0, 1), st.booleans())
def test_a_gauge_on_its_own_sender_is_right(level: float, rising: bool) -> None:  # noqa: FBT001 - drawn
    """Whichever way the resistance runs."""
    ohms = [10.0, 60.0, 180.0] if rising else [180.0, 60.0, 10.0]
    places = [0.0, 0.4, 1.0]

    assert shown_at(resistance_at(level, places, ohms), places, ohms) == pytest.approx(level, abs=1e-9)


def test_a_temperature_gauge_on_its_own_sender_is_right_between_its_points() -> None:
    """Both bend the same way."""
    places, ohms, between = np.array([313.15, 353.15, 393.15]), [290.0, 70.0, 23.0], np.array([320.0, 345.0, 380.0])
    seen = resistance_at(between, places, ohms, by_temperature=True)

    assert shown_at(seen, places, ohms, by_temperature=True) == pytest.approx(between, abs=1e-9)


def test_beyond_its_curve_a_sender_is_not_known_and_a_needle_rests_on_its_stop() -> None:
    """One is nan, the other a place, and is_on_scale tells."""
    assert np.isnan(resistance_at([-0.1, 1.1], [0.0, 1.0], [240.0, 33.0])).all()
    assert shown_at([500.0, 0.0], [0.0, 1.0], [240.0, 33.0]).tolist() == [0.0, 1.0]
    assert shown_at(0.0, [313.15, 393.15], [290.0, 23.0], by_temperature=True) == pytest.approx(393.15)
    assert is_on_scale([500.0, 100.0, 0.0], [240.0, 33.0]).tolist() == [False, True, False]
    assert np.isnan(shown_at(-1.0, [0.0, 1.0], [240.0, 33.0]))


def test_a_curve_that_turns_is_refused_in_words() -> None:
    """A needle could stand in two places."""
    with pytest.raises(ValueError, match="must all rise or all fall from point to point, as in 240, 100, 33 Ω"):
        shown_at(50.0, [0.0, 0.5, 1.0], [10.0, 90.0, 20.0])
    with pytest.raises(ValueError, match="two points or more that rise in what is measured"):
        resistance_at(0.5, [1.0, 0.0], [10.0, 90.0])


@given(st.floats(20, 500), st.floats(0, 200), st.floats(1, 1e4))
def test_a_resistor_across_lowers_and_one_in_series_lifts(sender: float, series: float, parallel: float) -> None:
    """The signs are pinned; without resistors nothing changes."""
    assert corrected_resistance(sender, 0.0, parallel) < sender
    assert corrected_resistance(sender, series, np.inf) == pytest.approx(sender + series)
    assert corrected_resistance(sender, 0.0, np.inf) == sender


@given(st.floats(100, 500), st.floats(5, 60), st.floats(0.2, 0.95))
def test_the_pair_for_the_ends_makes_both_ends_right(empty: float, full: float, share: float) -> None:
    """Wherever it exists: the gauge runs over less than the sender."""
    low = full + share * (empty - full)
    series, parallel = ends_right(empty, full, low, full)
    if np.isnan(series):
        assert np.isnan(parallel)
        return

    assert corrected_resistance(empty, series, parallel) == pytest.approx(low, rel=1e-9)
    assert corrected_resistance(full, series, parallel) == pytest.approx(full, rel=1e-9)


def test_the_wrong_way_round_cannot_be_cured() -> None:
    """A sender that falls on a gauge that rises."""
    assert np.isnan(ends_right(240.0, 33.0, 0.0, 90.0)).all()


def test_a_fixed_shift_needs_a_resistor_in_series_alone() -> None:
    """Equal spans: nothing across."""
    assert ends_right(100.0, 20.0, 110.0, 30.0) == (10.0, np.inf)


def test_the_best_pair_is_no_worse_than_the_one_for_the_ends() -> None:
    """Over the whole scale, although its values are preferred numbers."""
    ohms, scale = 180 - 170 * LEVELS, ([0.0, 1.0], [75.0, 10.0])
    series, parallel = ends_right(180.0, 10.0, 75.0, 10.0)
    ends = reading_errors(LEVELS, corrected_resistance(ohms, series, parallel), *scale, by_temperature=False)
    best = best_pair(LEVELS, ohms, *scale, "E24", by_temperature=False)

    assert best.largest_error <= np.abs(ends).max()
    assert {best.series, best.parallel} <= {0.0, np.inf, *e_series("E24", 0.01, 1e5)}


def test_the_best_pair_found_by_a_search_of_another_kind() -> None:
    """A minimiser over real numbers (scipy) does not do much better than the finest series."""
    from scipy.optimize import minimize

    ohms, scale = 180 - 170 * LEVELS, ([0.0, 1.0], [75.0, 10.0])

    def worst(logs: np.ndarray) -> float:
        seen = corrected_resistance(ohms, np.exp(logs[0]), np.exp(logs[1]))
        return float(np.abs(reading_errors(LEVELS, seen, *scale, by_temperature=False)).max())

    free = minimize(worst, np.log([0.5, 105.0]), method="Nelder-Mead", options={"xatol": 1e-6, "fatol": 1e-9})
    best = best_pair(LEVELS, ohms, *scale, "E96", by_temperature=False)

    assert best.largest_error == pytest.approx(free.fun, abs=0.005)


def test_a_sender_that_fits_gets_no_resistor() -> None:
    """None in series, none across, no error."""
    best = best_pair(LEVELS, 240 - 207 * LEVELS, [0.0, 1.0], [240.0, 33.0], "E24", by_temperature=False)

    assert (best.series, best.parallel, best.largest_error) == (0.0, np.inf, pytest.approx(0, abs=1e-9))


def test_what_counts_more_is_brought_closer() -> None:
    """A weight on one place lowers the error there."""
    ohms, scale = 180 - 170 * LEVELS, ([0.0, 1.0], [75.0, 10.0])
    heavy = np.where(np.isclose(LEVELS, 0.1), 5.0, 1.0)

    def left_at_a_tenth(weights: np.ndarray | float) -> float:
        pair = best_pair(LEVELS, ohms, *scale, "E24", by_temperature=False, weights=weights)
        seen = corrected_resistance(ohms, pair.series, pair.parallel)
        return float(np.abs(reading_errors(LEVELS, seen, *scale, by_temperature=False))[2])

    assert left_at_a_tenth(heavy) < left_at_a_tenth(1.0)


@given(st.floats(6, 28), st.floats(0, 200), st.floats(1, 500), st.floats(1, 300), st.floats(10, 1000))
def test_all_the_heat_comes_out_of_the_supply(
    volts: float, own: float, sender: float, series: float, parallel: float
) -> None:
    """Gauge, both resistors and the sender together take V·I."""
    seen = float(corrected_resistance(sender, series, parallel))
    current = volts / (own + seen)
    in_series, across = resistor_powers(volts, own, sender, series, parallel)
    in_sender = (current * (seen - series)) ** 2 / sender

    assert in_series + across + in_sender + current**2 * own == pytest.approx(volts * current, rel=1e-9)


def test_a_short_circuit_and_negative_resistors_are_not_worked_out() -> None:
    """nan, and no number of watts."""
    assert np.isnan(resistor_powers(12.0, 0.0, 0.0, 0.0, 100.0)).all()
    assert np.isnan(corrected_resistance(-1.0, 0.0, 100.0))


@pytest.mark.parametrize("name", SERIES)
def test_a_series_holds_as_many_values_as_its_name_says(name: str) -> None:
    """Evenly enough that its usual tolerance reaches from one value half-way to the next."""
    values = e_series(name, 100, 999.9)

    assert values.size == int(name[1:])
    assert (np.diff(values) > 0).all()
    steps = np.append(values, 1000.0)
    assert (steps[1:] / steps[:-1]).max() < ((1 + SERIES[name]) / (1 - SERIES[name])) * 1.05


def test_what_is_no_series_is_refused_in_words() -> None:
    """With the names there are."""
    with pytest.raises(ValueError, match='"E25" is not a series of preferred numbers: expected one of E3, E6'):
        e_series("E25", 1, 10)
    with pytest.raises(ValueError, match="two bounds that rise from above 0, such as 1 and 1000"):
        e_series("E24", 0, 10)


def test_three_points_in_degrees_celsius_give_no_thermistor() -> None:
    """The formula counts from absolute zero; a resistance of nothing has no logarithm either."""
    assert np.isnan(steinhart_hart([-20.0, 40.0, 100.0], [15971.0, 1152.0, 175.7])).all()
    assert np.isnan(steinhart_hart([253.15, 313.15, 373.15], [15971.0, 1152.0, 0.0])).all()


def test_a_temperature_gauge_that_ends_at_a_short_circuit_is_read_along_a_straight_line() -> None:
    """0 Ω has no logarithm: half of 240 Ω stands half-way."""
    assert shown_at([240.0, 120.0, 0.0], [300.0, 400.0], [240.0, 0.0], by_temperature=True) == pytest.approx(
        [300.0, 350.0, 400.0]
    )
