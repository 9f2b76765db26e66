"""Readings and corrections: signs, limits, and what must not depend on what."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from scipy import stats

from trialfit.facts.provenance import Provenance, default_spread
from trialfit.facts.quantity import QUANTITIES
from trialfit.handbook.measuring.corrections import (
    METHODS,
    at_temperature,
    crushed_thickness,
    expansion,
    from_datum,
    through_gasket,
)
from trialfit.handbook.measuring.readings import (
    combine,
    normalised_error,
    outlier_limit,
    outlier_statistic,
    scatter,
    student_factor,
    suspect,
)

some_readings = st.lists(st.floats(-1e3, 1e3), min_size=3, max_size=20)


@given(st.floats(1, 200), st.floats(0.5, 0.999))
@example(200.0, 0.9545)
def test_the_factor_is_that_of_a_library(freedom: float, probability: float) -> None:
    """The quantile of scipy for whole degrees of freedom."""
    assert student_factor(freedom, probability) == pytest.approx(
        stats.t.ppf((1 + probability) / 2, int(freedom)), rel=1e-7
    )


def test_the_factor_is_not_worked_out_without_freedom() -> None:
    """Nor for a share of 0 or 1."""
    assert np.isnan([student_factor(0.5), student_factor(3, 1.0), student_factor(3, 0.0)]).all()


@given(some_readings, st.floats(0.001, 10), st.randoms())
def test_the_order_of_readings_changes_nothing(readings: list[float], instrument: float, dice) -> None:
    """Mean and spread."""
    shuffled = list(readings)
    dice.shuffle(shuffled)
    one, other = combine(readings, instrument), combine(shuffled, instrument)

    assert (one.mean, one.expanded) == pytest.approx((other.mean, other.expanded), rel=1e-6, abs=1e-9)


@given(some_readings, st.floats(0.001, 10))
def test_no_number_of_readings_beats_the_instrument(readings: list[float], instrument: float) -> None:
    """What every reading shares does not average out."""
    assert combine(readings, instrument).expanded >= 2 * instrument * (1 - 1e-3)


def test_more_readings_that_scatter_alike_are_known_better() -> None:
    """The sign is pinned."""
    few, many = [1.0, 1.2, 1.1], [1.0, 1.2, 1.1] * 4

    assert combine(many, 0.0).expanded < combine(few, 0.0).expanded


def test_one_reading_is_as_good_as_its_instrument() -> None:
    """It says nothing of the scatter."""
    alone = combine([13.0], 1.0)

    assert np.isnan(alone.scatter)
    assert alone.expanded == pytest.approx(2.0, abs=1e-3)
    assert np.isnan(scatter([13.0]))


def test_two_readings_alone_are_known_badly() -> None:
    """13.97 times the standard uncertainty, not twice."""
    assert combine([13.0, 13.2], 0.0).expanded == pytest.approx(13.97 * 0.1, abs=1e-3)


def test_no_reading_is_refused_in_words() -> None:
    """Nor is one that is not a number."""
    for readings in ([], [1.0, float("nan")]):
        with pytest.raises(ValueError, match="Expected at least one reading, each a finite number"):
            combine(readings, 0.1)


@given(some_readings)
def test_a_reading_far_out_is_suspected_whatever_the_others_are(readings: list[float]) -> None:
    """Among ten alike and one a thousand times their scatter away."""
    base = [readings[0] + 0.001 * (number % 3) for number in range(10)]

    assert suspect([*base, readings[0] + 10.0]) == 10


def test_of_three_readings_the_marks_of_the_instrument_make_no_outlier() -> None:
    """Two of three are the same: by the scatter alone the third is always suspected."""
    assert suspect([11.0, 11.5, 11.0]) == 1
    assert suspect([11.0, 11.5, 11.0], instrument=1.0) is None


def test_nothing_is_suspected_among_two_or_among_equals() -> None:
    """Too few to tell, and no scatter at all."""
    assert suspect([1.0, 9.0]) is None
    assert suspect([1.0, 1.0, 1.0]) is None
    assert np.isnan(outlier_statistic([1.0, 2.0]))
    assert np.isnan(outlier_limit(2))


def test_sound_readings_are_suspected_as_often_as_said() -> None:
    """5 % of sets of six normal readings, by 20,000 draws."""
    sets = np.random.default_rng(7).normal(size=(20_000, 6))
    farthest = np.abs(sets - sets.mean(axis=1, keepdims=True)).max(axis=1) / sets.std(axis=1, ddof=1)

    assert (farthest > outlier_limit(6)).mean() == pytest.approx(0.05, abs=0.005)


def test_two_results_agree_up_to_one() -> None:
    """And exact ones only if they are equal."""
    assert normalised_error(10.0, 3.0, 14.0, 4.0) == pytest.approx(0.8)
    assert normalised_error(10.0, 0.0, 10.0, 0.0) == 0
    assert np.isnan(normalised_error(10.0, 0.0, 10.1, 0.0))


def test_a_gasket_opens_one_gap_and_closes_another() -> None:
    """Both signs, and a crush that lifts nothing."""
    crushed = crushed_thickness(1.5e-3, 0.2)

    assert through_gasket(13e-3, crushed, 1) == pytest.approx(14.2e-3)
    assert through_gasket(13e-3, crushed, -1) == pytest.approx(11.8e-3)
    assert np.isnan(crushed_thickness(1.5e-3, 1.2))
    assert np.isnan(through_gasket(13e-3, crushed, 0))


def test_a_gauge_that_is_wrong_at_zero_is_right_against_a_datum() -> None:
    """Its error is in both readings."""
    assert from_datum(0.06 + 0.01, 0.005 + 0.01) == pytest.approx(0.055)


def test_a_hot_part_is_shorter_when_it_is_cold() -> None:
    """And a hot tool reads too little; one material throughout cancels out to the second order."""
    aluminium, steel = expansion("aluminium"), expansion("steel")

    assert at_temperature(2.0, 333.15, aluminium, 293.15, steel) == pytest.approx(2.0 * (1 - 40 * 23e-6))
    assert at_temperature(2.0, 293.15, steel, 333.15, steel) > 2.0
    assert at_temperature(2.0, 333.15, steel, 333.15, steel) == pytest.approx(2.0, rel=1e-6)
    assert np.isnan(at_temperature(2.0, -1.0, steel, 293.15, steel))


@pytest.mark.parametrize("name", ["tape", "caliper", "angle gauge", "scales"])
def test_a_method_is_as_good_as_the_word_written_behind_a_fact(name: str) -> None:
    """A tape reading has one spread, wherever it is written."""
    method = METHODS[name]
    quantity = QUANTITIES[method.quantity]

    usual = default_spread(quantity, Provenance(method.provenance), 1.0).plus

    assert method.expanded(1.0) == pytest.approx(usual, rel=1e-6)


def test_every_method_names_its_source() -> None:
    """And a quantity and a provenance that there are."""
    for method in METHODS.values():
        assert method.source
        assert method.quantity in QUANTITIES
        assert Provenance(method.provenance)
