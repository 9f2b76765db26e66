"""How a member under load behaves: the ways of holding its ends against each other."""

from __future__ import annotations

import pytest

from trialfit.handbook.structure.beams import bend_at_middle, bending_stress


@pytest.mark.parametrize(("ends", "times"), [("fixed", 4.0), ("cantilever", 1 / 16)])
def test_how_the_ends_are_held_matters(ends: str, times: float) -> None:
    """Against both ends held: a quarter when built in, sixteen times on one end."""
    assert bend_at_middle(1.0, 1.0, 1e-8, 2e11, "pinned") / bend_at_middle(1.0, 1.0, 1e-8, 2e11, ends) == pytest.approx(
        times
    )


def test_bending_alone_has_no_pull_in_it() -> None:
    """M/Z and nothing else; a pull adds N/A, whichever way it goes."""
    assert bending_stress(0.0, 1e-6) == 0.0
    assert bending_stress(100.0, 1e-6) == pytest.approx(1e8, rel=1e-12)
    assert bending_stress(100.0, 1e-6, -5e3, 1e-4) == pytest.approx(1.5e8, rel=1e-12)
