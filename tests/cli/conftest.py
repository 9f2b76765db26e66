"""Whole commands run in this process, on builds of a few lines."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from worked_out_once import worked_out_once  # noqa: F401 - pytest finds it by its name

from trialfit.cli.main import main

sys.path.append(str(Path(__file__).parent))  # mends.py stands beside the tests

DEMOS = Path(__file__).parents[2] / "demos"


@dataclass(frozen=True)
class Ran:
    """What a command left behind."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """What it printed, as data."""
        return json.loads(self.out)


@pytest.fixture
def trialfit(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Callable[..., Ran]:
    """The command, 80 columns wide, as in `trialfit("check", file).code`."""
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.delenv("TRIALFIT_STARTED_AS", raising=False)

    def run(*words: object) -> Ran:
        code = main([str(word) for word in words])
        caught = capsys.readouterr()
        return Ran(code, caught.out, caught.err)

    return run


@pytest.fixture
def process() -> Callable[..., subprocess.CompletedProcess[str]]:
    """Runs Python with these words in a process of its own, as in `process("-m", "trialfit", "kinds")`."""

    def run(*words: str, **more: Any) -> subprocess.CompletedProcess[str]:
        streams = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, **more}
        return subprocess.run([sys.executable, *words], text=True, check=False, **streams)  # noqa: S603 - our own command

    return run


@pytest.fixture
def written(tmp_path: Path) -> Callable[[str], Path]:
    """A file with a build in it, as in `written("[car]")`."""

    def write(text: str) -> Path:
        file = tmp_path / "mine.toml"
        file.write_text(text, encoding="utf-8")
        return file

    return write


@pytest.fixture
def hillclimb() -> Path:
    """The first demo build."""
    return DEMOS / "hillclimb.toml"


@pytest.fixture
def pickup() -> Path:
    """The second demo build."""
    return DEMOS / "pickup.toml"


@pytest.fixture
def electric() -> Path:
    """The third demo build."""
    return DEMOS / "electric.toml"
