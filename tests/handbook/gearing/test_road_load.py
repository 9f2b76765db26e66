"""Do road load and gradeability behave?"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.gearing.road_load import (
    gradeability_by_grip,
    gradeability_by_torque,
    road_load,
)


def test_each_part_of_the_road_load_stands_alone() -> None:
    """Rolling, slope and air, each by hand."""
    assert road_load(0.0, 1000, 0.012, 0.7, 1.2) == pytest.approx(0.012 * 9806.65)
    assert road_load(0.0, 1000, 0.0, 0.7, 1.2, math.radians(30)) == pytest.approx(0.5 * 9806.65)
    assert road_load(20.0, 1000, 0.0, 0.7, 1.2) == pytest.approx(0.5 * 1.2 * 0.7 * 400)


def test_uphill_holds_back_and_downhill_pulls() -> None:
    """The sign of the slope is pinned."""
    level = road_load(10.0, 1000, 0.012, 0.7, 1.2)

    assert road_load(10.0, 1000, 0.012, 0.7, 1.2, 0.05) > level
    assert road_load(10.0, 1000, 0.012, 0.7, 1.2, -0.05) < 0


@given(st.floats(100.0, 9000.0), st.floats(0.0, 0.1), st.floats(0.0, 40.0))
def test_gradeability_is_the_slope_whose_load_is_the_force(force: float, rolling: float, speed: float) -> None:
    """Put back into road_load, the slope asks for the force."""
    angle = gradeability_by_torque(force, 1000, rolling, 0.7, 1.2, speed)

    assert road_load(speed, 1000, rolling, 0.7, 1.2, angle) == pytest.approx(force, abs=1e-6)


def test_a_force_above_the_weight_has_no_steepest_slope() -> None:
    """Nor has what lies outside the range."""
    assert np.isnan(gradeability_by_torque(20000, 1000, 0.012))
    assert np.isnan(gradeability_by_torque(-1.0, 1000, 0.012))
    assert np.isnan(gradeability_by_torque(1000, 0, 0.012))
    assert np.isnan(gradeability_by_grip(-0.1))


def test_grip_share_is_the_tangent() -> None:
    """All wheels driven at grip 1 climb 45°."""
    assert gradeability_by_grip(1.0) == pytest.approx(math.pi / 4)


def test_what_cannot_be_is_nan_and_the_rest_stays() -> None:
    """One bad draw among many stays alone."""
    found = road_load(np.array([10.0, -1.0, np.nan, 10.0]), np.array([1000.0, 1000.0, 1000.0, 0.0]), 0.012, 0.7, 1.2)

    assert np.isfinite(found).tolist() == [True, False, False, False]
    assert np.isnan(road_load(10.0, 1000, 0.012, 0.7, 1.2, math.pi / 2))
