"""A good schedule at once: slot after slot, the most urgent task that may begin does.

Answers   serial       the best of a few such schedules, by different ideas of what is urgent
          one_pass     the schedule for one order of urgency
Not here  a better one (schedule.py)
Sources   serial and parallel schedule generation with priority rules: project-scheduling textbooks, from memory
"""

from __future__ import annotations

import heapq
from bisect import insort
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from trialfit.planning.problem import Problem

_SHUFFLES = 24
_PLACED = 3000  # tasks placed in all shuffles together: the first plan is wanted at once
_LARGE = 400  # tasks: beyond that a single pass by the longest tail is enough


def serial(problem: Problem, seed: int = 0) -> list[int]:
    """The starts of the best schedule found. Raises ValueError where the tasks do not fit into the slots.

    The same problem and seed give the same schedule.
    """
    tails = longest_tails(problem)
    rules = [[-tail for tail in tails]]
    if len(problem.tasks) <= _LARGE:
        follow = _followers(problem)
        rules.append([-float(count) for count in follow])
        rules.append([-tail * (1 + 0.1 * len(problem.tasks[number].uses)) for number, tail in enumerate(tails)])
        rng = np.random.default_rng(seed)
        tries = min(_SHUFFLES, _PLACED // max(len(tails), 1))
        shaken = (rng.uniform(0.85, 1.15, len(tails)) for _ in range(tries))
        rules.extend([-tail * factor for tail, factor in zip(tails, some, strict=True)] for some in shaken)
    return min((one_pass(problem, rule) for rule in rules), key=problem.makespan)


def one_pass(problem: Problem, urgency: Sequence[float]) -> list[int]:
    """The schedule in which, whenever something may begin, that with the smallest number does."""
    return _Pass(problem, urgency).run()


def longest_tails(problem: Problem) -> list[float]:
    """From the begin of each task to the end of all: the longest way over links, in slots, waits at their clock length."""
    density = _slots_for_clock(problem)
    tails = [0.0] * len(problem.tasks)
    for number in reversed(problem.order):
        behind = max((tails[link.after] + density(link.wait) for link in problem.after[number]), default=0.0)
        tails[number] = problem.tasks[number].length + behind
    return tails


class _Pass:
    """One pass over the slots, with what is used up so far."""

    def __init__(self, problem: Problem, urgency: Sequence[float]) -> None:
        self.problem = problem
        self.urgency = urgency
        count = len(problem.slots.clock)
        zeros = np.zeros(count, np.int64)
        self.left = {name: capacity - problem.missing.get(name, zeros) for name, capacity in problem.capacity.items()}
        self.waiting = [len(links) for links in problem.before]
        self.begin = [task.release for task in problem.tasks]
        self.starts = [-1] * len(problem.tasks)

    def run(self) -> list[int]:
        coming = [(self.begin[one], one) for one, count in enumerate(self.waiting) if not count]
        heapq.heapify(coming)
        eligible: list[tuple[float, int]] = []
        ends: list[int] = []
        slot, count = 0, len(self.problem.slots.clock)
        while coming or eligible:
            while coming and coming[0][0] <= slot:
                _, number = heapq.heappop(coming)
                insort(eligible, (self.urgency[number], number))
            slot = self._serve(slot, eligible, coming, ends)
            if slot >= count and (coming or eligible):
                raise ValueError("the tasks do not fit into the slots")
        return self.starts

    def _serve(
        self, slot: int, eligible: list[tuple[float, int]], coming: list[tuple[int, int]], ends: list[int]
    ) -> int:
        """Begins what can begin in a slot; the next slot in which something may change."""
        soonest = len(self.problem.slots.clock)
        for entry in list(eligible):
            number = entry[1]
            task = self.problem.tasks[number]
            first = self.problem.slots.first(task.kind, task.length, slot)
            end = slot + task.length
            if first > slot:
                soonest = min(soonest, first)
            elif self._fits(number, slot, end):
                self._place(number, slot, end, coming)
                eligible.remove(entry)
                heapq.heappush(ends, end)
            else:
                soonest = min(soonest, self._free_again(task.uses, slot))
            if all(not left[slot] for left in self.left.values()) and self.left:
                break
        while ends and ends[0] <= slot:
            heapq.heappop(ends)
        later = [coming[0][0]] if coming else []
        later += [ends[0]] if ends and eligible else []
        if not eligible:
            return max(slot, *later) if later else slot
        return max(slot + 1, min([*later, soonest] if later or soonest < len(self.problem.slots.clock) else [slot + 1]))

    def _fits(self, number: int, slot: int, end: int) -> bool:
        if end > len(self.problem.slots.clock):
            return False
        freed = self.problem.freed
        return all(
            np.all(self.left[name][slot : freed(number, name, end)] >= count)
            for name, count in self.problem.tasks[number].uses.items()
        )

    def _free_again(self, uses: object, slot: int) -> int:
        """The first slot behind this one in which enough of everything is left."""
        at = slot + 1
        for name, count in uses.items():  # type: ignore[attr-defined]
            left = self.left[name][slot + 1 : slot + 400] >= count
            at = max(at, slot + 1 + (int(np.argmax(left)) if left.any() else min(399, max(len(left), 0))))
        return at

    def _place(self, number: int, slot: int, end: int, coming: list[tuple[int, int]]) -> None:
        task = self.problem.tasks[number]
        self.starts[number] = slot
        for name, count in task.uses.items():
            self.left[name][slot : self.problem.freed(number, name, end)] -= count
        for link in self.problem.after[number]:
            other = link.after
            self.begin[other] = max(self.begin[other], self.problem.begin_after(link, end))
            self.waiting[other] -= 1
            if not self.waiting[other]:
                heapq.heappush(coming, (self.begin[other], other))


def _followers(problem: Problem) -> list[int]:
    bits = [0] * len(problem.tasks)
    for number in reversed(problem.order):
        for link in problem.after[number]:
            bits[number] |= bits[link.after] | 1 << link.after
    return [one.bit_count() for one in bits]


def _slots_for_clock(problem: Problem) -> Callable[[float], float]:
    """How many slots lie in a stretch of the clock, on the average."""
    clock = problem.slots.clock
    span = float(clock[-1] - clock[0]) + problem.slots.length if len(clock) else 1.0
    return lambda wait: wait / span * len(clock)
