"""Radiators and coolant against tables that are printed elsewhere."""

from __future__ import annotations

import pytest

from trialfit.handbook.cooling.coolant import (
    READS_HIGH,
    air_pressure,
    boiling_point,
    coolant_density,
    coolant_heat_capacity,
    glycol_mass_fraction,
    saturation_pressure,
    saturation_temperature,
)
from trialfit.handbook.cooling.heat_exchange import (
    capacity_rate,
    crossflow_effectiveness,
    duty,
    duty_per_kelvin,
    heat_to_coolant,
)

ZERO = 273.15
PSI = 6894.757


@pytest.mark.parametrize(
    ("kelvins", "megapascals"), [(300.0, 0.353658941e-2), (500.0, 0.263889776e1), (600.0, 0.123443146e2)]
)
def test_boiling_pressure_of_water_is_that_printed(kelvins: float, megapascals: float) -> None:
    """IAPWS-IF97, table 35; digits from memory."""
    assert saturation_pressure(kelvins) == pytest.approx(megapascals * 1e6, rel=1e-8)


@pytest.mark.parametrize(
    ("megapascals", "kelvins"), [(0.1, 0.372755919e3), (1.0, 0.453035632e3), (10.0, 0.584149488e3)]
)
def test_boiling_temperature_of_water_is_that_printed(megapascals: float, kelvins: float) -> None:
    """IAPWS-IF97, table 36; digits from memory."""
    assert saturation_temperature(megapascals * 1e6) == pytest.approx(kelvins, rel=1e-8)


@pytest.mark.parametrize(
    ("transfer_units", "ratio", "exact"), [(1.0, 0.3, 0.5796), (2.0, 0.5, 0.7324), (1.2, 0.75, 0.5550)]
)
def test_effectiveness_is_that_of_an_open_library(transfer_units: float, ratio: float, exact: float) -> None:
    """The open library ht, cross flow with both streams unmixed: its exact value, to the last digit noted."""
    assert crossflow_effectiveness(transfer_units, ratio) == pytest.approx(exact, abs=6e-5)


def test_a_radiator_worked_out_with_that_library() -> None:
    """0.252 m² at 6 m/s of 1.125 kg/m³, 1.6 kg/s of coolant at 3584.7 J/(kg·K), NTU 1.1, 105 °C in, air 40 °C: 67.9 kW.

    The effectiveness 0.6099 is the library's, the rest by hand. At r = 0.8 that is a steady 84.9 kW of the engine.
    """
    air = capacity_rate(1.125, 0.252 * 6.0, 1007.0)
    per_kelvin = duty_per_kelvin(1.1 * air, air, 1.6 * 3584.7)
    heat = duty(per_kelvin, 105 + ZERO, 40 + ZERO)

    assert air / (1.6 * 3584.7) == pytest.approx(0.2987, abs=1e-4)
    assert heat == pytest.approx(67.90e3, rel=0.002)
    assert heat_to_coolant(84.9e3, 0.8) == pytest.approx(heat, rel=0.01)


@pytest.mark.parametrize(("cap", "celsius"), [(0.0, 107.8), (15 * PSI, 127.8)])
def test_half_and_half_boils_as_an_antifreeze_page_prints(cap: float, celsius: float) -> None:
    """Published antifreeze page: 226 °F in the open, 262 °F under 15 psi. Never more than 0.5 K above once READS_HIGH is off."""
    found = boiling_point(0.5, 101325.0, cap) - ZERO

    assert celsius - 2.0 <= found - READS_HIGH <= celsius + 0.5


def test_water_boils_under_a_cap_as_the_page_prints() -> None:
    """The same page: 246 °F, 118.9 °C, under 15 psi; steam tables give 120.95 °C, which is the one that is right for water."""
    found = boiling_point(0.0, 101325.0, 15 * PSI) - ZERO

    assert found == pytest.approx(120.95, abs=0.3)
    assert found - READS_HIGH == pytest.approx(118.9, abs=0.5)


@pytest.mark.parametrize(
    ("cap", "altitude", "celsius"),
    [(0, 0, 108.0), (50, 0, 120.3), (90, 0, 127.8), (110, 0, 131.2), (140, 0, 135.7), (90, 2000, 123.9)],
)
def test_boiling_as_an_open_library_of_fluids_gives_it(cap: float, altitude: float, celsius: float) -> None:
    """Raoult's law with the saturation pressures of water of CoolProp 8.0, and ISO 2533: ±0.1 K."""
    found = boiling_point(0.5, air_pressure(altitude), cap * 1e3) - ZERO

    assert found == pytest.approx(celsius, abs=0.1)


def test_coolant_carries_as_much_as_that_library_of_fluids_says() -> None:
    """CoolProp 8.0, half and half by volume at 90 °C: 3584.7 J/(kg·K), 1021.1 kg/m³; 60 kW over 8 K are 122.9 l/min by hand."""
    mass = glycol_mass_fraction(0.5)
    carried = capacity_rate(coolant_density(mass), 122.9e-3 / 60, coolant_heat_capacity(mass))

    assert mass == pytest.approx(0.527, abs=5e-4)
    assert coolant_heat_capacity(mass) == pytest.approx(3584.7, rel=1e-3)
    assert coolant_density(mass) == pytest.approx(1021.1, rel=1.5e-3)
    assert carried * 8 == pytest.approx(60e3, rel=2e-3)


def test_air_thins_with_altitude_as_the_standard_prints() -> None:
    """ISO 2533, 2000 m: 79 501 Pa, from memory."""
    assert air_pressure(2000.0) == pytest.approx(79501.0, rel=1e-4)
