"""The power band of a curve against a fine grid over it, and where it ends."""

from __future__ import annotations

import math

import numpy as np
import pytest

from trialfit.handbook.gearing.power_band import band_start, power_share

SPEEDS = [100.0, 250.0, 400.0, 550.0, 700.0]
TORQUES = [120.0, 210.0, 240.0, 230.0, 150.0]


@pytest.mark.parametrize("share", [0.2, 0.5, 0.6, 0.9, 1.0])
def test_the_band_starts_where_a_grid_finds_it(share: float) -> None:
    """A million engine speeds on the straight-line curve: the first with the share of the peak power."""
    turns = np.linspace(SPEEDS[0], SPEEDS[-1], 1_000_001)
    power = np.interp(turns, SPEEDS, TORQUES) * turns
    first = turns[np.argmax(power >= share * power.max())]

    assert band_start(SPEEDS, TORQUES, share) == pytest.approx(first, abs=1e-2 if share == 1 else 1e-3)


def test_the_band_start_has_its_share() -> None:
    """Going there and asking for the share closes the circle."""
    shares = np.array([0.3, 0.6, 0.9])

    assert power_share(band_start(SPEEDS, TORQUES, shares), SPEEDS, TORQUES) == pytest.approx(shares)


def test_a_factor_on_the_curve_changes_nothing() -> None:
    """Shares know no absolute torque."""
    stronger = [2 * torque for torque in TORQUES]

    assert band_start(SPEEDS, stronger, 0.6) == pytest.approx(band_start(SPEEDS, TORQUES, 0.6))


def test_a_level_curve_has_its_share_at_that_share_of_the_speed() -> None:
    """Constant torque: power goes with speed."""
    assert band_start([0.0, 500.0], [200.0, 200.0], 0.6) == pytest.approx(300.0)


def test_a_curve_that_is_strong_from_the_first_point_starts_there() -> None:
    """Nothing is known below it."""
    assert band_start([400.0, 700.0], [240.0, 150.0], 0.5) == 400.0


@pytest.mark.parametrize("share", [0.0, -0.1, 1.01])
def test_a_share_that_cannot_be_has_no_answer(share: float) -> None:
    """Only shares of the peak power are asked for."""
    assert math.isnan(band_start(SPEEDS, TORQUES, share))


def test_an_engine_without_torque_has_no_band() -> None:
    """No power, no share of it."""
    assert math.isnan(band_start(SPEEDS, [0.0] * 5, 0.5))
    assert math.isnan(power_share(300.0, SPEEDS, [0.0] * 5))


def test_outside_the_curve_the_share_is_not_known() -> None:
    """No extrapolation."""
    assert np.isnan(power_share([90.0, 710.0], SPEEDS, TORQUES)).all()
