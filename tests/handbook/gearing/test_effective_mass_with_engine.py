"""Effective mass when only the engine's inertia is known."""

from __future__ import annotations

import math

import pytest

from trialfit.handbook.gearing.performance import (
    effective_mass,
    effective_mass_with_engine,
)


def test_it_holds_the_energy() -> None:
    """½·m_e·v² is what car, engine and wheels carry together; the wheels are 4 % of the car's mass at the tyre."""
    speed, turning = 10.0, 10.0 / 0.31 * 3.3 * 3.7

    assert effective_mass_with_engine(1200, 3.3 * 3.7, 0.31, 0.18) == pytest.approx(
        (1.04 * 1200 * speed**2 + 0.18 * turning**2) / speed**2
    )


def test_it_meets_the_rule_of_thumb_at_the_inertia_behind_it() -> None:
    """0.0025·m·r_d² is the engine inertia that the rule of thumb supposes."""
    assert effective_mass_with_engine(1200, 12.0, 0.31, 0.0025 * 1200 * 0.31**2) == pytest.approx(
        effective_mass(1200, 12.0)
    )


def test_a_heavier_flywheel_adds_mass() -> None:
    """The sign is pinned, and a negative inertia has no answer."""
    assert effective_mass_with_engine(1200, 12.0, 0.31, 0.25) > effective_mass_with_engine(1200, 12.0, 0.31, 0.15)
    assert math.isnan(effective_mass_with_engine(1200, 12.0, 0.31, -0.1))
