"""The problem of a place for the drivetrain: held coordinates, and how sure each requirement is."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.placement.binding import look
from trialfit.subjects.clearance.placing import held_value, placing_of


@pytest.mark.parametrize(
    ("text", "number", "value"),
    [
        ("x=1.21 m", 0, 1.21),
        ("roll=2 deg", 3, np.radians(2)),
        ("inclination=3 deg", 4, -np.radians(3)),
        ("heading=-1 deg", 5, -np.radians(1)),
    ],
)
def test_a_held_coordinate_is_the_one_that_is_written(text, number, value):
    """A pose counts the inclination nose down; all others as a builder writes them."""
    assert held_value(text) == (number, pytest.approx(value))


def test_each_edge_of_the_lever_opening_is_as_sure_as_what_it_hangs_on(build):
    """The lever ± 10 mm along the car and ± 2 mm across, the edges exact: 5 mm and 1 mm of standard deviation."""
    lever = {"lever_x": "-400 ± 10 mm", "lever_y": "0 ± 2 mm", "lever_z": "200 ± 0 mm"}
    opening = {"front_x": "-340 ± 0 mm", "rear_x": "-450 ± 0 mm", "left_y": "50 ± 0 mm", "right_y": "-40 ± 0 mm"}
    placing = placing_of(build(drivetrain=lever, lever_opening=opening))
    sigmas = {seen.name: seen.sigma for seen in look(placing.problem, placing.now)}

    assert [sigmas[f"clearance.lever.{edge}"] for edge in ("front", "rear", "left", "right")] == pytest.approx(
        [0.005, 0.005, 0.001, 0.001], rel=0.03
    )
