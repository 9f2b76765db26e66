"""Schedules: sound always, the best where it is known by construction, the same for the same input."""

from __future__ import annotations

import random
from itertools import pairwise
from threading import Event, current_thread
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import some

from trialfit.planning.critical import held_links, least_end, passes, windows
from trialfit.planning.justifying import justified
from trialfit.planning.problem import Link, Problem, Slots, Task, faults
from trialfit.planning.schedule import MOST_TASKS, _Search, schedule
from trialfit.planning.serial import Insertion, serial


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


def test_a_schedule_is_sought_for_so_many_seconds():
    """Sound and no longer than at once, and it says so where the time was up before anything was proven."""
    problem = packed(9, 5, 300, 100, links=4)
    found = schedule(problem, seconds=0.4)

    assert list(faults(problem, found.starts)) == []
    assert 300 <= found.end <= problem.makespan(serial(problem))
    assert found.is_proven != found.is_cut_short


def test_too_many_tasks_for_the_solver_take_the_whole_time_and_say_that_it_was_up(monkeypatch):
    """Orders are tried one after the other until then: 20 s after a clock that stands at 1000 s; one round of it is enough here."""
    until = []

    def watched(problem, first, count, **named):
        until.append(named.pop("until"))
        return justified(problem, first, min(count, 3), **named)

    monkeypatch.setattr("trialfit.planning.schedule.justified", watched)
    monkeypatch.setattr("trialfit.planning.schedule.perf_counter", lambda: 1000.0)
    problem = packed(5, 40, 600, MOST_TASKS + 80, links=4)
    found = schedule(problem, seconds=20)

    assert list(faults(problem, found.starts)) == []
    assert found.end <= problem.makespan(serial(problem))
    assert found.is_proven != found.is_cut_short
    assert until == [pytest.approx(1020.0)]


@pytest.mark.parametrize(("count", "until"), [(30, 1003.0), (MOST_TASKS + 80, 1060.0)])
def test_a_twentieth_of_the_time_goes_into_pushing_work_to_and_fro_and_all_of_it_where_the_solver_is_left_out(
    monkeypatch, count, until
):
    """60 seconds from second 1000 on; without a time it goes by effort."""
    seen = []

    def watched(_problem, first, _passes, **named):
        seen.append(named["until"])
        return first

    monkeypatch.setattr("trialfit.planning.schedule.justified", watched)
    monkeypatch.setattr("trialfit.planning.schedule.perf_counter", lambda: 1000.0)
    problem = packed(5, 3, 100, count, links=4) if count == 30 else packed(5, 40, 600, count, links=4)
    monkeypatch.setattr("trialfit.planning.schedule._Search.run", lambda *_: None)
    schedule(problem, seconds=60)
    schedule(problem)

    assert seen == [pytest.approx(until), None]


def test_twice_the_effort_pushes_work_to_and_fro_twice_as_often(monkeypatch):
    """Also with many tasks there are many rounds of it in the usual effort."""
    seen = []

    def watched(_problem, first, passes, **_named):
        seen.append(passes)
        return first

    monkeypatch.setattr("trialfit.planning.schedule.justified", watched)
    monkeypatch.setattr("trialfit.planning.schedule._Search.run", lambda *_: None)
    for effort in (1, 2):
        schedule(packed(5, 3, 100, 30, links=4), effort)

    assert seen[0] > 100
    assert seen[1] == pytest.approx(2 * seen[0], rel=0.01)


def test_the_search_leaves_ctrl_c_to_the_program_and_does_not_outlive_it():
    """The solver would take the signal for itself; a thread that is no daemon would keep a program that ends."""
    problem = packed(5, 3, 100, 30, links=4)
    search = _Search(problem, serial(problem), 100, warm=True)
    solver = search._solver(is_by_turns=True)  # noqa: SLF001
    on_its_way = []
    pretended = SimpleNamespace(solve=lambda *_: on_its_way.append(current_thread().daemon), status_name=str)
    search._solve(pretended, Event(), lambda _: None)  # noqa: SLF001

    assert not solver.parameters.catch_sigint_signal
    assert on_its_way == [True]


def test_a_task_that_wants_more_than_there_is_does_not_fit():
    """Three of what there are two of: a sentence, as where the slots do not suffice."""
    with pytest.raises(ValueError, match="do not fit into the slots"):
        schedule(Problem((Task(2, uses={"hoist": 3}),), (), Slots.plain(9), {"hoist": 2}))


def test_what_is_beside_the_goal_may_take_as_long_as_it_likes():
    """The first task keeps the hoist while it dries; the goal is the second: it comes first, however late the other one ends."""
    tasks = (Task(2, uses={"hoist": 1}, holds={"hoist": 3.0}), Task(1, uses={"hoist": 1}))
    found = schedule(Problem(tasks, (), Slots.plain(20), {"hoist": 1}, {}, 1))

    assert (found.end, found.is_proven) == (1, True)


def test_the_same_problem_gives_the_same_schedule():
    problem = packed(3, 4, 120, 40, links=6)

    assert schedule(problem, effort=0.2) == schedule(problem, effort=0.2)


@st.composite
def problems(draw: st.DrawFn) -> Problem:
    """Tasks of two kinds on slots with nights between them, waits on the clock, two resources, each of them missing at times.

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
    if draw(st.booleans()):
        begin = draw(st.integers(0, 40))
        missing["hoist"] = np.zeros(240, np.int64)
        missing["hoist"][begin : begin + draw(st.integers(1, 12))] = 1
    joined = tuple(Link(a, b, wait) for (a, b), wait in links.items())
    return Problem(tasks, joined, slots, {"people": people, "hoist": 1}, missing)


@settings(max_examples=60)
@given(problems())
def test_the_first_schedule_is_sound_and_no_shorter_than_the_links_allow(problem):
    starts = serial(problem)

    assert list(faults(problem, starts)) == []
    assert problem.makespan(starts) >= least_end(problem) >= passes(problem).end


@settings(max_examples=some(20))
@given(problems())
def test_the_solver_is_sound_too_and_never_worse(problem):
    found = schedule(problem, effort=0.5)

    assert list(faults(problem, found.starts)) == []
    assert found.bound <= found.end <= problem.makespan(serial(problem))


@settings(max_examples=60)
@given(problems())
def test_a_schedule_pushed_to_and_fro_is_sound_and_ends_no_later(problem):
    """And the same problem gives the same one."""
    first = serial(problem)
    found = justified(problem, first, 60)

    assert list(faults(problem, found)) == []
    assert problem.makespan(found) <= problem.makespan(first)
    assert justified(problem, first, 60) == found


def test_pushing_to_and_fro_finds_what_the_first_order_misses():
    """Ten problems that can be packed without a gap into 200: together the search closes half of what the first ones leave open."""
    firsts, founds = [], []
    for seed in range(10):
        problem = packed(seed, 4, 200, 80, links=6)
        first = serial(problem)
        firsts.append(problem.makespan(first) - 200)
        founds.append(problem.makespan(justified(problem, first, 300, bound=200)) - 200)

    assert sum(founds) <= sum(firsts) / 2


@settings(max_examples=60)
@given(problems(), st.randoms(use_true_random=False))
def test_each_task_gets_the_first_place_that_is_left_to_it(problem, rng):
    """In any order of urgency: one slot sooner, a task stands against its links, its hours or what was put down before it."""
    urgency = [rng.random() for _ in problem.tasks]
    starts = Insertion(problem).starts(urgency)

    assert starts is not None
    assert list(faults(problem, starts)) == []
    for number, begin in enumerate(starts):
        for sooner in range(problem.tasks[number].release, begin):
            moved = [*starts[:number], sooner, *starts[number + 1 :]]
            assert list(faults(problem, moved)) != []


@settings(max_examples=60)
@given(problems())
def test_backwards_each_task_gets_the_last_place_that_is_left_to_it(problem):
    """Counted from the back; what holds and releases say is left out there, so they are taken out of the problem."""
    tasks = tuple(Task(task.length, task.kind, task.uses) for task in problem.tasks)
    plain = Problem(tasks, problem.links, problem.slots, problem.capacity, problem.missing)
    room = max(plain.end(number, begin) for number, begin in enumerate(serial(plain))) + 20
    back = Insertion(plain, room, backwards=True)
    found = back.starts([-float(number) for number in range(len(tasks))])

    if found is not None:
        starts = [room - begin - task.length for begin, task in zip(found, tasks, strict=True)]
        assert list(faults(plain, starts)) == []
        for number, begin in enumerate(starts):
            for later in range(begin + 1, room - tasks[number].length + 1):
                assert list(faults(plain, [*starts[:number], later, *starts[number + 1 :]])) != []


def test_a_task_for_two_is_not_kept_waiting_by_less_urgent_work():
    """A helper comes in hours 4 to 8 of each day: the long way leads through a job for two, so other work does not begin shortly before."""
    clock = np.array([day * 24.0 + hour for day in range(6) for hour in range(8)])
    helped = np.tile([False] * 4 + [True] * 4, 6)
    tasks = (
        Task(2, uses={"people": 1}),
        Task(4, 1, uses={"people": 2}),
        Task(8, uses={"people": 1}),
        Task(6, uses={"people": 1}),
    )
    missing = {"people": (~helped).astype(np.int64)}
    slots = Slots(clock, 1.0, (np.ones(48, bool), helped))
    problem = Problem(tasks, (Link(0, 1), Link(1, 2)), slots, {"people": 2}, missing)
    found = serial(problem)

    assert list(faults(problem, found)) == []
    assert found[1] == 4
    assert problem.makespan(found) == schedule(problem).end


@settings(max_examples=60)
@given(problems(), st.integers(0, 12))
def test_what_is_left_out_of_the_model_would_break_the_known_end(problem, later):
    """A task outside its window cannot be in a schedule that keeps the end; one schedule that does lies inside."""
    starts = serial(problem)
    end = problem.makespan(starts) + later
    earliest, latest = windows(problem, end, end)

    assert all(low <= begin <= high for low, begin, high in zip(earliest, starts, latest, strict=True))
    for number, high in enumerate(latest):
        after = problem.slots.first(problem.tasks[number].kind, problem.tasks[number].length, high + 1)
        released = tuple(
            Task(task.length, task.kind, task.uses, after if one == number else task.release, task.holds)
            for one, task in enumerate(problem.tasks)
        )
        forced = Problem(released, problem.links, problem.slots, problem.capacity, problem.missing)
        assert passes(forced).end > end


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
    assert told == sorted(set(told), reverse=True)


def test_what_does_not_fit_is_said():
    with pytest.raises(ValueError, match="the tasks do not fit into the slots"):
        serial(Problem((Task(5),), (), Slots.plain(3), {}))
