"""The radiator: what a builder writes of it, and what is refused."""

from __future__ import annotations

import pytest

from trialfit.facts.reading import read_fact
from trialfit.parts import Radiator
from trialfit.parts.declaring import FactSpec
from trialfit.parts.reading import read_part


def test_a_radiator_keeps_what_is_written_of_it():
    """Flows, conductance and area in SI; the share of heat is the typical one where nobody has written it."""
    part, problems = read_part(
        "radiator", Radiator, {"conductance": "1.9 kW/K", "coolant_flow": "90 l/min", "fan_flow": "1800 m³/h"}
    )

    assert problems == []
    assert part.conductance.written.si == pytest.approx(1900)
    assert part.coolant_flow.written.si == pytest.approx(1.5e-3)
    assert part.fan_flow.written.si == pytest.approx(0.5)
    assert (part.heat_rejection_ratio.known.si, part.heat_rejection_ratio.known.spread.plus) == pytest.approx(
        (0.8, 0.2)
    )
    assert part.ambient_temperature.known.si == pytest.approx(308.15)


def test_each_fact_has_an_example_that_can_be_written():
    for name, spec in Radiator.specs().items():
        assert isinstance(spec, FactSpec)
        fact = read_fact(spec.example, spec.quantity)
        assert spec.bounds.admit(fact.si), name


def test_a_conductance_and_a_rating_are_not_written_both():
    part, _ = read_part(
        "radiator", Radiator, {"conductance": "1.9 kW/K", "rated_heat": "60 kW", "rated_air_speed": "6 m/s"}
    )

    assert list(part.faults()) == [("rated_heat", "conflicts with radiator.conductance: write one of the two")]


@pytest.mark.parametrize(
    ("key", "text", "says"),
    [
        ("coolant_flow", "90 l", "expected a volume flow"),
        ("conductance", "1.9 kW", "expected a heat conductance"),
        ("glycol_share", "80 %", "55"),
        ("face_area", "0 m²", "above 0"),
    ],
)
def test_what_cannot_be_is_refused(key, text, says):
    """The sentence says what is wanted."""
    _, problems = read_part("radiator", Radiator, {key: text})

    assert [problem.path for problem in problems] == [f"radiator.{key}"]
    assert says in problems[0].says
