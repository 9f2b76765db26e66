"""One finding alone is the same as in the whole report, and its next step is one sentence."""

from __future__ import annotations

import pytest

from trialfit.advice.explaining import explain
from trialfit.advice.next_step import next_step, percent
from trialfit.book import BadInput
from trialfit.subjects.catalogue import evaluate


def test_a_finding_alone_is_the_one_of_the_whole_report(build):
    made = build(length="1190 mm, guess")

    alone, among = explain(made, "bench.reach").finding, evaluate(made)["bench.reach"]

    assert alone.model_copy(update={"facts": ()}) == among.model_copy(update={"facts": ()})
    assert [one.path for one in alone.facts] == [one.path for one in among.facts]
    assert [one.share for one in alone.facts] == pytest.approx([one.share for one in among.facts])


def test_a_figure_has_no_next_step(build):
    explanation = explain(build(), "bench.figure")

    assert explanation.finding is None
    assert explanation.result == explanation.figure
    assert not explanation.fails
    assert explanation.next_step == ""


def test_facts_that_act_on_each_other_leave_a_rest(build):
    """Of a product the variance is u² + v² + u²·v², u and v the relative standard uncertainties: u²·v² belongs to neither."""
    made = build(mass="1000 ± 999 kg", tyre_friction="0.9 ± 0.89")

    u2, v2 = (0.999 / 2) ** 2, (0.89 / 0.9 / 2) ** 2
    assert explain(made, "bench.grip").acting_together == pytest.approx(u2 * v2 / (u2 + v2 + u2 * v2), abs=0.01)
    assert explain(build(length="1190 mm, guess"), "bench.reach").acting_together == pytest.approx(0, abs=1e-6)


def test_a_wrong_id_is_answered_with_the_nearest(build):
    with pytest.raises(BadInput) as wrong:
        explain(build(), "bench.rich")

    assert 'bench: unknown finding "bench.rich": did you mean' in str(wrong.value)
    assert '"bench.reach"' in str(wrong.value)


@pytest.mark.parametrize(
    ("given", "finding", "sentence"),
    [
        ({}, "bench.reach", ""),
        (
            {"length": "1190 mm, guess"},
            "bench.reach",
            "Measure prop_shaft.length better: it is a guess, and 100 % of the uncertainty comes from it.",
        ),
        (
            {"length": "1190 ± 20 mm, taped"},
            "bench.reach",
            "Measure prop_shaft.length better: it was taped, and 100 % of the uncertainty comes from it.",
        ),
        (
            {"length": None},
            "bench.reach",
            "Get prop_shaft.length (length between the joint centres; with two tubes, to the joint behind the centre bearing).",
        ),
        (
            {"length": "1300 mm, taped"},
            "bench.reach",
            "Change a part, its place or its setting: better measurement does not help.",
        ),
        (
            {"tyre_friction": None, "mass": "1900 kg, weighed"},
            "bench.grip",
            "Change a part, its place or its setting: better measurement does not help.",
        ),
        (
            {"length": "1202.5 ± 2.5 mm"},
            "bench.reach",
            (
                "Measure prop_shaft.length first: within its uncertainty the limit may be met. If it still fails: "
                "Change a part, its place or its setting."
            ),
        ),
        (
            {"tyre_friction": "0.9 ± 0.1", "mass": "1000 ± 1 kg"},
            "bench.grip",
            (
                "100 % of the uncertainty comes from car.tyre_friction. It changes with the road: one measurement does not settle it. "
                "Judge the finding for the surface you drive on; where parts must survive the grip, "
                "leave a margin for a better surface."
            ),
        ),
        (
            {"length": "1200 ± 0.005 mm"},
            "bench.reach",
            "Its facts cannot be measured better: allow more margin.",
        ),
    ],
)
def test_the_next_step_says_what_to_do(build, given, finding, sentence):
    made = build(**given)

    assert next_step(made, evaluate(made)[finding]) == sentence


def test_a_requirement_with_a_cure_names_it_where_it_fails(build):
    """The cure stands alone where no measurement would turn the finding, and behind the measurement where one could."""
    surely, narrowly = build(length="1300 mm, taped"), build(length="1202.5 ± 2.5 mm")
    cure = {"cure": "Fit a shorter shaft."}

    assert next_step(surely, evaluate(surely)["bench.reach"].model_copy(update=cure)) == "Fit a shorter shaft."
    assert next_step(narrowly, evaluate(narrowly)["bench.reach"].model_copy(update=cure)).endswith(
        "If it still fails: Fit a shorter shaft."
    )


def test_a_share_is_shown_without_decimals():
    assert percent(0.123) == "12 %"
