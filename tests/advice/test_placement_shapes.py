"""The shapes of `place`, `clearances` and `mesh`: what is printed as JSON is read back, and a word stands for a verdict."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from trialfit.advice.clearances import clearances
from trialfit.advice.placement_shapes import FAR, STEPS, Clearances, PlacedRequirement, Placement
from trialfit.advice.placing import place
from trialfit.evaluation.verdict import Verdict
from trialfit.facts.quantity import ANGLE, LENGTH, SHARE
from trialfit.facts.reading import read_fact
from trialfit.facts.units import display_unit


def requirement(verdict, normalised):
    return PlacedRequirement(
        id="clearance.gap.sump.rack",
        unit="mm",
        value=20,
        limit=12,
        margin=8,
        spread=2,
        normalised=normalised,
        verdict=verdict,
        share=0,
        gain=None,
        where="",
        state="",
    )


@pytest.mark.parametrize(
    ("verdict", "normalised", "word"),
    [
        (Verdict.holds, 8, "holds"),
        (Verdict.fails, FAR + 1, "fails"),
        (None, FAR + 0.1, "clear by far"),
        (None, FAR, "not judged"),
        (None, -1, "not judged"),
    ],
)
def test_where_no_finding_judges_it_a_requirement_is_clear_only_by_far(verdict, normalised, word):
    assert requirement(verdict, normalised).word == word


def test_a_limit_is_a_least_one_where_nothing_else_is_said():
    assert requirement(None, 1).side == "at least"


@pytest.mark.parametrize("quantity", [LENGTH, ANGLE, SHARE], ids=lambda one: one.name)
def test_every_unit_of_a_requirement_has_a_step_to_ease_it_by(quantity):
    step = STEPS[display_unit(quantity).canonical]

    assert read_fact(step, quantity).si > 0


def test_what_is_printed_as_json_is_read_back_whole(bay):
    build = bay()
    placed, seen = place(build, held=["z=400 mm", "y=0 mm"], draws=16), clearances(build, 16)

    assert Placement.model_validate_json(placed.model_dump_json()) == placed
    assert Clearances.model_validate_json(seen.model_dump_json()) == seen


def test_an_answer_cannot_be_changed_or_given_more_than_it_has():
    with pytest.raises(ValidationError):
        requirement(None, 1).margin = 9
    with pytest.raises(ValidationError):
        PlacedRequirement(**requirement(None, 1).model_dump(), colour="red")
