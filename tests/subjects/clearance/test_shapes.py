"""Solids in draws: a solid of the drivetrain in the car's axes, by the short way and by the long one."""

from __future__ import annotations

from pathlib import Path

import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.subjects.clearance.shapes import drawn_solid, group, placed_solid
from trialfit.subjects.placed import pose_now

DEMOS = Path(__file__).parents[3] / "demos"


@pytest.mark.parametrize("demo", ["hillclimb", "electric", "pickup"])
def test_a_placed_solid_is_the_solid_of_the_drivetrain_at_its_pose(demo):
    """Every solid of the demo, the first of which also travels by itself, with the facts it stands on."""
    text = (DEMOS / f"{demo}.toml").read_text(encoding="utf-8")
    build = read_text(text.replace('fixed_to = "drivetrain"', 'fixed_to = "drivetrain"\nmoves_x = "4 mm, taped"', 1))
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
