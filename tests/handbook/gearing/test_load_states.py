"""A loaded car: masses by the count of seats, axle loads by moments taken the long way round."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.gearing.load_states import laden_mass, nose_mass, rear_axle_mass


def test_axle_loads_are_what_moments_about_the_front_axle_say() -> None:
    """Driver's seat, bench and boot one by one, each at its place, against one share for all of the load."""
    wheelbase, weighed, rear = 2.5, 1000.0, 450.0
    things = [(75.0, 1.4), (150.0, 2.2), (40.0, 2.9)]  # kg, m behind the front axle
    added = sum(kg for kg, _ in things)
    moment = rear * wheelbase + sum(kg * behind for kg, behind in things)
    share = sum(kg * behind for kg, behind in things) / added / wheelbase

    assert rear_axle_mass(weighed, rear, weighed + added, share) == pytest.approx(moment / wheelbase)
    ball = moment + 60.0 * (wheelbase + 0.9)
    assert rear_axle_mass(weighed, rear, weighed + added, share, 60.0, 0.9 / 2.5) == pytest.approx(ball / wheelbase)


def test_a_light_trailer_still_puts_25_kg_on_the_ball() -> None:
    assert nose_mass(np.array([300.0, 625.0, 1000.0]), 0.04) == pytest.approx([25.0, 25.0, 40.0])


def test_load_taken_out_lightens_the_rear_axle() -> None:
    assert rear_axle_mass(1075.0, 500.0, 1000.0, 0.6) == pytest.approx(455.0)


@pytest.mark.parametrize(
    "outside",
    [
        laden_mass(1000.0, 0.5, 75.0),
        laden_mass(-1.0, 2, 75.0),
        laden_mass(1000.0, 2, -75.0),
        nose_mass(0.0, 0.04),
        nose_mass(500.0, 1.2),
        rear_axle_mass(1000.0, 1001.0, 1200.0, 0.7),
        rear_axle_mass(1000.0, 500.0, 1200.0, 0.7, -1.0),
    ],
)
def test_outside_of_the_range_there_is_no_figure(outside: float) -> None:
    assert np.isnan(outside)
