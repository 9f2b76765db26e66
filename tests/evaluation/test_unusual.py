"""Values that the trade seldom sees: no ground for "holds" at stake safety, and asked about in every report."""

from __future__ import annotations

import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.requirement import AtMost, Requirement, Source, SourceKind, Stake
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.facts.quantity import TORQUE
from trialfit.parts import Clutch

ODD = "usual is 30 N·m to 3000 N·m"


def _finding(rating, stake, at_most=20_000.0):
    build = read_text(f'[clutch]\nrated_torque = "{rating}"')
    wanted = Requirement(
        id="test.rating.clutch",
        about="clutch",
        says="the rating is small",
        value=lambda ev: ev(ev.part(Clutch).rated_torque),
        quantity=TORQUE,
        stake=stake,
        limit=AtMost(at_most),
        source=Source("nowhere", SourceKind.published),
    )
    report = work_out(Evaluation(build, 64), [wanted])
    return report, report["test.rating.clutch"]


@pytest.mark.parametrize(
    ("rating", "stake", "at_most", "verdict"),
    [
        ("9000 N·m, manual", Stake.safety, 20_000.0, Verdict.unsettled),
        ("9000 N·m, manual; really", Stake.safety, 20_000.0, Verdict.holds),
        ("900 N·m, manual", Stake.safety, 20_000.0, Verdict.holds),
        ("9000 N·m, manual", Stake.durability, 20_000.0, Verdict.holds),
        ("9000 N·m, manual", Stake.safety, 100.0, Verdict.fails),
    ],
)
def test_only_holds_at_stake_safety_waits_for_the_answer(rating, stake, at_most, verdict):
    assert _finding(rating, stake, at_most)[1].verdict is verdict


def test_the_remark_names_the_fact_and_what_is_usual_at_any_stake():
    for stake in Stake:
        _, finding = _finding("9000 N·m, manual", stake)
        assert finding.remark.startswith(f"really? clutch.rated_torque is 9000 N·m, {ODD}")
    assert "really" not in _finding("9000 N·m, manual; Really, a tractor's", Stake.safety)[1].remark


def test_the_report_asks_about_facts_that_no_finding_read():
    report = work_out(Evaluation(read_text('[clutch]\nrated_torque = "9 kN·m"'), 1), [])

    assert [(one.path, one.says) for one in report.questions] == [
        ("clutch.rated_torque", f'is 9 kN·m, {ODD}. Really? If it is correct, write "9 kN·m; really"')
    ]


@pytest.mark.parametrize(
    ("rating", "verdict"), [("9000 N·m, manual", Verdict.unsettled), ("900 N·m, manual", Verdict.holds)]
)
def test_one_unusual_fact_among_usual_ones_is_enough(rating, verdict):
    build = read_text(f'[clutch]\nrated_torque = "{rating}"\n[car]\nwheelbase = "2.4 m"\nmass = "900 kg"')
    car = build.parts["car"]
    finding = work_out(
        Evaluation(build, 64),
        [
            Requirement(
                id="test.rating.clutch",
                about="clutch",
                says="the rating is small",
                value=lambda ev: ev(car.wheelbase) + 0 * ev(ev.part(Clutch).rated_torque) + 0 * ev(car.mass),
                quantity=TORQUE,
                stake=Stake.safety,
                limit=AtMost(20_000.0),
                source=Source("nowhere", SourceKind.published),
            )
        ],
    )["test.rating.clutch"]

    assert finding.verdict is verdict
