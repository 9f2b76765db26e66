"""The spread goes through, whatever the number of draws."""

from __future__ import annotations

from pathlib import Path

import pytest

from trialfit.book import read
from trialfit.subjects import evaluate

DEMOS = Path(__file__).parents[3] / "demos"


@pytest.mark.parametrize("demo", ["hillclimb", "pickup", "electric"])
def test_one_draw_gives_the_nominal_of_many(demo) -> None:
    """Draw 0 is the nominal: a build worked out once and 4096 times agree on it."""
    build = read(DEMOS / f"{demo}.toml")
    once, often = evaluate(build, 1, ["torque_path"]), evaluate(build, 512, ["torque_path"])

    for one in (*once.findings, *once.figures):
        many = often.result(one.id)
        if (
            one.id.startswith("torque_path.grip_governs")
            or one.value is None
            or many.value is None
            or one.state != many.state
        ):
            continue  # of the states that are near each other, the draws decide which is the worst
        assert many.value.nominal == pytest.approx(one.value.nominal, rel=1e-9), one.id


def test_each_finding_of_a_demo_is_worked_out_or_names_what_is_missing() -> None:
    """No finding without a value and without a reason."""
    for demo in ("hillclimb", "pickup", "electric"):
        for finding in evaluate(read(DEMOS / f"{demo}.toml"), 256, ["torque_path"]).findings:
            assert (finding.value is None) == bool(finding.missing), finding.id


def test_the_margin_of_a_rating_stands_on_rating_and_engine(report) -> None:
    """In top gear the engine sets the torque: its curve and the rating make the margin, the tyres do not."""
    changes = {
        "engine.torque_curve": "rpm : N·m ± 5 %\n1000 : 300\n3000 : 400\n",
        "engine.curve_bulge": "0 ± 0 %",
        "gearbox.rated_torque": "450 ± 20 N·m, manual",
    }
    finding = report(changes, draws=1024)["torque_path.gearbox"]
    shares = {fact.path: fact.share for fact in finding.facts}

    assert shares["engine.torque_curve"] + shares["gearbox.rated_torque"] == pytest.approx(1, abs=0.02)
    # Straight-line budget: u of the curve 400·2.5 % = 10 N·m; a manual's ± 20 N·m is a tolerance, evenly spread: 11.5 N·m.
    assert shares["gearbox.rated_torque"] == pytest.approx(11.547**2 / (11.547**2 + 10**2), abs=0.03)
