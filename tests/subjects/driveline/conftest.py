"""What the driveline tests share: builds from a few lines of the user's own text, and joints by bare vectors."""

from __future__ import annotations

from collections.abc import Callable
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from types import ModuleType

import pytest

from trialfit.book import read_text
from trialfit.evaluation.finding import Report
from trialfit.subjects import evaluate


@pytest.fixture
def vectors() -> ModuleType:
    """The independent vector solver that stands beside this file."""
    spec = spec_from_file_location("vector_solver", Path(__file__).with_name("vector_solver.py"))
    assert spec is not None
    assert spec.loader is not None
    module = module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture
def driveline() -> Callable[..., Report]:
    """Works out the driveline of a TOML text, by 1024 draws where no number is given."""

    def work(text: str, draws: int = 1024) -> Report:
        return evaluate(read_text(text), draws=draws, subjects=["driveline"])

    return work
