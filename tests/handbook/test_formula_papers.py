"""Does each formula carry its papers: every argument named, what it returns, a source, an example?"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable
from typing import Any

import pytest

from trialfit import handbook
from trialfit.handbook import constants, tables

NO_FORMULAS = {"run_cars", "run_targets", "run_through_gears", "stretches", "shifting"}
"""Modules that hold the inner workings of a run: their docstrings say what they do."""


def formulas() -> list[Any]:
    """Every public function of the handbook, by room and module."""
    modules = [module for room in handbook.rooms() for module in handbook.modules(room)]
    return [
        pytest.param(value, id=f"{module.__name__.removeprefix('trialfit.handbook.')}.{name}")
        for module in [*modules, constants, tables]
        if module.__name__.rpartition(".")[2] not in NO_FORMULAS
        for name, value in vars(module).items()
        if inspect.isfunction(value) and not name.startswith("_") and value.__module__ == module.__name__
    ]


@pytest.mark.parametrize("formula", formulas())
def test_every_argument_is_named(formula: Callable[..., Any]) -> None:
    """In a row of its own or together with its like; and a row says what comes back."""
    text = inspect.getdoc(formula) or ""
    words = set(re.findall(r"\w+", text.split(">>> ")[0]))

    assert set(inspect.signature(formula).parameters) - words == set()
    assert re.search(r"^(returns|errors)\b", text, flags=re.MULTILINE)


@pytest.mark.parametrize("formula", formulas())
def test_every_formula_has_a_source_and_an_example(formula: Callable[..., Any]) -> None:
    """A rule of thumb says so in place of a source."""
    text = inspect.getdoc(formula) or ""

    assert re.search(r"\b[Ss]ource\b|from memory", text) or formula.__name__.startswith("check_")
    assert ">>> " in text
