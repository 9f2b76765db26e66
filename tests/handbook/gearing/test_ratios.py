"""Do the gearing formulas behave?"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.gearing.ratios import (
    engine_speed,
    road_speed,
    speed_after_shift,
    speedometer_reading,
    tractive_effort,
)

ratios = st.floats(0.5, 6.0)
speeds = st.floats(0.1, 100.0)


@given(speeds, st.floats(0.2, 0.5), ratios, ratios)
def test_engine_speed_undoes_road_speed(speed: float, radius: float, gear: float, final: float) -> None:
    """There and back again is where one started."""
    assert road_speed(engine_speed(speed, radius, gear, final), radius, gear, final) == pytest.approx(speed)


@given(speeds, st.floats(0.2, 0.5), ratios, ratios, st.floats(10.0, 500.0))
def test_power_is_the_same_at_both_ends(speed: float, radius: float, gear: float, final: float, torque: float) -> None:
    """T·ω·η at the engine is F·v at the road."""
    force = tractive_effort(torque, gear, final, 0.9, radius)

    assert force * speed == pytest.approx(0.9 * torque * engine_speed(speed, radius, gear, final))


def test_a_shorter_final_drive_pulls_harder_and_turns_the_engine_faster() -> None:
    """The sign of the final ratio is pinned in every formula that has it."""
    assert tractive_effort(200, 2.0, 4.1, 0.9, 0.3) > tractive_effort(200, 2.0, 3.7, 0.9, 0.3)
    assert engine_speed(30, 0.3, 2.0, 4.1) > engine_speed(30, 0.3, 2.0, 3.7)
    assert road_speed(300, 0.3, 2.0, 4.1) < road_speed(300, 0.3, 2.0, 3.7)


def test_shifting_up_brings_the_engine_down() -> None:
    """And down again brings it back."""
    lower = speed_after_shift(600.0, 3.3, 2.0)

    assert lower < 600.0
    assert speed_after_shift(lower, 2.0, 3.3) == pytest.approx(600.0)


def test_speedometer_shows_too_much_behind_a_shorter_final_drive_or_smaller_tyres() -> None:
    """Both turn the gearbox output faster at the same road speed; a matched drive gear puts it right."""
    assert speedometer_reading(100, 4.1, 1.9, 3.7, 1.9) == pytest.approx(100 * 4.1 / 3.7)
    assert speedometer_reading(100, 3.7, 1.8, 3.7, 1.9) > 100
    assert speedometer_reading(100, 3.7, 1.9, 3.7, 1.9) == pytest.approx(100)
    assert speedometer_reading(100, 4.1, 1.9, 3.7, 1.9, drive_gear_factor=3.7 / 4.1) == pytest.approx(100)


def test_speedometer_shows_the_turns_of_the_output_shaft() -> None:
    """Counted out: turns per metre now, over turns per metre for which the instrument was made."""
    turns_per_metre, made_for = 4.1 / 1.85, 3.7 / 1.92

    assert speedometer_reading(25.0, 4.1, 1.85, 3.7, 1.92) == pytest.approx(25.0 * turns_per_metre / made_for)


def test_what_cannot_be_is_nan_and_the_rest_stays() -> None:
    """Ratios, radius and efficiency outside their range spoil their own draw only."""
    bad = np.array([1.0, 0.0, -1.0, np.nan])

    assert np.isfinite(road_speed(100.0, 0.3, bad, 3.7)).tolist() == [True, False, False, False]
    assert np.isfinite(engine_speed(10.0, bad, 1.0, 3.7)).tolist() == [True, False, False, False]
    assert np.isfinite(speed_after_shift(100.0, bad, 1.0)).tolist() == [True, False, False, False]
    assert np.isfinite(tractive_effort(100.0, 1.0, 3.7, [0.9, 0.0, 1.1, np.nan], 0.3)).tolist() == [True] + [False] * 3
    assert np.isfinite(speedometer_reading(10.0, bad, 1.9, 3.7, 1.9)).tolist() == [True, False, False, False]
    assert np.isnan(tractive_effort(-1.0, 1.0, 3.7, 0.9, 0.3))


def test_shapes_broadcast() -> None:
    """Cars down, gears across."""
    gears, finals = np.array([3.3, 2.0, 1.4]), np.array([[3.7], [4.1]])

    assert np.shape(road_speed(600.0, 0.3, gears, finals)) == (2, 3)
    assert isinstance(road_speed(600.0, 0.3, 3.3, 3.7), float)
