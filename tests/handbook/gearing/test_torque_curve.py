"""Is a torque curve read between its points only, and its peak power found between them?"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.gearing.torque_curve import check_speeds, peak_power, torque_at

SPEEDS = np.array([100.0, 250.0, 400.0, 600.0])
torques = st.lists(st.floats(10.0, 500.0), min_size=4, max_size=4).map(np.array)


@given(torques, st.floats(100.0, 600.0))
def test_between_the_points_it_is_linear_interpolation(curve: np.ndarray, speed: float) -> None:
    """As numpy's own for one curve."""
    assert torque_at(speed, SPEEDS, curve) == pytest.approx(np.interp(speed, SPEEDS, curve))


def test_beyond_the_ends_nothing_is_known() -> None:
    """Both ends themselves are known."""
    found = torque_at([99.9, 100.0, 600.0, 600.1], SPEEDS, [1.0, 2.0, 3.0, 4.0])

    np.testing.assert_array_equal(found, [np.nan, 1.0, 4.0, np.nan])


def test_every_car_can_have_its_own_curve() -> None:
    """Speeds of shape (2,) meet curves of shape (2, 4); one speed meets both."""
    curves = np.array([[1.0, 2.0, 3.0, 4.0], [10.0, 20.0, 30.0, 40.0]])

    np.testing.assert_allclose(torque_at([100.0, 400.0], SPEEDS, curves), [1.0, 30.0])
    np.testing.assert_allclose(torque_at(400.0, SPEEDS, curves), [3.0, 30.0])


@given(torques)
def test_peak_power_is_not_beaten_on_a_fine_grid(curve: np.ndarray) -> None:
    """And it lies on the curve."""
    power, speed = peak_power(SPEEDS, curve)
    grid = np.linspace(100.0, 600.0, 2001)

    assert power == pytest.approx(torque_at(speed, SPEEDS, curve) * speed)
    assert power >= (np.interp(grid, SPEEDS, curve) * grid).max() - 1e-9


@pytest.mark.parametrize("speeds", [[100.0], [], [[1.0, 2.0]]])
def test_one_point_is_no_curve(speeds: list[float]) -> None:
    """The refusal gives an example."""
    with pytest.raises(ValueError, match=r"^A torque curve needs two points or more, such as 150 N·m at 1000 rpm and"):
        check_speeds(speeds)


@pytest.mark.parametrize("speeds", [[100.0, 100.0], [200.0, 100.0], [-1.0, 5.0], [1.0, np.nan], [1.0, np.inf]])
def test_engine_speeds_must_rise(speeds: list[float]) -> None:
    """The refusal gives an example."""
    with pytest.raises(ValueError, match=r"^The engine speeds of a torque curve must rise from point to point, as in"):
        torque_at(1.0, speeds, [1.0, 2.0])
