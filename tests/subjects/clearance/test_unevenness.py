"""Joints, slip and evenness of a line of one shaft or two at any pose: the same as the driveline says of the pose it has."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from trialfit.advice.posed import moved
from trialfit.book import read
from trialfit.evaluation.evaluation import Evaluation
from trialfit.parts import Gearbox
from trialfit.subjects.catalogue import evaluate
from trialfit.subjects.clearance.shaft_joints import joint_measures
from trialfit.subjects.clearance.unevenness import residual_at, residual_measure
from trialfit.subjects.placed import pose_now

DEMOS = Path(__file__).parents[3] / "demos"


@pytest.mark.parametrize("name", ["hillclimb", "pickup"])
def test_the_search_sees_the_residual_angle_that_the_driveline_sees(name):
    """At the pose the build has, and 10 mm and 1° from it with the driveline moved along; one shaft, and two."""
    build = read(DEMOS / f"{name}.toml")
    ev = Evaluation(build, 65)
    now = ev.of(pose_now)[0]
    measure, gears = residual_measure(ev), len(build.first(Gearbox).ratios)
    for pose in (now, now + np.array([0.01, 0.0, -0.005, 0.0, np.radians(1), 0.0])):
        report = evaluate(moved(build, pose), 1, ("driveline",))
        seen = np.degrees(measure.of(pose[None])[0, 0])
        residual = report["driveline.residual"]
        shaken = next((one for one in residual.states if one.state.endswith(f"gear {gears}")), residual).value.nominal
        speed = report.figure("driveline.highest_shaft_speed").value.nominal * np.pi / 30
        assert seen == pytest.approx(np.degrees(np.sqrt(shaken) / speed), abs=0.1)


def test_the_front_shaft_of_two_is_part_of_the_search():
    """Both joints of the front shaft, and the length or slip that it has; the centre bearing stays where the car holds it."""
    measures = joint_measures(Evaluation(read(DEMOS / "pickup.toml"), 65))

    assert {"driveline.working_angle.front", "driveline.working_angle.centre"} <= set(measures.names)
    assert any(name.startswith(("driveline.slip.", "driveline.length.")) for name in measures.names)


def residual_of_one_shaft(length: float, headings: tuple[float, float, float]) -> float:
    """Gearbox 2.5°, shaft 4°, pinion 1.8° down, each with a heading, degrees."""
    gearbox, shaft, pinion = (
        np.array([[-np.cos(down) * np.cos(aside), -np.cos(down) * np.sin(aside), -np.sin(down)]])
        for down, aside in zip(np.radians([2.5, 4.0, 1.8]), np.radians(headings), strict=True)
    )
    pose, output, turned = np.zeros((1, 6)), np.zeros((1, 3)), np.zeros((1, 1))
    found = residual_at(pose, output, gearbox, length * shaft, pinion[None], turned, (True, True))
    return float(np.degrees(found[0]))


def test_the_residual_angle_does_not_depend_on_how_long_the_shaft_is():
    """In one plane √(2.2² − 1.5²) = 1.609°, worked by hand; also where the joints bend in different planes."""
    assert residual_of_one_shaft(1.4, (0, 0, 0)) == pytest.approx((2.2**2 - 1.5**2) ** 0.5, abs=1e-3)
    for headings in ((0, 0, 0), (0, 12, -3)):
        assert residual_of_one_shaft(0.4, headings) == pytest.approx(residual_of_one_shaft(1.4, headings), rel=1e-9)
