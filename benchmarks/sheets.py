"""How long the sheets of the first demo take to print, against working its findings out.

    .setup/venv/bin/python benchmarks/sheets.py [ROUNDS]

A warm start: everything is imported, every sheet was printed once, findings and measuring list are worked out, as they are where
somebody has looked at the build. Each round (5) makes every sheet anew and prints it as a PDF. Prints the median, its ratio to the
findings alone (`evaluate`, 4096 draws), the share of each sheet, and checks that two rounds gave the same files. What findings
and measuring list themselves take is printed beside it, once. Aim: under 3 s for all sheets.
"""

from __future__ import annotations

import sys
import time
from datetime import UTC, datetime
from pathlib import Path
from statistics import median
from typing import TYPE_CHECKING

from trialfit.book.toml_text import read
from trialfit.sheets.all_sheets import SHEETS, make
from trialfit.sheets.known import Known
from trialfit.sheets.press import Paper, press
from trialfit.subjects.catalogue import evaluate

if TYPE_CHECKING:
    from collections.abc import Callable

DEMO = Path(__file__).parent.parent / "demos" / "hillclimb.toml"
NOW = datetime(2026, 3, 14, 16, 30, tzinfo=UTC)
AIM = 3.0  # s


def known() -> Known:
    """The build, nothing of it worked out yet."""
    return Known(read(DEMO), NOW, "17", NOW)


def timed(work: Callable[[], object]) -> float:
    """Seconds that something takes."""
    begun = time.perf_counter()
    work()
    return time.perf_counter() - begun


def printed(of: Known) -> tuple[dict[str, bytes], dict[str, float]]:
    """Every sheet, and the seconds each took."""
    files: dict[str, bytes] = {}
    spent: dict[str, float] = {}
    for name in SHEETS:
        begun = time.perf_counter()
        files[name] = press(make(name, of), Paper(NOW, "17"))
        spent[name] = time.perf_counter() - begun
    return files, spent


def main() -> None:
    """Runs the rounds and prints the table."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    worked_out = known()
    evaluate(worked_out.build, 64)  # imports
    findings = timed(lambda: worked_out.report)
    measuring = timed(lambda: worked_out.measurements)
    first, _ = printed(worked_out)
    times = []
    for _ in range(rounds):
        again = known()  # the work anew, the findings as they are
        vars(again).update(report=worked_out.report, measurements=worked_out.measurements)
        files, spent = printed(again)
        if files != first:
            raise SystemExit("two rounds gave different files")
        times.append(spent)
    whole = median(sum(spent.values()) for spent in times)
    size = sum(map(len, first.values())) / 1e6
    print(f"median of {rounds}, {len(first)} sheets, {size:.1f} MB, the same in every round")
    print(f"findings alone       {findings * 1e3:7.0f} ms")
    print(f"measuring list alone {measuring * 1e3:7.0f} ms")
    print(f"all sheets           {whole * 1e3:7.0f} ms   {whole / findings:.2f} times the findings alone")
    for name in SHEETS:
        print(f"  {name:18} {median(spent[name] for spent in times) * 1e3:7.0f} ms")
    print(f"aim: under {AIM:g} s: {'kept' if whole < AIM else 'MISSED'}")


if __name__ == "__main__":
    main()
