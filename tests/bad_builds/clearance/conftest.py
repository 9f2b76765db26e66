"""The clearance of a build of a few tables."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from trialfit.book import read_text
from trialfit.evaluation.finding import Report
from trialfit.subjects.catalogue import evaluate

sys.path.append(str(Path(__file__).parent))  # clearance_builds.py stands beside the tests


@pytest.fixture
def worked() -> Callable[..., Report]:
    """The clearance of a build by its parts: each a table of entries."""

    def work(draws: int = 256, **parts: dict[str, str]) -> Report:
        def written(value: str) -> str:
            return value if value.startswith("[") else f'"{value}"'

        tables = (
            f"[{name}]\n" + "\n".join(f"{key} = {written(value)}" for key, value in entries.items())
            for name, entries in parts.items()
        )
        return evaluate(read_text("\n".join(tables)), draws, ("clearance",))

    return work
