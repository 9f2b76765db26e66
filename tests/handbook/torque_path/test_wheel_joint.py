"""Wheel studs: signs and limits of validity."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.torque_path import wheel_joint


@given(st.floats(10, 200), st.floats(0.1, 0.4), st.floats(0.008, 0.02))
def test_more_friction_in_the_thread_leaves_less_preload(torque: float, factor: float, diameter: float) -> None:
    """So does a thicker stud at the same torque; and F·K·d is the torque again."""
    here = wheel_joint.preload(torque, factor, diameter)

    assert wheel_joint.preload(torque, 1.1 * factor, diameter) < here
    assert wheel_joint.preload(torque, factor, 1.1 * diameter) < here
    assert here * factor * diameter == pytest.approx(torque)


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
        wheel_joint.preload(-1.0, 0.2, 0.012),
        wheel_joint.preload(100.0, 0.0, 0.012),
        wheel_joint.preload(100.0, 0.2, 0.0),
        wheel_joint.wheel_slip_torque(0, 5e4, 0.15, 0.057),
        wheel_joint.wheel_slip_torque(5, 5e4, -0.15, 0.057),
        wheel_joint.wheel_slip_torque(5, 5e4, 0.15, 0.0),
    ],
)
def test_outside_its_range_a_formula_says_nothing(value: float) -> None:
    """Nothing that looks like a number."""
    assert np.isnan(value)
