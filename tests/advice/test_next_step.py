"""The sentence behind a finding: nothing where it holds, what to get, what to measure, or what to change."""

from __future__ import annotations

import pytest

from trialfit.advice.next_step import get, next_step, percent
from trialfit.evaluation.verdict import Verdict
from trialfit.subjects.catalogue import evaluate


def _step(made, finding):
    found = evaluate(made)[finding]
    return found.verdict, next_step(made, found)


def test_what_holds_needs_nothing(build):
    assert _step(build(), "bench.reach") == (Verdict.holds, "")


def test_what_nobody_has_measured_yet_is_not_to_be_measured_better(build):
    made = build(length="1190 mm, guess")
    guessed = evaluate(made)["bench.reach"]
    facts = tuple(one.model_copy(update={"provenance": "typical"}) for one in guessed.facts)
    missing = guessed.model_copy(update={"facts": facts})

    assert next_step(made, guessed).startswith("Measure prop_shaft.length better: it is a guess, ")
    assert next_step(made, missing).startswith("Measure prop_shaft.length: it is missing, ")


def test_what_is_unknown_names_every_fact_to_get_with_its_meaning(build):
    made = build(slip_gap=None, spline_overlap=None)
    verdict, step = _step(made, "bench.gap")
    specs = made.parts["prop_shaft"].specs()

    assert verdict is Verdict.unknown
    for name in ("slip_gap", "spline_overlap"):
        assert f"prop_shaft.{name}" in step
        assert specs[name].says.rstrip(".") in step


def test_what_is_unknown_without_a_missing_fact_sends_nobody_for_one():
    """A value outside the range of its formula."""
    assert get({})
    assert "Get" not in get({})


def test_what_fails_far_off_asks_for_a_change_and_no_measurement(build):
    verdict, step = _step(build(length="1300 ± 1 mm"), "bench.reach")

    assert verdict is Verdict.fails
    assert "prop_shaft.length" not in step


def test_what_fails_within_its_spread_is_measured_before_it_is_changed(build):
    """1203.5 ± 2 mm against 1200: doubled, its spread reaches the limit."""
    verdict, step = _step(build(length="1203.5 ± 2 mm"), "bench.reach")

    assert verdict is Verdict.fails
    assert "prop_shaft.length" in step


def test_what_is_unsettled_names_the_measurement_and_its_share(build):
    verdict, step = _step(build(length="1190 mm, guess"), "bench.reach")

    assert verdict is Verdict.unsettled
    assert "prop_shaft.length" in step
    assert "100 %" in step


def test_of_two_facts_the_one_that_settles_it_alone_is_named(build):
    """Nearly all the doubt is the gap's."""
    _, step = _step(build(slip_gap="12 mm, guess", spline_overlap="10 ± 0.1 mm"), "bench.gap")

    assert "prop_shaft.slip_gap" in step
    assert "prop_shaft.spline_overlap" not in step


def test_where_no_instrument_gives_the_fact_it_is_named_with_its_share(build):
    verdict, step = _step(build(tyre_friction="1.12 ± 0.1"), "bench.grip")

    assert verdict is Verdict.unsettled
    assert "car.tyre_friction" in step
    assert "%" in step


@pytest.mark.parametrize(("share", "text"), [(0, "0 %"), (0.125, "12 %"), (0.996, "100 %"), (1, "100 %")])
def test_a_share_is_shown_in_whole_percent(share, text):
    assert percent(share) == text
