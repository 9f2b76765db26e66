"""Welds and thin sheet against printed values."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.structure.spot_welds import spot_strength
from trialfit.handbook.structure.thin_sheet import lever_stress_along
from trialfit.handbook.structure.weld_lines import shared_force, throat_stress, weld_group
from trialfit.handbook.structure.welded_metals import metal_named
from trialfit.handbook.structure.welds import throat


# Mechanical Engineering Design, 9th ed., example 9-1, from memory: 6 mm fillets in the shape of a channel, 56 by 190 mm; 25 kN at 110.4 mm from
# their centre, on the side of the upright run: 43.9 MPa at its ends.
def test_a_fitting_welded_to_a_channel() -> None:
    """The load is behind the back of the pattern: its twist has the other sign."""
    group = weld_group("channel", 0.056, 0.190)
    q = shared_force(group, down=25e3, twist=-25e3 * 0.1104)

    assert group.across_centre * 1e3 == pytest.approx(10.4, abs=0.05)
    assert throat_stress(q, throat(0.006)) / 1e6 == pytest.approx(43.9, abs=0.1)


# Formulas for Stress and Strain, flat circular plates, a couple on a stiff trunnion, outer edge fixed, from memory: 9.36·M/(a·t²) for b/a = 0.1.
def test_a_lever_on_a_trunnion_in_a_wide_plate() -> None:
    """Within 3 %: the printed plate is ten times as wide as the trunnion, ours is wider still."""
    side = 0.01 * np.sqrt(np.pi)
    stress = lever_stress_along(1.0, side, side, 1e3, 1e-3)

    assert stress * 0.1 * 1e-6 == pytest.approx(9.36, rel=0.03)


# Filler maker's guide, typical groove welds as welded, from 18, 19, 22 and 14 ksi of yield: 6061-T6 with 4043 and 5356, 5083, 5052-H32.
@pytest.mark.parametrize(("metal", "yields"), [("6061-T6", (124, 131)), ("5083", (152,)), ("5052-H32", (97,))])
def test_typical_welds_of_aluminium_lie_within_what_is_taken(metal: str, yields: tuple[float, ...]) -> None:
    """The upper end is the highest of them: codes allow less."""
    low, high = (end / 1e6 for end in metal_named(metal).welded_yield or ())

    assert all(low <= one <= high for one in yields)
    assert high == pytest.approx(max(yields))


# Student racing-car competition rules, F.3.4.2.
def test_mild_steel_as_welded() -> None:
    """180 MPa at welds, 305 MPa plain."""
    metal = metal_named("mild steel")

    assert (metal.welded_yield, metal.plain_yield) == ((180e6, 180e6), 305e6)


# AWS D8.9, least lap shear of a spot, from memory: (−6.36e−7·S² + 6.58e−4·S + 1.674)·4·S·t^1.5/1000 in kN, S in MPa, t in mm.
@pytest.mark.parametrize("thickness", [0.8, 1.0, 1.6, 2.0])
def test_the_chart_of_spots_is_above_the_formula_for_soft_steel_by_up_to_two(thickness: float) -> None:
    """From half of the chart at 300 MPa to all of it at 480: what the share of the chart spans."""
    chart = float(spot_strength(thickness * 1e-3, 0.02)) / 1e3
    soft, strong = ((-6.36e-7 * s**2 + 6.58e-4 * s + 1.674) * 4 * s * thickness**1.5 / 1e3 for s in (300, 480))

    assert 0.45 < soft / chart < strong / chart < 1.1
