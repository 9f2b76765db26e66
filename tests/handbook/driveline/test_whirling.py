"""Critical speed: what raises it, what lowers it, and what lies outside."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.driveline import whirling
from trialfit.handbook.driveline.whirling import ALUMINIUM, STEEL, critical_speed

LENGTH, OUTSIDE, SHARE = st.floats(0.3, 3.0), st.floats(0.02, 0.15), st.floats(0.0, 0.99)


@given(LENGTH, OUTSIDE, SHARE)
def test_twice_as_long_whirls_at_a_quarter_of_the_speed(length: float, outside: float, share: float) -> None:
    """Length counts squared."""
    assert critical_speed(2 * length, outside, share * outside) == pytest.approx(
        critical_speed(length, outside, share * outside) / 4
    )


@given(LENGTH, OUTSIDE, st.floats(0.0, 0.9))
def test_a_thinner_wall_and_a_thicker_tube_raise_it(length: float, outside: float, share: float) -> None:
    """The signs are pinned: mass in the middle only weighs."""
    here = critical_speed(length, outside, share * outside)

    assert critical_speed(length, outside, (share + 0.05) * outside) > here
    assert critical_speed(length, 1.1 * outside, share * outside) > here


def test_the_same_tube_in_aluminium_gains_nothing() -> None:
    """Softer and lighter in the same measure: within 2 %."""
    steel, aluminium = (
        critical_speed(1.3, 0.08, 0.07, material.youngs_modulus, material.density) for material in (STEEL, ALUMINIUM)
    )

    assert aluminium == pytest.approx(steel, rel=0.02)


@given(LENGTH, OUTSIDE, SHARE)
def test_the_longest_shaft_has_the_speed_it_was_asked_for(length: float, outside: float, share: float) -> None:
    """Round trip."""
    wanted = critical_speed(length, outside, share * outside)

    assert whirling.longest_shaft(wanted, outside, share * outside) == pytest.approx(length)


@pytest.mark.parametrize(
    ("length", "outside", "inside"),
    [(0.0, 0.08, 0.07), (1.3, 0.08, 0.08), (1.3, 0.08, -0.01), (1.3, 0.0, 0.0), (np.nan, 0.08, 0.07)],
)
def test_what_is_no_tube_has_no_critical_speed(length: float, outside: float, inside: float) -> None:
    """A wall of nothing, no length."""
    assert np.isnan(critical_speed(length, outside, inside))
    assert np.isnan(critical_speed(1.3, 0.08, 0.07, 0.0))
    assert np.isnan(critical_speed(1.3, 0.08, 0.07, 206e9, -1.0))
    assert np.isnan(whirling.longest_shaft(0.0, 0.08, 0.07))


def test_one_bad_draw_spoils_no_other() -> None:
    """Arrays in, arrays out, nan where a draw is not a tube."""
    found = critical_speed(np.array([1.3, 1.3]), 0.08, np.array([0.07, 0.09]))

    assert np.isfinite(found).tolist() == [True, False]
