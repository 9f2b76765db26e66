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
    from collections.abc import Callable, Iterator

    from benchmarks.mutation.mutants import Mutant
    from benchmarks.mutation.reach import Reach

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
    from benchmarks.mutation.reach import KEPT, SOURCE, Reach, in_groups, measure, test_files

    (KEPT / "tmp").mkdir(parents=True, exist_ok=True)
    trying.warm()
    floors = sorted({one.split("/")[0] for one in options.floors}, key=FLOORS.index)
    known = Reach.kept(floors).files
    groups = in_groups([file for file in test_files(floors) if file not in known])
    work = ((group, partial(measure, group)) for group in groups)
    for number, (group, code) in enumerate(trying.side_by_side(work, PROCESSES, _MEASURING_SECONDS), 1):
        _say(f"measured {number}/{len(groups)} {group[0]}" + (f": ended with {code}" if code else ""))
    reach = Reach.kept(floors)
    for file, measured in reach.files.items():
        if measured["failed"]:
            _say(f"fails without any fault, left out: {file}: {', '.join(measured['failed'][:3])}")
    mutants = [one for one in sample(SOURCE, floors, options.each, options.seed) if _is_wanted(one, options.floors)]
    results = _Results(KEPT / "results.jsonl", SOURCE, options)
    left = [one for one in mutants if results.of(one) is None]
    work = _attempts(left, reach, KEPT)
    for number, (mutant, code) in enumerate(trying.side_by_side(work, PROCESSES), 1):
        place = _place(KEPT, mutant)
        outcome = json.loads(place.read_text())
        place.unlink()
        results.add(mutant, outcome)
        _say(f"{number}/{len(left)} {outcome['outcome']}{f' ({code})' if code else ''}: {mutant}")
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


def _attempts(mutants: list[Mutant], reach: Reach, kept: Path) -> Iterator[tuple[Mutant, Callable[[], None]]]:
    from benchmarks.mutation.trying import attempt

    for one in mutants:
        place = _place(kept, one)
        near = reach.tests(one)
        wider = [name for name in reach.tests(one, whole_files=True) if name not in set(near)]
        first = [name for name in near if near[0].split("::", 1)[0] == name.split("::", 1)[0]]
        yield one, partial(attempt, one, [first, near[len(first) :], wider], place)


def _place(kept: Path, mutant: Mutant) -> Path:
    return kept / "tmp" / f"{sha256(mutant.key.encode()).hexdigest()[:16]}.json"


class _Results:
    """What came of each mutant, kept line by line; it holds for the text of the module that it was found with."""

    def __init__(self, place: Path, source: Path, options: argparse.Namespace) -> None:
        self.place, self.source = place, source
        self.found: dict[tuple[str, str], dict[str, str]] = {}
        if options.fresh:
            place.unlink(missing_ok=True)
        if place.exists():
            for line in place.read_text().splitlines():
                one = json.loads(line)
                self.found[one["key"], one["module"]] = one
        if options.again:
            self.found = {key: one for key, one in self.found.items() if one["outcome"] == "caught"}

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
