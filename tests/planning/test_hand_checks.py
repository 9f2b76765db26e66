"""What nothing judges, as looks before the gates of a build."""

from __future__ import annotations

import pytest

from trialfit.book import read_text
from trialfit.evaluation.requirement import Stake
from trialfit.planning.hand_checks import before, hand_checks
from trialfit.planning.reports import gate_report
from trialfit.planning.site import site_of
from trialfit.planning.templates import gates
from trialfit.subjects.catalogue import evaluate
from trialfit.subjects.register import WHEN

GATES = [gate.id for _, gate in gates()]


def test_the_moments_of_the_register_begin_with_the_gates_in_their_order():
    assert list(WHEN[: len(GATES)]) == GATES


@pytest.mark.parametrize(
    ("runs_on", "first"), [("electricity", "first-roll"), ("petrol", "first-crank"), ("diesel", "first-crank")]
)
def test_a_look_belongs_to_a_gate_that_the_build_has(runs_on, first):
    checks = hand_checks(read_text(f'[engine]\nruns_on = "{runs_on}"'))
    moments = {one.before for one in checks.checks}

    assert next(when for when in WHEN if when in moments) == first


def test_each_safety_look_stands_before_one_gate_and_what_comes_later_with_the_last():
    checks = hand_checks(read_text('[gearbox]\nratios = ["3"]'))
    at_safety = [one.id for one in checks.checks if one.stake is Stake.safety]
    by_gate = [one.id for gate in GATES for one in before(gate, checks, GATES[-1])]

    assert sorted(by_gate) == sorted(at_safety)
    assert "after 100 km" in {one.before for one in before("road", checks, "road")}


def test_a_gate_shows_them_and_they_do_not_block():
    build = read_text('[gearbox]\nratios = ["3"]')
    site = site_of(build, findings=lambda _: evaluate(build, draws=1))
    report = gate_report(site, "first-roll")

    assert "gearbox.jumps_out" in {one.id for one in report.by_hand}
    assert not {one.name for one in report.blocks} & {one.id for one in report.by_hand}


def test_many_parts_are_named_by_the_first_ones():
    text = "".join(f'[joint_{number}]\nkind = "bolted_joint"\n' for number in range(6))
    (one,) = [one for one in hand_checks(read_text(text)).checks if one.id == "bolted_joint.fatigue"]

    assert one.about == "joint_0, joint_1, joint_2, joint_3 and 2 more"
    assert len(one.parts) == 6
