"""The command as a process whose streams are closed or full, that is interrupted, or lacks a package."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from trialfit.cli import main as entry

TRIALFIT = f"'{sys.executable}' -P -m trialfit"
FULL = pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")


@pytest.fixture
def shell(tmp_path):
    """Runs a line of the shell in a folder with a small build, as in `shell("facts m.toml >&-")`."""
    (tmp_path / "m.toml").write_text('[car]\nmass = "960 kg, weighed"\n')

    def run(line: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(  # noqa: S602 - our own command
            f"{TRIALFIT} {line}", shell=True, cwd=tmp_path, capture_output=True, text=True, check=False
        )

    return run


@FULL
@pytest.mark.parametrize("words", ["facts m.toml", "facts m.toml --json", "--help", "kinds --json"])
def test_a_full_disk_behind_the_output_is_said(shell, words):
    ran = shell(f"{words} > /dev/full")

    assert (ran.returncode, ran.stderr) == (2, "the output cannot be written: no space left on device\n")


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("facts m.toml >&-", 0),
        ("facts m.toml 2>&-", 0),
        ("facts m.toml <&- >&- 2>&-", 0),
        ("facts nowhere.toml 2>&-", 2),
        ("facts nowhere.toml >&- 2>&-", 2),
        pytest.param("facts nowhere.toml 2>/dev/full", 2, marks=FULL),
        ("new g.book <&-", 0),
        ("new g.book >&- 2>&- <&-", 0),
    ],
)
def test_a_stream_that_is_closed_changes_no_answer(shell, line, code):
    ran = shell(line)

    assert ran.returncode == code
    assert "Traceback" not in ran.stderr


def test_a_book_is_whole_when_it_was_made_with_closed_streams(shell):
    """No file of ours gets the number of a stream that somebody may still write to."""
    shell("new g.book --from m.toml >&- 2>&- <&-")

    assert "is sound" in shell("verify g.book").stdout


def test_an_interrupt_that_a_library_makes_another_error_of_is_an_interrupt(monkeypatch, capsys):
    """As in the import of a library in C: what comes out of it is an ImportError."""

    def interrupted(_: object) -> int:
        try:
            os.kill(os.getpid(), signal.SIGINT)
            signal.pause()
        except KeyboardInterrupt:
            raise ImportError("numpy cannot be imported") from None
        return 0

    monkeypatch.setattr(entry, "_run", interrupted)

    assert entry.main(["demo"]) == 130
    assert capsys.readouterr().err == ""
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


@pytest.mark.parametrize("module", ["trialfit.cli.main", "trialfit.cli.commands", "trialfit.cli.running"])
def test_an_interrupt_during_the_first_imports_ends_without_a_word(process, tmp_path, module):
    """The import of a module of ours is where the interrupt comes."""
    (tmp_path / "sitecustomize.py").write_text(
        "import os, signal, sys\n"
        "class Finder:\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        f"        if name == {module!r}:\n"
        "            os.kill(os.getpid(), signal.SIGINT)\n"
        "sys.meta_path.insert(0, Finder())\n"
    )
    path = os.pathsep.join([str(tmp_path), *filter(None, [os.environ.get("PYTHONPATH")])])
    ran = process("-P", "-m", "trialfit", "kinds", env={**os.environ, "PYTHONPATH": path})

    assert ran.returncode in (-signal.SIGINT, 130)
    assert (ran.stdout, ran.stderr) == ("", "")


BACK = ["env", "--block-signal=INT"]
holds_back = pytest.mark.skipif(
    subprocess.run([*BACK, "true"], capture_output=True, check=False).returncode != 0,  # noqa: S603 - two words of ours
    reason="this env cannot hold an interrupt back",
)


@holds_back
def test_an_interrupt_while_python_starts_ends_without_a_word(tmp_path):
    """./run holds it back; without that Python says a traceback of its own."""
    (tmp_path / "sitecustomize.py").write_text("import os, signal\nos.kill(os.getpid(), signal.SIGINT)\n")
    path = os.pathsep.join([str(tmp_path), *filter(None, [os.environ.get("PYTHONPATH")])])
    words = [*BACK, sys.executable, "-P", "-m", "trialfit", "kinds"]
    ran = subprocess.run(words, capture_output=True, check=False, env={**os.environ, "PYTHONPATH": path})  # noqa: S603 - our own

    assert ran.returncode in (-signal.SIGINT, 130)
    assert (ran.stdout, ran.stderr) == (b"", b"")


@holds_back
@pytest.mark.parametrize("moment", [0, 0.02, 0.06, 0.1, 0.15, 0.2, 0.3])
def test_an_interrupt_at_any_moment_is_an_interrupt_or_comes_too_late(hillclimb, moment):
    words = [*BACK, sys.executable, "-P", "-m", "trialfit", "check", str(hillclimb), "--draws", "16"]
    with subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as ran:  # noqa: S603 - our own
        time.sleep(moment)
        ran.send_signal(signal.SIGINT)
        _, err = ran.communicate(timeout=120)

    assert ran.returncode in (-signal.SIGINT, 130, 0, 1)
    assert "Traceback" not in err


def test_a_package_that_has_gone_is_named_with_what_to_do(monkeypatch, capsys):
    monkeypatch.setitem(sys.modules, "cyclopts", None)
    monkeypatch.delitem(sys.modules, "trialfit.cli.running", raising=False)

    assert entry.main(["kinds"]) == 70
    err = capsys.readouterr().err
    assert "Traceback" not in err
    assert "cyclopts" in err
    assert f"{sys.prefix} lacks a package, or a part of one" in err
    assert "delete that folder, then ./run sets it up anew" in err


def test_a_defect_is_told_without_steering_the_terminal(monkeypatch, capsys):
    def defect(_: object) -> int:
        raise ZeroDivisionError("\x1b[31m")

    monkeypatch.setattr(entry, "_run", defect)

    assert entry.main(["demo"]) == 70
    assert "\x1b" not in capsys.readouterr().err
