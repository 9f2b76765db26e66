"""A factor of one's own that is laxer than the usual one makes a finding at stake safety hold only if the usual one does too."""

from __future__ import annotations

from dataclasses import replace

import pytest

import trialfit as tf
from trialfit.advice.next_step import next_step
from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.requirement import COMMON_PRACTICE, AtMost, Requirement, Stake
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import judged, work_out
from trialfit.facts.quantity import ANGLE, COEFFICIENT, LENGTH
from trialfit.parts import Drivetrain, Frame, PropShaft

LOADED = Requirement(
    id="test.frame",
    about="frame",
    says="is loaded by at most so much",
    value=lambda ev: ev(ev.part(Frame).load_factor),
    quantity=COEFFICIENT,
    stake=Stake.safety,
    limit=AtMost(2.0),
    source=COMMON_PRACTICE,
)
ROCKS = replace(LOADED, value=lambda ev: ev(ev.part(Drivetrain).rock), quantity=ANGLE, limit=AtMost(0.02))
THIN = replace(
    LOADED, value=lambda ev: ev(ev.part(PropShaft).tube_outside_diameter), quantity=LENGTH, limit=AtMost(0.08)
)


def found(written: str, requirement: Requirement = LOADED, kind: str = "frame", fact: str = "load_factor"):
    build = read_text(f'[{kind}]\n{fact} = "{written}"')
    finding = work_out(Evaluation(build, 1024), [requirement])["test.frame"]
    return finding, next_step(build, finding)


@pytest.mark.parametrize("written", ["1.2", "1.2, guess", "1.2 ± 0, computed"])
def test_a_laxer_factor_is_unsettled_and_both_are_told(written) -> None:
    """Three times the load is usual, twice is allowed, 1.2 times is written."""
    finding, step = found(written)

    assert (finding.verdict, finding.limits[0].verdict) == (Verdict.unsettled, Verdict.unsettled)
    assert finding.value.nominal == pytest.approx(1.2)
    assert step.startswith(
        "Keep to the usual frame.load_factor, 3 ± 0 (common practice, no source: 3 g down for chassis points), by which it fails, "
        "or write the manual behind your own: by 1.2"
    )
    assert "laxer than the usual 3 ± 0" in finding.remark


@pytest.mark.parametrize("limit", [2.0, 4.0])
def test_a_laxer_factor_holds_where_a_manual_is_behind_it_or_the_usual_one_holds_too(limit) -> None:
    bound = replace(LOADED, limit=AtMost(limit))

    assert found("1.2, manual", bound)[0].verdict is Verdict.holds
    assert (found("1.2", bound)[0].verdict is Verdict.holds) == (limit == 4)


def test_a_stricter_factor_decides() -> None:
    assert found("5", replace(LOADED, limit=AtMost(4.0)))[0].verdict is Verdict.fails


def test_at_other_stakes_the_builder_decides() -> None:
    finding, _ = found("1.2", replace(LOADED, stake=Stake.durability))

    assert (finding.verdict, finding.held_back) == (Verdict.holds, ())


@pytest.mark.parametrize(("how", "verdict"), [("guess", Verdict.unsettled), ("gauged", Verdict.holds)])
def test_what_was_measured_on_the_car_is_no_factor_of_ones_own(how, verdict) -> None:
    assert found(f"0.2 ± 0.1°, {how}", ROCKS, "drivetrain", "rock")[0].verdict is verdict


@pytest.mark.parametrize(
    ("size", "tool"), [("76.2 ± 0.1 mm", "caliper"), ("60 ± 1 mm, guess", "caliper")], ids=["unstated", "guess"]
)
def test_a_guessed_dimension_is_to_be_measured(size, tool) -> None:
    finding, step = found(size, THIN, "prop_shaft", "tube_outside_diameter")

    assert finding.verdict is Verdict.unsettled
    assert step.startswith(f"Measure prop_shaft.tube_outside_diameter with a {tool}: ")
    assert step.endswith("and a guessed dimension settles nothing at stake safety.")
    assert "prop_shaft.tube_outside_diameter is a dimension and settles nothing at stake safety" in finding.remark


def test_after_a_change_it_is_worked_out_anew() -> None:
    """What the usual factors give is looked at too: a manual behind the factor takes the sentence away."""
    before = Evaluation(read_text('[frame]\nload_factor = "1.2"'), 64)
    assert work_out(before, [LOADED])["test.frame"].verdict is Verdict.unsettled

    after = before.after(read_text('[frame]\nload_factor = "1.2, manual"'))
    assert work_out(after, [LOADED])["test.frame"].verdict is Verdict.holds


FLANGE = """
[bracket]
kind = "bolted_joint"
thread = "M10"
strength_class = "8.8"
nut_class = "8"
bolts = 4
pattern = "circle"
pitch_circle_diameter = "100 mm, calipered"
thread_state = "oiled"
torque = "50 N·m"
load_type = "torque"
load_torque = "{load} ± 0 N·m"
face_friction = "0.6 ± 0.02, guess"
"""


@pytest.mark.parametrize(("load", "verdict"), [(500, Verdict.unsettled), (100, Verdict.holds)])
def test_a_friction_that_nobody_finds_does_not_carry_a_joint(load, verdict) -> None:
    finding = tf.evaluate(read_text(FLANGE.format(load=load)), 1024, ("fastening",))["fastening.bracket.slip"]

    assert finding.verdict is verdict, finding


@pytest.mark.parametrize("written", ["1.2", "1.2, manual", "5"])
def test_the_verdict_alone_is_held_back_like_the_finding(written) -> None:
    """What to measure next asks for the verdict alone."""
    build = read_text(f'[frame]\nload_factor = "{written}"')

    assert judged(Evaluation(build, 1024), LOADED) is found(written)[0].verdict
