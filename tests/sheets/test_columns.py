"""Columns that hold their words, on any table."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.drawing.text_widths import width_of
from trialfit.sheets.columns import fitted

ROOM, POINTS = 178.0, 8.4
WORDS = st.text("abcdefgh WM", max_size=60)


def column(title: str = "", share: float = 1.0) -> dict[str, object]:
    """A column as the press hands it over."""
    return {"title": title, "share": share, "right": False}


@given(st.lists(st.tuples(WORDS, st.sampled_from([0.0, 1.0, 2.5]), WORDS), min_size=1, max_size=9))
def test_every_word_fits_its_column_and_all_columns_fit_the_paper(drawn):
    columns = [column(title, share) for title, share, _ in drawn]
    cells = [text for _, _, text in drawn]
    found = fitted(columns, [cells], ROOM, POINTS)
    size = POINTS * found.factor * 25.4 / 72

    assert sum(found.widths) <= ROOM + 1e-6
    for width, cell in zip(found.widths, cells, strict=True):
        assert max((width_of(word, size) for word in cell.split()), default=0.0) <= width
    assert 0 < found.factor <= 1


def test_what_is_left_is_divided_by_the_shares():
    found = fitted([column("a", 1), column("b", 3)], [["x", "y"]], ROOM, POINTS)

    assert found.factor == 1
    assert sum(found.widths) == pytest.approx(ROOM)
    assert found.widths[1] / found.widths[0] == pytest.approx(3, rel=0.1)  # the inset is not divided


def test_a_column_without_a_share_is_as_wide_as_its_text():
    found = fitted([column("stage", 0), column("how", 1)], [["1", "by hand"]], ROOM, POINTS)

    assert found.widths[0] == pytest.approx(1.17 * width_of("stage", POINTS * 25.4 / 72) + 2.87, abs=0.1)


def test_the_print_is_smaller_where_the_words_are_wider_than_the_paper():
    assert fitted([column("w" * 40)] * 5, [], ROOM, POINTS).factor < 0.5
