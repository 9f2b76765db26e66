"""How a member under load behaves: the ways of holding its ends against each other."""

from __future__ import annotations

import pytest

from trialfit.handbook.structure.beams import bend_at_middle


@pytest.mark.parametrize(("ends", "times"), [("fixed", 4.0), ("cantilever", 1 / 16)])
def test_how_the_ends_are_held_matters(ends: str, times: float) -> None:
    """Against both ends held: a quarter when built in, sixteen times on one end."""
    assert bend_at_middle(1.0, 1.0, 1e-8, 2e11, "pinned") / bend_at_middle(1.0, 1.0, 1e-8, 2e11, ends) == pytest.approx(
        times
    )
