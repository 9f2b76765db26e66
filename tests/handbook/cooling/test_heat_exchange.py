"""Cooling against an exact series, against itself, and against sums by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import gammainc

from trialfit.handbook.cooling.coolant import (
    air_pressure,
    boiling_point,
    coolant_density,
    coolant_heat_capacity,
    glycol_mass_fraction,
    saturation_pressure,
    saturation_temperature,
)
from trialfit.handbook.cooling.heat_exchange import (
    air_density,
    capacity_rate,
    conductance_at,
    conductance_of_rating,
    crossflow_effectiveness,
    crossflow_transfer_units,
    duty,
    duty_per_kelvin,
    heat_to_coolant,
    top_hose_temperature,
)

units = st.floats(min_value=0.01, max_value=8.0)
ratios = st.floats(min_value=0.001, max_value=1.0)
_TERMS = np.arange(1, 200)


def exact_effectiveness(transfer_units: float, ratio: float) -> float:
    """Both streams unmixed: ε = Σ P(n, NTU)·P(n, C_r·NTU)/(C_r·NTU), P the lower incomplete gamma function, n from 1."""
    other = ratio * transfer_units
    return float((gammainc(_TERMS, transfer_units) * gammainc(_TERMS, other)).sum() / other)


def marched_effectiveness(transfer_units: float, ratio: float, cells: int = 400) -> float:
    """The same by marching through the plate cell by cell: ∂θ_h/∂x = −N_h·(θ_h − θ_c), ∂θ_c/∂y = N_c·(θ_h − θ_c)."""
    own, other = transfer_units / cells, ratio * transfer_units / cells
    hot, out = np.ones(cells), np.zeros(cells)
    for row in range(cells):
        cold = 0.0
        for place in range(cells):
            passed = (hot[place] - cold) / (1 + (own + other) / 2)
            hot[place] -= own * passed
            cold += other * passed
        out[row] = cold
    return float(1 - hot.mean())


@pytest.mark.parametrize(("transfer_units", "ratio"), [(1.0, 0.3), (2.0, 0.5), (4.0, 1.0)])
def test_the_series_is_what_a_plate_does_cell_by_cell(transfer_units, ratio):
    """The oracle below is not a recalled formula alone."""
    assert marched_effectiveness(transfer_units, ratio) == pytest.approx(
        exact_effectiveness(transfer_units, ratio), abs=2e-4
    )


@given(units, ratios)
def test_effectiveness_is_the_series_by_the_library(transfer_units, ratio):
    """The incomplete gamma function of scipy, 199 terms."""
    assert crossflow_effectiveness(transfer_units, ratio) == pytest.approx(
        exact_effectiveness(transfer_units, ratio), rel=1e-6
    )


@given(units, ratios)
def test_effectiveness_lies_between_that_of_a_condenser_and_nothing_and_comes_back(transfer_units, ratio):
    """ε ≤ 1 − exp(−NTU), which holds where one stream does not warm; and the inverse finds NTU again."""
    effectiveness = crossflow_effectiveness(transfer_units, ratio)

    assert 0 < effectiveness <= -np.expm1(-transfer_units) + 1e-9
    again = crossflow_effectiveness(crossflow_transfer_units(effectiveness, ratio), ratio)
    assert again == pytest.approx(effectiveness, abs=1e-9)


@given(
    st.floats(min_value=0.1, max_value=4.0),
    st.floats(min_value=100.0, max_value=5000.0),
    st.floats(min_value=100.0, max_value=10000.0),
    st.floats(min_value=5.0, max_value=90.0),
)
def test_a_rating_gives_back_the_heat_it_was_made_from(transfer_units, air, water, difference):
    conductance = transfer_units * min(air, water)
    heat = duty_per_kelvin(conductance, air, water) * difference
    found = conductance_of_rating(heat, difference, air, water)

    assert duty_per_kelvin(found, air, water) * difference == pytest.approx(heat, rel=1e-6)


@given(st.floats(min_value=1e3, max_value=1e5), st.floats(min_value=100.0, max_value=3000.0))
def test_top_hose_and_duty_are_inverse(heat, per_kelvin):
    hot = top_hose_temperature(heat, per_kelvin, 308.15)

    assert duty(per_kelvin, hot, 308.15) == pytest.approx(heat, rel=1e-9)


def test_no_radiator_takes_more_than_its_air_carries():
    """1000 W/K at 60 K are 60 kW at most, at ε = 1."""
    assert np.isnan(conductance_of_rating(61e3, 60.0, 1000.0, 6000.0))
    assert conductance_of_rating(30e3, 60.0, 1000.0, 6000.0) > 0


def test_conductance_grows_with_the_air_and_ends_far_from_the_rating():
    """Half the speed to the power of a half: 1/√2."""
    found = conductance_at(1000.0, 6.0, np.array([1.4, 3.0, 6.0, 24.0, 25.0]), 0.5)

    assert found == pytest.approx([np.nan, 707.107, 1000.0, 2000.0, np.nan], rel=1e-5, nan_ok=True)


@given(st.floats(min_value=0.0, max_value=0.55), st.floats(min_value=0.0, max_value=150e3))
def test_pressure_and_glycol_lift_the_boiling_point(share, cap):
    plain = boiling_point(0.0, 101325.0, 0.0)

    assert plain == pytest.approx(373.12, abs=0.02)
    assert boiling_point(share, 101325.0, cap) >= plain - 1e-9
    assert boiling_point(share, air_pressure(2000.0), cap) < boiling_point(share, 101325.0, cap)


@given(st.floats(min_value=273.16, max_value=647.0))
def test_boiling_pressure_and_temperature_are_inverse(kelvins):
    assert saturation_temperature(saturation_pressure(kelvins)) == pytest.approx(kelvins, abs=1e-6)


def test_water_boils_from_its_triple_point_to_its_critical_one():
    """273.15 K at 611.213 Pa to 647.096 K at 22.064 MPa."""
    assert saturation_temperature(np.array([611.22, 22.06e6])) == pytest.approx([273.15, 647.08], abs=0.02)
    assert np.isnan(saturation_temperature(np.array([611.2, 22.07e6]))).all()


def test_sums_by_hand():
    """Definitions: 100 kW at 0.8; 1.2 kg/m³ times 1 m³/s times 1007; 101325/(287.05·300)."""
    assert heat_to_coolant(100e3, 0.8) == 80e3
    assert capacity_rate(1.2, 1.0, 1007.0) == pytest.approx(1208.4)
    assert air_density(101325.0, 300.0) == pytest.approx(1.17662, rel=1e-5)
    assert (coolant_density(0.0), coolant_heat_capacity(0.5)) == (965.3, 3615.8)
    assert glycol_mass_fraction(np.array([0.0, 1.0])) == pytest.approx([0.0, 1.0])


@pytest.mark.parametrize(
    "value",
    [
        crossflow_effectiveness(8.1, 0.5),
        crossflow_effectiveness(1.0, 1.1),
        crossflow_effectiveness(-0.1, 0.5),
        crossflow_transfer_units(0.9999, 1.0),
        heat_to_coolant(-1.0, 0.8),
        capacity_rate(0.0, 1.0, 1007.0),
        conductance_of_rating(1e3, 0.0, 1e3, 1e3),
        duty_per_kelvin(1e3, 0.0, 1e3),
        duty(1e3, 300.0, 310.0),
        top_hose_temperature(1e3, 0.0, 300.0),
        air_density(1e5, 0.0),
        air_pressure(12000.0),
        saturation_pressure(700.0),
        saturation_temperature(100.0),
        boiling_point(0.6, 101325.0, 0.0),
        boiling_point(0.5, 101325.0, -1.0),
        glycol_mass_fraction(1.1),
        coolant_density(0.7),
        coolant_heat_capacity(-0.1),
    ],
)
def test_outside_its_range_a_formula_says_nothing(value):
    assert np.isnan(value)


def test_no_ratio_at_all_is_the_limit_of_a_small_one():
    """1 − exp(−NTU)."""
    assert crossflow_effectiveness(1.5, 0.0) == pytest.approx(-np.expm1(-1.5), rel=1e-6)
