"""Is wheelspin found up to the right speed in every gear?"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.gearing.ratios import tractive_effort
from trialfit.handbook.gearing.wheelspin import grip_limited_up_to_speed, torque_at_grip

TURNS = np.array([100.0, 250.0, 400.0, 550.0, 680.0])
GEARS = np.array([3.4, 2.0, 1.4])
CAR: dict[str, Any] = {
    "engine_speeds": TURNS,
    "torques": np.array([140.0, 185.0, 200.0, 180.0, 120.0]),
    "gearbox_ratios": GEARS,
    "final_ratio": 3.9,
    "efficiency": 0.92,
    "rolling_radius": 0.30,
    "grip_force": 6000.0,
    "rev_limit": 660.0,
}


@given(st.lists(st.floats(0.0, 400.0), min_size=5, max_size=5).map(np.array), st.floats(1000.0, 9000.0))
def test_above_that_speed_the_tyres_can_use_it_all(torques: np.ndarray, grip: float) -> None:
    """On a fine grid, for any curve; just below it they cannot."""
    speeds = grip_limited_up_to_speed(**(CAR | {"torques": torques, "grip_force": grip}))

    for ratio, speed in zip(GEARS, speeds, strict=True):
        grid = np.linspace(100.0, 660.0, 400)
        effort = tractive_effort(np.interp(grid, TURNS, torques), ratio, 3.9, 0.92, 0.30)
        road = grid * 0.30 / (ratio * 3.9)
        assert (effort[road > speed + 1e-9] <= grip + 1e-6).all()
        if speed > 0:
            turns = speed * ratio * 3.9 / 0.30
            assert tractive_effort(np.interp(turns, TURNS, torques), ratio, 3.9, 0.92, 0.30) >= grip - 1e-6


def test_torque_at_grip_undoes_tractive_effort() -> None:
    """Put into the gear, it is the grip; under acceleration the engine keeps some for itself."""
    torque = torque_at_grip(6000.0, 3.4, 3.9, 0.92, 0.30)

    assert tractive_effort(torque, 3.4, 3.9, 0.92, 0.30) == pytest.approx(6000.0)
    assert torque_at_grip(6000.0, 3.4, 3.9, 0.92, 0.30, mass_factor=1.4) == pytest.approx(1.4 * torque)


def test_more_grip_means_less_wheelspin() -> None:
    """The sign is pinned; enough grip ends it, and too little lasts to the limiter."""
    speeds = [grip_limited_up_to_speed(**(CAR | {"grip_force": grip}))[0] for grip in (1000.0, 7000.0, 8000.0, 20000.0)]

    assert speeds[0] == pytest.approx(660.0 * 0.30 / (3.4 * 3.9))
    assert speeds[0] > speeds[1] > speeds[2] > speeds[3] == 0.0


def test_draws_broadcast_and_what_cannot_be_is_nan() -> None:
    """A missing gear, a bad draw, a limit below the curve."""
    found = grip_limited_up_to_speed(
        **(CAR | {"grip_force": np.array([6000.0, np.nan]), "gearbox_ratios": [3.4, np.nan]})
    )

    assert np.isfinite(found).tolist() == [[True, False], [False, False]]
    for change in ({"rev_limit": 90.0}, {"efficiency": 0.0}, {"rolling_radius": -0.3}, {"mass_factor": 0.9}):
        assert np.isnan(grip_limited_up_to_speed(**(CAR | change))).all()
    assert np.isnan(torque_at_grip(-1.0, 3.4, 3.9, 0.92, 0.30))
