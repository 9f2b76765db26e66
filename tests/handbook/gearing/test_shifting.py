"""Is the upshift where the next gear starts to pull harder?"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.gearing.shifting import upshift_speed

SPEEDS = np.array([100.0, 200.0, 300.0, 400.0, 500.0, 600.0])
curves = st.lists(st.floats(20.0, 300.0), min_size=6, max_size=6).map(np.array)


def surplus(turns: float, curve: np.ndarray, step: float, force: float) -> float:
    """T(ω) − q·T(σ·ω), written out again."""
    return float(np.interp(turns, SPEEDS, curve) - force * np.interp(turns * step, SPEEDS, curve))


@given(curves, st.floats(0.5, 0.95), st.floats(0.4, 1.1), st.floats(250.0, 700.0))
def test_above_the_shift_the_next_gear_pulls_harder_and_at_it_not(
    curve: np.ndarray, step: float, force: float, limit: float
) -> None:
    """On a fine grid: everywhere from the shift to the limit; and the shift is the lowest such speed."""
    found = upshift_speed(SPEEDS, curve, step, force, limit)
    last = min(limit, 600.0)
    lowest = min(100.0 / step, last)

    assert lowest - 1e-9 <= found <= last
    if found < last:
        assert all(surplus(turns, curve, step, force) <= 1e-6 for turns in np.linspace(found, last, 200)[1:])
    if found > lowest + 1e-9:
        assert surplus(found, curve, step, force) >= -1e-6


def test_a_strong_engine_is_taken_to_the_limit() -> None:
    """A flat curve pulls hardest in the lower gear everywhere."""
    assert upshift_speed(SPEEDS, np.full(6, 200.0), 0.7, 0.7, 550.0) == 550.0


def test_the_end_of_the_curve_comes_before_a_higher_limit() -> None:
    """What the engine gives beyond is not known."""
    assert upshift_speed(SPEEDS, np.full(6, 200.0), 0.7, 0.7, 700.0) == 600.0


def test_a_curve_that_falls_off_is_left_before_the_limit() -> None:
    """By hand: 160 at 480 rad/s against 0.8·200 behind the shift."""
    found = upshift_speed([100.0, 400.0, 600.0], [200.0, 200.0, 100.0], 0.8, 0.8, 600.0)

    assert found == pytest.approx(480.0)


def test_a_wide_gap_is_not_jumped_below_the_curve() -> None:
    """The lowest engine speed after the shift is the first point."""
    falling = np.array([300.0, 200.0, 100.0, 50.0, 30.0, 20.0])

    assert upshift_speed(SPEEDS, falling, 0.5, 0.9, 600.0) == pytest.approx(200.0)


def test_many_cars_at_once_are_as_one_by_one() -> None:
    """Shapes broadcast: two curves, three steps."""
    two = np.array([[200.0, 220.0, 230.0, 210.0, 160.0, 90.0], [100.0, 120.0, 180.0, 200.0, 190.0, 150.0]])
    steps = np.array([0.6, 0.7, 0.8])
    found = upshift_speed(SPEEDS, two[:, None, :], steps, 0.75, 600.0)

    assert found.shape == (2, 3)
    for car in range(2):
        for gear in range(3):
            assert found[car, gear] == upshift_speed(SPEEDS, two[car], steps[gear], 0.75, 600.0)


def test_what_cannot_be_is_nan() -> None:
    """A next gear that is lower, no force, a limit below the curve, a negative torque."""
    flat = np.full(6, 200.0)

    assert np.isnan(upshift_speed(SPEEDS, flat, [1.0, 0.0, np.nan], 0.7, 550.0)).all()
    assert np.isnan(upshift_speed(SPEEDS, flat, 0.7, 0.0, 550.0))
    assert np.isnan(upshift_speed(SPEEDS, flat, 0.7, 0.7, 100.0))
    assert np.isnan(upshift_speed(SPEEDS, -flat, 0.7, 0.7, 550.0))
