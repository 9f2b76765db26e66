"""Computed values as text: digits that mean something, always with the unit."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.facts.curve import read_curve
from trialfit.facts.numbers import number_text, scan_number
from trialfit.facts.quantity import ANGLE, LENGTH, RATIO, ROTATIONAL_SPEED, SHARE, STRESS, TEMPERATURE, TORQUE, Quantity
from trialfit.facts.reading import read_fact
from trialfit.facts.showing import interval_text, show, show_with_spread
from trialfit.facts.showing_spread import curve_spread, spread_in_use
from trialfit.facts.units import display_unit, find_unit


@pytest.mark.parametrize(
    ("value", "quantity", "unit", "shown"),
    [
        (0.0762, LENGTH, "mm", "76.2 mm"),
        (2.40237, LENGTH, "mm", "2402 mm"),
        (0.3, LENGTH, "mm", "300 mm"),
        (0.034925, LENGTH, "in", "1.38 in"),
        (0.059341, ANGLE, "deg", "3.4°"),
        (51.521, TORQUE, "Nm", "51.5 N·m"),
        (3.7272727, RATIO, "", "3.73"),
        (1.0, RATIO, "", "1"),
        (0.965, SHARE, "%", "96.5 %"),
        (680.678, ROTATIONAL_SPEED, "rpm", "6500 rpm"),
        (358.15, TEMPERATURE, "°C", "85 °C"),
        (2.06e11, STRESS, "Pa", "2.06e11 Pa"),
        (2.06e11, STRESS, "MPa", "206000 MPa"),
        (1.5e-8, LENGTH, "mm", "1.50e-5 mm"),
        (0.0, LENGTH, "mm", "0 mm"),
        (-0.915, LENGTH, "mm", "-915 mm"),
        (1e-4, LENGTH, "m", "0.0001 m"),
        (9.99e-5, LENGTH, "m", "9.99e-5 m"),
        (9999.0, LENGTH, "mm", "9999000 mm"),
        (10000.0, LENGTH, "mm", "1.00e7 mm"),
        (math.nan, LENGTH, "mm", "undefined"),
    ],
)
def test_a_value_has_three_digits_and_its_unit(value: float, quantity: Quantity, unit: str, shown: str) -> None:
    """Whole numbers keep all of theirs; nothing is padded with zeros."""
    assert show(value, find_unit(quantity, unit)) == shown


@pytest.mark.parametrize(
    ("nominal", "low", "high", "shown"),
    [
        (13.04, 8.95, 17.13, "13.0 ± 4.1 mm"),
        (13.04, 12.99, 13.09, "13.040 ± 0.050 mm"),
        (1312.0, 902.0, 1722.0, "1310 ± 410 mm"),
        (13.04, 12.045, 14.035, "13.0 ± 1.0 mm"),
        (99.7, 89.74, 109.66, "100 ± 10 mm"),
        (13.0, 9.9, 19.2, "13.0 +6.2/-3.1 mm"),
        (13.0, 14.1, 16.3, "13.0 mm (14.1 to 16.3)"),
        (0.0, 0.1, 3.8, "up to 3.8 mm"),
        (0.4, 0.5, 3.8, "up to 3.8 mm"),
        (0.0, 100.0, 4500.0, "up to 4500 mm"),
        (0.0, -3.8, -0.1, "0.0 mm (-3.8 to -0.1)"),
        (-0.1, 0.1, 3.8, "-0.1 mm (0.1 to 3.8)"),
        (13.0, 13.0, 13.0, "13 mm"),
        (0.0, 0.0, 0.0, "0 mm"),
        (-0.01, -4.1, 4.1, "0.0 ± 4.1 mm"),
        (13.0, math.nan, 16.0, "13 mm"),
        (math.nan, 12.0, 16.0, "undefined"),
        (13.0, 12.0, 1e18, "13 mm (12 to 1.00e18)"),
    ],
)
def test_an_interval_decides_the_digits(nominal: float, low: float, high: float, shown: str) -> None:
    """Two digits of the interval, and the value to the same place."""
    assert interval_text(nominal, low, high, "mm") == shown
    assert show_with_spread(nominal / 1000, low / 1000, high / 1000, display_unit(LENGTH)) == shown


def test_units_that_stand_close_or_not_at_all() -> None:
    """Degrees stand close to the number, a ratio has no unit."""
    assert interval_text(3.4, 3.2, 3.6, "°") == "3.40 ± 0.20°"
    assert interval_text(3.73, 3.70, 3.76, "") == "3.730 ± 0.030"
    assert show_with_spread(358.15, 353.15, 363.15, find_unit(TEMPERATURE, "°C")) == "85.0 ± 5.0 °C"


@given(st.floats(allow_nan=True), st.floats(allow_nan=True), st.floats(allow_nan=True))
def test_anything_can_be_shown(nominal: float, low: float, high: float) -> None:
    """No value whatever breaks a report."""
    assert interval_text(nominal, low, high, "mm")
    assert show(nominal, display_unit(LENGTH))


@given(st.floats(min_value=-1e15, max_value=1e15))
def test_a_written_number_keeps_every_digit(value: float) -> None:
    """Facts, unlike computed values, are shown so that they read back."""
    assert scan_number(number_text(value)) == (value, "")


@pytest.mark.parametrize(
    ("written", "quantity", "shown"),
    [
        ("25.4 ± 0.1 mm, calipered", LENGTH, "± 0.1 mm"),
        ("25.4 +0.2/-0.1 mm", LENGTH, "+0.2 mm / -0.1 mm"),
        ("4 in ± 2 mm", LENGTH, "± 0.0787 in"),
        ("90 ± 2 °C", TEMPERATURE, "± 2 °C"),
        ("200 ± 3 %", RATIO, "± 6"),
        ("25.4 ± 0 mm", LENGTH, "exact"),
    ],
)
def test_the_spread_in_use_is_told_in_the_unit_of_the_value(written: str, quantity: Quantity, shown: str) -> None:
    """Both sides where they differ; a temperature's is a difference."""
    assert spread_in_use(read_fact(written, quantity)) == shown


def test_a_curve_has_one_spread_in_percent() -> None:
    """Or none."""
    curve = "rpm : N·m{} | 1000 : 180 | 2000 : 200"

    assert curve_spread(read_curve(curve.format(" ± 3 %"), ROTATIONAL_SPEED, TORQUE)) == "± 3 %"
    assert curve_spread(read_curve(curve.format(" ± 0 %"), ROTATIONAL_SPEED, TORQUE)) == "exact"


def test_an_interval_that_is_only_rounding_of_a_large_value_is_not_shown() -> None:
    """A millionth of a millimetre on a kilometre; and the least there is of a value of nothing."""
    assert interval_text(1e6, 1e6 - 1e-6, 1e6 + 1e-6, "mm") == "1000000 mm"
    assert interval_text(0.0, -1e-13, 1e-13, "mm") == "0 mm"
    assert interval_text(1.0, 1.0 - 1e-6, 1.0 + 1e-6, "mm") == "1.0000000 ± 0.0000010 mm"


def test_a_side_as_wide_as_the_value_is_shown_by_its_ends() -> None:
    assert interval_text(54.24, 0.0, 55.26, "km/h") == "54 km/h (0 to 55)"
    assert interval_text(1.5, -5.5, 2.0, "mm") == "1.5 mm (-5.5 to 2.0)"
    assert interval_text(13.0, 10.0, 20.0, "mm") == "13.0 +7.0/-3.0 mm"
