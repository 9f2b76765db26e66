"""Text made fit for paper: nothing is added that can be seen, and no figure changes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.sheets.fonts import signs_without_glyph
from trialfit.sheets.writing import fit, told, without

NO_SPACE, BREAK = "\u00a0", "\u200b"


def seen(text: str) -> str:
    """The text as a reader sees it."""
    return "".join(" " if sign == NO_SPACE else sign for sign in text if sign not in "\u200b\u200e\u2060")


@given(
    st.text(
        st.characters(exclude_categories=("Cc", "Cf", "Cs", "Zs", "Zl", "Zp")) | st.sampled_from(" /-_.±0123456789")
    )
)
def test_nothing_that_can_be_seen_is_added_or_lost(text):
    assert seen(fit(text, frozenset())) == text


@given(st.floats(-1e6, 1e6), st.floats(0, 1e4), st.sampled_from(["mm", "N·m", "°", "rad/s²", "lbf·ft", "%"]))
def test_no_figure_is_broken_from_its_unit(value, spread, unit):
    for text in (f"{value:.2f} {unit}", f"{value:.2f} +{spread:.3f}/-{spread:.3f} {unit}"):
        fitted = fit(text, frozenset())

        assert BREAK not in fitted
        assert f" {unit}" not in fitted
        assert fitted.count(" ") == text.count("+")


@pytest.mark.parametrize(
    "word", ["driveline.setting.trial_fit.front_angle", "x" * 60, "1-5-3-7-2-6-4-8-10-12-14-16-18"]
)
def test_a_long_word_may_break(word):
    pieces = fit(word, frozenset()).split(BREAK)

    assert max(map(len, pieces)) <= 14
    assert "".join(pieces) == word


def test_a_number_never_breaks_within():
    assert BREAK not in fit("1234567.8901234567", frozenset())


def test_keys_and_lists_are_made_fit_too():
    assert fit({"ก": ["ก"]}, frozenset("ก")) == {"□": ["□"]}
    assert without("aกb", frozenset("ก")) == "a□b"
    assert told(frozenset()) == ""


def test_the_fonts_have_the_signs_of_the_trade():
    assert signs_without_glyph(["± · ° Ω ⌀ → ☐ ☑ × ′ ″ ² ³ µ − – … ≤ ≥ √ β ω π ½ ⅜ £ €"]) == frozenset()


def test_signs_that_are_not_drawn_are_not_missed():
    assert signs_without_glyph(["a\u200bb\u200e\ufe0fc\n"]) <= frozenset("\ufe0f")
