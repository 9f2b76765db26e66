"""Which thread it is, from a caliper and perhaps a pitch gauge: what it can be, how likely, and what tells it apart."""

from __future__ import annotations

import pytest

from trialfit.advice.identifying import identify_thread, read_pitch
from trialfit.book import BadInput
from trialfit.handbook.ports.thread_identity import PITCH_GAUGE_SPREAD


@pytest.mark.parametrize("text", ["18 tpi", "18tpi", "18/in", "18 per inch", "18 threads per inch", "18 TPI"])
def test_threads_per_inch_are_a_pitch(text):
    assert read_pitch(text) == (pytest.approx(25.4e-3 / 18), PITCH_GAUGE_SPREAD)


def test_a_pitch_in_millimetres_is_known_as_well_as_it_says_or_as_a_gauge_gives_it():
    assert read_pitch("1.5 mm") == (pytest.approx(1.5e-3), PITCH_GAUGE_SPREAD)
    assert read_pitch("1.41 ± 0.02 mm") == (pytest.approx(1.41e-3), pytest.approx(0.02e-3))


@pytest.mark.parametrize("text", ["fine", "0 mm", "-1.5 mm", "0 tpi", "18", "1.5 kg"])
def test_what_is_no_pitch_is_refused(text):
    with pytest.raises(BadInput) as caught:
        read_pitch(text)

    (problem,) = caught.value.problems
    assert problem.path == "--pitch"
    assert f'"{text}"' in problem.says


def test_the_pitch_tells_two_threads_of_one_diameter_apart():
    """About 9.7 mm can be M10×1.5 or G 1/8 (28 tpi, 0.907 mm); the gauge decides."""
    unread = identify_thread("9.70 ± 0.05 mm")
    inch, metric = (identify_thread("9.70 ± 0.05 mm", pitch) for pitch in ("28 tpi", "1.5 mm"))

    assert {"M10×1.5", "G 1/8"} <= {one.thread for one in unread.candidates}
    assert "M10×1.5" not in {one.thread for one in inch.candidates}
    assert "G 1/8" in {one.thread for one in inch.candidates}
    assert [one.thread for one in metric.candidates] == ["M10×1.5"]


def test_candidates_are_listed_the_likeliest_first_with_what_tells_each_from_it():
    found = identify_thread("9.7 mm").candidates
    likelihoods = [one.likelihood for one in found]

    assert likelihoods == sorted(likelihoods, reverse=True)
    assert sum(likelihoods) <= 1 + 1e-9
    assert found[0].told_apart == ()
    for other in found[1:]:
        assert other.told_apart
        assert all(way.likeliest != way.this for way in other.told_apart)


def test_a_hole_is_read_between_its_crests():
    """M10×1 has a minor diameter of 8.917 mm."""
    hole, rod = identify_thread("8.95 mm", female=True), identify_thread("8.95 mm")

    assert (hole.gender, rod.gender) == ("female", "male")
    assert "M10×1" in {one.thread for one in hole.candidates}
    assert "M10×1" not in {one.thread for one in rod.candidates}


def test_a_reading_without_a_word_counts_as_calipered():
    assert identify_thread("9.7 mm").candidates == identify_thread("9.7 mm, calipered").candidates
    assert len(identify_thread("9.7 mm, taped").candidates) > len(identify_thread("9.7 mm").candidates)


def test_what_is_no_thread_of_the_tables_has_no_candidates():
    assert identify_thread("80 mm").candidates == ()


@pytest.mark.parametrize("text", ["9.7", "0 mm", "-9.7 mm", "thick", "9.7 kg"])
def test_what_is_no_diameter_is_refused(text):
    with pytest.raises(BadInput) as caught:
        identify_thread(text)

    assert text in caught.value.sentences()[0]
