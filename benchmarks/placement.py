"""Placement: what an evaluation costs over the bare distance library, and a search against a global one of scipy.

    .setup/venv/bin/python benchmarks/placement.py             all
    .setup/venv/bin/python benchmarks/placement.py --known 50   problems of known optimum alone, each from 50 seeds

Prints, all measured in one run: a whole evaluation of margins with gradients over the bare library calls on its near pairs; evaluations
per alternative; the demo placed with six alternatives, and scipy's differential evolution on the same evaluator until it has the
same margin or a hundred times as many evaluations; 4096 draws of the gaps at the pose; meshes of 50,000 triangles; growth with the number of
solids; problems of known optimum, how many seeds solve each and in how many evaluations at most. Take the ratios: the times depend on the machine.
"""

from __future__ import annotations

import sys
import time
from itertools import product
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import differential_evolution

import trialfit as tf
from trialfit.advice.posed import with_picks
from trialfit.placement.margins import Margins
from trialfit.placement.meshes import Triangles
from trialfit.placement.pose import turn_of
from trialfit.placement.problem import Gap, Problem
from trialfit.placement.search import search, window
from trialfit.placement.solids import Solid, box, cylinder, hull
from trialfit.placement.splitting import split
from trialfit.placement.surfaces import mesh_gap
from trialfit.subjects.clearance.placing import placing_of

if TYPE_CHECKING:
    from collections.abc import Callable

ROOT = Path(__file__).parent.parent
DEMO = ROOT / "demos" / "hillclimb.toml"
_SEEDS = 10


def best_of(times: int, work: Callable[[], object]) -> float:
    """The shortest of several runs, in seconds."""
    spent = []
    for _ in range(times):
        begun = time.perf_counter()
        work()
        spent.append(time.perf_counter() - begun)
    return min(spent)


def scene(moving: int, fixed: int, seed: int = 3) -> Problem:
    """Random boxes, cylinders and hulls: a group in the middle, a car round it."""
    rng = np.random.default_rng(seed)

    def solid(name: str, at: np.ndarray) -> Solid:
        turn = turn_of(*rng.uniform(-0.5, 0.5, 3))
        make = (
            lambda: box(*rng.uniform(0.05, 0.25, 3), at=at, turn=turn),
            lambda: cylinder(*rng.uniform(0.05, 0.25, 2), at=at, turn=turn),
            lambda: hull(rng.normal(size=(14, 3)) * 0.06, at=at, turn=turn),
        )[rng.integers(3)]
        return Solid(name, (make(),))

    def far(number: int) -> np.ndarray:
        out = rng.normal(size=3)
        return out / np.linalg.norm(out) * rng.uniform(0.75, 1.3) + 0 * number

    group = tuple(solid(f"m{n}", rng.uniform(-0.35, 0.35, 3)) for n in range(moving))
    car = tuple(solid(f"f{n}", far(n)) for n in range(fixed))
    gaps = tuple(Gap(f"{one.name} {other.name}", one.name, other.name, 0.012) for one in group for other in car)
    return Problem(group, car, gaps, np.zeros(6), np.array([0.1, 0.1, 0.1, 0, 0.1, 0.1]))


def over_the_library(problem: Problem) -> tuple[float, float, int]:
    """Seconds of one evaluation with gradients, near pairs found anew; seconds of the bare calls on them; their number."""
    margins = Margins(problem)
    pose = problem.start + 0.01 * (problem.reach > 0)
    ceiling = margins.worst(pose) + 25.0
    pairs = margins.near(pose, ceiling)
    margins.place(pose)
    stage = margins.stage
    call, model, data = stage._call, stage._model, stage._data  # noqa: SLF001 - the bare call is what is compared with
    firsts, seconds, points = margins.first[pairs].tolist(), margins.second[pairs].tolist(), np.zeros(6)

    def bare() -> None:
        for first, second in zip(firsts, seconds, strict=True):
            call(model, data, first, second, 100.0, points)

    # steps of a solve: some millimetres and tenths of a degree, so that the near pairs are found anew each time
    rng = np.random.default_rng(7)
    walk = pose + np.cumsum(rng.normal(size=(300, 6)) * (problem.reach > 0) * [1e-3, 1e-3, 1e-3, 0, 1e-3, 1e-3], axis=0)
    spent = []
    for there in walk:
        begun = time.perf_counter()
        margins.rows(there, margins.near(there, ceiling))
        spent.append(time.perf_counter() - begun)
    return float(np.median(spent)), best_of(300, bare), len(firsts)


def alternatives() -> list[Problem]:
    """The demo with either sump, at three windows of its place along the car: six problems."""
    build = tf.read(DEMO)
    found = []
    for sump, x in product(build.choices["sump"].options, (-0.286, -0.276, -0.266)):
        found.append(placing_of(with_picks(build, {"sump": sump}), {0: x}).problem)
    return found


def by_global_search(problem: Problem, wanted: float, most: int) -> tuple[float, float, int]:
    """Seconds, margin and evaluations of differential evolution until it has the margin wanted."""
    margins = Margins(problem)
    free = np.flatnonzero(problem.reach > 0)
    low, high = window(problem)
    best = -np.inf

    def worth(values: np.ndarray) -> float:
        nonlocal best
        pose = problem.start.copy()
        pose[free] = values
        margin = margins.worst(pose)
        best = max(best, margin)
        return -margin

    begun = time.perf_counter()
    differential_evolution(
        worth,
        list(zip(low[free], high[free], strict=True)),
        rng=1,
        maxiter=10_000,
        tol=0,
        polish=False,
        callback=lambda *_: best >= wanted or margins.count > most,
    )
    return time.perf_counter() - begun, best, margins.count


def known_optima(seeds: int) -> None:
    """The problems of the tests whose optimum is known: seeds that find it, and the most evaluations that took."""
    sys.path.append(str(ROOT / "tests" / "placement"))
    import known_optima as known

    print(f"problems of known optimum, from {seeds} seeds each (aim all, in 1500 evaluations or fewer but rarely)")
    for problem in [*(make() for make in known.FIVE), *map(known.generated, known.GENERATED)]:
        found = [search(problem.problem, seed=seed) for seed in range(seeds)]
        solved = sum(problem.is_solved_by(one.pose) for one in found)
        counts = sorted(one.evaluations for one in found)
        print(
            f"  {problem.name:20} {solved} of {seeds} in {counts[len(counts) // 2]}, at most {counts[-1]} evaluations"
        )


def main() -> None:
    """Prints the table."""
    if sys.argv[1:2] == ["--known"]:
        return known_optima(int(sys.argv[2]) if sys.argv[2:] else _SEEDS)
    print("whole evaluation with gradients over the bare library calls on its near pairs (aim 4 or less)")
    for moving, fixed in ((6, 10), (12, 20), (24, 40), (48, 80)):
        whole, bare, near = over_the_library(scene(moving, fixed))
        print(
            f"  {moving:3} x {fixed:3} solids, {near:3} near pairs: {whole * 1e6:6.0f} µs / {bare * 1e6:6.0f} µs = {whole / bare:.1f}"
        )
    begun = time.perf_counter()
    problems = alternatives()
    print(f"six alternatives of the demo made in {time.perf_counter() - begun:.2f} s")
    search(problems[0], starts=1, screen=8)
    begun = time.perf_counter()
    found = [search(problem) for problem in problems]
    ours = time.perf_counter() - begun
    counts = [one.evaluations for one in found]
    print(f"placed in {ours:.2f} s; evaluations per alternative {min(counts)} to {max(counts)} (aim 1500 or fewer)")
    best = max(range(6), key=lambda number: found[number].margin)
    begun = time.perf_counter()
    search(problems[best])
    alone = time.perf_counter() - begun
    spent, margin, count = by_global_search(problems[best], found[best].margin - 0.05, 100 * counts[best])
    reached = "reached" if margin >= found[best].margin - 0.05 else "not reached"
    print(
        f"the best of them: {found[best].margin:.2f} s of margin in {alone:.2f} s; differential evolution: {margin:.2f} ({reached}) in {spent:.2f} s, {count} evaluations: {spent / alone:.0f} times as long"
    )
    build = tf.read(DEMO)
    tf.evaluate(build, 64, ("clearance",))
    report = tf.evaluate(build, 64, ("clearance",))
    spent = best_of(3, lambda: tf.evaluate(build, 4096, ("clearance",)))
    print(f"4096 draws of {len(report.findings)} findings at the pose: {spent:.2f} s (aim about 1 s)")
    meshes()
    return known_optima(_SEEDS)


def meshes() -> None:
    """50,000 triangles: split, and the gap of two."""
    import trimesh

    ball = trimesh.creation.torus(0.2, 0.06, major_sections=250, minor_sections=100)
    mesh = Triangles(np.array(ball.vertices), np.array(ball.faces), closed=True)
    begun = time.perf_counter()
    made = split(mesh)
    print(
        f"{len(mesh.triangles)} triangles into {len(made.pieces)} pieces in {time.perf_counter() - begun:.1f} s, sticking out {made.sticks_out * 1000:.0f} mm at most"
    )
    other = Triangles(mesh.points + np.array([0, 0, 0.15]), mesh.triangles, closed=True)
    print(f"gap of two of them: {best_of(2, lambda: mesh_gap(mesh, other)) * 1000:.0f} ms, the trees built anew")


if __name__ == "__main__":
    sys.exit(main())
