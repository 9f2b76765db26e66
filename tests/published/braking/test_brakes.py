"""Sharing of the braking against values printed elsewhere; the source stands beside each."""

from __future__ import annotations

import pytest

from trialfit.handbook.braking.brakes import adhesion_utilisation, reach, synchronous_rate

EMPTY = (3.95, 2.10, 0.845)
LADEN = (3.95, 2.95, 1.17)
SHARE = 0.38
GRIP = 0.80


# Textbook of automobile theory, chapter on braking, exercise with a medium truck (wheelbase 3.95 m, front share 0.38),
# as solved in two public course reports: synchronous grip -0.413 empty, 0.428 laden.
@pytest.mark.parametrize(("car", "printed"), [(EMPTY, -0.413), (LADEN, 0.428)])
def test_the_grip_at_which_both_axles_lock_together(car, printed) -> None:
    """Below zero: the rear always locks first."""
    assert synchronous_rate(SHARE, *car) == pytest.approx(printed, abs=5e-4)


# The same: efficiency of braking z/μ without locking on grip 0.80, 0.6720 empty and 0.8715 laden, the rear locks first.
@pytest.mark.parametrize(("car", "printed"), [(EMPTY, 0.6720), (LADEN, 0.8715)])
def test_how_much_of_the_grip_is_used_when_the_first_axle_locks(car, printed) -> None:
    """Printed to four digits."""
    front, rear = reach(GRIP, SHARE, *car)

    assert rear < front
    assert rear / GRIP == pytest.approx(printed, abs=5e-5)


# The same, laden: 0.6038 with the rear brakes alone, 0.3318 with the front brakes alone.
def test_how_much_of_the_grip_one_axle_uses_alone() -> None:
    """β = 0 and β = 1."""
    _, rear_alone = reach(GRIP, 0.0, *LADEN)
    front_alone, _ = reach(GRIP, 1.0, *LADEN)

    assert rear_alone / GRIP == pytest.approx(0.6038, abs=5e-5)
    assert front_alone / GRIP == pytest.approx(0.3318, abs=5e-5)


# UN Regulation 13-H, annex on the distribution of braking: adhesion utilised is brake force over load of the axle, from memory.
# Figures derived from it by hand, no print: β 0.70, L 2.6, front axle to centre 1.15, h 0.54 m, z 0.8.
def test_adhesion_utilised_is_force_over_load() -> None:
    """0.7736 in front, 0.8691 at the rear."""
    front, rear = adhesion_utilisation(0.8, 0.70, 2.6, 1.15, 0.54)

    assert front == pytest.approx(0.70 * 0.8 / ((1.45 + 0.8 * 0.54) / 2.6))
    assert rear == pytest.approx(0.30 * 0.8 / ((1.15 - 0.8 * 0.54) / 2.6))
    assert (front, rear) == pytest.approx((0.7736, 0.8691), abs=5e-5)
