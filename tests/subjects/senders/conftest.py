"""Works out the senders of a few lines of a build."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.finding import Report
from trialfit.evaluation.working import work_out
from trialfit.subjects.senders import requirements


@pytest.fixture
def senders() -> Callable[..., Report]:
    """The report of a TOML text."""

    def work(text: str, draws: int = 256) -> Report:
        return work_out(Evaluation(read_text(text), draws), list(requirements(read_text(text))))

    return work
