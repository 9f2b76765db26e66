"""The longest path through a schedule, exactly: earliest and latest starts, float, and the chain that sets the end.

Answers   passes       earliest and latest start of each task by the links alone, over its slots and waits
          least_end    the least possible end
          windows      earliest and latest start of each task in all schedules that keep an end
          held_links   a schedule's own order as links: which task takes over people and tools from which
          Passes       starts, ends, float in slots, the chain
Not here  how the schedule is made (serial.py, schedule.py)
Sources   critical path method: forward and backward pass, common practice in project planning
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from trialfit.planning.problem import Link

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.planning.problem import Problem


@dataclass(frozen=True)
class Passes:
    """Earliest and latest start of each task, its float (slots it may slip without moving the end), and the chain."""

    earliest: tuple[int, ...]
    latest: tuple[int, ...]
    floats: tuple[int, ...]
    chain: tuple[int, ...]
    end: int


def passes(problem: Problem) -> Passes:
    """Forward and backward pass over the links. A task without links before it begins in its first slot allowed."""
    earliest = [0] * len(problem.tasks)
    for number in problem.order:
        task = problem.tasks[number]
        begin = max(
            (
                problem.begin_after(link, problem.end(link.before, earliest[link.before]))
                for link in problem.before[number]
            ),
            default=0,
        )
        earliest[number] = problem.slots.first(task.kind, task.length, max(begin, task.release))
    end = problem.makespan(earliest)
    latest = _latest(problem, [end] * len(problem.tasks))
    floats = tuple(late - early for early, late in zip(earliest, latest, strict=True))
    return Passes(tuple(earliest), tuple(latest), floats, _chain(problem, earliest, floats, end), end)


def windows(problem: Problem, end: int, last: int) -> tuple[list[int], list[int]]:
    """Earliest and latest start of each task, by the links alone, where the goal ends by `end` and all other tasks by
    `last`.
    """
    goals = {problem.goal} if problem.goal is not None else set(range(len(problem.tasks)))
    by = [end if number in goals else last for number in range(len(problem.tasks))]
    return list(passes(problem).earliest), _latest(problem, by)


def least_end(problem: Problem) -> int:
    """The least possible end: that of the longest path over links, or that set by the people and tools available.

    The tasks up to the goal together need so much of each resource, and each slot gives its part.
    """
    leads = _leading_to_goal(problem)
    ends = [passes(problem).end]
    count = len(problem.slots.clock)
    for name, capacity in problem.capacity.items():
        needed = sum(problem.tasks[number].length * problem.tasks[number].uses.get(name, 0) for number in leads)
        first = min(
            (problem.tasks[number].release for number in leads if name in problem.tasks[number].uses), default=0
        )
        there = np.cumsum((capacity - problem.missing.get(name, np.zeros(count, np.int64)))[first:])
        ends.append(first + int(np.searchsorted(there, needed)) + 1 if needed else 0)
    return max(ends)


def _leading_to_goal(problem: Problem) -> set[int]:
    if problem.goal is None:
        return set(range(len(problem.tasks)))
    found, left = {problem.goal}, [problem.goal]
    while left:
        fresh = {link.before for link in problem.before[left.pop()]} - found
        found |= fresh
        left += fresh
    return found


def held_links(problem: Problem, starts: Sequence[int]) -> Problem:
    """The problem with a schedule's order as links: each unit of a resource goes from task to task as the schedule has it."""
    links = dict.fromkeys((link.before, link.after, link.wait) for link in problem.links)
    links |= dict.fromkeys(
        (link.before, link.after, 0.0) for link in problem.links
    )  # a longer wait holds the shorter one
    added: list[Link] = []
    for name, capacity in problem.capacity.items():
        users = sorted(
            (number for number, task in enumerate(problem.tasks) if task.uses.get(name)), key=lambda one: starts[one]
        )
        last: list[int | None] = [None] * capacity
        for number in users:
            units = _free_units(problem, starts, last, number, name)
            for unit in units:
                giver = last[unit]
                wait = problem.tasks[giver].holds.get(name, 0.0) if giver is not None else 0.0
                if giver is not None and (giver, number, wait) not in links:
                    links[giver, number, wait] = None
                    added.append(Link(giver, number, wait))
                last[unit] = number
    return replace(problem, links=(*problem.links, *added))


def _free_units(problem: Problem, starts: Sequence[int], last: list[int | None], number: int, name: str) -> list[int]:
    """The units that are free when a task begins: those given back last, so that as few links as possible are added."""
    free = []
    for unit, holder in enumerate(last):
        end = problem.freed(holder, name, problem.end(holder, starts[holder])) if holder is not None else 0
        free.append((end, unit))
    able = sorted((end, unit) for end, unit in free if end <= starts[number])
    return [unit for _, unit in able[-problem.tasks[number].uses[name] :]]


def _latest(problem: Problem, ends: Sequence[int]) -> list[int]:
    """The latest start of each task when each must end by a slot of its own."""
    latest = [0] * len(problem.tasks)
    for number in reversed(problem.order):
        task = problem.tasks[number]
        by = min([ends[number], *(_latest_end(problem, link, latest[link.after]) for link in problem.after[number])])
        latest[number] = problem.slots.latest(task.kind, task.length, by)
    return latest


def _latest_end(problem: Problem, link: Link, begin: int) -> int:
    """The latest end of `before` that lets `after` begin in a slot."""
    return int(np.searchsorted(problem.table(link.wait), begin, side="right")) - 1


def _chain(problem: Problem, earliest: Sequence[int], floats: Sequence[int], end: int) -> tuple[int, ...]:
    """Back from the task that ends last, each time to the one that set its start: of several, to that with the least
    float.

    A task of the chain may still have float: what follows it waits for a morning, or for a helper, whether it ends an hour
    sooner or later.
    """
    ends = [problem.end(number, begin) for number, begin in enumerate(earliest)]
    number = problem.goal if problem.goal is not None else ends.index(end) if ends else None
    chain: list[int] = []
    while number is not None:
        chain.append(number)
        task = problem.tasks[number]
        makers = [
            link.before
            for link in problem.before[number]
            if problem.slots.first(task.kind, task.length, problem.begin_after(link, ends[link.before]))
            == earliest[number]
            and problem.begin_after(link, ends[link.before]) > task.release
        ]
        number = min(makers, key=lambda one: floats[one], default=None)
    return tuple(reversed(chain))
