"""How a leveller behaves: level needs no travel, and outside its range there is no number."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.lifting.leveller import end_share, level_shift, travel_for_tilt


def test_a_level_load_needs_no_travel_and_both_ways_are_alike() -> None:
    """And eyes below the centre of mass are outside the range."""
    assert travel_for_tilt(0.3, 0.0) == pytest.approx(0)
    assert travel_for_tilt(0.3, -0.4) == pytest.approx(-travel_for_tilt(0.3, 0.4))
    assert np.isnan(travel_for_tilt(-0.1, 0.4))


def test_what_lies_above_the_centre_goes_rearward_when_the_rear_end_sinks() -> None:
    """Turned and turned back it is where it was."""
    assert level_shift(0.0, 0.3, 0.5) < 0
    assert level_shift(0.2, 0.0, 0.5) == pytest.approx(level_shift(0.2, 0.0, -0.5))
    assert np.isnan(level_shift(0.2, 0.1, 2.0))


def test_the_shares_of_both_ends_make_one() -> None:
    """Also where one is slack."""
    assert end_share(0.2, -0.3) + end_share(-0.3, 0.2) == pytest.approx(1)
    assert end_share(-0.05, -0.3) > 1
    assert np.isnan(end_share(0.2, 0.2))
