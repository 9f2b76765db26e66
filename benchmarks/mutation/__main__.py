"""Mutation testing: makes deliberate faults in the program, one at a time, and lists those that no test notices.

    .setup/venv/bin/python -m benchmarks.mutation [FLOOR[/ROOM] ...] [--each 150] [--seed 1] [--again] [--fresh]

Without a floor it takes all five. The faults are drawn by the seed, the same ones each time: so many of each floor, all where
there are fewer. First it measures which test reaches which line (once; then only for files that changed), then each fault is
tried with the tests that reach it, nearest first, by two processes. It can be broken off and goes on where it was: what was
caught stays caught until its module changes, what survived is tried again with `--again` or when its module changes, and
`--fresh` forgets all results. The shares and the survivors are printed and kept in `.setup/mutation/survivors.md`.

Faults that change nothing a user could notice are listed with the reason in `benchmarks/mutation/harmless.toml`.
"""

from __future__ import annotations

import argparse
import itertools
import json
import os
import sys
import tomllib
from collections import Counter
from functools import partial
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pytest
    from benchmarks.mutation.mutants import Mutant

FLOORS = ("handbook", "subjects", "evaluation", "facts", "planning")
EACH, SEED, PROCESSES = 150, 1, 2
HARMLESS = Path(__file__).parent / "harmless.toml"
_MEASURING_SECONDS = 1800
_FIXED = {"PYTHONHASHSEED": "0", "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}


def main() -> int:
    """Runs the command."""
    options = _options()
    if any(os.environ.get(name) != value for name, value in _FIXED.items()):
        os.execve(sys.executable, [sys.executable, "-m", "benchmarks.mutation", *sys.argv[1:]], os.environ | _FIXED)  # noqa: S606
    from benchmarks.mutation import trying
    from benchmarks.mutation.mutants import sample
    from benchmarks.mutation.reach import KEPT, SOURCE

    (KEPT / "tmp").mkdir(parents=True, exist_ok=True)
    trying.warm()
    results = _Results(KEPT / "results.jsonl", SOURCE, options)
    mutants = []
    for floor in sorted({one.split("/")[0] for one in options.floors}, key=FLOORS.index):
        drawn = [one for one in sample(SOURCE, [floor], options.each, options.seed) if _is_wanted(one, options.floors)]
        _try(floor, [one for one in drawn if results.of(one) is None], results)
        mutants += drawn
    told = report(mutants, results, harmless())
    (KEPT / "survivors.md").write_text(told)
    print(told)
    return 0


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        "benchmarks.mutation", description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    parser.add_argument("floors", nargs="*", default=list(FLOORS))
    parser.add_argument("--each", type=int, default=EACH, help="faults of each floor")
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--again", action="store_true", help="try the survivors again")
    parser.add_argument("--fresh", action="store_true", help="forget all results")
    options = parser.parse_args()
    wrong = [one for one in options.floors if one.split("/")[0] not in FLOORS]
    if wrong:
        parser.error(f"{wrong[0]} is not one of the floors that are tried: {', '.join(FLOORS)}")
    return options


def _is_wanted(mutant: Mutant, floors: list[str]) -> bool:
    return any(mutant.path == one or mutant.path.startswith(f"{one}/") for one in floors)


def _try(floor: str, mutants: list[Mutant], results: _Results) -> None:
    """Tries the mutants of a floor: all in the program as it is loaded, then what was not caught with the program loaded anew."""
    from benchmarks.mutation import trying
    from benchmarks.mutation.reach import Reach, measure, test_files

    if not mutants:
        return
    counted = itertools.count(1)

    def in_session(session: pytest.Session) -> None:
        known = Reach.kept(floor).files
        missing = [file for file in test_files(floor) if file not in known]
        work = ((file, partial(measure, session, file)) for file in missing)
        for number, (file, code) in enumerate(trying.side_by_side(work, PROCESSES, _MEASURING_SECONDS), 1):
            _say(f"{floor}: measured {number}/{len(missing)} {file}" + (f": ended with {code}" if code else ""))
        reach = Reach.kept(floor)
        for file, measured in reach.files.items():
            if measured["failed"]:
                _say(f"fails without any fault, left out: {file}: {', '.join(measured['failed'][:3])}")
        tries = ((one, partial(trying.attempt, session, one, reach.tests(one), _place(one))) for one in mutants)
        for mutant, _ in trying.side_by_side((one for one in tries if one[0].reached), PROCESSES):
            outcome = _taken(mutant)
            if outcome["outcome"] == "caught":
                results.add(mutant, outcome)
                _say(f"{floor} {next(counted)}/{len(mutants)} caught: {mutant}")

    trying.collected(test_files(floor), in_session)
    results.read()
    reach = Reach.kept(floor)
    left = [one for one in mutants if results.of(one) is None]
    counted = itertools.count(len(mutants) - len(left) + 1)
    work = ((one, partial(trying.attempt_anew, one, reach.steps(one), _place(one))) for one in left)
    for mutant, _ in trying.side_by_side(work, PROCESSES):
        outcome = _taken(mutant)
        results.add(mutant, outcome)
        _say(f"{floor} {next(counted)}/{len(mutants)} {outcome['outcome']}: {mutant}")


def _place(mutant: Mutant) -> Path:
    from benchmarks.mutation.reach import KEPT

    return KEPT / "tmp" / f"{sha256(mutant.key.encode()).hexdigest()[:16]}.json"


def _taken(mutant: Mutant) -> dict[str, str]:
    """What the process that tried a mutant wrote down."""
    outcome: dict[str, str] = json.loads(_place(mutant).read_text())
    _place(mutant).unlink()
    return outcome


class _Results:
    """What came of each mutant, kept line by line; it holds for the text of the module that it was found with."""

    def __init__(self, place: Path, source: Path, options: argparse.Namespace) -> None:
        self.place, self.source = place, source
        self.found: dict[tuple[str, str], dict[str, str]] = {}
        if options.fresh:
            place.unlink(missing_ok=True)
        self.read()
        if options.again:
            self.found = {key: one for key, one in self.found.items() if one["outcome"] == "caught"}

    def read(self) -> None:
        """Takes in what was kept, also by other processes."""
        if self.place.exists():
            for line in self.place.read_text().splitlines():
                one = json.loads(line)
                self.found[one["key"], one["module"]] = one

    def of(self, mutant: Mutant) -> dict[str, str] | None:
        """The result, if it still holds."""
        return self.found.get((mutant.key, self._module(mutant)))

    def add(self, mutant: Mutant, outcome: dict[str, str]) -> None:
        """Keeps a result."""
        one = {"key": mutant.key, "module": self._module(mutant), **outcome}
        self.found[one["key"], one["module"]] = one
        with self.place.open("a") as file:
            file.write(json.dumps(one) + "\n")

    def _module(self, mutant: Mutant) -> str:
        return sha256((self.source / mutant.path).read_bytes()).hexdigest()[:16]


def harmless() -> dict[tuple[str, str, str, str], str]:
    """The faults that change nothing a user could notice: module, function, what stood there, what stands there; and why."""
    rows = tomllib.loads(HARMLESS.read_text()).get("harmless", [])
    return {(one["module"], one["function"], one["was"], one["now"]): one["why"] for one in rows}


def report(mutants: list[Mutant], results: _Results, known: dict[tuple[str, str, str, str], str]) -> str:
    """The share caught by floor and room, and the survivors."""
    counts: dict[tuple[str, str], Counter[str]] = {}
    survivors = []
    for one in mutants:
        outcome = (results.of(one) or {"outcome": "not tried"})["outcome"]
        if outcome == "survived" and (one.path, one.function, one.was, one.now) in known:
            outcome = "harmless"
        if outcome != "caught":
            survivors.append(f"- {outcome}: {one}")
        for room in ("", one.room or "(on the floor itself)"):
            counts.setdefault((one.floor, room), Counter())[outcome] += 1
    rows = ["| floor | room | tried | harmless | caught | share |", "|---|---|---|---|---|---|"]
    for (floor, room), count in sorted(counts.items()):
        of_weight = count["caught"] + count["survived"] + count["broken"]
        share = f"{100 * count['caught'] / of_weight:.0f} %" if of_weight else ""
        rows.append(
            f"| {floor} | {room} | {of_weight + count['harmless']} | {count['harmless']} | {count['caught']} | {share} |"
        )
    return "\n".join([*rows, "", *survivors, ""])


def _say(line: str) -> None:
    print(line, flush=True)


if __name__ == "__main__":
    sys.exit(main())
