"""The demos and an empty build, each sheet made once."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from worked_out_once import worked_out_once  # noqa: F401 - pytest finds it by its name

from trialfit.sheets.all_sheets import make
from trialfit.sheets.known import Known
from trialfit.sheets.sheet import Sheet

from .printing import DEMOS, known_of_text


@pytest.fixture(scope="session")
def demos() -> dict[str, Known]:
    """What is known of each demo, by its name."""
    return {file.stem: known_of_text(file.read_text(encoding="utf-8")) for file in DEMOS}


@pytest.fixture(scope="session")
def empty() -> Known:
    """An empty build."""
    return known_of_text("")


@pytest.fixture(scope="session")
def sheet_of(demos, empty) -> Callable[[str, str], Sheet]:
    """A sheet of a demo or of "empty", made once, as in `sheet_of("hillclimb", "measuring")`."""
    made: dict[tuple[str, str], Sheet] = {}

    def sheet(build: str, name: str) -> Sheet:
        if (build, name) not in made:
            made[build, name] = make(name, demos.get(build, empty))
        return made[build, name]

    return sheet
