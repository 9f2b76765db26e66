"""Senders, gauges and preferred numbers against data that makers and standards print, and against sums by hand."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.senders.e_series import e_series
from trialfit.handbook.senders.sender_curves import (
    beta_constant,
    divider_voltage,
    level_resistance,
    resistance_at,
    resistance_by_beta,
    shown_at,
    steinhart_hart,
    temperature_by_beta,
    thermistor_temperature,
)
from trialfit.handbook.senders.sender_resistors import corrected_resistance, ends_right
from trialfit.handbook.senders.usual_senders import usual_senders

ZERO = 273.15

# Vehicle makers' service data, one maker's coolant temperature sender: °C and Ω.
CELSIUS = np.array([-40, -20, 0, 20, 25, 40, 50, 60, 80, 100, 120, 140])
OHMS = np.array([48805, 15971, 5975, 2502, 2044, 1152, 806.9, 575.8, 308.6, 175.7, 105.4, 66.2])
THREE = [1, 5, 9]


def test_three_points_give_the_whole_printed_table() -> None:
    """Through −20, 40 and 100 °C: no row from −40 to 140 °C is off by more than 0.04 K."""
    a, b, c = steinhart_hart(CELSIUS[THREE] + ZERO, OHMS[THREE])

    assert (a, b, c) == pytest.approx((1.3353e-3, 2.5613e-4, 1.4997e-7), rel=1e-4)
    assert thermistor_temperature(308.6, a, b, c) - ZERO == pytest.approx(80.0, abs=0.05)
    assert np.abs(np.asarray(thermistor_temperature(OHMS, a, b, c)) - ZERO - CELSIUS).max() < 0.04


def test_two_points_do_not_reach_beyond_themselves() -> None:
    """Beta from 25 and 80 °C predicts 108.8 Ω at 120 °C, where the table has 105.4: 1.35 K too high."""
    beta = beta_constant(25 + ZERO, 2044.0, 80 + ZERO, 308.6)

    assert beta == pytest.approx(3619, abs=0.5)
    assert resistance_by_beta(120 + ZERO, 2044.0, 25 + ZERO, beta) == pytest.approx(108.8, abs=0.05)
    assert temperature_by_beta(105.4, 2044.0, 25 + ZERO, beta) - ZERO - 120 == pytest.approx(1.35, abs=0.005)


def test_between_the_printed_rows_a_curve_bends_as_the_sender_does() -> None:
    """Every second row left out, the rows between come back within 0.4 K: straight lines would be 10 K off."""
    kept, left_out = slice(0, None, 2), slice(1, -1, 2)
    back = resistance_at(CELSIUS[left_out] + ZERO, CELSIUS[kept] + ZERO, OHMS[kept], by_temperature=True)
    slope = np.gradient(np.log(OHMS), CELSIUS)[left_out]

    assert np.abs(np.log(back / OHMS[left_out]) / slope).max() < 0.4


def test_a_control_unit_sees_the_divided_supply() -> None:
    """Ohm's law: 5 V through 1 kΩ into 308.6 Ω leave 1.179 V."""
    assert divider_voltage(5.0, 308.6, 1000.0) == pytest.approx(1.179, abs=5e-4)


# Workshop and forum pages on fuel senders: 240 to 33 Ω and 75 to 10 Ω, empty to full. The sums are by hand.
def test_a_75_ohm_sender_on_a_240_ohm_gauge() -> None:
    """An empty tank reads 0.797 full, and the needle leaves full at a level of 0.646 only."""
    empty = shown_at(75.0, [0.0, 1.0], [240.0, 33.0])
    just_full = shown_at(level_resistance(0.646, 75.0, 10.0), [0.0, 1.0], [240.0, 33.0])

    assert empty == pytest.approx((240 - 75) / (240 - 33), abs=5e-4)
    assert just_full == pytest.approx(1.0, abs=5e-4)
    assert shown_at(level_resistance(0.60, 75.0, 10.0), [0.0, 1.0], [240.0, 33.0]) < 1


def test_resistors_that_make_both_ends_right_leave_the_middle_wrong() -> None:
    """180 to 10 Ω on a gauge of 75 to 10 Ω: 126.4 Ω across, 0.73 Ω in series; half a tank reads 0.308."""
    series, parallel = ends_right(180.0, 10.0, 75.0, 10.0)

    def reads(ohms: float) -> float:
        return float(shown_at(corrected_resistance(ohms, series, parallel), [0.0, 1.0], [75.0, 10.0]))

    assert (series, parallel) == pytest.approx((0.73, 126.4), rel=5e-3)
    assert (reads(180.0), reads(10.0)) == pytest.approx((0.0, 1.0), abs=1e-9)
    assert reads(95.0) == pytest.approx(0.308, abs=5e-4)


def test_some_pairs_have_no_passive_cure() -> None:
    """240 to 33 Ω on a gauge of 75 to 10 Ω would need −17.0 Ω in series with 149.3 Ω across."""
    assert 75.0 - corrected_resistance(240.0, 0.0, 149.3) == pytest.approx(-17.0, abs=0.05)
    assert corrected_resistance(240.0, 0.0, 149.3) - corrected_resistance(33.0, 0.0, 149.3) == pytest.approx(
        65, abs=0.05
    )
    assert np.isnan(ends_right(240.0, 33.0, 75.0, 10.0)).all()


# IEC 60063, series as reprinted on a radio amateurs' page on preferred values.
E24 = "10 11 12 13 15 16 18 20 22 24 27 30 33 36 39 43 47 51 56 62 68 75 82 91"
E12 = "10 12 15 18 22 27 33 39 47 56 68 82"
E6 = "10 15 22 33 47 68"
E48 = (
    "100 105 110 115 121 127 133 140 147 154 162 169 178 187 196 205 215 226 237 249 261 274 287 301 316 332 348 "
    "365 383 402 422 442 464 487 511 536 562 590 619 649 681 715 750 787 825 866 909 953"
)


@pytest.mark.parametrize(("name", "printed"), [("E6", E6), ("E12", E12), ("E24", E24), ("E48", E48)])
def test_preferred_numbers_are_those_of_the_reprint(name: str, printed: str) -> None:
    """All values of one decade, in order."""
    values = [float(number) for number in printed.split()]

    assert e_series(name, values[0], values[-1]).tolist() == values


# A vehicle maker's service data: −40 to 140 °C of the same sender, and an army's manual of a boat engine, 118 to 138 Ω at 71 °C.
def test_usual_senders_are_those_of_the_print() -> None:
    """The sender of a control unit comes back from three of its rows; the boat's lies in the middle of its printed limits."""
    by_name = {sender.name: sender for sender in usual_senders("temperature")}
    control_unit = by_name["1152 Ω at 40 °C, 105 Ω at 120 °C"].resistance(CELSIUS[1:] + ZERO)
    boat = by_name["128 Ω at 71 °C, 46.5 Ω at 104 °C"].resistance(np.array([71, 104]) + ZERO)

    assert control_unit == pytest.approx(OHMS[1:], rel=2e-3)
    assert boat == pytest.approx([(118 + 138) / 2, (44 + 49) / 2])


def test_usual_senders_run_one_way_and_give_back_their_points() -> None:
    """No curve of the table turns round, so a gauge can be made for each."""
    for measures in ("temperature", "pressure", "level"):
        for sender in usual_senders(measures):
            steps = np.diff(sender.resistances)
            assert (steps > 0).all() or (steps < 0).all(), sender.name
            assert sender.resistance(np.array(sender.places)) == pytest.approx(sender.resistances), sender.name
