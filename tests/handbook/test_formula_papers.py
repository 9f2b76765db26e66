"""Does each formula carry its papers: every argument named, what it returns, a source, an example?"""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable
from typing import Any

import pytest

from trialfit import handbook

NO_FORMULAS = {"arrays", "run_cars", "run_targets", "run_through_gears", "stretches", "shifting"}
"""Modules that hold the inner workings of a run: their docstrings say what they do."""


def formulas() -> list[Any]:
    """Every public function of the handbook, by module."""
    found = []
    for module in sorted(module.name for module in pkgutil.iter_modules(handbook.__path__)):
        if module not in NO_FORMULAS:
            names = vars(importlib.import_module(f"trialfit.handbook.{module}")).items()
            found += [
                pytest.param(value, id=f"{module}.{name}")
                for name, value in names
                if inspect.isfunction(value) and not name.startswith("_") and value.__module__.endswith(f".{module}")
            ]
    return found


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
