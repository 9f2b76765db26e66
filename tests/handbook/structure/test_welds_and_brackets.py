"""How welds and brackets behave: the sign of every effect, and nan outside the range."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.structure.brackets import bearing_stress, edge_left, plate_modulus, slenderness
from trialfit.handbook.structure.weld_lines import shared_force, throat_stress, weld_group
from trialfit.handbook.structure.welds import allowable_shear, longest_leg, smallest_leg, steel, throat


def test_bending_counts_in_full() -> None:
    """M·c/I_u: a method that halves it is not followed."""
    group = weld_group("two upright", 0.05, 0.08)

    assert shared_force(group, upright_moment=100.0) == pytest.approx(100.0 * 0.04 / (0.08**3 / 6))


def test_direct_load_spreads_over_the_whole_length() -> None:
    """F/L."""
    assert shared_force(weld_group("all round", 0.05, 0.03), down=1000.0) == pytest.approx(1000.0 / 0.16)


def test_pull_and_bending_add_and_shear_stands_square_to_them() -> None:
    """√((P/L + M·c/I)² + (F/L)²) at the far end of one upright run."""
    group = weld_group("one upright", 0.0, 0.06)
    q = shared_force(group, down=600.0, pull=900.0, upright_moment=30.0)

    assert q == pytest.approx(np.hypot(900 / 0.06 + 30 * 0.03 / (0.06**3 / 12), 600 / 0.06))


def test_one_upright_run_bears_nothing_that_bends_it_sideways() -> None:
    """It has no width: nan, not a large number."""
    assert np.isnan(shared_force(weld_group("one upright", 0.0, 0.06), sideways_moment=1.0))


def test_draws_go_through_together_in_every_pattern() -> None:
    """A circle has 72 points and a channel six: both take arrays of draws."""
    depth = np.array([0.04, 0.05, -0.05])
    for pattern in ("circle", "channel", "one upright"):
        q = shared_force(weld_group(pattern, 0.03, depth), down=1000.0, upright_moment=50.0, twist=20.0)
        assert q[0] > q[1]
        assert np.isnan(q[2])


def test_a_round_weld_bears_a_twist_alike_all_round_and_a_load_worst_at_its_side() -> None:
    """Its points lie on the ring: F/L + T·r/J, with L = 2πr and J = 2πr³; bending at the top by M·r/I, I = πr³."""
    radius = 0.025
    group = weld_group("circle", 0.0, 2 * radius)
    ring = 2 * np.pi * radius

    assert np.hypot(group.points_across, group.points_upright) == pytest.approx(radius)
    assert (group.points_across.max(), group.points_upright.max()) == pytest.approx((radius, radius))
    assert shared_force(group, twist=80.0) == pytest.approx(80.0 / (ring * radius))
    assert shared_force(group, down=900.0, twist=80.0) == pytest.approx(900.0 / ring + 80.0 / (ring * radius))
    assert shared_force(group, upright_moment=80.0) == pytest.approx(80.0 / (np.pi * radius**2))


def test_a_round_weld_does_not_care_from_where_it_is_bent() -> None:
    """M/(π·r²), slanted by any angle: to a thousandth, as its worst point lies between two of those looked at."""
    slant = np.radians(np.arange(91.0))
    q = shared_force(
        weld_group("circle", 0.0, np.full(91, 0.05)),
        upright_moment=80 * np.cos(slant),
        sideways_moment=80 * np.sin(slant),
    )

    assert q == pytest.approx(np.full(91, 80.0 / (np.pi * 0.025**2)), rel=1e-3)


def test_a_poor_root_takes_from_the_throat_until_none_is_left() -> None:
    """4 mm leg: 2.83 mm throat."""
    assert throat(0.004, np.array([0.0, 0.001, 0.003])) * 1e3 == pytest.approx(
        [2.828, 1.828, np.nan], abs=1e-3, nan_ok=True
    )


def test_a_thinner_throat_bears_less() -> None:
    """The sign is pinned."""
    assert throat_stress(1e5, 0.002) > throat_stress(1e5, 0.003)


def test_the_least_leg_of_sheet_is_the_sheet() -> None:
    """And a thicker part that is said to be thinner is out of range."""
    assert smallest_leg(0.0015, 0.0015) == pytest.approx(0.0015)
    assert np.isnan(smallest_leg(0.003, 0.005))


def test_steel_beside_a_weld_is_weaker() -> None:
    """In yield and in strength."""
    assert steel("welded_yield") < steel("parent_yield")
    assert steel("welded_ultimate") < steel("parent_ultimate")


@pytest.mark.parametrize(
    "value",
    [
        allowable_shear(0.0),
        longest_leg(0.0),
        smallest_leg(0.008, 0.0),
        plate_modulus(0.05, 0.005, 0.05),
        bearing_stress(1.0, 0.0, 1.0),
        edge_left(0.0, 0.01),
        slenderness(0.05, 0.0),
    ],
)
def test_outside_its_range_a_formula_says_nothing(value) -> None:
    """Nan, never an exception or a clip."""
    assert np.isnan(value)


def test_a_hole_in_the_middle_of_a_plate_costs_little() -> None:
    """The middle bears least: a hole of a quarter of the depth takes 1.6 %."""
    assert plate_modulus(0.06, 0.005, 0.015) / plate_modulus(0.06, 0.005) == pytest.approx(1 - 0.25**3)
