"""Ctrl-C while `plan` searches: the best plan so far, and no traceback."""

from __future__ import annotations

import os
import pty
import select
import signal
import subprocess
import sys
import time

import pytest

AT = ("--when", "2026-03-07 09:00")
PATIENCE = 120.0  # s: a stop for a hanging test, not a measure


def _said(terminal: int, wanted: str) -> str:
    """What the command says on its terminal until something wanted comes."""
    text, begun = "", time.monotonic()
    while wanted not in text:
        assert time.monotonic() - begun < PATIENCE, text
        if select.select([terminal], [], [], 1.0)[0]:
            text += os.read(terminal, 65536).decode()
    return text


@pytest.mark.parametrize("has_helper", [True, False])
def test_ctrl_c_shows_the_best_plan_so_far(written, hillclimb, has_helper):
    """With a helper the solver is broken off, without one the search for a better order: everything exists once then."""
    text = hillclimb.read_text(encoding="utf-8")
    if not has_helper:
        text = text.replace('helper = ["Sat 13:00-17:00"]', "")
    file = written(text)
    ours, its = pty.openpty()
    words = ["-m", "trialfit", "plan", str(file), *AT, "--effort", "10000", "--draws", "64"]
    with subprocess.Popen(  # noqa: S603 - our own command
        [sys.executable, *words],
        stdout=subprocess.PIPE,
        stderr=its,
        text=True,
        env={**os.environ, "TERM": "xterm", "COLUMNS": "100"},
    ) as ran:
        said = _said(ours, "Ctrl-C takes this plan")
        ran.send_signal(signal.SIGINT)
        out, _ = ran.communicate(timeout=PATIENCE)
    os.close(its)
    os.close(ours)

    assert "planning: the end so far is " in said
    assert "Traceback" not in said
    assert ran.returncode == 0
    assert "The search was stopped early: this is the best plan so far." in out
    assert "CE09" in out
