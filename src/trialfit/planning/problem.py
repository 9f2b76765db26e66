"""A schedule's data: tasks on a row of working slots, what must come before what, what it uses meanwhile.

Answers   Task, Link, Slots, Problem   the data, free of terms about cars
          Slots.first, Slots.start_after    where a task may begin; where one may begin after a wait
          faults                      what is wrong with a schedule: the check for the result of every solver
Not here  where it comes from (plans.py); solving it (serial.py, schedule.py, critical.py)

A slot is one unit of working time. A task lies in slots next to each other, and may use all of them; a night between two slots
is not a gap. A wait passes on the clock: `clock` says when each slot begins.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array

    Places = NDArray[np.int64]


@dataclass(frozen=True)
class Task:
    """One task: its length in slots, the kind of slot it needs, what it uses, the first slot it may begin in.

    `holds`: how long by the clock something that it uses stays taken after its end, as a bay in which paint dries.
    """

    length: int
    kind: int = 0
    uses: Mapping[str, int] = field(default_factory=dict)
    release: int = 0
    holds: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True)
class Link:
    """`after` begins when `before` has ended and `wait` has passed on the clock."""

    before: int
    after: int
    wait: float = 0.0


@dataclass(frozen=True)
class Slots:
    """The row of slots: when each begins on the clock and how long it is, and for each kind whether it may be used."""

    clock: Array
    length: float
    allowed: tuple[NDArray[np.bool_], ...]
    _begins: dict[tuple[int, int], NDArray[np.bool_]] = field(default_factory=dict, compare=False)
    _places: dict[tuple[int, int], Places] = field(default_factory=dict, compare=False)

    @classmethod
    def plain(cls, count: int) -> Slots:
        """Slots without a break, one unit of the clock each."""
        return cls(np.arange(count, dtype=float), 1.0, (np.ones(count, bool),))

    @cached_property
    def is_plain(self) -> bool:
        """Whether the clock runs with the slots."""
        return bool(np.allclose(np.diff(self.clock), self.length))

    @cached_property
    def rank(self) -> tuple[Places, ...]:
        """For each kind and slot: how many slots before it may be used."""
        return tuple(np.concatenate([[0], np.cumsum(allowed)]) for allowed in self.allowed)

    def may_begin(self, kind: int, length: int) -> NDArray[np.bool_]:
        """For each slot whether a task of a kind may begin there: it may use every slot that it lies in."""
        key = (kind, length)
        if key not in self._begins:
            count = len(self.clock)
            rank = self.rank[kind]
            may = np.zeros(count, bool)
            if length <= count:
                may[: count - length + 1] = rank[length:] - rank[: count - length + 1] == length
            self._begins[key] = may
            self._places[key] = np.flatnonzero(may)
        return self._begins[key]

    def places(self, kind: int, length: int) -> Places:
        """The slots in which a task of a kind may begin, in order."""
        self.may_begin(kind, length)
        return self._places[kind, length]

    def first(self, kind: int, length: int, slot: int) -> int:
        """The first slot, not before the one given, in which a task may begin; the number of slots if none is left."""
        places = self.places(kind, length)
        place = int(np.searchsorted(places, slot))
        return int(places[place]) if place < len(places) else len(self.clock)

    def latest(self, kind: int, length: int, by: int) -> int:
        """The last slot in which a task may begin that ends by a slot; -1 where there is none."""
        places = self.places(kind, length)
        place = int(np.searchsorted(places, by - length, side="right")) - 1
        return int(places[place]) if place >= 0 else -1

    def start_after(self, wait: float) -> Places:
        """For each end 0...count: the first slot that begins when the wait after it has passed."""
        ends = np.concatenate([[self.clock[0] if len(self.clock) else 0.0], self.clock + self.length])
        if not wait:
            return np.arange(len(self.clock) + 1)
        return np.searchsorted(self.clock, ends + wait - 1e-9, side="left")


@dataclass(frozen=True)
class Problem:
    """Tasks, links, slots; how much of each resource there is, and how much of it is missing in each slot."""

    tasks: tuple[Task, ...]
    links: tuple[Link, ...]
    slots: Slots
    capacity: Mapping[str, int]
    missing: Mapping[str, NDArray[np.int64]] = field(default_factory=dict)
    goal: int | None = None

    @cached_property
    def before(self) -> tuple[tuple[Link, ...], ...]:
        """The links that lead to each task."""
        found: list[list[Link]] = [[] for _ in self.tasks]
        for link in self.links:
            found[link.after].append(link)
        return tuple(map(tuple, found))

    @cached_property
    def after(self) -> tuple[tuple[Link, ...], ...]:
        """The links that lead away from each task."""
        found: list[list[Link]] = [[] for _ in self.tasks]
        for link in self.links:
            found[link.before].append(link)
        return tuple(map(tuple, found))

    @cached_property
    def order(self) -> tuple[int, ...]:
        """The tasks in an order in which each comes after all it needs. Raises ValueError for a circle."""
        left = [len(links) for links in self.before]
        order = [number for number, count in enumerate(left) if not count]
        for number in order:
            for link in self.after[number]:
                left[link.after] -= 1
                if not left[link.after]:
                    order.append(link.after)
        if len(order) < len(self.tasks):
            raise ValueError("the links close a circle")
        return tuple(order)

    @cached_property
    def _tables(self) -> dict[float, Places]:
        waits = {link.wait for link in self.links} | {hold for task in self.tasks for hold in task.holds.values()}
        return {wait: self.slots.start_after(wait) for wait in waits}

    def begin_after(self, link: Link, end: int) -> int:
        """The first slot in which `after` may begin when `before` ends."""
        table = self._tables[link.wait]
        return int(table[min(end, len(table) - 1)])

    def table(self, wait: float) -> Places:
        """Slots.start_after, worked out once for each wait."""
        return self._tables[wait]

    def end(self, number: int, begin: int) -> int:
        """Where a task ends that begins in a slot."""
        return begin + self.tasks[number].length

    def freed(self, number: int, name: str, end: int) -> int:
        """The first slot in which a resource is free again of a task that ends there."""
        hold = self.tasks[number].holds.get(name, 0.0)
        return int(self._tables[hold][min(end, len(self.slots.clock))]) if hold else end

    def makespan(self, starts: Sequence[int]) -> int:
        """Where the goal ends, or the last task where there is no goal."""
        if self.goal is not None:
            return self.end(self.goal, starts[self.goal])
        return max((self.end(number, begin) for number, begin in enumerate(starts)), default=0)


def faults(problem: Problem, starts: Sequence[int]) -> Iterator[str]:
    """What is wrong with a schedule, one sentence each; empty if it is sound."""
    count = len(problem.slots.clock)
    ends = [problem.end(number, begin) for number, begin in enumerate(starts)]
    for number, (task, begin) in enumerate(zip(problem.tasks, starts, strict=True)):
        if begin < task.release or ends[number] > count:
            yield f"task {number} lies outside its time"
        elif not problem.slots.allowed[task.kind][begin : ends[number]].all():
            yield f"task {number} lies in a slot that it may not use"
    for link in problem.links:
        if starts[link.after] < problem.begin_after(link, ends[link.before]):
            yield f"task {link.after} begins before {link.before} lets it"
    for name, capacity in problem.capacity.items():
        used = np.zeros(count + 1, int)
        for number, task in enumerate(problem.tasks):
            used[starts[number] : problem.freed(number, name, ends[number])] += task.uses.get(name, 0)
        left = capacity - problem.missing.get(name, np.zeros(count, int))
        if np.any(used[:count] > left):
            yield f"{name} is used more than there is"
