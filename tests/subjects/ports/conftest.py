"""Ports in the builder's own words."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.finding import Report
from trialfit.evaluation.working import work_out
from trialfit.subjects.ports import requirements


@pytest.fixture
def ports() -> Callable[..., Report]:
    """Works out the ports of a TOML text."""

    def work(text: str, draws: int = 512) -> Report:
        build = read_text(text)
        return work_out(Evaluation(build, draws), list(requirements(build)))

    return work
