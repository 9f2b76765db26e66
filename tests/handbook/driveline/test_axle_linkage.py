"""A live axle on arms, links and leaf springs: signs, special cases that can be checked by eye, and what does not reach."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.driveline.axle_linkage import leaf_pivot, on_an_arm, on_links

CENTRE = np.array([-2.5, 0.30])
RISE = st.floats(-0.1, 0.1)


def beside(forward: float, up: float) -> np.ndarray:
    """A point, seen from the axle centre."""
    return CENTRE + np.array([forward, up])


@given(RISE, st.floats(0.3, 1.0), st.floats(-0.15, 0.15))
def test_an_arm_keeps_its_length_and_turns_with_the_axle(rise: float, long: float, up: float) -> None:
    """The pivot, seen from the axle, is where it was, turned by the same angle."""
    pivot = beside(long, up)
    forward, turn = on_an_arm(pivot, CENTRE, rise)
    moved = beside(forward, rise)
    c, s = math.cos(turn), math.sin(turn)

    assert moved + np.array([[c, -s], [s, c]]) @ (pivot - CENTRE) == pytest.approx(pivot)


def test_droop_on_an_arm_ahead_turns_the_nose_up() -> None:
    """And bump turns it down; an arm behind the axle the other way."""
    ahead, behind = beside(0.6, 0), beside(-0.6, 0)

    assert on_an_arm(ahead, CENTRE, -0.09)[1] == pytest.approx(math.asin(0.15))
    assert on_an_arm(ahead, CENTRE, 0.09)[1] < 0
    assert on_an_arm(behind, CENTRE, -0.09)[1] < 0
    assert on_an_arm(behind, CENTRE, -0.09)[0] == pytest.approx(-on_an_arm(ahead, CENTRE, -0.09)[0])


def test_an_arm_reaches_no_further_than_it_is_long() -> None:
    """Nothing is known beyond, or for an arm that stands upright."""
    assert math.isnan(on_an_arm(beside(0.05, 0), CENTRE, 0.06)[0])
    assert math.isnan(on_an_arm(beside(0, 0.3), CENTRE, 0.01)[1])


@given(RISE, st.floats(-0.06, 0.06))
def test_equal_parallel_links_do_not_turn_the_axle(rise: float, slope: float) -> None:
    """The axle moves on the arc of one link."""
    link = np.array([0.45, slope])
    lower, upper = beside(0.02, -0.07), beside(-0.03, 0.13)
    forward, turn = on_links(CENTRE, (lower + link, lower), (upper + link, upper), rise)

    assert turn == pytest.approx(0, abs=1e-9)
    assert forward == pytest.approx(on_an_arm(CENTRE + link, CENTRE, rise)[0], abs=1e-9)


@given(RISE, st.floats(0.3, 0.7), st.floats(0.3, 0.7), st.floats(-0.05, 0.05), st.floats(-0.05, 0.05))
def test_every_link_keeps_its_length(rise: float, low: float, high: float, fall: float, climb: float) -> None:
    """Both, with the ends on the axle carried along and turned."""
    ends = [beside(0.0, -0.08), beside(0.02, 0.15)]
    bodies = [ends[0] + np.array([low, fall]), ends[1] + np.array([high, climb])]
    forward, turn = on_links(CENTRE, (bodies[0], ends[0]), (bodies[1], ends[1]), rise)
    c, s = math.cos(turn), math.sin(turn)

    for end, body in zip(ends, bodies, strict=True):
        moved = beside(forward, rise) + np.array([[c, -s], [s, c]]) @ (end - CENTRE)
        assert np.linalg.norm(moved - body) == pytest.approx(np.linalg.norm(end - body), abs=1e-9)


def test_a_shorter_upper_link_turns_the_nose_down_at_both_stops() -> None:
    """It pulls the top of the axle forward more than the longer lower one its bottom."""
    lower, upper = beside(0, -0.08), beside(0, 0.12)
    for rise in (0.08, -0.08):
        _, turn = on_links(CENTRE, (lower + np.array([0.6, 0]), lower), (upper + np.array([0.3, 0]), upper), rise)
        assert turn < -0.01


def test_links_that_do_not_reach_give_nan_among_others_that_do() -> None:
    """One bad draw does not spoil the rest."""
    lower, upper = beside(0, -0.08), beside(0, 0.12)
    forward, turn = on_links(
        CENTRE, (lower + np.array([0.1, 0]), lower), (upper + np.array([0.1, 0]), upper), np.array([0.02, 0.5])
    )

    assert np.isfinite(forward[0])
    assert math.isnan(forward[1])
    assert math.isnan(turn[1])


def test_leaf_springs_lead_from_three_quarters_of_their_front_half() -> None:
    """On the line to the eye; a share that is none gives nan."""
    eye = beside(0.60, 0.04)

    assert leaf_pivot(eye, CENTRE) == pytest.approx(beside(0.45, 0.03))
    assert np.isnan(leaf_pivot(eye, CENTRE, 1.2)).all()
