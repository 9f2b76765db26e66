"""Hoisting against statics worked by hand and against printed sling tables; the source stands beside each."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.lifting.hoisting import (
    boom_rating,
    centre_of_mass,
    hang_angle,
    hook_for_angle,
    symmetric_leg,
    three_legs,
    two_legs,
)
from trialfit.handbook.lifting.standing import heavier_stand, load_at, push_to_tip

WEIGHT = 230 * STANDARD_GRAVITY


# Rigging-safety pages quoting ASME B30.9 and OSHA 1910.184: load factor of a leg by its angle from the level.
@pytest.mark.parametrize(("angle", "factor"), [(90, 1.000), (60, 1.155), (45, 1.414), (30, 2.000)])
def test_load_factor_of_the_printed_sling_table(angle, factor) -> None:
    """Printed to three decimals."""
    assert symmetric_leg(1.0, 1, np.radians(angle)) == pytest.approx(factor, abs=5e-4)


# Statics.
def test_two_equal_legs() -> None:
    """230 kg on two legs at 50°: 1472 N each."""
    assert symmetric_leg(WEIGHT, 2, np.radians(50.0)) == pytest.approx(1472, abs=0.5)


# Statics: ΣFx = 0 and ΣFz = 0.
def test_two_unequal_legs() -> None:
    """Eyes 0.25 and 0.35 m from below a hook 0.50 m above: 1471.0 and 1147.2 N."""
    assert two_legs(WEIGHT, 0.25, 0.35, 0.50) == pytest.approx((1471.0, 1147.2), abs=0.05)


# Statics: the load turns until its centre is under the hook; then both sums of forces vanish there.
def test_a_load_that_hangs_askew_is_in_balance() -> None:
    """Turned by the hang angle, eye forces and weight add up to nothing."""
    before, behind, hook, offset, below = 0.30, 0.40, 0.45, 0.09, 0.20
    tensions = two_legs(WEIGHT, before, behind, hook, offset, below)
    tilt = hang_angle(offset, hook + below)
    turn = np.array([[np.cos(tilt), np.sin(tilt)], [-np.sin(tilt), np.cos(tilt)]])
    # from the hook, eye 1 and eye 2 and the centre, turned about the hook so that the centre is straight below
    eyes = [np.array([before, -hook]), np.array([-behind, -hook])]
    centre = np.array([offset, -hook - below])
    turned = [turn @ point for point in (*eyes, centre)]
    pulls = sum(-tension * eye / np.linalg.norm(eye) for tension, eye in zip(tensions, turned, strict=False))

    assert turned[2][0] == pytest.approx(0, abs=1e-9)
    assert pulls == pytest.approx([0, WEIGHT], abs=1e-6)


# Statics: the same load on three eyes of which two stand together is a load on two.
def test_three_legs_come_down_to_two() -> None:
    """The pair shares what one leg in its place would carry, drawn apart a little by its spread."""
    eyes = np.array([[0.25, 0.01, 0], [0.25, -0.01, 0], [-0.35, 0, 0]])
    tensions = three_legs(WEIGHT, eyes, np.array([0, 0, 0.5]), np.array([0, 0, -0.2]))

    assert tensions[0] + tensions[1] == pytest.approx(1471.0, rel=1e-3)
    assert tensions[2] == pytest.approx(1147.2, rel=1e-3)


# Statics.
def test_hang_angle_and_its_inverse() -> None:
    """0.08 m beside the hook and 0.55 m below: 8.28°; hooked for that angle, it hangs at it."""
    tilt = hang_angle(0.08, 0.55)

    assert np.degrees(tilt) == pytest.approx(8.28, abs=0.005)
    assert hook_for_angle(0.0, 0.55, tilt) == pytest.approx(-0.08)


# Statics.
def test_hook_over_engine_and_gearbox() -> None:
    """165 kg at 0 and 62 kg at −0.78 m: −0.213 m."""
    assert centre_of_mass([165.0, 62.0], [0.0, -0.78]) == pytest.approx(-0.213, abs=0.0005)


# A folding-crane operating manual: four holes, 2, 1.5, 1 and 0.5 t from short to long. The reaches are invented.
@pytest.mark.parametrize(
    ("reach", "rating"), [(0.9, 2000), (0.91, 1500), (1.1, 1500), (1.3, 1000), (1.45, 500), (1.5, 500), (1.51, 0)]
)
def test_a_crane_between_two_holes_has_the_rating_of_the_longer(reach, rating) -> None:
    """Nothing is interpolated upwards, and beyond the last hole nothing is allowed."""
    assert boom_rating(reach, [0.9, 1.1, 1.3, 1.5], [2000, 1500, 1000, 500]) == rating


# Statics; stands are rated one by one: workshop textbook, page on stands.
def test_stands_carry_half_an_axle_each() -> None:
    """548 kg on two stands; and 0.9 m apart a push 1 m up must beat half their weight times 0.9."""
    assert heavier_stand(548.0, 0.0, 0.9) == pytest.approx(274)
    assert push_to_tip(548 * STANDARD_GRAVITY, 0.9, 1.0) == pytest.approx(548 * STANDARD_GRAVITY * 0.45)


# A reference of the trade on stands inboard of the axle, worked from statics.
def test_stands_inboard_of_the_axle_carry_a_third_more() -> None:
    """0.6 m behind the front axle of a car with 2.4 m between its axles: 33 % more."""
    assert load_at(1100.0, -1.0, -0.6, -2.4) / load_at(1100.0, -1.0, 0.0, -2.4) == pytest.approx(1.33, abs=0.005)
