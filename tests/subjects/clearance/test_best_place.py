"""The pose looked for and the pose judged are of the same car: the search and the findings agree."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from trialfit.advice.posed import moved, with_picks
from trialfit.book import read_text
from trialfit.placement.binding import look
from trialfit.subjects.catalogue import evaluate
from trialfit.subjects.clearance.placing import placing_of

DEMOS = Path(__file__).parents[3] / "demos"


@pytest.fixture(scope="module")
def hillclimb():
    """With the axis it rocks about written: taken from the mounts it would stay with them, while the search takes it along."""
    text = (DEMOS / "hillclimb.toml").read_text(encoding="utf-8")
    return read_text(text.replace("roll_axis_z =", 'roll_axis_y = "0 ± 20 mm"\nroll_axis_z ='))


def test_the_search_and_the_findings_speak_of_the_same_car(hillclimb):
    """At poses away from the taped one, each value of the search is that of the finding, worked out by other code."""
    build = with_picks(hillclimb, {"sump": "sump_shallow"})
    placing = placing_of(build)
    for step in ([0.004, -0.007, -0.027, 0, 0.033, 0.014], [-0.01, 0.005, -0.01, 0, 0.0, -0.01]):
        pose = placing.now + np.array(step)
        report = evaluate(moved(build, pose), 64, ("clearance", "driveline"))
        findings = {finding.id: finding for finding in report.findings}
        compared = 0
        for seen in look(placing.problem, pose):
            finding = findings.get(seen.name)
            if finding is None or finding.margin is None:
                continue
            scale = {"length": 1000.0, "angle": np.degrees(1.0), "share": 100.0}[seen.sort]
            if seen.name not in {
                "clearance.rear_share",
                "driveline.residual",
            }:  # counted otherwise: see test_unevenness
                smallest = min([finding.margin.nominal, *(state.margin.nominal for state in finding.states)])
                assert seen.margin * scale == pytest.approx(smallest, abs=0.02), seen.name
                compared += 1
        assert compared > 20
