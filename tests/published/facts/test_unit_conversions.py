"""Conversion factors against the tables that standards bodies print."""

from __future__ import annotations

import pytest

from trialfit.facts.quantity import QUANTITIES
from trialfit.facts.reading import read_fact
from trialfit.facts.units import find_unit, from_si, to_si

# NIST Special Publication 811 (2008), Appendix B.8, printed to 7 figures; exact ones in bold there. Digits of the first
# group read in a public transcription of the table.
SP_811_TRANSCRIBED = [
    ("length", "in", 2.54e-2),
    ("length", "ft", 3.048e-1),
    ("length", "yd", 9.144e-1),
    ("length", "mi", 1.609344e3),
    ("angle", "deg", 1.745329e-2),
    ("angle", "'", 2.908882e-4),
    ("angle", '"', 4.848137e-6),
    ("mass", "oz", 2.834952e-2),
    ("force", "kgf", 9.80665),
    ("force", "lbf", 4.448222),
    ("torque", "lbf·ft", 1.355818),
    ("torque", "lbf·in", 1.129848e-1),
    ("power", "hp", 7.456999e2),
    ("power", "PS", 7.354988e2),
    ("pressure", "psi", 6.894757e3),
    ("pressure", "bar", 1e5),
    ("pressure", "kgf/cm²", 9.80665e4),
    ("stress", "psi", 6.894757e3),
    ("stress", "ksi", 6.894757e6),
    ("acceleration", "g", 9.80665),
    ("acceleration", "ft/s²", 3.048e-1),
    ("volume", "US gal", 3.785412e-3),
    ("volume", "US qt", 9.463529e-4),
    ("volume", "US pt", 4.731765e-4),
    ("volume", "US fl oz", 2.957353e-5),
    ("time", "min", 60),
    ("time", "h", 3600),
]
# The same table, digits from memory.
SP_811_FROM_MEMORY = [
    ("length", "thou", 2.54e-5),
    ("mass", "lb", 4.535924e-1),
    ("speed", "km/h", 2.777778e-1),
    ("speed", "mph", 4.4704e-1),
    ("speed", "kn", 5.144444e-1),
    ("speed", "ft/s", 3.048e-1),
    ("rotational speed", "rpm", 1.047198e-1),
    ("area", "in²", 6.4516e-4),
    ("area", "ft²", 9.290304e-2),
    ("volume", "in³", 1.638706e-5),
    ("volume", "imp gal", 4.54609e-3),
    ("density", "lb/ft³", 1.601846e1),
    ("density", "lb/in³", 2.767990e4),
    ("inertia", "lb·ft²", 4.214011e-2),
    ("inertia", "lb·in²", 2.926397e-4),
    ("stiffness", "lbf/in", 1.751268e2),
    ("volume flow", "US gal/min", 6.309020e-5),
    ("volume flow", "ft³/min", 4.719474e-4),
]


@pytest.mark.parametrize(("quantity", "spelling", "printed"), SP_811_TRANSCRIBED + SP_811_FROM_MEMORY)
def test_factors_are_those_printed(quantity: str, spelling: str, printed: float) -> None:
    """One of each unit in SI, to all 7 figures printed."""
    factor = to_si(1.0, find_unit(QUANTITIES[quantity], spelling))

    assert factor == pytest.approx(printed, rel=5.1e-7 / float(f"{printed:e}".partition("e")[0]))


# NIST Special Publication 811 (2008), Appendix B.8: T/K = (t/°F + 459.67)/1.8 and T/K = t/°C + 273.15; fixed points of water
# on both scales, 32 °F = 0 °C and 212 °F = 100 °C.
@pytest.mark.parametrize(
    ("text", "kelvin"),
    [("32 °F", 273.15), ("212 °F", 373.15), ("0 °C", 273.15), ("100 °C", 373.15), ("-40 °F", 233.15)],
)
def test_temperatures_have_their_own_zero(text: str, kelvin: float) -> None:
    """Temperatures are shifted, not only scaled."""
    assert read_fact(text, QUANTITIES["temperature"]).si == pytest.approx(kelvin, abs=1e-9)


# Exact by definition: inch (international agreement of 1959), mile, PS from standard gravity (DIN 66036: 735.49875 W).
@pytest.mark.parametrize(
    ("quantity", "text", "si"),
    [
        ("length", "1 in", 0.0254),
        ("length", "1 mi", 1609.344),
        ("power", "1 PS", 735.49875),
        ("mass", "1 lb", 0.45359237),
        ("torque", "1 lbf·ft", 1.3558179483314004),
    ],
)
def test_exact_definitions_are_exact(quantity: str, text: str, si: float) -> None:
    """No digit is lost between the definition and the fact."""
    assert read_fact(text, QUANTITIES[quantity]).si == si


# Common practice, no source: a gradient of 100 % is 45°, and 1 in 5 is 20 % or 11.3°.
@pytest.mark.parametrize(("degrees", "percent"), [(45, 100), (11.3099, 20), (0, 0)])
def test_a_slope_in_degrees_is_its_tangent(degrees: float, percent: float) -> None:
    """Both ways."""
    slope = QUANTITIES["slope"]

    assert to_si(degrees, find_unit(slope, "deg")) == pytest.approx(percent / 100, abs=1e-6)
    assert from_si(percent / 100, find_unit(slope, "°")) == pytest.approx(degrees, abs=1e-4)
