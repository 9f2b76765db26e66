"""Hatching stays inside; dimension lines measure what they say."""

from __future__ import annotations

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.drawing.dimensions import across, angle_between, arrow_head, balloon, upright
from trialfit.drawing.hatching import hatched
from trialfit.drawing.pen import Circle, Line, Text


@given(st.floats(5, 80), st.floats(5, 80), st.floats(0.5, 4), st.floats(0, pi))
def test_hatching_of_a_rectangle_has_the_length_of_its_area_over_the_pitch(width, height, pitch, angle):
    """Lines a pitch apart cover an area of length × pitch: geometry. The edge costs up to a pitch all round."""
    rule = hatched(((0, 0), (width, 0), (width, height), (0, height)), pitch, angle)
    length = sum(((one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2) ** 0.5 for one, other in rule.pieces)

    assert abs(length * pitch - width * height) <= pitch * 2 * (width + height)
    for point in (point for piece in rule.pieces for point in piece):
        assert -1e-6 <= point[0] <= width + 1e-6
        assert -1e-6 <= point[1] <= height + 1e-6


def test_a_hollow_stays_free():
    """A U: no line runs through its opening."""
    shape = ((0, 0), (30, 0), (30, 30), (20, 30), (20, 10), (10, 10), (10, 30), (0, 30))
    for one, other in hatched(shape, 2.0, 0.0).pieces:
        middle = (one[0] + other[0]) / 2, (one[1] + other[1]) / 2
        assert not (10 < middle[0] < 20 and middle[1] > 10)


def test_a_dimension_has_its_arrows_at_both_points():
    marks = across((10, 40), (60, 40), 50, "1185", of="shaft")
    tips = sorted(mark.points[0] for mark in marks if isinstance(mark, Line) and mark.closed)
    (text,) = [mark for mark in marks if isinstance(mark, Text)]

    assert tips == [(10, 50), (60, 50)]
    assert text.says == "1185"
    assert text.box.bottom <= 50.6
    assert text.box.middle[0] == pytest.approx(35)


def test_a_short_dimension_has_its_text_outside():
    (text,) = [mark for mark in across((10, 40), (12, 40), 50, "12345") if isinstance(mark, Text)]

    assert text.box.left > 12


def test_an_upright_dimension_reads_from_below():
    marks = upright((40, 60), (40, 10), 30, "384")
    (text,) = [mark for mark in marks if isinstance(mark, Text)]
    tips = sorted(mark.points[0] for mark in marks if isinstance(mark, Line) and mark.closed)

    assert tips == [(30, 10), (30, 60)]
    assert text.turn == -90
    assert text.box.right <= 30.6


def test_an_arrow_is_slender():
    """ISO 129-1: 15°, from memory."""
    tip, one, other = arrow_head((0, 0), 0.0).points
    assert tip == (0, 0)
    assert abs(one[1] - other[1]) / -one[0] == pytest.approx(2 * 0.1317, abs=1e-3)


def test_an_angle_says_its_words_outside_of_its_legs():
    marks = angle_between((0, 0), 0.0, 0.4, 10, "3.5°")
    (text,) = [mark for mark in marks if isinstance(mark, Text)]

    assert text.at[0] > 9


def test_a_balloon_hides_its_leader_and_ends_in_a_dot():
    marks = balloon((0, 0), 12, (30, 40))
    leader = next(mark for mark in marks if isinstance(mark, Line))
    dot, ring = [mark for mark in marks if isinstance(mark, Circle)]

    assert leader.points[1] == dot.centre == (30, 40)
    assert (leader.points[0][0] ** 2 + leader.points[0][1] ** 2) ** 0.5 == pytest.approx(ring.radius)


@pytest.mark.parametrize("number", [1, 42, 200, 1234])
def test_the_number_fits_into_its_balloon(number):
    text = next(mark for mark in balloon((0, 0), number, None) if isinstance(mark, Text))
    ring = next(mark for mark in balloon((0, 0), number, None) if isinstance(mark, Circle))

    assert text.width <= 2 * ring.radius
