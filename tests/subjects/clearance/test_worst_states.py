"""The few states that are worked out in all draws are enough: with all of them the gaps are the same."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.evaluation.evaluation import Evaluation
from trialfit.placement.draws import gap_draws
from trialfit.subjects.clearance.gaps import gap_between
from trialfit.subjects.clearance.moving import body, corner_levels
from trialfit.subjects.clearance.pairs import the_pairs

MOVES = {
    "rock": "3 ± 2 deg",
    "heave": "8 ± 5 mm",
    "fore_aft": "8 ± 5 mm",
    "x": "0 ± 4 mm",
    "z": "400 ± 4 mm",
    "heading": "0 ± 0.4 deg",
}
RACK = {"x": "190 ± 4 mm", "z": "300 ± 4 mm", "roll": "0 ± 0.4 deg", "travel_z": "10 ± 4 mm", "travel_y": "60 ± 5 mm"}


@pytest.mark.parametrize("x", ["190 ± 4 mm", "100 ± 4 mm"])
def test_no_draw_is_nearer_with_all_states_than_with_those_that_matter(build, x):
    """A rack before the sump, and one below it: 0.3 mm in 400 draws, none in the mean."""
    made = build(drivetrain=MOVES, rack={**RACK, "x": x, "z": "300 ± 4 mm" if x.startswith("190") else "200 ± 4 mm"})
    ev = Evaluation(made, 400)
    (pair,) = the_pairs(made)

    few = gap_between(ev, pair)
    every = gap_draws(*(body(ev, part, ev.of(corner_levels, part)) for part in (pair.one, pair.other)), 0.012)

    assert few.values.min(axis=1) == pytest.approx(every, abs=0.3e-3)
    assert few.values.min(axis=1).mean() == pytest.approx(every.mean(), abs=0.02e-3)
    assert few.values.shape == (400, len(few.names))
    assert len(set(few.names)) == len(few.names) < 9


def test_the_worst_state_has_the_movements_that_make_a_difference_in_its_name(build):
    """A rack before the sump at its height: what brings it nearer is forward; up, down and to the side change nothing."""
    made = build(drivetrain={"heave": "3 ± 0 mm", "fore_aft": "5 ± 0 mm"}, rack={"travel_y": "60 ± 0 mm"})
    (pair,) = the_pairs(made)

    found = gap_between(Evaluation(made, 8), pair)

    assert found.names == ("sump moved forward",)
    assert found.values[0] == pytest.approx([np.float64(0.015)], abs=1e-6)
