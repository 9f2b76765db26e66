"""Figures on paper in the units that were asked for."""

from __future__ import annotations

import pytest

from trialfit.evaluation.finding import Interval
from trialfit.facts.quantity import ANGLE, LENGTH, PRESSURE, ROTATIONAL_SPEED, TEMPERATURE, TORQUE
from trialfit.facts.reading import read_fact
from trialfit.sheets.amounts import UnitSystem, amount, fact_text, plain

METRIC, US, BOTH = UnitSystem


@pytest.mark.parametrize(
    ("value", "unit", "metric", "customary"),
    [  # factors: NIST Special Publication 811, appendix B; °F by 1.8·°C + 32, the same
        (76.2, "mm", "76.2 mm", "3 in"),
        (100.0, "N·m", "100 N·m", "73.8 lbf·ft"),
        (7.0, "bar", "7 bar", "102 psi"),
        (640.0, "MPa", "640 MPa", "92.8 ksi"),
        (96.0, "°C", "96 °C", "205 °F"),
        (1065.0, "kg", "1065 kg", "2348 lb"),
        (120.0, "km/h", "120 km/h", "74.6 mph"),
    ],
)
def test_what_is_worked_out_comes_in_the_units_asked_for(value, unit, metric, customary):
    exact = Interval(nominal=value, low=value, high=value, unit=unit)

    assert [amount(exact, system) for system in (METRIC, US, BOTH)] == [metric, customary, f"{metric} ({customary})"]


@pytest.mark.parametrize("unit", ["°", "rpm", "%", "s", ""])
def test_what_has_no_customary_unit_is_the_same_in_both(unit):
    exact = Interval(nominal=3.5, low=3.0, high=4.0, unit=unit)

    assert len({amount(exact, system) for system in UnitSystem}) == 1


def test_the_spread_is_carried_over():
    spread = Interval(nominal=13.0, low=8.9, high=17.1, unit="mm")

    assert amount(spread, BOTH) == "13.0 ± 4.1 mm (0.51 ± 0.16 in)"
    assert amount(None, BOTH) == "not known"


@pytest.mark.parametrize(
    ("text", "quantity", "shown"),
    [
        ("2402 mm, taped", LENGTH, ["2402 mm", "2402 mm (94.57 in)", "2402 mm (94.57 in)"]),
        ("76.2 ± 0.1 mm, calipered", LENGTH, ["76.2 ± 0.1 mm", *["76.2 ± 0.1 mm (3.0000 ± 0.0039 in)"] * 2]),
        ("1 3/8 in", LENGTH, ["1.375 in (34.92 mm)", "1.375 in", "1.375 in (34.92 mm)"]),
        ("2.40 m", LENGTH, ["2.4 m", "2.4 m (94.49 in)", "2.4 m (94.49 in)"]),
        ("38 lbf·ft, manual", TORQUE, ["38 lbf·ft (51.52 N·m)", "38 lbf·ft", "38 lbf·ft (51.52 N·m)"]),
        ("85 °C", TEMPERATURE, ["85 °C", "85 °C (185 °F)", "85 °C (185 °F)"]),
        ("6 bar, catalogue", PRESSURE, ["6 bar", "6 bar (87.02 psi)", "6 bar (87.02 psi)"]),
        ("3.4 deg, gauged", ANGLE, ["3.4°"] * 3),
        ("6500 rpm", ROTATIONAL_SPEED, ["6500 rpm"] * 3),
    ],
)
def test_a_fact_stays_as_it_was_written_with_the_other_unit_beside_it(text, quantity, shown):
    fact = read_fact(text, quantity)

    assert [fact_text(fact, system) for system in UnitSystem] == shown


def test_a_plain_figure_comes_in_the_units_asked_for():
    assert [plain(0.0381, LENGTH, system) for system in UnitSystem] == ["38.1 mm", "1.5 in", "38.1 mm (1.5 in)"]
