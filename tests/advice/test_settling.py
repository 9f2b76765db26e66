"""What settles one finding: the fewest measurements, the most easily had instruments, and how good each must be."""

from __future__ import annotations

import pytest

from trialfit.advice.instruments import instruments
from trialfit.advice.settling import Trial, settle
from trialfit.advice.supposing import supposed
from trialfit.evaluation.verdict import Verdict
from trialfit.subjects.catalogue import evaluate

DRAWS = 1024


def _settled(made, name):
    finding = evaluate(made, DRAWS)[name]
    assert finding.verdict is Verdict.unsettled
    return settle(Trial(made, DRAWS), finding)


def test_one_measurement_is_enough_where_one_fact_has_all_the_doubt(build):
    """Margin 10 mm, guard band U·1.960/2: a half-width of 10.2 mm does, and the tape's 2 mm is the first that is better."""
    plan = _settled(build(length="1190 mm, guess"), "bench.reach")
    (step,) = plan.steps

    assert (plan.verdict, step.path) == (Verdict.holds, "prop_shaft.length")
    assert step.instrument.name == "steel tape"
    assert step.share == pytest.approx(1, abs=0.01)
    assert step.needed == pytest.approx(2 * 10e-3 / 1.96, rel=0.05)
    assert step.instrument.half_width(1.19) <= step.needed


def test_what_is_measured_may_turn_out_to_fail(build):
    plan = _settled(build(length="1210 mm, guess"), "bench.reach")

    assert (plan.verdict, [step.path for step in plan.steps]) == (Verdict.fails, ["prop_shaft.length"])


def test_two_measurements_where_neither_is_enough_alone(build):
    """1 mm of margin, ± 3 and ± 2.5 mm: either alone leaves more than that."""
    plan = _settled(build(slip_gap="11 ± 3 mm", spline_overlap="10 ± 2.5 mm"), "bench.gap")

    assert plan.verdict is Verdict.holds
    assert [step.path for step in plan.steps] == ["prop_shaft.slip_gap", "prop_shaft.spline_overlap"]
    assert sum(step.share for step in plan.steps) == pytest.approx(1, abs=0.02)


def test_what_no_instrument_gives_is_out_of_reach_and_the_rest_is_not_measured_in_vain(build):
    """900 N is the limit, 900 N the value: the friction's doubt stays, whatever is done about the mass."""
    plan = _settled(build(mass="1000 ± 5 kg", tyre_friction="0.9 ± 0.1"), "bench.grip")

    assert plan.verdict is Verdict.unsettled
    assert [use.path for use in plan.out_of_reach] == ["car.tyre_friction"]
    assert plan.steps == ()


def test_nothing_measured_leaves_a_finding_as_it_is_and_a_finer_tool_narrows_it(build):
    made = build(length="1190 mm, guess")
    finding, trial = evaluate(made, DRAWS)["bench.reach"], Trial(made, DRAWS)
    tape = next(one for one in instruments() if one.name == "steel tape")
    taped = evaluate(supposed(made, {"prop_shaft.length": tape}), DRAWS)["bench.reach"]

    assert trial.verdict(finding, {}) is finding.verdict
    assert trial.verdict(finding, {"prop_shaft.length": tape}) is taped.verdict is Verdict.holds
    assert taped.value.nominal == pytest.approx(finding.value.nominal)
    assert taped.value.high - taped.value.low == pytest.approx(2 * 1.96, rel=0.1)  # ± 2 mm at k = 2, as 95 %
    assert trial.verdict(finding, {}) is finding.verdict, "what was tried last leaves nothing behind"


def test_trials_one_after_the_other_give_the_verdicts_that_each_gives_alone(build):
    """Two findings near their limits, in turn, so that further draws are taken: what a trial keeps of the one before changes nothing."""
    made = build(length="1190 mm, guess", slip_gap="11 ± 3 mm", spline_overlap="10 ± 2.5 mm")
    report, trial = evaluate(made, DRAWS), Trial(made, DRAWS)
    used = {one.name: one for one in instruments() if one.name in {"steel tape", "caliper"}}
    tried = [
        {},
        {"prop_shaft.slip_gap": used["steel tape"]},
        {"prop_shaft.slip_gap": used["caliper"], "prop_shaft.spline_overlap": used["caliper"]},
        {"prop_shaft.spline_overlap": used["steel tape"]},
        {"prop_shaft.length": used["steel tape"]},
    ]
    for measured in [*tried, *reversed(tried)]:
        for name in ("bench.gap", "bench.reach"):
            alone = evaluate(supposed(made, measured), DRAWS)[name].verdict
            assert trial.verdict(report[name], measured) is alone, (name, measured)
