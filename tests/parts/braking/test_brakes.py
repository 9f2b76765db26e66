"""Brakes: what a builder writes of them, and what is refused."""

from __future__ import annotations

import pytest

from trialfit.facts.reading import read_fact
from trialfit.parts import Brake
from trialfit.parts.declaring import FactSpec
from trialfit.parts.everyday import kinds_meant
from trialfit.parts.reading import read_part


def test_a_brake_keeps_what_is_written_of_it():
    """SI with a spread; discs at the rear where nothing else is said, and a valve is never taken for granted."""
    part, problems = read_part(
        "rear", Brake, {"piston_diameter": "36 mm, calipered", "piston_count": "1", "effective_radius": "111 mm, taped"}
    )

    assert problems == []
    assert (part.axle, part.design, part.valve, part.claims) == ("rear", "disc", None, "rear brakes")
    assert part.piston_diameter.written.si == pytest.approx(0.036)
    assert part.piston_count.written.spread.plus == 0
    assert part.pad_friction.is_typical


@pytest.mark.parametrize(
    "spec", [one for one in Brake.specs().values() if isinstance(one, FactSpec)], ids=lambda spec: spec.name
)
def test_the_example_of_each_fact_can_be_read_and_lies_in_its_bounds(spec):
    assert spec.bounds.admit(read_fact(spec.example, spec.quantity).si)
    assert spec.typical is None or spec.source


@pytest.mark.parametrize(
    ("entries", "path", "says"),
    [
        ({"axle": "front", "valve": "limiting"}, "b.valve", "the valve acts on the rear brakes"),
        ({"valve": "none", "valve_pressure": "30 bar, manual"}, "b.valve_pressure", 'but b.valve is "none"'),
        (
            {"piston_area": "18 cm², computed", "piston_diameter": "48 mm, calipered"},
            "b.piston_area",
            "expected one of them",
        ),
        ({"piston_diameter": "48 m, calipered"}, "b.piston_diameter", "from 5 mm to 200 mm"),
        ({"valve": "clever"}, "b.valve", "limiting"),
    ],
)
def test_what_cannot_be_is_refused_with_a_sentence(entries, path, says):
    _, problems = read_part("b", Brake, entries)

    assert [problem.path for problem in problems] == [path]
    assert says in problems[0].says


def test_words_of_the_workshop_lead_to_it():
    assert kinds_meant("calipers") == kinds_meant("rotor") == ("brake",)
