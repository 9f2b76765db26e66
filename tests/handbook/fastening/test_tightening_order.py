"""Orders of tightening: every bolt once, from the middle outwards, crossing over."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.fastening.bolt_patterns import circle, grid, rail_pair, rectangle
from trialfit.handbook.fastening.tightening_order import (
    circle_order,
    loosening_order,
    outward_order,
    read_order,
    torque_stages,
)

SUMP = np.array(
    [
        *[(-240, 110), (-120, 112), (0, 110), (120, 112), (240, 110), (262, 0)],
        *[(240, -110), (120, -108), (0, -110), (-120, -108), (-240, -110), (-262, 0)],
    ],
    dtype=float,
)
"""An invented sump rail [mm]: twelve bolts, the ends bulge."""


@given(st.integers(1, 40))
def test_a_circle_names_every_bolt_once(bolts) -> None:
    """Whatever their number."""
    assert sorted(circle_order(bolts)) == list(range(1, bolts + 1))


@given(st.integers(2, 20))
def test_an_even_circle_crosses_over_within_each_pair(pairs) -> None:
    """The second of each pair is straight across."""
    order = circle_order(2 * pairs)

    assert all(abs(one - other) == pairs for one, other in zip(order[::2], order[1::2], strict=True))


@given(st.integers(2, 20))
def test_an_odd_circle_goes_half_way_round_each_time(half) -> None:
    """The next bolt is one of the two farthest away."""
    bolts = 2 * half + 1
    order = circle_order(bolts)

    assert {min((b - a) % bolts, (a - b) % bolts) for a, b in pairwise(order)} == {half}


@given(
    st.lists(st.tuples(st.integers(-20, 20), st.integers(-9, 9)), min_size=1, max_size=30, unique=True),
)
def test_any_pattern_names_every_bolt_once(places) -> None:
    """Also a crooked one."""
    assert sorted(outward_order(np.array(places, dtype=float))) == list(range(1, len(places) + 1))


@pytest.mark.parametrize(
    "places", [rectangle(5, 3, 0.4, 0.2), rail_pair(4, 0.4, 0.1), grid(2, 5, 0.36, 0.1), grid(3, 4, 0.3, 0.2)]
)
def test_even_patterns_go_outwards_and_cross(places) -> None:
    """No pair is nearer to the middle than the one before, and both of a pair lie straight across."""
    order = [number - 1 for number in outward_order(places)]
    out = np.linalg.norm(places[order], axis=1)

    assert (np.diff(out) > -1e-9).all()
    assert places[order[::2]] == pytest.approx(-places[order[1::2]])


def test_a_sump_rail_begins_in_the_middle_of_the_long_sides_and_ends_in_the_corners() -> None:
    """Middle of one side, across to the other, then towards the ends, left and right in turn."""
    order = outward_order(SUMP)

    assert order[:2] == (3, 9)
    assert set(order[2:6]) == {2, 4, 8, 10}
    assert set(order[6:]) == {1, 5, 7, 11, 6, 12}
    assert SUMP[order[2] - 1, 0] * SUMP[order[3] - 1, 0] < 0


def test_a_head_begins_at_its_middle_bolts_and_ends_at_its_ends() -> None:
    """Ten bolts in two rows, numbered row by row."""
    order = outward_order(grid(2, 5, 0.36, 0.10))

    assert set(order[:2]) == {3, 8}
    assert set(order[-4:]) == {1, 5, 6, 10}


def test_two_bolts_at_one_place_are_refused() -> None:
    with pytest.raises(
        ValueError, match=r"^bolt 1 is at the place of another bolt: expected a different place for each$"
    ):
        outward_order(np.array([[0.0, 0.0], [0.0, 0.0], [1.0, 0.0]]))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("1-3-3-4", '"1-3-3-4" names 3 twice: expected each of the 4 bolts once, for example "1-3-2-4"'),
        ("1-3-4", '"1-3-4" leaves out 2: expected each of the 3 bolts once, for example "1-3-2-4"'),
        ("crosswise", '"crosswise" is not an order: expected numbers, for example "1-3-2-4"'),
        ("", '"" is not an order: expected numbers, for example "1-3-2-4"'),
    ],
)
def test_an_order_that_cannot_be_is_refused_in_a_sentence(text, says) -> None:
    with pytest.raises(ValueError, match="order|twice|leaves") as caught:
        read_order(text)

    assert str(caught.value) == says


def test_an_order_reads_with_commas_and_backwards_for_loosening() -> None:
    assert read_order("2, 1, 3") == (2, 1, 3)
    assert loosening_order(read_order("1-3-2-4")) == (4, 2, 3, 1)


def test_the_last_round_is_one_again_at_full_torque() -> None:
    *_, full, last = torque_stages((0.5, 1.0))

    assert (full.share, full.again, last.share, last.again) == (1.0, False, 1.0, True)


@pytest.mark.parametrize("places", [circle(6, 0.1), rectangle(4, 3, 0.3, 0.2), grid(2, 5, 0.36, 0.1)])
def test_patterns_lie_round_their_middle(places) -> None:
    assert places.mean(axis=0) == pytest.approx([0, 0], abs=1e-12)
    assert np.ptp(places, axis=0).min() > 0


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: circle(0, 0.1), "0 bolts on a circle: expected at least 1"),
        (lambda: circle(4, 0.0), "a circle of 0.0 m: expected a diameter above 0"),
        (lambda: rectangle(1, 2, 0.1, 0.1), "a rectangle of 1 by 2 bolts: expected at least 2 by 2"),
        (lambda: grid(2, 5, 0.0, 0.1), "5 bolts on 0.0 m: expected a length above 0"),
    ],
)
def test_patterns_that_cannot_be_are_refused(make, says) -> None:
    with pytest.raises(ValueError, match="expected") as caught:
        make()

    assert str(caught.value) == says
