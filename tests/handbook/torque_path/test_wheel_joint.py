"""Wheel studs: signs and limits of validity."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.torque_path import wheel_joint


@given(st.integers(3, 8), st.floats(1e3, 1e5), st.floats(0.05, 0.3), st.floats(0.04, 0.1))
def test_a_lost_stud_costs_its_share(studs: int, load: float, friction: float, radius: float) -> None:
    """All clamp alike."""
    whole = wheel_joint.wheel_slip_torque(studs, load, friction, radius)

    assert wheel_joint.wheel_slip_torque(studs - 1, load, friction, radius) == pytest.approx(
        whole * (studs - 1) / studs
    )


@pytest.mark.parametrize(
    "value",
    [
        wheel_joint.wheel_slip_torque(0, 5e4, 0.15, 0.057),
        wheel_joint.wheel_slip_torque(5, 5e4, -0.15, 0.057),
        wheel_joint.wheel_slip_torque(5, 5e4, 0.15, 0.0),
    ],
)
def test_outside_its_range_a_formula_says_nothing(value: float) -> None:
    """Nothing that looks like a number."""
    assert np.isnan(value)
