"""The command as a process: exit codes, a reader that goes away, a defect."""

from __future__ import annotations

import os

import pytest

from trialfit.cli import main as entry


def test_a_file_that_is_not_there_ends_with_2_and_no_traceback(process):
    ran = process("-m", "trialfit", "check", "nowhere.toml")

    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr == "nowhere.toml: does not exist: expected the TOML file of a build\n"


def test_a_reader_that_goes_away_leaves_no_traceback(process):
    """As with `trialfit kinds prop_shaft --json | head -1`: the pipe is closed before anything is written."""
    reading, writing = os.pipe()
    os.close(reading)
    ran = process("-m", "trialfit", "kinds", "--json", stdout=writing)
    os.close(writing)

    assert (ran.returncode, ran.stderr) == (141, "")


def test_a_terminal_without_our_signs_still_gets_its_page(process):
    ran = process("-m", "trialfit", "kinds", "tyre", env={**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"})

    assert ran.returncode == 0
    assert "typical 1 +2.5/-4.5 % (ETRTO rule from memory, ? 1.5 %;" in ran.stdout


def test_control_signs_in_a_build_do_not_reach_the_terminal(process, tmp_path):
    file = tmp_path / "odd.toml"
    file.write_text('name = "\\u001b[31mred"\n[car]\nmass = "900 kg; \\u001b]0;title\\u0007"', encoding="utf-8")
    ran = process("-m", "trialfit", "facts", str(file))

    assert ran.returncode == 0
    assert "\x1b" not in ran.stdout
    assert "\x07" not in ran.stdout


def test_an_interrupt_ends_quietly(monkeypatch):
    def interrupt(_: object) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr(entry, "_run", interrupt)

    assert entry.main(["demo"]) == 130


def test_a_defect_does_not_look_like_a_failing_finding(monkeypatch, capsys):
    def defect(_: object) -> int:
        raise ZeroDivisionError

    monkeypatch.setattr(entry, "_run", defect)

    assert entry.main(["demo"]) == 70
    assert "ZeroDivisionError" in capsys.readouterr().err


@pytest.mark.parametrize("words", [["kinds"], ["schema", "report"], ["--help"]])
def test_reading_commands_end_with_0(process, words):
    ran = process("-m", "trialfit", *words)

    assert (ran.returncode, ran.stderr) == (0, "")
