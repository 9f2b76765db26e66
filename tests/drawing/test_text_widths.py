"""Widths of text: against the font's own file, and what becomes of text that is too long or out of order."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from trialfit.drawing.text_widths import _advances, plain, shortened, width_of, wrapped
from trialfit.sheets.fonts import folders


@pytest.fixture(scope="module")
def font():
    return TTFont(folders()[0] / "DejaVuSans.ttf")


def test_every_width_is_that_of_the_font_file(font):
    """DejaVu Sans, tables cmap and hmtx: the same number of units for every sign in the table."""
    signs, widths = font.getBestCmap(), font["hmtx"]

    assert font["head"].unitsPerEm == 2048
    assert [hex(point) for point, width in _advances().items() if widths[signs[point]][0] != width] == []


def test_what_the_screens_show_is_in_the_table():
    shown = "0123456789 abcdefghijklmnopqrstuvwxyzäöüéñßåøçABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÜ±·−°⌀Ω²³½⅜×÷√πω→←↑↓☐☑…—%&()[]{}<>/'\"́א"

    assert [sign for sign in shown if ord(sign) not in _advances()] == []


def test_a_sign_of_another_font_is_counted_as_wide():
    assert width_of("漢", 3.0) == pytest.approx(3.0)
    assert width_of("\u0e01", 3.0) >= 3.0


@given(st.text(max_size=60), st.floats(3, 80))
def test_shortened_text_fits(text, width):
    kept = shortened(text, 2.5, width)

    assert width_of(kept, 2.5) <= width or kept == "…"


@given(st.text(max_size=120), st.floats(8, 80))
def test_wrapped_lines_fit_and_lose_nothing(text, width):
    lines = wrapped(text, 2.5, width)

    assert all(width_of(line, 2.5) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


def test_what_turns_the_reading_direction_or_steers_is_taken_out():
    assert plain("a\u202eb\x1b[2Jc\nd\ud800") == "a b [2Jc d"


def test_right_to_left_text_itself_stays():
    assert plain("אגן שמן") == "אגן שמן"


@pytest.mark.parametrize("width", range(24, 90, 6))
def test_a_figure_is_not_broken_off_from_its_unit(width):
    lines = wrapped("holds: 950 +160/-150 N·m, at most 1500 ± 150 N·m, 95 % of the draws", 2.5, width)

    for figure in ("1500 ± 150 N·m", "95 %"):
        assert any(figure in line for line in lines) or width_of(figure, 2.5) > width
    assert all(width_of(line, 2.5) <= width for line in lines)


def test_a_long_name_is_broken_behind_a_dot_or_an_underscore():
    assert wrapped("measuring.agree.final_drive.input_inclination: 0.7°", 2.5, 52.0) == [
        "measuring.agree.final_drive.input_",
        "inclination: 0.7°",
    ]
