"""Drill, depth and wall: signs and edges."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.ports.port_threads import read_thread
from trialfit.handbook.ports.tapping import (
    hole_depth,
    least_wall,
    port_thread_needed,
    rule_of_thumb_wall,
    tap_drill,
    thread_height,
    wall_left,
)


def test_a_drill_and_its_height_undo_each_other():
    drills = tap_drill(np.array([6e-3, 10e-3]), np.array([1e-3, 1.5e-3]), 0.7)

    assert thread_height(np.array([6e-3, 10e-3]), np.array([1e-3, 1.5e-3]), drills) == pytest.approx([0.7, 0.7])


def test_more_height_wants_a_smaller_drill():
    assert tap_drill(10e-3, 1.5e-3, 0.8) < tap_drill(10e-3, 1.5e-3, 0.6)


@pytest.mark.parametrize(
    "value",
    [
        tap_drill(-1, 1e-3),
        tap_drill(10e-3, 1e-3, 1.2),
        thread_height(10e-3, 1e-3, 11e-3),
        wall_left(-1e-3, 10e-3),
        hole_depth(0, 1e-3),
        least_wall(0.0),
    ],
)
def test_outside_its_range_a_formula_is_undefined(value):
    assert np.isnan(value)


def test_aluminium_wants_more_thread_and_more_wall_than_steel():
    thread = read_thread("M14×1.5")

    assert port_thread_needed(thread, "aluminium") > port_thread_needed(thread, "steel")
    assert (
        rule_of_thumb_wall(thread, "aluminium")
        > rule_of_thumb_wall(thread, "iron")
        > rule_of_thumb_wall(thread, "steel")
    )


def test_a_tapered_thread_wants_more_wall_than_a_parallel_one_of_its_size():
    """It wedges its boss open."""
    assert rule_of_thumb_wall(read_thread("R 1/4"), "aluminium") > rule_of_thumb_wall(read_thread("G 1/4"), "aluminium")


def test_a_hole_that_breaks_out_has_a_negative_wall():
    assert wall_left(4e-3, 10e-3) < 0
