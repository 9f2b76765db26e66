"""Whatever is typed, the answer is a page or one sentence for each problem, never a traceback."""

from __future__ import annotations

import io
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from thorough import some

from trialfit.cli.main import main

COMMANDS = st.sampled_from(["check", "why", "measure", "facts", "set", "kinds", "schema", "chekc", "--json", "-"])
OFTEN = [
    "mine.toml",
    "car.mass",
    "gearbox.ratios.2",
    "limit.gearing.top_speed",
    "960 kg, weighed",
    "1,234 mm",
    "car",
    "--json",
    "--draws",
    "16",
    "-1",
    "--subject",
    "gearing",
    "gearing.top_speed",
    "--figures",
    "--from",
    "--",
    "--help",
    "report",
    "choice.x.picked",
]
WORDS = st.one_of(st.sampled_from(OFTEN), st.text(max_size=12))
TEXT = '[car]\nmass = "960 kg, guess"\n[gearbox]\nratios = ["3.6", "2.1"]\n'


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of its own with one build in it."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


@settings(max_examples=some(150), suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(command=COMMANDS, words=st.lists(WORDS, max_size=5))
def test_any_words_end_in_a_page_or_in_sentences(folder, command, words):
    (folder / "mine.toml").write_text(TEXT, encoding="utf-8")
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        code = main([command, *words])

    assert code in {0, 1, 2}, err.getvalue()
    assert "Traceback" not in err.getvalue()
    assert (code == 2) == bool(err.getvalue() or '"problems"' in out.getvalue()[:20])


@settings(max_examples=some(100), suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(raw=st.binary(max_size=200))
def test_any_bytes_in_a_file_end_in_a_page_or_in_sentences(folder, raw):
    (folder / "mine.toml").write_bytes(raw)
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        code = main(["facts", "mine.toml"])

    assert code in {0, 2}, err.getvalue()
    assert "Traceback" not in err.getvalue()
