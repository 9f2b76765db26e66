"""Solids in draws: in the car's axes by the short way and by the long one, and where each movement takes them."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.subjects.clearance.moving import OWN, body, corner_levels, drawn_solid, said, state_names
from trialfit.subjects.clearance.shapes import group
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
        levels = ev.of(corner_levels, solid)
        with ev.recording() as short_way:
            placed = body(ev, solid, levels)
        with ev.recording() as long_way:
            at_pose = body(ev, solid, levels, OWN).at(ev.of(pose_now))

        assert placed.turns == pytest.approx(at_pose.turns, abs=1e-12)
        assert placed.shifts == pytest.approx(at_pose.shifts, abs=1e-12)
        assert placed.pieces[0].size == at_pose.pieces[0].size
        assert set(short_way) == set(long_way)


def places_of(ev, solid, *levels):
    """Where the middle of a solid is in some states, in the axes of what it is fixed to, by their names."""
    names = [said(ev, solid, level) for level in levels]
    return dict(zip(names, body(ev, solid, levels, OWN).shifts[0], strict=True))


@pytest.mark.parametrize(("axis_y", "axis_z"), [("0 ± 0 mm", "0 ± 0 mm"), ("40 ± 0 mm", "150 ± 0 mm")])
def test_a_sump_swings_about_the_axis_of_the_mounts(build, axis_y, axis_z):
    """The lower it hangs below the mounts, the further it goes to each side; the crank is not the axis."""
    made = build(drivetrain={"rock": "2 ± 0 deg", "heave": "5 ± 0 mm", "roll_axis_y": axis_y, "roll_axis_z": axis_z})
    sump = made.parts["sump"]
    ev = Evaluation(made, 1)
    across, above = (
        float(ev(ref)[0]) for ref in (made.parts["drivetrain"].roll_axis_y, made.parts["drivetrain"].roll_axis_z)
    )

    places = places_of(ev, sump, (1, 0, 0, 0, 0, 0), (-1, 0, 0, 0, 0, 0), (0, 1, 0, 0, 0, 0), (0, -1, 0, 0, 0, 0))

    arm, below = -across, -0.1 - above
    sin, cos = np.sin(np.radians(2)), np.cos(np.radians(2))
    left_up = [0, across + arm * cos - below * sin, above + arm * sin + below * cos]
    right_up = [0, across + arm * cos + below * sin, above - arm * sin + below * cos]
    assert places["rolled with its left side up"] == pytest.approx(left_up)
    assert places["rolled with its right side up"] == pytest.approx(right_up)
    assert places["lifted"] == pytest.approx([0, 0, -0.095])
    assert places["sunk"] == pytest.approx([0, 0, -0.105])


def test_a_rack_goes_both_ways_along_each_axis_all_at_once_and_each_state_has_its_name(build):
    made = build(rack={"travel_y": "70 ± 0 mm", "travel_right": "60 ± 0 mm", "travel_z": "5 ± 0 mm"})
    rack = made.parts["rack"]
    ev = Evaluation(made, 1)

    places = dict(zip(state_names(ev, rack), ev.of(drawn_solid, rack).shifts[0], strict=True))

    assert {name: place.round(9).tolist() for name, place in places.items()} == {
        "": [0.19, 0, 0.3],
        "moved to the left, moved up": [0.19, 0.07, 0.305],
        "moved to the left, moved down": [0.19, 0.07, 0.295],
        "moved to the right, moved up": [0.19, -0.06, 0.305],
        "moved to the right, moved down": [0.19, -0.06, 0.295],
    }


def test_what_is_hot_is_longer_at_both_ends_unless_its_travel_is_written(build):
    """0.5 % of 300 mm at either end: 303 mm."""
    hot = {"neighbour": "hot", "hot_growth": "0.5 %"}
    sizes = [
        body(ev, made.parts["sump"], [(0.0,) * 6]).sizes[0, 0] * 2
        for made in (build(sump=hot), build(sump={**hot, "travel_x": "2 mm"}), build(sump={"hot_growth": "0.5 %"}))
        for ev in [Evaluation(made, 1)]
    ]

    assert sizes == pytest.approx([0.303, 0.3, 0.3])
