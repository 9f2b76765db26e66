"""The slope of the floor: what was gauged carries it, what was taped does not, and a pose written back carries it again."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.advice.posed import moved
from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.parts import Drivetrain, Gearbox
from trialfit.subjects.placed import output_angles, over_floor, pose_now

PLACED = """
[car]
floor_slope = "0.4 ± 0.1 deg, gauged"
[gearbox]
ratios = ["3.0"]
[drivetrain]
x = "-276 ± 0 mm"
y = "0 ± 0 mm"
z = "384 ± 0 mm"
inclination = "3.4 ± 0 deg, gauged"
heading = "0 ± 0 deg"
roll = "0 ± 0 deg"
output_x = "-640 ± 0 mm"
output_z = "-20 ± 0 mm"
"""


def test_a_gauged_inclination_loses_the_slope_of_the_floor() -> None:
    """3.4° on the gauge on a floor that drops by 0.4° are 3.0° over the floor, with the spread of the floor in it."""
    ev = Evaluation(read_text(PLACED), 2048)
    found = np.degrees(over_floor(ev, ev.part(Drivetrain).inclination))

    assert found[0] == pytest.approx(3.0)
    assert np.std(found) == pytest.approx(0.05, rel=0.1)
    assert np.degrees(output_angles(ev, ev.part(Gearbox))[0][0]) == pytest.approx(3.0)


@pytest.mark.parametrize("provenance", ["computed", "taped", "guess"])
def test_what_was_not_gauged_is_over_the_floor_already(provenance: str) -> None:
    """Worked out from places, which are measured from the floor."""
    ev = Evaluation(read_text(PLACED.replace("3.4 ± 0 deg, gauged", f"3.4 ± 0 deg, {provenance}")), 8)

    assert np.degrees(over_floor(ev, ev.part(Drivetrain).inclination)[0]) == pytest.approx(3.4)


def test_the_pose_is_over_the_floor_and_goes_back_as_a_gauge_would_read() -> None:
    """A pose that is written into the build is the pose that is read out of it."""
    build = read_text(PLACED)
    pose = Evaluation(build, 1).of(pose_now)[0]
    there = pose + np.array([0.01, 0.0, 0.0, 0.0, np.radians(-1.0), 0.0])
    again = moved(build, there)

    assert np.degrees(pose[4]) == pytest.approx(-3.0)
    assert Evaluation(again, 1).of(pose_now)[0] == pytest.approx(there)
    assert again.first(Drivetrain).inclination.written.si == pytest.approx(np.radians(4.4))


def test_without_a_car_a_gauge_reads_from_the_floor() -> None:
    """There is no fact to say otherwise."""
    ev = Evaluation(read_text(PLACED.replace('[car]\nfloor_slope = "0.4 ± 0.1 deg, gauged"\n', "")), 8)

    assert np.degrees(over_floor(ev, ev.part(Drivetrain).inclination)[0]) == pytest.approx(3.4)
