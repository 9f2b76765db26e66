"""Marks and their SVG."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from svg import read

from trialfit.drawing.pen import Anchor, Box, Circle, Fill, Line, Picture, Rule, Stroke, Text, moved

PLACES = st.floats(-500, 500)
POINTS = st.tuples(PLACES, PLACES)
MARKS = st.one_of(
    st.builds(
        Line,
        st.lists(POINTS, min_size=2, max_size=5).map(tuple),
        st.sampled_from(Stroke),
        st.booleans(),
        st.sampled_from(Fill),
    ),
    st.builds(Circle, POINTS, st.floats(0.1, 50), st.sampled_from(Stroke), st.sampled_from(Fill), st.text(max_size=5)),
    st.builds(
        Text,
        POINTS,
        st.text(max_size=60),
        st.floats(1, 9),
        st.sampled_from(Anchor),
        st.sampled_from([0.0, -90.0, 30.0]),
        st.booleans(),
    ),
    st.builds(Rule, st.lists(st.tuples(POINTS, POINTS), max_size=4).map(tuple), st.sampled_from(Stroke)),
)


@given(st.lists(MARKS, max_size=12), st.text(max_size=60))
def test_every_picture_is_sound_xml_and_the_same_each_time(marks, title):
    picture = Picture(100, 50, tuple(marks), title, title)

    assert read(picture.svg()).size == (100, 50)
    assert picture.svg() == picture.svg()


def test_names_are_escaped():
    text = Picture(10, 10, (Text((1, 5), "<b>&\"'</b>", of='"<&'),), "<t>").svg()

    assert read(text).texts == ("<b>&\"'</b>",)
    assert read(text).about == ('"<&',)
    assert "<b>" not in text


def test_what_is_no_number_is_never_written_down():
    with pytest.raises(ValueError, match="a place on the drawing is not a number"):
        Picture(10, 10, (Circle((float("nan"), 1), 1),)).svg()


def test_lines_differ_by_width_and_dashes_alone():
    """Black and white: no colour but black, white and two tints."""
    text = Picture(10, 10, tuple(Line(((0, 0), (9, 9)), stroke) for stroke in Stroke)).svg()
    styles = {line.partition("stroke=")[2] for line in text.splitlines() if "polyline" in line}

    assert len(styles) == len(Stroke)
    assert "stroke=" in text
    assert not {"red", "green", "blue"} & set(text.split())


def test_thick_is_twice_thin():
    """ISO 128-2, widths of line 2 to 1, from memory."""
    widths = [
        float(line.partition('stroke-width="')[2].partition('"')[0])
        for line in Picture(10, 10, (Line(((0, 0), (1, 1)), Stroke.thick), Line(((0, 0), (1, 1)), Stroke.thin)))
        .svg()
        .splitlines()
        if "polyline" in line
    ]

    assert widths[0] == 2 * widths[1]


def test_a_turned_text_takes_a_turned_room():
    flat, upright = (Text((50, 50), "sump_shallow", 3.0, turn=turn).box for turn in (0.0, -90.0))

    assert upright.height == pytest.approx(flat.width)
    assert upright.width == pytest.approx(flat.height)
    assert upright.bottom == pytest.approx(50)


def test_moved_marks_keep_their_size():
    marks = (Line(((0, 0), (2, 1))), Circle((5, 5), 2), Text((1, 1), "a"), Rule((((0, 0), (1, 1)),)))
    for before, after in zip(marks, moved(marks, 3, 4), strict=True):
        assert (after.box.left - before.box.left, after.box.top - before.box.top) == pytest.approx((3, 4))
        assert after.box.width == pytest.approx(before.box.width)


def test_boxes_that_touch_do_not_meet():
    assert not Box(0, 0, 2, 2).meets(Box(2, 0, 2, 2))
    assert Box(0, 0, 2, 2).meets(Box(2, 0, 2, 2), gap=0.5)
