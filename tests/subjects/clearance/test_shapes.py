"""Solids in draws: a solid of the drivetrain in the car's axes, by the short way and by the long one."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.subjects.clearance.shapes import drawn_solid, group, placed_solid, state_names
from trialfit.subjects.placed import pose_now

DEMOS = Path(__file__).parents[3] / "demos"


@pytest.mark.parametrize("demo", ["hillclimb", "electric", "pickup"])
def test_a_placed_solid_is_the_solid_of_the_drivetrain_at_its_pose(demo):
    """Every solid of the demo, the first of which also travels by itself, with the facts it stands on."""
    text = (DEMOS / f"{demo}.toml").read_text(encoding="utf-8")
    build = read_text(text.replace('fixed_to = "drivetrain"', 'fixed_to = "drivetrain"\ntravel_x = "4 mm, taped"', 1))
    ev = Evaluation(build, 40)
    assert ev(group(build)[0].travel_x).any()
    for solid in group(build):
        with ev.recording() as short_way:
            placed = ev.of(placed_solid, solid)
        with ev.recording() as long_way:
            at_pose = ev.of(drawn_solid, solid).at(ev.of(pose_now))

        assert placed.turns == pytest.approx(at_pose.turns, abs=1e-12)
        assert placed.shifts == pytest.approx(at_pose.shifts, abs=1e-12)
        assert placed.pieces[0].size == at_pose.pieces[0].size
        assert list(short_way) == list(long_way)


@pytest.mark.parametrize(("axis_y", "axis_z"), [("0 ± 0 mm", "0 ± 0 mm"), ("40 ± 0 mm", "150 ± 0 mm")])
def test_a_sump_swings_about_the_axis_of_the_mounts(build, axis_y, axis_z):
    """The lower it hangs below the mounts, the further it goes to each side; the crank is not the axis."""
    made = build(drivetrain={"rock": "2 ± 0 deg", "heave": "5 ± 0 mm", "roll_axis_y": axis_y, "roll_axis_z": axis_z})
    sump = made.parts["sump"]
    ev = Evaluation(made, 1)
    across, above = (
        float(ev(ref)[0]) for ref in (made.parts["drivetrain"].roll_axis_y, made.parts["drivetrain"].roll_axis_z)
    )

    places = dict(zip(state_names(ev, sump), ev.of(drawn_solid, sump).shifts[0], strict=True))

    arm, below = -across, -0.1 - above
    sin, cos = np.sin(np.radians(2)), np.cos(np.radians(2))
    left_up = [0, across + arm * cos - below * sin, above + arm * sin + below * cos]
    right_up = [0, across + arm * cos + below * sin, above - arm * sin + below * cos]
    assert places["rolled with its left side up"] == pytest.approx(left_up)
    assert places["rolled with its right side up"] == pytest.approx(right_up)
    assert places["lifted"] == pytest.approx([0, 0, -0.095])
    assert places["sunk"] == pytest.approx([0, 0, -0.105])


def test_a_rack_goes_both_ways_along_each_axis_and_each_way_has_its_name(build):
    made = build(rack={"travel_y": "70 ± 0 mm", "travel_right": "60 ± 0 mm", "travel_z": "5 ± 0 mm"})
    rack = made.parts["rack"]
    ev = Evaluation(made, 1)

    places = dict(zip(state_names(ev, rack), ev.of(drawn_solid, rack).shifts[0], strict=True))

    assert {name: place.round(9).tolist() for name, place in places.items()} == {
        "": [0.19, 0, 0.3],
        "moved to the left": [0.19, 0.07, 0.3],
        "moved to the right": [0.19, -0.06, 0.3],
        "moved up": [0.19, 0, 0.305],
        "moved down": [0.19, 0, 0.295],
    }


def test_a_travel_that_may_be_nothing_is_looked_at_both_ways(build):
    """0 to 3 mm of play: its likely value is nothing, its draws are not."""
    made = build(rack={"travel_y": "0 +3 -0 mm"})

    assert state_names(Evaluation(made, 16), made.parts["rack"]) == ("", "moved to the left", "moved to the right")
    assert state_names(Evaluation(build(), 16), build().parts["rack"]) == ("",)
