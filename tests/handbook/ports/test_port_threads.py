"""Designations: what is read, and what is refused in which words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.ports.port_threads import known_threads, read_thread
from trialfit.handbook.tables import rows


@pytest.mark.parametrize(
    ("text", "designation"),
    [
        ("M10x1", "M10×1"), ("m 12 X 1,25", "M12×1.25"), ("M8", "M8×1.25"), ("7/16-20 UNF", "7/16-20"), ("1/2 UNF", "1/2-20"),
        ("1-1/16-12", "1 1/16-12"), ("#10-32", "10-32"), ('1/8"-27 NPT', "1/8-27 NPT"), ("NPT 1/4", "1/4-18 NPT"),
        ("1/4 nptf", "1/4-18 NPTF"), ("G1/4", "G 1/4"), ("G 1/4 A", "G 1/4"), ("1/8 BSPP", "G 1/8"), ("1/8 BSPT", "R 1/8"), ("Rc1/2", "Rc 1/2"),
    ],
)  # fmt: skip
def test_spellings_of_the_trade(text, designation):
    assert read_thread(text).designation == designation


@pytest.mark.parametrize("thread", known_threads(), ids=lambda thread: thread.designation)
def test_a_designation_reads_back_as_itself(thread):
    assert read_thread(thread.designation) == thread
    assert 0 < thread.minor_diameter < thread.pitch_diameter < thread.major_diameter


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("1/8", 'is ambiguous: the size alone fits several threads, such as "1/8-27 NPT", "G 1/8" and "R 1/8"'),
        ("1/8 BSP", "is ambiguous"),
        ("bolt", "is not a known thread: expected a designation, such as"),
        ("M11", "has no coarse pitch in the table: write the pitch too"),
        ("M10×5", "has a pitch of 5 mm, which is unknown for that diameter"),
        ("1/8-28 NPT", "has 28 threads per inch: 1/8-27 NPT is the standard one"),
        ("5/8 NPT", "is not a pipe size of the table: 1/16, 1/8"),
    ],
)
def test_what_cannot_be_read_is_refused_in_plain_words(text, says):
    with pytest.raises(ValueError, match="^[^\n]+$") as wrong:
        read_thread(text)

    assert says in str(wrong.value)
    assert f'"{text}"' in str(wrong.value)


@given(st.text(max_size=20))
def test_any_text_is_read_or_refused_in_one_sentence(text):
    try:
        read_thread(text)
    except ValueError as wrong:
        assert "expected" in str(wrong) or '"' in str(wrong)


def test_every_row_of_the_tables_names_its_source():
    for room, table in (
        ("fastening", "metric_threads"),
        ("fastening", "unified_threads"),
        ("ports", "american_pipe_threads"),
        ("ports", "whitworth_pipe_threads"),
        ("ports", "fitting_sizes"),
        ("ports", "seal_pairs"),
    ):
        assert all(row["source"] for row in rows(room, table)), table


def test_a_metric_size_without_its_pitch_is_the_coarse_one():
    """ISO 261: M18 is M18×2.5, though 18×1.5 is what oxygen sensors have."""
    assert [read_thread(size).designation for size in ("M10", "M18", "M22")] == ["M10×1.5", "M18×2.5", "M22×2.5"]
    with pytest.raises(ValueError, match="coarse"):
        read_thread("M27")
