"""Threads that are taken for others, and seals that do not suit what is behind them; each beside its mended twin."""

from __future__ import annotations

from functools import cache

import pytest

from trialfit.advice.identifying import identify_thread
from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.finding import Report
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.handbook.ports.port_ends import read_end
from trialfit.subjects.ports import requirements

OIL_PORT = """
[gallery]
kind = "port"
thread = "M10×1"
sealing = "SEALING"
medium = "oil"
plug = "male PLUG"
sealant = "paste"
"""


@cache
def look(text: str) -> Report:
    build = read_text(text)
    return work_out(Evaluation(build, 1000), list(requirements(build)))


def port(sealing: str, plug: str) -> Report:
    return look(OIL_PORT.replace("SEALING", sealing).replace("PLUG", plug))


def test_a_tapered_metric_sender_is_named_and_not_taken_for_an_inch_one():
    """9.85 mm with a pitch of 1 mm that grows along its length is M10×1 keg."""
    first = identify_thread("9.85 mm", "1 mm", tapered=True).candidates[0]

    assert first.thread == "M10×1 keg"
    assert first.likelihood > 0.95


def test_a_tapered_metric_sender_belongs_into_the_parallel_hole():
    assert port("thread", "M10×1 keg")["ports.gallery.mates"].verdict is Verdict.holds
    assert port("thread", "M10×1 keg")["ports.gallery.sealing"].verdict is Verdict.holds
    assert port("thread", "1/8-27 NPT")["ports.gallery.mates"].verdict is Verdict.fails
    assert port("thread", "M10×1, washer")["ports.gallery.mates"].verdict is Verdict.fails
    assert port("O-ring boss", "M10×1 keg")["ports.gallery.mates"].verdict is Verdict.fails


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("female M10×1 keg", "has no hole of its own"),
        ("male M10×1, thread", 'a tapered one is "male M10×1 keg"'),
        ("male M12×1 keg", "is not a tapered metric thread of the table"),
    ],
)
def test_a_tapered_metric_thread_that_there_is_not_is_refused(text, says):
    with pytest.raises(ValueError, match="^[^\n]+$") as wrong:
        read_end(text)

    assert says in str(wrong.value)


def test_a_bad_best_fit_says_so():
    """10.9 mm with a pitch of 1 mm is nothing of the tables: 7/16-24 is only the nearest."""
    bad, good = identify_thread("10.9 mm", "1 mm"), identify_thread("11.0 mm", "24 tpi")

    assert bad.candidates[0].likelihood < 0.6
    assert bad.no_thread > 0.4
    assert "Bad fit, even of the best, 7/16-24" in bad.bad_fit
    assert "the pitch over 8 threads" in bad.bad_fit
    assert good.candidates[0].thread == "7/16-24"
    assert good.no_thread < 0.01
    assert good.bad_fit == ""


def test_a_bad_fit_does_not_confirm_what_is_written():
    text = """
[nut]
kind = "port"
gender = "male"
thread = "7/16-24"
sealing = "inverted flare"
medium = "oil"
crest_diameter = "DIAMETER ± 0.05 mm, calipered"
pitch = "PITCH ± 0.03 mm, gauged"
"""
    wrong = look(text.replace("DIAMETER", "10.9").replace("PITCH", "1.0"))["ports.nut.identity"]
    right = look(text.replace("DIAMETER", "11.0").replace("PITCH", "1.058"))["ports.nut.identity"]

    assert wrong.verdict is Verdict.fails
    assert "even the best is a bad fit" in wrong.remark
    assert right.verdict is Verdict.holds


def test_an_inch_nut_for_the_thinnest_pipe_is_known():
    assert read_end("male 1/8 tube, inverted flare").text == "male 5/16-28, inverted flare"
    assert identify_thread("7.85 mm", "28 tpi").candidates[0].thread == "5/16-28"


def test_a_bubble_flare_is_found_by_the_inch_size_of_its_pipe():
    assert read_end("male 3/16 tube, bubble flare").text == "male M10×1, bubble flare"
    assert read_end("male 3/16 tube").text == "male 3/8-24, inverted flare"


def test_a_large_inch_thread_is_a_fastener_too():
    from trialfit.handbook.fastening.thread_sizes import read_fastener_thread
    from trialfit.handbook.ports.port_threads import read_thread

    assert read_thread("1 1/4-12").designation == read_fastener_thread("1 1/4-12").designation == "1 1/4-12"
