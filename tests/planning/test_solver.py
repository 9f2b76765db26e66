"""The solver is loaded without a library of tables, and leaves nothing of the stand-in behind."""

from __future__ import annotations

import subprocess
import sys

CODE = """
import sys
if sys.argv[1:] == ["loaded"]:
    from types import ModuleType
    sys.modules["pandas"] = tables = ModuleType("pandas")
    tables.Index, tables.Series = list, tuple
from trialfit.planning.solver import solver
cp = solver()
model = cp.CpModel()
number = model.new_int_var(0, 9, "n")
model.add(2 * number >= 7)
model.minimize(number)
search = cp.CpSolver()
print(search.status_name(search.solve(model)), search.value(number), "pandas" in sys.modules)
"""


def solved(*words):
    return subprocess.run([sys.executable, "-c", CODE, *words], capture_output=True, text=True, check=True).stdout  # noqa: S603 - our own


def test_the_solver_works_without_the_library_of_tables() -> None:
    assert solved() == "OPTIMAL 4 False\n"


def test_a_library_of_tables_that_is_loaded_already_stays() -> None:
    assert solved("loaded") == "OPTIMAL 4 True\n"
