"""The best pose of problems whose optimum is known in closed form, from many seeds.

Whether a pose solves a problem is worked out without the distance library: support functions against planes. How many poses
are looked at on the way depends on rounding, and so on the processor: benchmarks/placement.py counts them.
"""

from __future__ import annotations

import known_optima as known
import numpy as np
import pytest
from thorough import some

from trialfit.placement.pose import AXES
from trialfit.placement.search import Step, search


def solved(problem: known.Known, seed: int) -> bool:
    """Whether the pose found from a seed keeps the known margin and lies within 0.5 mm and 0.1° of the known pose."""
    return problem.is_solved_by(search(problem.problem, seed=seed).pose)


@pytest.mark.parametrize("make", known.FIVE, ids=lambda make: make.__name__)
def test_each_of_the_five_is_solved_from_several_seeds(make):
    problem = make()

    assert [seed for seed in range(4) if not solved(problem, seed)] == []


@pytest.mark.parametrize("number", some(known.GENERATED))
def test_each_generated_problem_is_solved(number):
    problem = known.generated(number)

    assert [seed for seed in (0, 1) if not solved(problem, seed)] == []


def test_the_known_optimum_is_one_in_closed_form():
    """No pose near the known one has a larger margin: the check of the check."""
    rng = np.random.default_rng(5)
    for make in known.FIVE:
        problem = make()
        pose = problem.problem.start.copy()
        for axis, value in problem.pose.items():
            pose[AXES.index(axis)] = value
        best = problem.exact(pose)
        free = problem.problem.reach > 0
        for _ in range(200):
            other = pose + rng.normal(size=6) * free * [2e-3, 2e-3, 2e-3, 0, 5e-3, 5e-3]
            bounded = np.clip(
                other, problem.problem.start - problem.problem.reach, problem.problem.start + problem.problem.reach
            )
            assert problem.exact(bounded) <= best + 1e-6
        assert best == pytest.approx(problem.margin, abs=problem.tolerance)


def test_the_same_input_gives_the_same_pose():
    problem = known.plate_between_bars().problem
    one, other = search(problem), search(problem)

    assert (one.pose == other.pose).all()


def test_an_interrupt_gives_the_best_so_far():
    """After two starts of ten the reader has had enough."""
    told: list[Step] = []

    def stop(step: Step) -> None:
        told.append(step)
        if step.done == 2:
            raise KeyboardInterrupt

    problem = known.snug_cavity()
    best = search(problem.problem, progress=stop)

    assert best.interrupted
    assert best.margin == pytest.approx(told[-1].best)
    assert problem.exact(best.pose) == pytest.approx(best.margin, abs=0.01)


def test_what_holds_the_plate_is_its_three_bars():
    """Shares of the three bars from the balance of forces and moments: 0.21, 0.29 and 0.50."""
    best = search(known.plate_between_bars().problem)

    assert list(best.shares) == ["body-slab2", "body-slab1", "body-slab0"]
    assert list(best.shares.values()) == pytest.approx([0.50, 0.29, 0.21], abs=0.01)


def test_a_held_group_is_looked_at_where_it_is():
    from dataclasses import replace

    problem = known.trough()
    held = replace(problem.problem, reach=np.zeros(6))
    best = search(held)

    assert (best.pose == held.start).all()
    assert best.margin == pytest.approx(problem.exact(held.start), abs=1e-3)
