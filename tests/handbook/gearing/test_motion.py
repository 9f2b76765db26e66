"""Are the closed forms the integrals they stand for, right up to where the acceleration runs out?"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp

from trialfit.handbook.gearing.motion import gain_in_time, time_and_distance_of_gain, time_to_cover

starts, slopes, drags = st.floats(0.05, 10.0), st.floats(-0.3, 0.3), st.floats(1e-6, 2e-3)


@given(st.floats(0.1, 30.0), st.floats(0.0, 50.0), starts, slopes, drags)
def test_time_and_way_are_the_integrals(gain: float, speed: float, start: float, slope: float, drag: float) -> None:
    """The quad of scipy finds ∫du/a and ∫(v₀ + u)du/a."""
    law = start, slope, drag
    assume(start + (slope - drag * gain) * gain > 0.02)
    time, way = time_and_distance_of_gain(gain, speed, *law)

    assert time == pytest.approx(quad(lambda u: 1 / (start + (slope - drag * u) * u), 0, gain, limit=200)[0], rel=1e-7)
    expected = quad(lambda u: (speed + u) / (start + (slope - drag * u) * u), 0, gain, limit=200)[0]
    assert way == pytest.approx(expected, rel=1e-6, abs=1e-5)


@given(st.floats(0.0, 60.0), st.floats(0.0, 50.0), starts, st.floats(-0.3, 0.02), drags)
def test_gain_in_time_undoes_time_of_gain(time: float, speed: float, start: float, slope: float, drag: float) -> None:
    """There and back again, far into the approach to the highest speed."""
    gain, way = gain_in_time(time, speed, start, slope, drag)
    assume(start + (slope - drag * gain) * gain > 1e-6)
    back, same_way = time_and_distance_of_gain(gain, speed, start, slope, drag)

    assert back == pytest.approx(time, rel=1e-6, abs=1e-6)
    assert same_way == pytest.approx(way, rel=1e-6, abs=1e-4)


@given(st.floats(0.1, 2000.0), st.floats(0.0, 50.0), starts, slopes, drags)
def test_time_to_cover_covers_the_way(way: float, speed: float, start: float, slope: float, drag: float) -> None:
    """gain_in_time confirms what Newton's method found."""
    # A car whose acceleration grows with speed without end is not a car: its speed overflows.
    assume(slope < 0.02 or drag > 1e-4)
    time = time_to_cover(way, speed, start, slope, drag)

    assert gain_in_time(time, speed, start, slope, drag)[1] == pytest.approx(way, rel=1e-8, abs=1e-5)


def test_against_a_solver_of_differential_equations() -> None:
    """Speed and way after 7 s of a = 3 − 0.05·u − 5e-4·u² from 20 m/s."""
    solved = solve_ivp(
        lambda _, y: (3 - 0.05 * y[0] - 5e-4 * y[0] ** 2, 20 + y[0]), (0, 7), (0, 0), rtol=1e-11, atol=1e-12
    )
    gain, way = gain_in_time(7.0, 20.0, 3.0, -0.05, 5e-4)

    assert gain == pytest.approx(solved.y[0, -1], rel=1e-9)
    assert way == pytest.approx(solved.y[1, -1], rel=1e-9)


def test_without_drag_and_slope_it_is_school_physics() -> None:
    """Gain a·t, way a·t²/2: the least drag that stands in for none leaves no trace."""
    time, way = time_and_distance_of_gain(20.0, 0.0, 4.0, 0.0, 0.0)

    assert time == pytest.approx(5.0, rel=1e-7)
    assert way == pytest.approx(50.0, rel=1e-6)
    assert time_to_cover(50.0, 0.0, 4.0, 0.0, 0.0) == pytest.approx(5.0, rel=1e-6)


def test_a_speed_beyond_the_highest_is_never_reached() -> None:
    """The acceleration runs out at 40 m/s; what pulls not at all gets nowhere; no gain takes no time."""
    time, way = time_and_distance_of_gain(np.array([39.0, 40.0, 41.0, 0.0]), 0.0, 2.0, -0.05, 0.0)

    assert np.isfinite(time).tolist() == [True, False, False, True]
    assert np.isinf(way).tolist() == [False, True, True, False]
    assert time[3] == way[3] == 0.0
    assert time_and_distance_of_gain(1.0, 0.0, 0.0, 0.0, 0.0)[0] == np.inf


def test_what_is_not_a_number_stays_so() -> None:
    """What is nan stays nan; a way of nothing or backwards has no time."""
    assert np.isnan(time_and_distance_of_gain(1.0, 0.0, np.nan, 0.0, 0.0)[0])
    assert np.isnan(time_to_cover([0.0, -1.0, np.nan], 1.0, 1.0, 0.0, 1e-4)).all()
    assert np.isnan(gain_in_time(1.0, 0.0, 0.0, 0.0, 1e-4)[0])
    assert np.isnan(gain_in_time(-1.0, 0.0, 1.0, 0.0, 1e-4)[1])
