"""Small builds for the evaluation alone: requirements are made in the tests, no subject is asked."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from trialfit.book import Build, read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.finding import Finding
from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.evaluation.working import work_out
from trialfit.facts.quantity import LENGTH

sys.path.append(str(Path(__file__).parent))  # changing.py stands beside the tests
BOOK = Source("a book, table 1", SourceKind.published)


@pytest.fixture
def build() -> Build:
    """A car with a taped wheelbase, a weighed mass, an exact track and no axle mass."""
    return read_text(
        '[car]\nwheelbase = "2.40 m ± 10 mm, taped"\nmass = "960 ± 20 kg, weighed"\nrear_track = "1.4 m ± 0 m"'
    )


@pytest.fixture
def judged() -> Callable[..., Finding]:
    """Works out one length against a limit, at_least or at_most."""

    def work(
        build: Build,
        value: Callable[[Evaluation], object],
        *,
        at_least: object = None,
        at_most: object = None,
        stake: Stake = Stake.durability,
        draws: int = 4096,
    ) -> Finding:
        limit = AtLeast(at_least) if at_least is not None else AtMost(at_most)
        requirement = Requirement(
            id="test.one",
            about="car",
            says="the one",
            value=value,
            quantity=LENGTH,
            stake=stake,
            limit=limit,
            source=BOOK,
            unit="m",
        )
        return work_out(Evaluation(build, draws), [requirement])["test.one"]

    return work
