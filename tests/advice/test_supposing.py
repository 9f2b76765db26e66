"""A build as if a fact had been measured: the same value, another spread, everything else untouched."""

from __future__ import annotations

import pytest

from trialfit.advice.instruments import instruments
from trialfit.advice.supposing import fact_at, supposed
from trialfit.book import read_text
from trialfit.facts.provenance import Provenance

TEXT = """
[gearbox]
ratios = ["3.6 ± 0.1", "2.1 ± 0.1"]

[engine]
torque_curve = "rpm : N·m ± 10 %, guess | 1000 : 180 | 3500 : 265"

[car]
hill_grade = "20 %, guess"
"""


def _tool(name: str, quantity: str):
    return next(one for one in instruments() if one.name == name and one.quantity.name == quantity)


def test_a_fact_keeps_its_value_and_takes_the_spread_of_the_instrument():
    build = read_text('[prop_shaft]\nlength = "1190 mm, guess; by eye"')

    fact = supposed(build, {"prop_shaft.length": _tool("steel tape", "length")}).parts["prop_shaft"].length.written

    assert fact.si == pytest.approx(1.190)
    assert fact.spread.plus == pytest.approx(0.002)
    assert fact.provenance is Provenance.taped
    assert build.parts["prop_shaft"].length.written.provenance is Provenance.guess


def test_one_value_of_a_list_changes_and_the_others_do_not():
    build = supposed(read_text(TEXT), {"gearbox.ratios.2": _tool("teeth counted", "ratio")})

    first, second = build.parts["gearbox"].ratios
    assert first.written.spread.plus == pytest.approx(0.1)
    assert second.written.spread.is_zero
    assert second.written.si == pytest.approx(2.1)


def test_a_curve_takes_the_spread_over_its_largest_value():
    build = supposed(read_text(TEXT), {"engine.torque_curve": _tool("roller dynamometer", "torque")})

    assert build.parts["engine"].torque_curve.written.relative_spread.plus == pytest.approx(0.05)


def test_a_slope_in_percent_takes_a_gauge_in_degrees():
    """0.2° is a slope of 0.35 %."""
    build = supposed(read_text(TEXT), {"car.hill_grade": _tool("angle gauge on a straight edge", "slope")})

    assert build.parts["car"].hill_grade.written.spread.plus == pytest.approx(0.00349, abs=1e-5)


def test_a_typical_value_becomes_a_measured_one():
    build = supposed(read_text("[car]"), {"car.shift_time": _tool("film, 50 pictures a second", "time")})

    fact = build.parts["car"].shift_time.written
    assert (fact.si, fact.spread.plus) == (pytest.approx(0.45), pytest.approx(0.04))


def test_a_fact_without_any_value_stays_open():
    build = read_text("[car]")

    assert supposed(build, {"car.wheelbase": _tool("steel tape", "length")}).parts["car"].wheelbase.written is None


@pytest.mark.parametrize("path", ["nothing.length", "car.horn", "car", "gearbox.rated_at"])
def test_a_path_that_leads_to_no_quantity_leads_nowhere(path):
    assert fact_at(read_text(TEXT), path) is None
