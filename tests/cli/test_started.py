"""Commands are printed as they have to be typed where this program was started."""

from __future__ import annotations

import os
import shlex
import sys

import pytest
from thorough import some

from trialfit.cli.started import started_as, typed


@pytest.mark.parametrize(
    ("told", "argument", "name"),
    [
        (None, "/usr/local/bin/trialfit", "trialfit"),
        (None, "/site-packages/trialfit/__main__.py", "python -m trialfit"),
        (None, "/site-packages/sphinx/__main__.py", "trialfit"),
        ("./run", "/checkout/src/trialfit/__main__.py", "./run"),
        ("../my cars/run", "/usr/local/bin/trialfit", "'../my cars/run'"),
    ],
)
def test_the_name_is_the_one_it_was_started_by(monkeypatch, told, argument, name):
    monkeypatch.delenv("TRIALFIT_STARTED_AS", raising=False)
    if told:
        monkeypatch.setenv("TRIALFIT_STARTED_AS", told)
    monkeypatch.setattr(sys, "argv", [argument])

    assert started_as() == name


@pytest.mark.parametrize("words", [["set", "mine.toml"], ["set", "my car's.toml", "", "a$b", "é"]])
def test_a_typed_command_is_read_by_a_shell_as_it_was_meant(words):
    assert shlex.split(typed(*words)) == words


@pytest.mark.parametrize("started_by", ["./run", "python -m trialfit"])
def test_every_page_that_prints_a_command_prints_that_name(process, tmp_path, started_by):
    environment = {**os.environ, "COLUMNS": "200", "PYTHONUTF8": "1"}
    environment.pop("TRIALFIT_STARTED_AS", None)
    if started_by == "./run":
        environment["TRIALFIT_STARTED_AS"] = started_by
    file = tmp_path / "my car.toml"
    file.write_text('[car]\nmass = "900 kg"\n[prop_shaft]\nkind = "prop_shaft"\n', encoding="utf-8")

    def printed(*words: str) -> str:
        ran = process("-m", "trialfit", *words, env=environment)
        return " ".join((ran.stdout + ran.stderr).split())

    pages = [
        (("--help",), f"usage: {started_by} COMMAND"),
        (("--help",), f"{started_by} COMMAND --help says more"),
        (("check", "--help"), f"Usage: {started_by} check BUILD"),
        (("check",), f"{started_by} check --help shows the options"),
        (("kinds",), f"{started_by} kinds KIND shows"),
        (("measure", str(file), "--draws", "16"), f"{started_by} set '{file}' "),
        (("demo",), f"Next: {started_by} measure "),
        (("start", str(file), "PL01"), f"`{started_by} new NAME.book --from"),
        (("gate", str(file), "moon"), f"{started_by} gate: "),
    ]
    for words, says in pages if started_by == "./run" else some(pages):
        assert says in printed(*words), words
