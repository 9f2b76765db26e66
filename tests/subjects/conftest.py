"""What the tests of all subjects share: one subject of a build in the user's own words, worked out."""

from __future__ import annotations

from collections.abc import Callable, Iterable

import pytest

from trialfit.book import read_text
from trialfit.book.build import Build
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.finding import Report
from trialfit.evaluation.requirement import Requirement
from trialfit.evaluation.working import work_out


@pytest.fixture
def worked() -> Callable[[Callable[[Build], Iterable[Requirement]]], Callable[..., Report]]:
    """Makes of a subject's requirements what works them out for a TOML text, with pairs of what is written and what is to
    stand there instead.
    """

    def of(requirements: Callable[[Build], Iterable[Requirement]]) -> Callable[..., Report]:
        def work(text: str, *changes: tuple[str, str], draws: int = 16) -> Report:
            for old, new in changes:
                assert old in text, f"{old!r} does not stand in the text"
                text = text.replace(old, new)
            build = read_text(text)
            return work_out(Evaluation(build, draws), list(requirements(build)))

        return work

    return of
