"""Labels and balloons: nothing covers anything."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.drawing.labels import balloon_row, balloon_rows, beside, cross, meet, spread_out
from trialfit.drawing.pen import Box

PLACES = st.floats(0, 200)
TARGETS = st.lists(st.tuples(PLACES, st.floats(30, 80)), max_size=40)


@given(st.lists(st.tuples(PLACES, st.floats(1, 20)), max_size=15))
def test_things_along_a_line_keep_apart_and_in_order(wanted):
    places, widths = [place for place, _ in wanted], [width for _, width in wanted]
    middles = spread_out(places, widths, 0, 400)
    order = sorted(range(len(wanted)), key=lambda one: (places[one], one))

    for one, other in pairwise(order):
        assert middles[other] - middles[one] >= (widths[one] + widths[other]) / 2 - 1e-6


@given(st.lists(PLACES, max_size=12))
def test_things_that_are_apart_stay_where_they_are_wanted(places):
    apart = [40.0 * number + place / 10 for number, place in enumerate(places)]

    assert spread_out(apart, [10.0] * len(apart), -1e3, 1e3) == pytest.approx(apart)


@given(TARGETS)
def test_no_two_balloons_meet(targets):
    centres = balloon_rows(targets, 0, 200, 10, 100, 8)

    for one, other in combinations(centres, 2):
        assert abs(one[0] - other[0]) >= 8 - 1e-6 or abs(one[1] - other[1]) >= 8 - 1e-6


@given(st.lists(st.tuples(PLACES, st.floats(30, 80)), max_size=20, unique=True))
def test_leaders_of_one_row_do_not_cross(targets):
    centres = balloon_row(targets, 0, 200, 10, 8, -8)

    for (start, end), (other_start, other_end) in combinations(zip(centres, targets, strict=True), 2):
        assert not cross(start, end, other_start, other_end)


@given(TARGETS)
def test_balloons_stand_in_rows(targets):
    """A drawing office aligns them: every height is that of the first row or a whole number of rows further out."""
    for _, y in balloon_rows(targets, 0, 200, 10, 100, 8):
        assert (10 - y) % 8 == pytest.approx(0) or (y - 100) % 8 == pytest.approx(0)


@given(st.lists(st.tuples(PLACES, PLACES, st.floats(2, 90)), max_size=25))
def test_labels_beside_their_points_cover_neither_each_other_nor_what_is_taken(wanted):
    taken = [Box(50, 50, 60, 8), Box(120, 20, 5, 100)]
    room = Box(0, 0, 220, 220)
    found = beside([(x, y) for x, y, _ in wanted], [(width, 3.0) for *_, width in wanted], room, taken)
    boxes = [box for box in found if box is not None]

    assert all(room.holds(box) for box in boxes)
    assert not any(one.meets(other) for one, other in combinations([*boxes, *taken], 2) if one not in taken)


def test_turned_outlines_meet_where_their_boxes_only_seem_to():
    diamond = ((0, 5), (5, 0), (10, 5), (5, 10))

    assert not meet(diamond, ((0, 0), (2, 0), (2, 2), (0, 2)))
    assert meet(diamond, ((4, 4), (6, 4), (6, 6), (4, 6)))
