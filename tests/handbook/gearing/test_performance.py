"""Do effective mass and the single stretches behave?"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from trialfit.handbook.gearing.performance import (
    effective_mass,
    top_speed_from_power,
)


def test_effective_mass_grows_with_the_ratio_and_is_four_per_cent_with_the_clutch_open() -> None:
    """The sign is pinned, and the value without an engine."""
    assert effective_mass(1000.0, 0.0) == pytest.approx(1040.0)
    assert effective_mass(1000.0, 12.0) > effective_mass(1000.0, 4.0)


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
    assert np.isfinite(top_speed_from_power(100e3, [1300.0, 0.0, np.nan], 0.012, 0.66, 1.2)).tolist() == [
        True,
        False,
        False,
    ]
