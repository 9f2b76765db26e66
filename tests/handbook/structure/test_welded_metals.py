"""Metals beside a weld and thin sheet: how the tables behave, and the sign of every effect."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.structure import thin_sheet
from trialfit.handbook.structure.mounts import everyday_load_cases, load_cases
from trialfit.handbook.structure.weld_lines import plate_force, shared_force, weld_group
from trialfit.handbook.structure.welded_metals import METALS, metal_named, repeated_yield
from trialfit.handbook.structure.welds import largest_leg_on_sheet, smallest_leg
from trialfit.handbook.tables import rows


@pytest.mark.parametrize("name", METALS)
def test_a_metal_is_no_stronger_beside_a_weld_than_the_strongest_plain_one(name: str) -> None:
    """From low to high, with a source; aluminium keeps less of a repeated load than steel, and softens further out."""
    metal = metal_named(name)

    assert metal.source
    assert metal.plain_yield > 0
    if metal.welded_yield:
        assert 0 < metal.welded_yield[0] <= metal.welded_yield[1] < 1.3 * metal.plain_yield
    if metal.family == "aluminium":
        assert metal.repeated_yield < 0.5 * metal_named("mild steel").repeated_yield
        assert metal.heat_zone >= 0.02
    assert np.isnan(repeated_yield(0.0, name))


def test_mild_steel_is_that_of_the_rules_in_both_tables() -> None:
    """180 of 305 MPa."""
    by_rules = {row["name"]: float(row["value_MPa"]) * 1e6 for row in rows("structure", "steel_as_welded")}

    assert metal_named("mild steel").welded_yield == (by_rules["welded_yield"],) * 2
    assert metal_named("mild steel").plain_yield == by_rules["parent_yield"]


def test_everyday_loads_are_no_harder_than_the_worst() -> None:
    """Case by case in each direction."""
    for way in ("down", "forward", "left", "torque"):
        assert max(getattr(case, way) for case in everyday_load_cases()) <= max(
            getattr(case, way) for case in load_cases()
        )


EVERY = (
    thin_sheet.lever_stress_along,
    thin_sheet.lever_stress_across,
    thin_sheet.pull_stress,
    thin_sheet.lever_yield_along,
    thin_sheet.lever_yield_across,
    thin_sheet.pull_yield,
)


@pytest.mark.parametrize("stress", EVERY)
def test_a_sheet_fares_better_thicker_narrower_and_under_a_larger_patch(stress) -> None:
    """The sign of each effect, for lever and pull, elastic and by yield lines."""
    first = stress(10.0, 0.04, 0.04, 0.2, 0.001)

    assert stress(10.0, 0.04, 0.04, 0.2, 0.0012) == pytest.approx(first / 1.44)
    assert stress(10.0, 0.06, 0.06, 0.2, 0.001) < first
    assert stress(10.0, 0.04, 0.04, 0.06, 0.001) < first


@pytest.mark.parametrize("stress", EVERY)
def test_a_patch_as_wide_as_the_sheet_is_free_does_not_bend_it(stress) -> None:
    """Nothing is left, and there is no jump on the way."""
    widths = np.linspace(0.5, 1.2, 701) * 0.1
    values = stress(10.0, widths, 0.05, 0.1, 0.001)

    assert values[widths >= 0.1 + 1e-9] == pytest.approx(0, abs=1e-3 * values[0])
    assert np.abs(np.diff(values)).max() < 0.02 * values[0]


@pytest.mark.parametrize("stress", EVERY)
def test_outside_its_range_a_formula_says_nothing(stress) -> None:
    """Nan, never an exception."""
    assert np.isnan(stress(1.0, 0.0, 0.01, 0.1, 0.001))
    assert np.isnan(stress(1.0, 0.01, 0.01, 0.0, 0.001))
    assert np.isnan(stress(1.0, 0.01, 0.01, 0.1, 0.0))
    assert np.isnan(largest_leg_on_sheet(0.0))


def test_there_is_a_leg_for_every_thickness() -> None:
    """The largest is no smaller than the least."""
    thickness = np.linspace(0.0006, 0.02, 200)

    assert (largest_leg_on_sheet(thickness) >= smallest_leg(thickness, thickness)).all()


def test_a_plate_under_tension_out_of_the_face_sees_no_more_than_the_throat() -> None:
    """Tension counts once, shear by the root of three."""
    group = weld_group("two upright", 0.05, 0.06)

    assert plate_force(group, pull=100.0) == pytest.approx(shared_force(group, pull=100.0))
    assert plate_force(group, down=100.0) == pytest.approx(np.sqrt(3) * shared_force(group, down=100.0))


def test_loads_may_have_an_axis_of_their_own() -> None:
    """Two comings of a load on three draws of a pattern."""
    group = weld_group("channel", np.full(3, 0.03), np.array([0.05, 0.06, 0.07]))
    down = np.array([[1000.0] * 3, [500.0] * 3])

    assert shared_force(group, down=down, twist=0.1 * down)[0] == pytest.approx(
        shared_force(group, down=down[0], twist=0.1 * down[0])
    )
    assert shared_force(group, down=down).shape == (2, 3)
