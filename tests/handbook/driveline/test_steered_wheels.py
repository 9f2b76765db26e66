"""The stub of a steered wheel: signs and special cases."""

from __future__ import annotations

import math

import numpy as np
import pytest

from trialfit.handbook.driveline.steered_wheels import stub_direction


@pytest.mark.parametrize("side", [1.0, -1.0])
def test_straight_ahead_the_stub_points_outward_however_the_axis_leans(side: float) -> None:
    """Lean counts only once the wheel turns."""
    assert stub_direction(0.0, side, 0.2, 0.1) == pytest.approx([0, side, 0])


def test_steered_to_the_left_the_left_stub_points_rearward_and_the_right_one_forward() -> None:
    """As any wheel does."""
    left, right = stub_direction(0.5, 1.0), stub_direction(0.5, -1.0)

    assert left == pytest.approx([-math.sin(0.5), math.cos(0.5), 0])
    assert right == pytest.approx([math.sin(0.5), -math.cos(0.5), 0])


def test_an_axis_that_leans_inward_lowers_the_stub_both_ways() -> None:
    """The car rises on lock; both wheels alike."""
    for steer in (0.6, -0.6):
        for side in (1.0, -1.0):
            stub = stub_direction(steer, side, 0.2)
            assert stub[2] < -0.01
            assert np.linalg.norm(stub) == pytest.approx(1)


def test_caster_lowers_the_stub_one_way_and_lifts_it_the_other() -> None:
    """As it leans a motorcycle into the bend."""
    heights = [stub_direction(steer, 1.0, 0.0, 0.1)[2] for steer in (0.6, -0.6)]

    assert heights[0] * heights[1] < 0


def test_a_square_turn_and_more_gives_nan() -> None:
    """No wheel does that."""
    assert np.isnan(stub_direction(1.6, 1.0)).all()
