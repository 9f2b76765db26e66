"""Clutches: new against run in, wear, signs and limits of validity."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.torque_path import clutch

OUTER, SHARE = st.floats(0.02, 0.3), st.floats(0.0, 0.98)


@given(OUTER, SHARE)
def test_friction_acts_between_the_edges_and_further_out_when_new(outer: float, share: float) -> None:
    """Even pressure has more of its force outside than even wear."""
    run_in, new = (radius(outer, share * outer) for radius in (clutch.facing_radius_run_in, clutch.facing_radius_new))

    assert share * outer < run_in <= new < outer


def test_a_new_facing_carries_two_per_cent_more_at_the_usual_shape() -> None:
    """Inside 0.6 of the outside: the docstring's figure."""
    gain = clutch.facing_radius_new(1.0, 0.6) / clutch.facing_radius_run_in(1.0, 0.6)

    assert gain == pytest.approx(1.02, abs=0.005)


@given(st.integers(1, 8), st.floats(0.05, 0.6), st.floats(100, 20000), st.floats(0.02, 0.2))
def test_capacity_grows_in_proportion_to_each_of_its_four(faces, friction, load, radius) -> None:
    """Twice one of them, twice the torque."""
    here = clutch.clutch_capacity(faces, friction, load, radius)

    assert clutch.clutch_capacity(2 * faces, friction, load, radius) == pytest.approx(2 * here)
    assert clutch.clutch_capacity(faces, 2 * friction, load, radius) == pytest.approx(2 * here)
    assert clutch.clutch_capacity(faces, friction, 2 * load, radius) == pytest.approx(2 * here)
    assert clutch.clutch_capacity(faces, friction, load, 2 * radius) == pytest.approx(2 * here)


def test_wear_lets_the_load_off_until_the_springs_hang_loose() -> None:
    """6 springs of 13 N/mm on 1353 N: half the wear, half the loss; beyond 17.3 mm there is no load to speak of."""
    left = clutch.clamp_load_after_wear(1353.0, 6, 13e3, np.array([0.0, 0.005, 0.010, 0.0173, 0.0175]))

    assert left[:3] == pytest.approx([1353, 963, 573])
    assert 0 < left[3] < 10
    assert np.isnan(left[4])


@pytest.mark.parametrize(
    "value",
    [
        clutch.facing_radius_new(0.1, 0.2),
        clutch.facing_radius_run_in(0.1, 0.1),
        clutch.clutch_capacity(0, 0.3, 1000.0, 0.1),
        clutch.clutch_capacity(2, -0.1, 1000.0, 0.1),
        clutch.clutch_capacity(2, 0.3, 1000.0, np.nan),
        clutch.clamp_load_run_in(1e5, 0.1, 0.0),
        clutch.clamp_load_new(-1e5, 0.1, 0.05),
        clutch.clamp_load_after_wear(1000.0, 6, -1.0, 0.01),
    ],
)
def test_outside_its_range_a_formula_says_nothing(value: float) -> None:
    """Nothing that looks like a number."""
    assert np.isnan(value)
