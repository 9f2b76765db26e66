"""Which tests reach which lines, measured once per test file and kept.

Answers   Reach.tests      the tests worth running for a mutant, nearest first
          measure          runs one test file under coverage, in a process of its own
Not here  what a mutant is (mutants.py)

What was measured holds until the test file or a module that it reaches changes.
"""

from __future__ import annotations

import ast
import json
import time
from dataclasses import dataclass, field
from hashlib import sha256
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Generator, Iterable, Iterator

    from benchmarks.mutation.mutants import Mutant

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "trialfit"
KEPT = ROOT / ".setup" / "mutation"
MOST_TESTS, MOST_SECONDS = 600, 20.0
"""What is run for one mutant at most, in tests and in processor seconds as measured under coverage."""


OPTIONS = (
    "-q",
    "-x",
    "-p",
    "no:cacheprovider",
    "--tb=short",
    "-Wignore:Module already imported:pytest.PytestAssertRewriteWarning",
)


@dataclass
class Reach:
    """What each test file reaches: for each module and line the numbers of its tests; and what each test takes, in s."""

    files: dict[str, dict[str, Any]] = field(default_factory=dict)
    importers: dict[str, set[str]] = field(default_factory=dict)

    @classmethod
    def kept(cls, floor: str) -> Reach:
        """What was measured before of a floor's tests and still holds."""
        found = cls({}, _importers())
        for file in test_files(floor):
            place = _place(file)
            if place.exists():
                measured = json.loads(place.read_text())
                if measured["digest"] == _digest([file, *measured["modules"]]):
                    found.files[file] = measured
        return found

    def tests(self, mutant: Mutant, *, whole_files: bool = False) -> list[str]:
        """The tests that reach a mutant, as pytest names them, file by file, nearest first; or all of the files that do."""
        found: list[tuple[tuple[int, int], str, str, float]] = []
        for file, measured in self.files.items():
            numbers = self._reaching(mutant, measured)
            if numbers:
                names = list(measured["tests"].items())
                taken = names if whole_files else [names[number] for number in sorted(numbers)]
                found += [((_far(file, mutant), len(taken)), file, name, seconds) for name, seconds in taken]
        return list(_within_bounds(sorted(found, key=lambda one: one[:2])))

    def steps(self, mutant: Mutant) -> list[list[str]]:
        """The tests of the nearest file, all others that reach it, then what else is in these files: a test that finds what
        another one read in is not seen to reach it.
        """
        near = self.tests(mutant)
        first = [name for name in near if name.split("::", 1)[0] == near[0].split("::", 1)[0]]
        wider = [name for name in self.tests(mutant, whole_files=True) if name not in set(near)]
        return [first, near[len(first) :], wider]

    def _reaching(self, mutant: Mutant, measured: dict[str, Any]) -> set[int]:
        reached = measured["modules"].get(mutant.path, {})
        if mutant.reached:
            return {number for line in mutant.reached for number in reached.get(str(line), ())}
        near = [reached, *(measured["modules"].get(one, {}) for one in self.importers.get(mutant.path, ()))]
        return {number for lines in near for numbers in lines.values() for number in numbers}


def _within_bounds(found: list[tuple[tuple[int, int], str, str, float]]) -> Iterator[str]:
    spent, count = 0.0, 0
    for _, group in groupby(found, key=lambda one: one[1]):
        for _, _, name, seconds in sorted(group, key=lambda one: one[3]):
            if count and (spent + seconds > MOST_SECONDS or count >= MOST_TESTS):
                continue
            spent, count = spent + seconds, count + 1
            yield name


def _far(file: str, mutant: Mutant) -> int:
    """How far a test file is: the module itself, its own test, its room, its floor, what is checked against print."""
    module = Path(mutant.path).stem
    if file == f"src/trialfit/{mutant.path}":
        return 0
    if Path(file).stem in {f"test_{module}", f"test_{mutant.room}_{module}"} and f"/{mutant.floor}/" in file:
        return 1
    if mutant.room and f"/{mutant.room}/" in file:
        return 2
    return 3 if file.startswith(f"tests/{mutant.floor}/") else 4


def test_files(floor: str) -> list[str]:
    """The tests of a floor, the examples in its modules, and what is checked against print."""
    published = "published" if floor in {"handbook", "subjects"} else f"published/{floor}"
    tests = {file for place in (floor, published) for file in (ROOT / "tests" / place).rglob("test_*.py")}
    modules = [file for file in (SOURCE / floor).rglob("*.py") if ">>>" in file.read_text()]
    return sorted(str(file.relative_to(ROOT)) for file in (*tests, *modules))


def measure(session: pytest.Session, file: str) -> None:
    """Runs the collected tests of a file and keeps which lines each of them reaches. To be called in a process of its own."""
    import coverage

    watch = coverage.Coverage(data_file=None, source=[str(SOURCE)], config_file=False)
    watch.set_option("run:disable_warnings", ["no-data-collected"])
    timing = _Timing(watch)
    session.config.pluginmanager.register(timing)
    session.config.option.maxfail = 0
    watch.start()
    run(session, [one for one in session.items if one.nodeid.startswith(f"{file}::")])
    watch.stop()
    numbers = {name: number for number, name in enumerate(timing.seconds)}
    data = watch.get_data()
    modules = {}
    for name in sorted(data.measured_files()):
        tests = {
            line: [numbers[one] for one in names if one in numbers]
            for line, names in data.contexts_by_lineno(name).items()
        }
        modules[str(Path(name).relative_to(SOURCE))] = {
            str(line): sorted(those) for line, those in tests.items() if those
        }
    modules = {module: lines for module, lines in modules.items() if lines}
    _keep(
        file,
        {
            "digest": _digest([file, *modules]),
            "failed": sorted(timing.failed),
            "tests": timing.seconds,
            "modules": modules,
        },
    )


def run(session: pytest.Session, items: list[pytest.Item]) -> None:
    """Runs collected tests in this order, until one fails if so asked."""
    for item, following in zip(items, [*items[1:], None], strict=True):
        session.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
        if session.shouldfail:
            break


def _keep(file: str, measured: dict[str, Any]) -> None:
    _place(file).parent.mkdir(parents=True, exist_ok=True)
    part = _place(file).with_suffix(".part")
    part.write_text(json.dumps(measured))
    part.replace(_place(file))


class _Timing:
    """Names each test to coverage and takes its processor time; failing tests are left out of what is kept."""

    def __init__(self, watch: Any) -> None:  # noqa: ANN401
        self.watch, self.seconds, self.failed = watch, {}, set()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, object, object]:
        self.watch.switch_context(item.nodeid)
        begun = time.process_time()
        result = yield
        self.watch.switch_context("")
        if item.nodeid not in self.failed:
            self.seconds[item.nodeid] = round(time.process_time() - begun, 4)
        return result

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.failed.add(report.nodeid)


def _place(file: str) -> Path:
    return KEPT / "reach" / (file.replace("/", "-") + ".json")


def _digest(files: Iterable[str]) -> str:
    """Of a test file and of modules of the program."""
    whole = sha256()
    for file in sorted(set(files)):
        place = SOURCE / file if not file.startswith(("tests/", "src/")) else ROOT / file
        whole.update(file.encode() + b"\0" + (place.read_bytes() if place.exists() else b""))
    return whole.hexdigest()


def _importers() -> dict[str, set[str]]:
    """For each module those that import from it directly."""
    found: dict[str, set[str]] = {}
    for file in SOURCE.rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text())):
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("trialfit."):
                own = Path(*node.module.split(".")[1:])
                for name in (
                    own.with_suffix(".py"),
                    own / "__init__.py",
                    *(own / f"{one.name}.py" for one in node.names),
                ):
                    found.setdefault(str(name), set()).add(str(file.relative_to(SOURCE)))
    return found
