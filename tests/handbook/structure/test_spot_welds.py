"""Spot and plug welds: chart, signs of effects, nan outside the range."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.structure import spot_welds


def test_the_chart_is_met_and_goes_on_beyond_its_ends_without_a_jump() -> None:
    """By t^1.5, and nothing past 0.6 and 3 mm."""
    thickness = np.linspace(0.6, 3.0, 2401) * 1e-3
    strength = spot_welds.spot_strength(thickness, 0.02)

    assert (np.diff(strength) > 0).all()
    assert np.diff(strength).max() < 0.01 * strength.max()
    assert spot_welds.spot_strength(0.7e-3, 0.02) == pytest.approx(2500 * (0.7 / 0.8) ** 1.5)


def test_a_nugget_of_half_the_size_bears_a_quarter_and_a_larger_one_no_more() -> None:
    """Its area counts."""
    assert spot_welds.spot_strength(1e-3, 2.4e-3) == pytest.approx(4100 / 4)
    assert spot_welds.spot_strength(1e-3, 9e-3) == spot_welds.spot_strength(1e-3, 4.8e-3)


def test_a_plug_in_thin_sheet_tears_the_sheet_and_in_thick_sheet_shears_itself() -> None:
    """The weld metal matters only there."""
    assert spot_welds.plug_strength(1e-3, 8e-3, 480e6) == spot_welds.plug_strength(1e-3, 8e-3, 600e6)
    assert spot_welds.plug_strength(3e-3, 6e-3, 480e6) < spot_welds.plug_strength(3e-3, 6e-3, 600e6)


def test_a_lever_on_many_rows_pulls_the_outer_ones_harder_than_on_two_with_all_the_spots() -> None:
    """Two rows: M over half the spots and the depth; more rows are statics of Σz²."""
    heights = np.linspace(-0.5, 0.5, 5) * 0.08
    by_sum = 60.0 * 0.04 / (2 * (heights**2).sum())

    assert spot_welds.row_share(60.0, 4, 2, 0.05) == pytest.approx(60 / (2 * 0.05))
    assert spot_welds.row_share(60.0, 10, 5, 0.08) == pytest.approx(by_sum)


def test_outside_its_range_a_formula_says_nothing() -> None:
    """Nan, never an exception."""
    assert np.isnan(spot_welds.spot_strength(0.5e-3, 4e-3))
    assert np.isnan(spot_welds.plug_strength(4e-3, 8e-3, 480e6))
    assert np.isnan(spot_welds.row_share(1.0, 4, 1, 0.05))
    assert np.isnan(spot_welds.least_nugget(0.0))
    assert np.isnan(spot_welds.least_plug(0.0))
