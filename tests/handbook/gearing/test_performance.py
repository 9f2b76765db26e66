"""Do effective mass and the single stretches behave?"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from trialfit.handbook.gearing.performance import (
    effective_mass,
    effective_mass_from_inertias,
    time_and_way_at_constant_force,
    top_speed_from_power,
)


def test_effective_mass_grows_with_the_ratio_and_is_four_per_cent_with_the_clutch_open() -> None:
    """The sign is pinned, and the value without an engine."""
    assert effective_mass(1000.0, 0.0) == pytest.approx(1040.0)
    assert effective_mass(1000.0, 12.0) > effective_mass(1000.0, 4.0)


def test_effective_mass_from_inertias_holds_the_energy() -> None:
    """½·m_e·v² is what car, engine, gears, shaft and wheels carry together."""
    speed, radius, gear, final = 10.0, 0.31, 2.0, 3.7
    wheel = speed / radius
    energy = 0.5 * (1200 * speed**2 + 0.2 * (wheel * gear * final) ** 2 + 0.03 * (wheel * final) ** 2 + 4.0 * wheel**2)

    assert effective_mass_from_inertias(1200, gear, final, radius, 0.15, 0.05, 0.03, 4.0) == pytest.approx(
        2 * energy / speed**2
    )


def test_inertias_of_nothing_leave_the_mass() -> None:
    """And each adds to it."""
    bare = (1200, 2.0, 3.7, 0.31, 0.0, 0.0, 0.0, 0.0)

    assert effective_mass_from_inertias(*bare) == pytest.approx(1200)
    for place in range(4, 8):
        assert effective_mass_from_inertias(*bare[:place], 0.1, *bare[place + 1 :]) > 1200


@given(st.floats(0.0, 20.0), st.floats(0.0, 10.0), st.floats(0.0, 10.0))
def test_stretches_add_up(begin: float, first: float, second: float) -> None:
    """Time and way from one speed to a third are the sums over the second."""
    figures = (1300.0, 4000.0, 160.0, 0.66, 1.2)
    whole = time_and_way_at_constant_force(begin, begin + first + second, *figures)
    one = time_and_way_at_constant_force(begin, begin + first, *figures)
    two = time_and_way_at_constant_force(begin + first, begin + first + second, *figures)

    assert whole[0] == pytest.approx(one[0] + two[0], abs=1e-9)
    assert whole[1] == pytest.approx(one[1] + two[1], abs=1e-9)


def test_a_speed_out_of_reach_is_nan() -> None:
    """1000 N hold 50 m/s against this drag and no more; backwards there is no stretch."""
    time, way = time_and_way_at_constant_force(0.0, np.array([49.9, 50.0, -1.0]), 1000.0, 1000.0, 0.0, 0.8, 1.0)

    assert np.isfinite(time).tolist() == [True, False, False]
    assert np.isfinite(way).tolist() == [True, False, False]


@given(st.floats(0.0, 500e3), st.floats(600.0, 3000.0), st.floats(0.005, 0.03), st.floats(0.3, 1.5))
def test_top_speed_from_power_is_the_root(power: float, mass: float, rolling: float, drag_area: float) -> None:
    """Put back, it uses up the power; scipy's root finder agrees."""
    speed = top_speed_from_power(power, mass, rolling, drag_area, 1.2)

    def surplus(v: float) -> float:
        return mass * 9.80665 * rolling * v + 0.5 * 1.2 * drag_area * v**3 - power

    assert speed == pytest.approx(brentq(surplus, 0.0, 500.0), rel=1e-6, abs=1e-6)


def test_what_cannot_be_is_nan_and_the_rest_stays() -> None:
    """One bad draw among many stays alone."""
    assert np.isfinite(effective_mass([1000.0, 0.0, np.nan], 5.0)).tolist() == [True, False, False]
    assert np.isnan(effective_mass(1000.0, -1.0))
    assert np.isnan(effective_mass_from_inertias(1200, 2.0, 3.7, 0.0, 0.1, 0.1, 0.1, 4.0))
    assert np.isnan(effective_mass_from_inertias(1200, 2.0, 3.7, 0.3, -0.1, 0.1, 0.1, 4.0))
    assert np.isfinite(top_speed_from_power(100e3, [1300.0, 0.0, np.nan], 0.012, 0.66, 1.2)).tolist() == [
        True,
        False,
        False,
    ]
    assert np.isnan(time_and_way_at_constant_force(0.0, 1.0, 0.0, 1.0, 0.0, 0.6, 1.2)[0])
