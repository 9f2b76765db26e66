"""How a hoist behaves: balance in every attitude, slack legs, the plate of a crane, and the signs."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from trialfit.handbook.lifting.hoisting import (
    boom_rating,
    centre_of_mass,
    hang_angle,
    hook_for_angle,
    symmetric_leg,
    three_legs,
    two_legs,
)


@given(
    hook=st.tuples(st.floats(-0.05, 0.05), st.floats(-0.05, 0.05), st.floats(0.3, 1.0)),
    centre=st.tuples(st.floats(-0.05, 0.05), st.floats(-0.05, 0.05), st.floats(-0.4, 0.0)),
)
def test_three_legs_balance_the_weight(hook, centre) -> None:
    """The pulls add up to the weight along the line from centre to hook."""
    eyes = np.array([[0.3, 0.25, 0], [0.3, -0.25, 0], [-0.35, 0, 0.05]])
    place, at = np.array(hook), np.array(centre)
    tensions = three_legs(1000.0, eyes, place, at)
    legs = place - eyes
    pulls = (np.asarray(tensions)[:, None] * legs / np.linalg.norm(legs, axis=-1)[:, None]).sum(axis=0)

    assert pulls == pytest.approx(1000.0 * (place - at) / np.linalg.norm(place - at), abs=1e-6)


def test_a_flatter_leg_is_pulled_harder() -> None:
    """The sign is pinned."""
    assert symmetric_leg(1000.0, 2, np.radians(30.0)) > symmetric_leg(1000.0, 2, np.radians(60.0))
    assert np.isnan(symmetric_leg(1000.0, 2, 0.0))


def test_a_leg_that_would_have_to_push_has_no_answer() -> None:
    """Centre far outside both eyes: one leg goes slack and the load swings."""
    first, second = two_legs(1000.0, 0.2, 0.2, 0.5, offset=1.5, below=0.1)

    assert np.isnan(first)
    assert np.isnan(second)


def test_the_nearer_leg_carries_more() -> None:
    """The centre towards eye 1 loads leg 1."""
    first, second = two_legs(1000.0, 0.3, 0.3, 0.5, offset=0.1, below=0.2)

    assert first > second
    assert two_legs(1000.0, 0.3, 0.3, 0.5, offset=-0.1, below=0.2) == pytest.approx((second, first))


def test_three_eyes_in_one_plane_with_the_hook_have_no_answer() -> None:
    """Nan for that draw, and the sound draw beside it keeps its values."""
    flat = [[0.3, 0, 0], [0.1, 0, 0], [-0.3, 0, 0]]
    sound = [[0.3, 0.2, 0], [0.3, -0.2, 0], [-0.3, 0, 0]]
    tensions = three_legs(
        np.full(2, 1e3), np.array([flat, sound]), np.array([[0, 0, 0.6]] * 2), np.array([[0, 0, -0.2]] * 2)
    )

    assert np.isfinite(tensions).all(axis=-1).tolist() == [False, True]


def test_two_eyes_in_one_place_share_the_load_in_no_certain_way() -> None:
    """Nan, without a warning of a division by nothing."""
    assert np.isnan(two_legs(1000.0, 0.2, -0.2, 0.5)).all()
    assert np.isnan(two_legs(1000.0, 0.0, 0.0, 0.5)).all()


def test_a_crane_bears_nothing_beyond_its_longest_hole() -> None:
    """Never extrapolated, never interpolated upwards."""
    found = boom_rating(np.array([0.5, 1.0, 1.4, 1.6, -1.0]), [1.0, 1.5], [1000.0, 500.0])

    assert found == pytest.approx([1000, 1000, 500, 0, np.nan], nan_ok=True)


@given(depth=st.floats(0.1, 2.0), tilt=st.floats(-1.5, 1.5), centre=st.floats(-3.0, 1.0))
@example(depth=0.5, tilt=np.radians(80.0), centre=-0.2)
def test_hooked_for_an_angle_it_hangs_at_it(depth: float, tilt: float, centre: float) -> None:
    """One is the inverse of the other."""
    assert hang_angle(centre - hook_for_angle(centre, depth, tilt), depth) == pytest.approx(tilt, abs=1e-9)


def test_a_centre_of_nothing_is_no_number() -> None:
    """No mass."""
    assert np.isnan(centre_of_mass([0.0, 0.0], [1.0, 2.0]))
