"""Gears in a sentence."""

from __future__ import annotations

import pytest

from trialfit.subjects.torque_path.sentences import REVERSE, spoken_together


@pytest.mark.parametrize(
    ("gears", "said"),
    [
        (["3"], "gear 3"),
        (["3", "4"], "gears 3 and 4"),
        (["3", "4", "5"], "gears 3, 4 and 5"),
        (["1", "2", "3", REVERSE], f"gears 1, 2 and 3 and {REVERSE}"),
    ],
)
def test_several_gears_are_listed_up_to_the_last_one(gears, said):
    """Reverse keeps its name."""
    assert spoken_together(gears) == said
