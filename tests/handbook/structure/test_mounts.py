"""Mounts by statics: sums of forces and moments vanish, stiffness drops out of three, and one line holds nothing."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.structure.mounts import in_one_line, load_cases, torque_on_mounts, upright_loads

X = np.array([0.1, 0.1, -0.9, -0.8])
Y = np.array([0.3, -0.25, 0.05, -0.3])


@given(
    down=st.floats(-5e3, 5e3),
    at=st.tuples(st.floats(-1, 1), st.floats(-0.5, 0.5)),
    about=st.tuples(st.floats(-2e3, 2e3), st.floats(-2e3, 2e3)),
    count=st.sampled_from([3, 4]),
)
def test_sums_of_forces_and_moments_vanish(down, at, about, count) -> None:
    """ΣF = 0, ΣM_x = 0, ΣM_y = 0, whatever acts."""
    x, y, stiffness = X[:count], Y[:count], np.array([2e5, 3e5, 1e5, 4e5])[:count]
    loads = upright_loads(x, y, stiffness, down, *at, *about)

    assert loads.sum() == pytest.approx(down, abs=1e-6)
    assert (loads * y).sum() - down * at[1] + about[0] == pytest.approx(0, abs=1e-6)
    assert -(loads * x).sum() + down * at[0] + about[1] == pytest.approx(0, abs=1e-6)


def test_stiffness_drops_out_of_three_and_not_out_of_four() -> None:
    """Statics alone settles three."""
    soft, stiff = np.ones(4), np.array([1.0, 1.0, 1.0, 5.0])

    assert upright_loads(X[:3], Y[:3], soft[:3], 1e3, -0.2, 0, 0, 0) == pytest.approx(
        upright_loads(X[:3], Y[:3], np.array([1.0, 7.0, 3.0]), 1e3, -0.2, 0, 0, 0)
    )
    assert upright_loads(X, Y, stiff, 1e3, -0.2, 0, 0, 0)[3] > upright_loads(X, Y, soft, 1e3, -0.2, 0, 0, 0)[3]


def test_a_moment_that_lifts_the_left_side_takes_load_off_the_left_mount() -> None:
    """ISO 8855: positive about x lifts the left side."""
    loads = upright_loads(np.array([0.0, 0, -1]), np.array([0.3, -0.3, 0]), np.ones(3), 0.0, 0.0, 0.0, 600.0, 0.0)

    assert loads == pytest.approx([-1000, 1000, 0])


def test_a_load_that_presses_forward_above_the_mounts_loads_the_front() -> None:
    """Braking: the moment about y is positive and the front mounts carry more."""
    loads = upright_loads(np.array([0.0, 0, -1]), np.array([0.3, -0.3, 0]), np.ones(3), 0.0, 0.0, 0.0, 0.0, 500.0)

    assert loads == pytest.approx([250, 250, -500])


def test_mounts_in_one_line_hold_nothing() -> None:
    """Nan for that draw alone; two mounts are always in one line."""
    x = np.array([[0.0, 0.0, -1.0], [0.0, 0.0, 0.01]])
    loads = upright_loads(x, np.array([0.3, -0.3, 0.0]), np.ones(3), np.full(2, 1e3), np.zeros(2), 0.0, 0.0, 0.0)

    assert np.isfinite(loads).all(axis=-1).tolist() == [True, False]
    assert in_one_line(x, np.array([0.3, -0.3, 0.0])).tolist() == [False, True]
    assert bool(in_one_line([0.0, -1.0], [0.3, 0.0]))


def test_the_load_cases_are_those_of_common_practice() -> None:
    """3 g down, 1.5 g up, 1 g braking and aside, ½ g forward, 3 g + 1 g together; common practice, no source."""
    cases = {case.name: case for case in load_cases()}

    assert cases["bump"].down == 3
    assert cases["rebound"].down == -1.5
    assert cases["braking"].forward == 1
    assert cases["drawing away"].forward == -0.5
    assert {cases["left bend"].left, cases["right bend"].left} == {-1, 1}
    assert (cases["bump and braking"].down, cases["bump and braking"].forward) == (3, 1)
    assert {case.torque for case in cases.values()} == {-1, 0, 1}


def test_an_across_unit_holds_its_final_drive_too() -> None:
    """And a ratio of nothing has no answer."""
    assert torque_on_mounts(200.0, 3.5, 4.0) == pytest.approx(2800)
    assert np.isnan(torque_on_mounts(200.0, 0.0))
