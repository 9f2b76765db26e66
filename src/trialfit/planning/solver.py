"""The constraint solver, loaded without the table library that it imports.

Answers   solver    its module

The solver takes rows of a table as lists of variables, and for that alone it imports a library of tables that weighs 57 MB and
starts in half a second. Our lists are plain ones: while the solver is loaded, empty types replace those of that library.
"""

from __future__ import annotations

import sys
from functools import cache
from types import ModuleType
from typing import Any

_TABLES = "pandas"


@cache
def solver() -> Any:  # noqa: ANN401 - the solver has no types
    """The module `cp_model`. A library of tables that is loaded already stays."""
    stand_in = ModuleType(_TABLES)
    stand_in.__dict__.update({name: type(name, (), {}) for name in ("Index", "Series")})
    loaded = sys.modules.setdefault(_TABLES, stand_in)
    try:
        from ortools.sat.python import cp_model
    finally:
        if loaded is stand_in:
            del sys.modules[_TABLES]
    return cp_model
