"""Effective mass when only the engine's inertia is known."""

from __future__ import annotations

import math

import pytest

from trialfit.handbook.gearing.performance import (
    effective_mass,
    effective_mass_from_inertias,
    effective_mass_with_engine,
)


def test_it_is_the_sum_of_inertias_with_the_wheels_by_rule() -> None:
    """Wheels of 4 % of the car's mass at the tyre, no gears and shafts: both formulas agree."""
    by_sum = effective_mass_from_inertias(1200, 3.3, 3.7, 0.31, 0.18, 0.0, 0.0, 0.04 * 1200 * 0.31**2)

    assert effective_mass_with_engine(1200, 3.3 * 3.7, 0.31, 0.18) == pytest.approx(by_sum)


def test_it_meets_the_rule_of_thumb_at_the_inertia_behind_it() -> None:
    """0.0025·m·r_d² is the engine inertia that the rule of thumb supposes."""
    assert effective_mass_with_engine(1200, 12.0, 0.31, 0.0025 * 1200 * 0.31**2) == pytest.approx(
        effective_mass(1200, 12.0)
    )


def test_a_heavier_flywheel_adds_mass() -> None:
    """The sign is pinned, and a negative inertia has no answer."""
    assert effective_mass_with_engine(1200, 12.0, 0.31, 0.25) > effective_mass_with_engine(1200, 12.0, 0.31, 0.15)
    assert math.isnan(effective_mass_with_engine(1200, 12.0, 0.31, -0.1))
