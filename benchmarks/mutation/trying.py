"""One mutant tried: the tests that reach it are run on the program with the fault in it.

Answers   warm      loads the libraries once; every process that is split off has them
          attempt   tries a mutant; to be called in a process of its own
          side_by_side   two processes at most, each with a bound on its work
Not here  which tests are run (reach.py)

No file of the program is changed: the module with the fault is handed to the import system.
"""

from __future__ import annotations

import importlib
import importlib.util
import json
import os
import resource
import shutil
import signal
import sys
import traceback
from contextlib import suppress
from importlib.abc import MetaPathFinder
from importlib.machinery import SourceFileLoader
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import hypothesis
import pytest
from benchmarks.mutation.mutants import compiled
from benchmarks.mutation.reach import KEPT, OPTIONS, ROOT, SOURCE

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator
    from importlib.machinery import ModuleSpec
    from types import CodeType

    from benchmarks.mutation.mutants import Mutant

LIBRARIES = (
    "numpy", "scipy.optimize", "scipy.spatial", "scipy.integrate", "pint", "pydantic", "tomlkit", "rich.table", "shapely",
    "trimesh", "fcl", "uncertainties", "hypothesis.extra.numpy", "ortools.sat.python.cp_model",
)  # fmt: skip
PROCESSOR_SECONDS, WALL_SECONDS, MEMORY = 240, 1500, 10 * 2**30
"""Bounds of one attempt: a mutant that runs on is caught, and so is one that takes all the memory."""
_NO_TESTS, _BROKEN = 5, (3, 4)
T = TypeVar("T")


def warm() -> None:
    """Loads what takes long and is not the program, and lets generated examples be the same each time."""
    hypothesis.settings.register_profile("same each time", derandomize=True, deadline=None, database=None)
    hypothesis.settings.load_profile("same each time")
    for name in LIBRARIES:
        with suppress(ImportError):
            importlib.import_module(name)
    sys.path.insert(0, str(ROOT / "src"))
    os.chdir(ROOT)


def attempt(mutant: Mutant, steps: list[list[str]], result: Path) -> None:
    """Runs the tests, in their order and until one fails, one step after the other, and writes down what came of it."""
    Path(result).write_text(json.dumps({"outcome": "caught", "by": "it ran on or crashed"}))
    sys.meta_path.insert(0, _Faulty(mutant))
    outcome = {"outcome": "survived", "by": ""}
    try:
        importlib.import_module(_module(mutant.path))
    except BaseException as error:  # noqa: BLE001 - whatever it is, no test would pass
        outcome = {"outcome": "caught", "by": f"import: {error!r}"[:200]}
    else:
        for tests in filter(None, steps):
            outcome = _run(tests)
            if outcome["outcome"] != "survived":
                break
    Path(result).write_text(json.dumps(outcome))


def _run(tests: list[str]) -> dict[str, str]:
    chosen = _Chosen(tests)
    files = dict.fromkeys(test.split("::", 1)[0] for test in tests)
    base = KEPT / "tmp" / str(os.getpid())
    code = pytest.main([*OPTIONS, "-x", f"--basetemp={base}", *files], [chosen])
    shutil.rmtree(base, ignore_errors=True)
    survived = code in (0, _NO_TESTS)
    return {"outcome": "broken" if code in _BROKEN else "survived" if survived else "caught", "by": chosen.failed}


class _Chosen:
    """Leaves of the collected tests the chosen ones, in their order, and notes the first that fails."""

    def __init__(self, tests: list[str]) -> None:
        self.order = {name: number for number, name in enumerate(tests)}
        self.failed = "collection"

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = sorted((one for one in items if one.nodeid in self.order), key=lambda one: self.order[one.nodeid])

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.failed = report.nodeid


class _Faulty(MetaPathFinder):
    """Finds the one module with the fault in it."""

    def __init__(self, mutant: Mutant) -> None:
        self.mutant, self.name, self.file = mutant, _module(mutant.path), str(SOURCE / mutant.path)

    def find_spec(self, fullname: str, *_: object) -> ModuleSpec | None:
        if fullname != self.name:
            return None
        return importlib.util.spec_from_file_location(
            fullname, self.file, loader=_Loader(self.mutant, fullname, self.file)
        )


class _Loader(SourceFileLoader):
    def __init__(self, mutant: Mutant, name: str, file: str) -> None:
        super().__init__(name, file)
        self.mutant = mutant

    def get_code(self, _fullname: str) -> CodeType:
        return compiled(Path(self.path).read_text(), self.path, self.mutant)


def _module(path: str) -> str:
    return ".".join(("trialfit", *Path(path).with_suffix("").parts)).removesuffix(".__init__")


def side_by_side(
    work: Iterable[tuple[T, Callable[[], None]]], most: int, seconds: int = PROCESSOR_SECONDS
) -> Iterator[tuple[T, int]]:
    """Runs each piece of work in a process split off from this one, and tells which has ended and how."""
    running: dict[int, T] = {}
    for name, does in work:
        if len(running) >= most:
            yield _ended(running)
        sys.stdout.flush()
        child = os.fork()
        if not child:
            _bounded(does, seconds)
        running[child] = name
    while running:
        yield _ended(running)


def _ended(running: dict[int, T]) -> tuple[T, int]:
    child, status = os.wait()
    return running.pop(child), os.waitstatus_to_exitcode(status)


def _bounded(does: Callable[[], None], seconds: int) -> None:
    """Does the work quietly and within bounds, and ends the process."""
    code = 1
    try:
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 5))
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        signal.alarm(WALL_SECONDS)
        log = os.open(KEPT / f"last-{os.getpid() % 8}.log", os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.dup2(log, 1)
        os.dup2(log, 2)
        does()
        code = 0
    except BaseException:  # noqa: BLE001 - it belongs into the log
        traceback.print_exc()
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code)
