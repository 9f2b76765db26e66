"""How a crane behaves: what makes it tip, and what is no number."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.lifting.folding_crane import depth_when_tilted, inside_side_line, tip_slope


def test_a_load_ahead_of_the_wheels_tips_a_light_crane_on_the_level() -> None:
    """A heavy one stands, on less slope the higher the load is."""
    assert tip_slope(300.0, -0.3, 1.9, 60.0, 1.0, 0.6) < 0
    assert tip_slope(300.0, -0.3, 1.9, 200.0, 1.0, 0.6) > 0
    assert tip_slope(300.0, 0.1, 2.2, 80.0, 1.0, 0.6) < tip_slope(300.0, 0.1, 1.2, 80.0, 1.0, 0.6)
    assert np.isnan(tip_slope(300.0, 0.1, 0.0, 80.0, 1.0, 0.6))


def test_with_wheels_as_far_apart_before_as_behind_the_line_is_parallel() -> None:
    """And beyond the front wheels of a crane that widens forwards the line goes on outwards."""
    assert inside_side_line(0.7, 1.4, 0.4, -0.1, 0.4) == pytest.approx(0.4)
    assert inside_side_line(1.6, 1.4, 0.45, -0.1, 0.3) > inside_side_line(1.4, 1.4, 0.45, -0.1, 0.3)
    assert np.isnan(inside_side_line(1.0, -0.1, 0.4, 0.0, 0.4))


def test_the_end_that_goes_down_hangs_deeper() -> None:
    """Behind the hook with the rear end low; level it is as deep as it was."""
    assert depth_when_tilted(-0.5, 0.8, 0.4) > depth_when_tilted(0.5, 0.8, 0.4)
    assert depth_when_tilted(-0.5, 0.8, 0.0) == pytest.approx(0.8)
    assert np.isnan(depth_when_tilted(0.0, 0.8, 2.0))
