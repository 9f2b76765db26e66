"""Torque along the drive: both sides against each other, conversions, differentials, limits of validity."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.torque_path import along_the_path

TORQUE, RATIO, EFFICIENCY = st.floats(1, 3000), st.floats(0.5, 6.0), st.floats(0.85, 1.0)


@given(TORQUE, RATIO, RATIO, EFFICIENCY, EFFICIENCY, st.floats(0.2, 0.5))
def test_engine_side_and_grip_side_are_each_others_inverse(torque, gear, final, box, axle, radius) -> None:
    """The grip that the engine's torque just reaches sends the same torque back to the gearbox."""
    forward = along_the_path.from_engine(torque, gear, final, box, axle)
    back = along_the_path.from_grip(forward.axle / radius, radius, gear, final, box, axle)

    assert back.gearbox_input == pytest.approx(torque)
    assert back.pinion == pytest.approx(forward.pinion)
    assert back.gearbox_output == back.pinion


@given(TORQUE, RATIO, RATIO, EFFICIENCY, EFFICIENCY)
def test_a_rating_at_the_input_is_what_reaches_the_axle_turned_back(torque, gear, final, box, axle) -> None:
    """From the axle and from the pinion."""
    there = along_the_path.from_engine(torque, gear, final, box, axle)

    assert along_the_path.rating_at_input(there.axle, gear, final, box, axle) == pytest.approx(torque)
    assert along_the_path.rating_at_input(there.pinion, gear, gearbox_efficiency=box) == pytest.approx(torque)


@given(TORQUE, RATIO, RATIO, EFFICIENCY, EFFICIENCY)
def test_a_motor_that_brakes_has_its_losses_paid_by_the_wheels(torque, gear, final, box, axle) -> None:
    """More torque at the wheels than driving; the same without losses; and the grip turned back is what reaches it."""
    driven = along_the_path.from_engine(torque, gear, final, box, axle)
    braked = along_the_path.from_engine(torque, gear, final, box, axle, coasting=True)
    lossless = along_the_path.from_engine(torque, gear, final, coasting=True)
    slips = along_the_path.from_grip(np.asarray(braked.axle) / 0.3, 0.3, gear, final, box, axle, coasting=True)

    assert braked.axle >= driven.axle
    assert lossless.axle == pytest.approx(torque * gear * final)
    assert slips.gearbox_input == pytest.approx(torque)


def test_a_bias_below_one_favours_the_other_wheel() -> None:
    """2 and 1/2 share alike: one wheel gets two thirds."""
    assert along_the_path.half_shaft_share("limited slip", np.array([2.0, 0.5, 1.0])) == pytest.approx(
        [2 / 3, 2 / 3, 0.5]
    )


def test_a_locked_differential_loads_one_half_shaft_most() -> None:
    """Open, limited slip, locked, in this order; a bias of one is an open differential."""
    shares = [along_the_path.half_shaft_share(kind, 2.5) for kind in ("open", "limited slip", "locked")]

    assert shares == sorted(shares)
    assert along_the_path.half_shaft_share("limited slip", 1.0) == along_the_path.half_shaft_share("open")
    with pytest.raises(ValueError, match='"welded" is an unknown differential: expected open, limited slip or locked'):
        along_the_path.half_shaft_share("welded")


@given(st.floats(0, 5000), st.floats(0, 5000))
def test_the_smaller_side_governs(engine: float, grip: float) -> None:
    """And it is named."""
    torque, by_grip = along_the_path.governing(engine, grip)

    assert torque == min(engine, grip)
    assert bool(by_grip) is (grip < engine)


def test_gears_and_draws_broadcast() -> None:
    """Draws down, gears across; one bad draw spoils no other."""
    torque = np.array([[300.0], [-1.0]])
    found = along_the_path.from_engine(torque, np.array([3.2, 2.0, 1.0]), 3.7, 0.96, 0.97)

    assert np.shape(found.axle) == (2, 3)
    assert np.isfinite(found.axle).all(axis=1).tolist() == [True, False]
    assert (np.diff(found.pinion[0]) < 0).all()


@pytest.mark.parametrize(
    "value",
    [
        along_the_path.from_engine(-1.0, 3.0, 3.5, coasting=True).pinion,
        along_the_path.from_grip(1000.0, 0.0, 3.0, 3.5, coasting=True).axle,
        along_the_path.from_engine(100.0, 3.0, 3.5, 1.2).axle,
        along_the_path.from_engine(100.0, 0.0, 3.5).axle,
        along_the_path.from_grip(1000.0, 0.0, 3.0, 3.5).pinion,
        along_the_path.governing(np.nan, 100.0)[0],
        along_the_path.half_shaft_share("limited slip", -1.0),
        along_the_path.rating_at_input(-1.0),
    ],
)
def test_outside_its_range_a_formula_says_nothing(value: float) -> None:
    """Nothing that looks like a number."""
    assert np.isnan(value)
