"""How far a unit rocks on its mounts, and about which axis: springs in parallel, by hand."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.structure.mounts import STRAIGHT, elastic_centre, rock_on_mounts


def test_two_mounts_hold_a_torque_by_a_pair_of_forces():
    """962 N·m on ±0.2 m: ±2405 N, 26.7 mm on 90 N/mm, 7.66° over 0.2 m."""
    assert rock_on_mounts(962.0, [0.2, -0.2], [90e3, 90e3]) == pytest.approx(2405 / 90e3 / 0.2)


def test_a_mount_on_the_axis_takes_no_part():
    assert rock_on_mounts(962.0, [0.2, -0.2, 0.0], [90e3, 90e3, 180e3]) == pytest.approx(
        rock_on_mounts(962.0, [0.2, -0.2], [90e3, 90e3])
    )


def test_the_axis_lies_nearer_to_the_stiffer_mount():
    """300 and 100 N/mm 0.6 m apart: a quarter of the way from the stiff one. Force times lever is alike on both sides."""
    assert elastic_centre([0.3, -0.3], [300e3, 100e3]) == pytest.approx(0.15)
    assert rock_on_mounts(100.0, [0.3, -0.3], [300e3, 100e3]) == pytest.approx(
        100 / (300e3 * 0.15**2 + 100e3 * 0.45**2)
    )


def test_draws_go_together():
    found = rock_on_mounts(np.array([100.0, 200.0]), np.array([[0.2, -0.2], [0.3, -0.3]]), np.full((2, 2), 90e3))

    assert found == pytest.approx([100 / 7200, 200 / 16200])


@pytest.mark.parametrize("places", [[0.1, 0.1], [0.0, 0.0, 0.0]])
def test_mounts_in_one_line_along_the_axis_do_not_hold_it(places):
    assert np.isnan(rock_on_mounts(100.0, places, [90e3] * len(places)))


def test_beyond_its_range_there_is_no_number():
    """17°: every mount is on its stop."""
    rate = 2 * 90e3 * 0.2**2

    assert np.isnan(rock_on_mounts(rate * STRAIGHT * 1.001, [0.2, -0.2], [90e3, 90e3]))
    assert np.isnan(rock_on_mounts(100.0, [0.2, -0.2], [90e3, 0.0]))
