"""Builds of a few lines, seen as a site."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest
from worked_out_once import worked_out_once  # noqa: F401 - pytest finds it by its name

from trialfit.book import read, read_text
from trialfit.planning.site import Site, site_of

NOW = datetime.fromisoformat("2026-03-07T09:00:00+01:00")
DEMOS = Path(__file__).parents[2] / "demos"


@pytest.fixture
def site() -> Callable[[str], Site]:
    """The work of a build of a few lines, nothing held against it for its findings."""

    def made(text: str = '[car]\nmass = "960 kg"') -> Site:
        return site_of(read_text(text), NOW, where="mine.toml")

    return made


@pytest.fixture(params=["hillclimb.toml", "pickup.toml", "electric.toml"])
def demo(request: pytest.FixtureRequest) -> Site:
    """The work of each demo build."""
    return site_of(read(DEMOS / request.param), NOW, where=request.param)
