"""Which law holds on a piece of a run: that of the tyres or that of the engine."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.gearing.stretches import RoadLoad, grip_or_engine


def test_a_piece_on_which_the_engine_has_more_than_the_tyres_take_is_not_cut() -> None:
    """Heavy wheels on a car with much drag: the engine is ahead by 0.05 m/s² at both ends and by 0.025 in the middle."""
    load = RoadLoad(*(np.array([value]) for value in (0.0, 0.0, 3.0, 1000.0, 5700.0)))
    speed, gain, force, force_slope = (np.array([[value]]) for value in (30.0, 10.0, 7275.0, -105.0))
    pieces, tails = grip_or_engine(speed, gain, force, force_slope, np.array([1500.0]), load)
    on_the_way = np.array([0.0, 5.0, 10.0])
    by_engine, by_tyres = (
        (effort - load.at(30.0 + on_the_way)) / mass
        for effort, mass in ((7275.0 - 105.0 * on_the_way, 1500.0), (5700.0, 1000.0))
    )

    assert (by_engine - by_tyres) == pytest.approx([0.05, 0.025, 0.05])
    assert tails.piece.size == 0
    assert pieces.gain.item() == 10.0
    assert pieces.start + (pieces.slope - pieces.drag * on_the_way) * on_the_way == pytest.approx(by_tyres[None])
