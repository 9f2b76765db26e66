"""Schedules: sound always, the best where it is known by construction, the same for the same input."""

from __future__ import annotations

import random
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trialfit.planning.critical import held_links, least_end, passes
from trialfit.planning.lines import exists_once
from trialfit.planning.problem import Link, Problem, Slots, Task, faults
from trialfit.planning.schedule import schedule
from trialfit.planning.serial import serial
from trialfit.planning.swapping import better_order


def packed(seed: int, machines: int, length: int, count: int, links: float = 2.0) -> Problem:
    """A problem whose optimum is `length` by construction: each machine's row of that length is cut without gaps, and links
    are added that the cut keeps.
    """
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


@pytest.mark.parametrize("seed", range(4))
def test_thirty_jobs_are_proven_optimal(seed):
    found = schedule(packed(seed, 3, 100, 30, links=4))

    assert (found.end, found.is_proven) == (100, True)


def test_a_hundred_jobs_come_within_one_percent():
    found = schedule(packed(9, 5, 300, 100, links=4), effort=2)

    assert found.end <= 303


def test_a_small_case_worked_by_another_solver():
    """Durations 4 3 2 5 3 1, demands 1 2 1 1 2 1 of two, 1 before 4, 2 before 5, 3 before 6: 15 is the best (all orders tried)."""
    tasks = tuple(
        Task(length, uses={"people": people})
        for length, people in zip((4, 3, 2, 5, 3, 1), (1, 2, 1, 1, 2, 1), strict=True)
    )
    links = (Link(0, 3), Link(1, 4), Link(2, 5))
    problem = Problem(tasks, links, Slots.plain(30), {"people": 2})

    assert passes(problem).end == 9
    assert (schedule(problem).end, schedule(problem).is_proven) == (15, True)


def test_the_same_problem_gives_the_same_schedule():
    problem = packed(3, 4, 120, 40, links=6)

    assert schedule(problem, effort=0.2) == schedule(problem, effort=0.2)


@st.composite
def problems(draw: st.DrawFn) -> Problem:
    """Tasks of two kinds on slots with nights between them, waits on the clock, two resources, one of them missing at times.

    Where there is one person, everything exists once. The hoist may stay taken behind a task's end.
    """
    count = draw(st.integers(1, 9))
    clock = np.array([day * 24.0 + hour for day in range(60) for hour in range(4)])
    second = np.tile(draw(st.sampled_from([[True, True, False, False], [False, True, True, True]])), 60)
    slots = Slots(clock, 1.0, (np.ones(240, bool), second))
    tasks = tuple(
        Task(
            draw(st.integers(1, 2)) if kind else draw(st.integers(1, 9)),
            kind,
            {"people": 1, **({"hoist": 1} if hold is not None else {})},
            draw(st.integers(0, 12)),
            {"hoist": hold} if hold else {},
        )
        for kind, hold in draw(
            st.lists(
                st.tuples(st.integers(0, 1), st.sampled_from([None, 0.0, 7.0, 40.0])), min_size=count, max_size=count
            )
        )
    )
    pairs = st.tuples(st.integers(0, count - 1), st.integers(0, count - 1), st.sampled_from([0.0, 5.0, 30.0]))
    links = {(a, b): wait for a, b, wait in draw(st.lists(pairs, max_size=10)) if a < b}
    people = draw(st.integers(1, 2))
    missing = {"people": np.tile([0, 0, 1, 1], 60)} if people > 1 and draw(st.booleans()) else {}
    joined = tuple(Link(a, b, wait) for (a, b), wait in links.items())
    return Problem(tasks, joined, slots, {"people": people, "hoist": 1}, missing)


@settings(max_examples=60)
@given(problems())
def test_the_first_schedule_is_sound_and_no_shorter_than_the_links_allow(problem):
    starts = serial(problem)

    assert list(faults(problem, starts)) == []
    assert problem.makespan(starts) >= least_end(problem) >= passes(problem).end


@settings(max_examples=20)
@given(problems())
def test_the_solver_is_sound_too_and_never_worse(problem):
    found = schedule(problem, effort=0.5)

    assert list(faults(problem, found.starts)) == []
    assert found.bound <= found.end <= problem.makespan(serial(problem))


@settings(max_examples=60)
@given(problems())
def test_a_better_order_is_sound_and_ends_no_later(problem):
    """Where everything exists once it may end earlier; where there is more of something the schedule stays as it is."""
    first = serial(problem)
    found = better_order(problem, first, 200)

    assert list(faults(problem, found)) == []
    assert problem.makespan(found) <= problem.makespan(first)
    assert better_order(problem, first, 200) == found
    if not exists_once(problem):
        assert found == first


def test_a_better_order_is_found_where_the_first_is_known_to_be_worse():
    """Ten problems that can be packed without a gap: the search alone comes within two percent of each."""
    for seed in range(10):
        problem = packed(seed, 4, 200, 80, links=6)
        found = better_order(problem, serial(problem), 3000, bound=200)

        assert problem.makespan(found) <= 204


def test_nothing_else_comes_into_a_place_while_something_dries_there():
    """Two jobs of 2 h, each with 30 h of drying in the bay: the second begins when the first is dry."""
    tasks = tuple(Task(2, uses={"bay": 1}, holds={"bay": 30.0}) for _ in range(2))
    found = schedule(Problem(tasks, (), Slots.plain(80), {"bay": 1}))

    assert sorted(found.starts) == [0, 32]
    assert found.is_proven


@settings(max_examples=40)
@given(problems())
def test_a_schedule_keeps_its_end_when_its_order_is_made_into_links(problem):
    """Who takes over from whom, and nothing else, gives a plan that is no longer."""
    starts = serial(problem)
    held = held_links(problem, starts)

    assert passes(held).end <= problem.makespan(starts)


def test_better_schedules_are_told_of_as_they_come():
    told: list[int] = []
    found = schedule(packed(3, 4, 120, 40, links=6), told=told.append)

    assert told[-1] == found.end
    assert told == sorted(told, reverse=True)


def test_what_does_not_fit_is_said():
    with pytest.raises(ValueError, match="the tasks do not fit into the slots"):
        serial(Problem((Task(5),), (), Slots.plain(3), {}))
