"""Three readings: the floor, the change that cancels, shims and plan angles."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.driveline import angle_finder, shaft_lines

READING = st.floats(-0.15, 0.15)


def left_over(*inclinations: float) -> float:
    """What a line in one vertical plane leaves, yokes in phase, rad."""
    return float(shaft_lines.residual_angle(shaft_lines.direction(np.array(inclinations))))


@given(READING, READING, READING, st.floats(-0.1, 0.1))
def test_the_slope_of_the_floor_drops_out_of_working_angles(gearbox, shaft, pinion, slope) -> None:
    """It is the same in all three readings; a single inclination carries the whole of it."""
    assert angle_finder.working_angles(gearbox + slope, shaft + slope, pinion + slope) == pytest.approx(
        angle_finder.working_angles(gearbox, shaft, pinion), abs=1e-12
    )
    assert angle_finder.inclination_over_level(gearbox + slope, slope) == pytest.approx(gearbox, abs=1e-12)


@given(READING, st.lists(READING, min_size=1, max_size=3))
def test_the_cancelling_angle_cancels(gearbox: float, steps: list[float]) -> None:
    """With one, two or three joints before the last, in one plane; where no angle can, it says nothing."""
    last = angle_finder.cancelling_angle(np.array(steps))
    squares = sum((-1) ** number * step**2 for number, step in enumerate(reversed(steps)))
    if squares < -1e-15:
        assert np.isnan(last)
    elif squares > 1e-15:
        inclinations = gearbox + np.cumsum([0.0, *steps, last])
        assert left_over(*inclinations) ** 2 == pytest.approx(0, abs=1e-12)


def test_the_member_behind_that_points_further_up_makes_a_positive_angle() -> None:
    assert angle_finder.working_angles(0.05, 0.02, 0.05)[0] > 0


@given(st.floats(0.02, 0.5), st.floats(-0.2, 0.2))
def test_a_shim_tilts_its_base_by_the_change(base: float, change: float) -> None:
    """Either way round: the sign says which end is thick, the thickness has none."""
    thick = angle_finder.shim_thickness(base, change)

    assert thick >= 0
    assert math.atan2(thick, base) == pytest.approx(abs(change), abs=1e-12)


@given(st.floats(-0.1, 0.1), st.floats(-0.1, 0.1), st.floats(0.5, 2.0))
def test_heading_from_offsets_agrees_with_the_ends_in_space(front: float, rear: float, length: float) -> None:
    """A level shaft of that length between two points with these offsets."""
    back = math.sqrt(length**2 - (front - rear) ** 2)
    along = shaft_lines.direction_between(np.array([0.0, front, 0.3]), np.array([-back, rear, 0.3]))

    assert angle_finder.heading_from_offsets(front, rear, length) == pytest.approx(
        shaft_lines.heading_of(along), abs=1e-12
    )


# Axle maker's maintenance manual, measuring and recording driveline angles: Δp = atan((y_front − y_rear)/L).
def test_the_printed_arc_tangent_is_half_a_per_cent_away_at_most_to_five_degrees() -> None:
    """The docstring's 0.4 % at 5°."""
    step = 1.2 * math.sin(math.radians(5))

    assert math.degrees(angle_finder.heading_from_offsets(step, 0.0, 1.2)) == pytest.approx(5.0)
    assert math.degrees(math.atan(step / 1.2)) == pytest.approx(5.0 * (1 - 0.004), rel=5e-4)


@pytest.mark.parametrize(
    "value",
    [
        angle_finder.shim_thickness(0.0, 0.01),
        angle_finder.shim_thickness(0.1, 1.0),
        angle_finder.heading_from_offsets(2.0, 0.0, 1.0),
        angle_finder.heading_from_offsets(0.1, 0.0, 0.0),
        angle_finder.cancelling_angle(np.array([0.1, 0.05])),
    ],
)
def test_outside_its_range_a_formula_says_nothing(value: float) -> None:
    """Nothing that looks like a number."""
    assert np.isnan(value)
