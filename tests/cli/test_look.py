"""`--look` of `place` and `clearances`: a page to turn round, and what is said where there can be none."""

from __future__ import annotations

import pytest

from trialfit.drawing.look import page


@pytest.mark.parametrize("command", ["place", "clearances"])
def test_a_page_is_written_beside_the_answer(trialfit, pickup, tmp_path, command):
    file = tmp_path / "bay.html"
    ran = trialfit(command, pickup, "--draws", "16", "--look", file)

    text = file.read_text(encoding="utf-8")
    assert "grey pickup" in ran.out
    assert "turbo – fuel pipe" in text
    assert "licensed workshop" in text
    assert "frame_crossmember" in text


def test_the_page_of_a_build_without_solids_says_what_is_missing(trialfit, written, tmp_path):
    file = tmp_path / "bay.html"

    assert trialfit("clearances", written("[car]"), "--look", file).code == 0
    assert "Nothing can be drawn. Missing:" in file.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("file", "says"),
    [
        ("bay.png", 'is "bay.png": expected an HTML file, for example bay.html'),
        ("nowhere/bay.html", "the folder nowhere is not there"),
    ],
)
@pytest.mark.parametrize("command", ["place", "clearances"])
def test_a_file_that_can_be_no_page_is_refused_before_the_work(trialfit, pickup, command, file, says):
    ran = trialfit(command, pickup, "--draws", "16", "--look", file)

    assert ran.code == 2
    assert says in ran.err
    assert ran.out == ""


def test_a_file_that_cannot_be_written_is_named(trialfit, pickup, tmp_path):
    (tmp_path / "bay.html").mkdir()
    ran = trialfit("clearances", pickup, "--draws", "16", "--look", tmp_path / "bay.html")

    assert ran.code == 2
    assert "bay.html: is a folder: expected a name for the file, for example bay.html" in ran.err


def test_where_the_view_was_never_built_one_sentence_says_so(trialfit, pickup, tmp_path, monkeypatch):
    monkeypatch.setattr(page, "BUNDLE", tmp_path / "none.js")
    file = tmp_path / "bay.html"
    ran = trialfit("clearances", pickup, "--draws", "16", "--look", file)

    assert ran.code == 1
    assert "The 3D view is not built yet" in ran.err
    assert page.WITHOUT in file.read_text(encoding="utf-8")
