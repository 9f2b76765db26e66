"""One mutant tried: the tests that reach it are run on the program with the fault in it.

Answers   warm           loads the libraries once; every process that is split off has them
          collected      the program and its tests loaded once, for all that is done in such a process
          attempt        tries a mutant in a process split off from that: the function with the fault takes the place of the sound one
          attempt_anew   the same with the program imported anew, for what is worked out when it is imported
          side_by_side   two processes at most, each with a bound on its work
Not here  which tests are run (reach.py)

No file of the program is changed. A fault that the first way does not catch, or that lies outside all functions, is tried by
the second.
"""

from __future__ import annotations

import gc
import importlib
import importlib.util
import inspect
import json
import os
import resource
import shutil
import signal
import sys
import traceback
from contextlib import contextmanager, suppress
from importlib.abc import MetaPathFinder
from importlib.machinery import SourceFileLoader
from pathlib import Path
from types import CodeType, FunctionType
from typing import TYPE_CHECKING, TypeVar

import hypothesis
import pytest
from benchmarks.mutation.mutants import compiled
from benchmarks.mutation.reach import KEPT, OPTIONS, ROOT, SOURCE, run

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator
    from importlib.machinery import ModuleSpec

    from benchmarks.mutation.mutants import Mutant

LIBRARIES = (
    "numpy", "scipy.optimize", "scipy.spatial", "scipy.integrate", "pint", "pydantic", "tomlkit", "rich.table", "shapely",
    "trimesh", "fcl", "uncertainties", "hypothesis.extra.numpy", "ortools.sat.python.cp_model",
)  # fmt: skip
PROCESSOR_SECONDS, WALL_SECONDS, MEMORY = 240, 1500, 10 * 2**30
"""Bounds of one attempt: a mutant that runs on is caught, and so is one that takes all the memory."""
_NO_TESTS, _BROKEN = 5, (3, 4)
_RAN_ON = {"outcome": "caught", "by": "it ran on or crashed"}
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


def collected(files: list[str], does: Callable[[pytest.Session], None]) -> None:
    """Collects the tests of these files and does something with them, in a process of its own."""
    child = os.fork()
    if child:
        _, status = os.waitpid(child, 0)
        if status:
            msg = f"collecting the tests ended with {os.waitstatus_to_exitcode(status)}"
            raise RuntimeError(msg)
        return
    code = pytest.main([*OPTIONS, "-s", *files], [_Instead(does)])
    sys.stdout.flush()
    os._exit(0 if code in (0, _NO_TESTS) else code)


class _Instead:
    """Takes the place of running all tests."""

    def __init__(self, does: Callable[[pytest.Session], None]) -> None:
        self.does = does

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.does(session)
        return True


def attempt(session: pytest.Session, mutant: Mutant, tests: list[str], result: Path) -> None:
    """Puts the function with the fault in place and runs the tests, in their order and until one fails."""
    Path(result).write_text(json.dumps(_RAN_ON))
    outcome = {"outcome": "survived", "by": ""}
    if tests and _replaced(mutant):
        chosen = _Chosen(tests)
        session.config.pluginmanager.register(chosen)
        items = list(session.items)
        chosen.pytest_collection_modifyitems(items)
        with _own_folder():
            run(session, items)
        outcome = {"outcome": "caught" if chosen.failed else "survived", "by": chosen.failed}
    Path(result).write_text(json.dumps(outcome))


def _replaced(mutant: Mutant) -> bool:
    """Whether the outermost function around the fault was found and given the code with the fault."""
    file = str(SOURCE / mutant.path)
    faulty = list(_functions(compiled(Path(file).read_text(), file, mutant)))
    found = False
    for one in gc.get_objects():
        if isinstance(one, FunctionType) and one.__code__.co_filename == file:
            code = one.__code__
            for new in faulty:
                if (new.co_qualname, new.co_firstlineno) == (code.co_qualname, code.co_firstlineno):
                    found |= new != code and bool(mutant.reached)
                    one.__code__ = new
    return found


def _functions(code: CodeType) -> Iterator[CodeType]:
    """The functions of a module and of its classes; not those in functions."""
    for one in code.co_consts:
        if isinstance(one, CodeType):
            if one.co_flags & inspect.CO_OPTIMIZED:
                yield one
            else:
                yield from _functions(one)


def attempt_anew(mutant: Mutant, steps: list[list[str]], result: Path) -> None:
    """Imports the program with the fault in it and runs the tests, one step after the other, until one fails."""
    Path(result).write_text(json.dumps(_RAN_ON))
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
    with _own_folder():
        code = pytest.main([*OPTIONS, *files], [chosen])
    survived = code in (0, _NO_TESTS)
    outcome = "broken" if code in _BROKEN else "survived" if survived else "caught"
    return {"outcome": outcome, "by": "" if survived else chosen.failed or "collection"}


@contextmanager
def _own_folder() -> Iterator[None]:
    """A folder for the files of the tests of this process."""
    folder = KEPT / "tmp" / str(os.getpid())
    folder.mkdir(exist_ok=True)
    os.environ["PYTEST_DEBUG_TEMPROOT"] = str(folder)
    try:
        yield
    finally:
        shutil.rmtree(folder, ignore_errors=True)


class _Chosen:
    """Leaves of the collected tests the chosen ones, in their order, and notes the first that fails."""

    def __init__(self, tests: list[str]) -> None:
        self.order = {name: number for number, name in enumerate(tests)}
        self.failed = ""

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
        os._exit(0 if code in (0, _NO_TESTS) else code)
