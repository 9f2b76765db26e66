"""Demos by file, and small builds from TOML text."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from thorough import some
from worked_out_once import worked_out_once  # noqa: F401 - pytest finds it by its name

from trialfit.book.opening import open_build

sys.path.insert(0, str(Path(__file__).parent))  # svg.py stands beside the tests

DEMOS = sorted(
    Path(__file__).parents[2].joinpath("demos").glob("*.toml"), key=lambda file: (file.stem != "hillclimb", file.stem)
)


@pytest.fixture(params=some(DEMOS), ids=lambda file: file.stem)
def demo(request):
    """Each demo in turn: the first alone in the usual run."""
    return open_build(request.param)


@pytest.fixture
def build_of(tmp_path):
    """A build of a few TOML lines."""

    def make(text):
        file = tmp_path / "build.toml"
        file.write_text(text, encoding="utf-8")
        return open_build(file)

    return make
