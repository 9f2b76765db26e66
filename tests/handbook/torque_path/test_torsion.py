"""Shafts in torsion: superposition, what raises and lowers capacity, and what lies outside."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.torque_path import torsion

OUTSIDE, SHARE, TORQUE = st.floats(0.01, 0.15), st.floats(0.0, 0.97), st.floats(-5000, 5000)


@given(OUTSIDE, SHARE)
def test_a_bar_is_a_tube_and_the_bar_that_fills_it(outside: float, share: float) -> None:
    """Second moments, masses and inertias add up."""
    inside = share * outside
    whole = torsion.polar_second_moment(outside)

    core = torsion.polar_second_moment(inside) if inside else 0.0
    assert torsion.polar_second_moment(outside, inside) + core == pytest.approx(whole)


@given(TORQUE, OUTSIDE, SHARE)
def test_stress_and_twist_keep_the_sign_of_the_torque(torque: float, outside: float, share: float) -> None:
    """And are linear in it; τ = G·D/2·φ/L."""
    stress = torsion.shear_stress(torque, outside, share * outside)
    angle = torsion.twist(torque, 0.7, outside, share * outside, 80e9)

    assert torsion.shear_stress(-torque, outside, share * outside) == -stress
    assert stress == pytest.approx(80e9 * outside / 2 * angle / 0.7)


@given(OUTSIDE, SHARE, st.floats(100e6, 1500e6), st.floats(1.0, 3.0), st.floats(1.0, 3.0))
def test_the_worst_place_is_at_its_allowed_stress(outside, share, strength, notch, reserve) -> None:
    """Capacity put back into the stress, times notch and reserve, is the yield in shear."""
    torque = torsion.torque_capacity(outside, share * outside, strength, notch, reserve)

    assert torsion.shear_stress(torque, outside, share * outside) * notch * reserve == pytest.approx(0.577 * strength)


def test_the_reserve_is_there_when_nobody_mentions_it() -> None:
    """1.5 unless another is given; a notch costs its factor."""
    plain = torsion.torque_capacity(0.0762, 0.0729, 300e6)

    assert plain == pytest.approx(torsion.torque_capacity(0.0762, 0.0729, 300e6, reserve=1.0) / 1.5)
    assert torsion.torque_capacity(0.0762, 0.0729, 300e6, notch_factor=2.0) == pytest.approx(plain / 2)


# Timoshenko's shell solution for a long tube, from memory: E/(3·√2·(1 − ν²)^0.75)·(t/r)^1.5.
def test_the_round_figure_of_buckling_lies_above_shell_theory() -> None:
    """By 7 % at ν 0.3: the docstring's figures."""
    wall, radius = 0.001, 0.05
    classical = 206e9 / (3 * math.sqrt(2) * (1 - 0.3**2) ** 0.75) * (wall / radius) ** 1.5
    found = torsion.tube_buckling_torque(2 * radius + wall, wall, 206e9) / (2 * math.pi * radius**2 * wall)

    assert found / classical == pytest.approx(0.272 / 0.253, rel=2e-3)


def test_a_common_prop_shaft_yields_before_it_folds_and_a_beer_can_does_not() -> None:
    """The crossing lies between t/r 0.005 and 0.04 for mild steel."""
    radius = 0.04

    def folds_over_yields(wall: float) -> float:
        outside = 2 * radius + wall
        yields = torsion.torque_capacity(outside, outside - 2 * wall, 300e6, reserve=1.0)
        return float(torsion.tube_buckling_torque(outside, wall, 206e9) / yields)

    assert folds_over_yields(0.04 * radius) > 1.5
    assert folds_over_yields(0.005 * radius) < 0.5


@pytest.mark.parametrize(
    "value",
    [
        torsion.polar_second_moment(0.0),
        torsion.shear_stress(100.0, 0.05, 0.06),
        torsion.twist(100.0, -1.0, 0.05),
        torsion.twist(100.0, 1.0, 0.05, 0.0, 0.0),
        torsion.torque_capacity(0.05, 0.04, 300e6, notch_factor=0.5),
        torsion.torque_capacity(0.05, 0.04, 300e6, reserve=0.0),
        torsion.torque_capacity(0.05, 0.05, 300e6),
        torsion.tube_buckling_torque(0.1, 0.02, 206e9),
        torsion.tube_buckling_torque(0.1, 0.0, 206e9),
        torsion.tube_mass(0.05, 0.06, 1.0, 7850.0),
        torsion.tube_inertia(0.05, 0.04, -1.0, 7850.0),
    ],
)
def test_outside_its_range_a_formula_says_nothing(value: float) -> None:
    """Nothing that looks like a number."""
    assert np.isnan(value)


def test_inertia_of_a_thin_tube_is_mass_times_radius_squared() -> None:
    """A bound everybody knows."""
    mass, inertia = (each(0.1, 0.0998, 1.0, 7850.0) for each in (torsion.tube_mass, torsion.tube_inertia))

    assert inertia == pytest.approx(mass * 0.05**2, rel=5e-3)


def test_one_bad_draw_spoils_no_other() -> None:
    """Arrays in, arrays out."""
    found = torsion.torque_capacity(np.array([0.08, 0.08]), np.array([0.07, 0.09]), 300e6, 2.0)

    assert np.isfinite(found).tolist() == [True, False]
