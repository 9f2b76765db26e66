"""Torque for a start against the start it gives, and the warmth of the iron by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest

from trialfit.handbook.gearing.clutch_heat import heat_rise, torque_to_pull_away
from trialfit.handbook.gearing.launch import clutch_slip

CAR = {
    "total_ratio": 12.0,
    "efficiency": 0.93,
    "rolling_radius": 0.30,
    "mass": 1200.0,
    "decoupled_mass": 1248.0,
    "rolling": 0.013,
    "slope_angle": math.atan(0.2),
}


def test_the_torque_gives_the_acceleration_it_was_asked_for() -> None:
    """Fed into a start on the clutch, the way is ½·a·t² with that a."""
    torque = torque_to_pull_away(acceleration=0.5, **CAR)
    start = clutch_slip(engine_speed=200.0, clutch_torque=torque, **CAR)

    assert 2 * start.way / start.time**2 == pytest.approx(0.5, rel=1e-12)


def test_a_steeper_hill_takes_more_torque_and_a_lower_gear_less() -> None:
    """The signs are pinned."""
    torque = torque_to_pull_away(acceleration=0.5, **CAR)

    assert torque_to_pull_away(acceleration=0.5, **CAR | {"slope_angle": math.atan(0.3)}) > torque
    assert torque_to_pull_away(acceleration=0.5, **CAR | {"total_ratio": 14.0}) < torque


def test_downhill_the_car_rolls_by_itself() -> None:
    """A negative torque says so."""
    assert torque_to_pull_away(acceleration=0.1, **CAR | {"slope_angle": -math.atan(0.2)}) < 0


def test_outside_the_range_there_is_no_torque() -> None:
    """One bad draw among good ones is nan."""
    torque = torque_to_pull_away(acceleration=0.5, **CAR | {"efficiency": np.array([0.9, 1.2, 0.0])})

    assert np.isfinite(torque).tolist() == [True, False, False]


def test_heat_warms_iron() -> None:
    """30 kJ into 12 kg at 500 J/(kg·K) are 5 K, by hand; no iron, no answer."""
    assert heat_rise(30e3, 12.0) == pytest.approx(5.0)
    assert math.isnan(heat_rise(30e3, 0.0))
