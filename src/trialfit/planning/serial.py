"""A good schedule at once: one task after the other, the most urgent first, each into the earliest gap that it fits.

Answers   serial        the schedule with the latest start of each task as its urgency
          Insertion     the machine: a schedule for any order of urgency, forwards or backwards in time
Not here  a better order (justifying.py); the solver (schedule.py)
Method    Whether a slot is free is one bit of a long number: where a task fits is found for all slots at once by shifting and
          masking. For a resource with several units, a row for each count says where that many are left. Tasks that
          need what is rarely available, such as a helper, are placed before less urgent ones take it; a pass slot by
          slot cannot do that.
Sources   serial schedule generation with priority rules: project-scheduling textbooks, from memory
"""

from __future__ import annotations

import heapq
from typing import TYPE_CHECKING

import numpy as np

from trialfit.planning.critical import passes

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from trialfit.planning.problem import Problem

    Table = list[int] | None
    Rows = dict[str, list[int]]


def serial(problem: Problem) -> list[int]:
    """The starts of a good schedule. Raises ValueError where the tasks do not fit into the slots."""
    starts = Insertion(problem).starts(passes(problem).latest)
    if starts is None:
        raise ValueError("the tasks do not fit into the slots")
    return starts


class Insertion:
    """Puts the tasks of one problem down in an order of urgency, in the first `count` slots.

    Backwards the row of slots is turned round and each task is put as late as it may; a start is then counted from the back.
    Drying in a place and late arrivals are left out there: backwards only the order counts.
    """

    def __init__(self, problem: Problem, count: int | None = None, *, backwards: bool = False) -> None:
        self.problem, self.backwards = problem, backwards
        self.count = len(problem.slots.clock) if count is None else count
        held = set() if backwards else {name for task in problem.tasks for name in task.holds}
        # What dries may do so beyond the slots that are worked in here.
        self.reach = {name: len(problem.slots.clock) if name in held else self.count for name in problem.capacity}
        self.allowed = [self._bits(allowed, self.count) for allowed in problem.slots.allowed]
        self.free = {name: self._levels(name, capacity) for name, capacity in problem.capacity.items()}
        self.length = [task.length for task in problem.tasks]
        self.release = [0 if backwards else task.release for task in problem.tasks]
        self.uses = [[(name, units) for name, units in task.uses.items() if units] for task in problem.tasks]
        self.before: list[list[tuple[int, Table]]] = [[] for _ in problem.tasks]
        self.after: list[list[int]] = [[] for _ in problem.tasks]
        tables = {link.wait: self._table(link.wait) for link in problem.links}
        for link in problem.links:
            giver, taker = (link.after, link.before) if backwards else (link.before, link.after)
            self.before[taker].append((giver, tables[link.wait]))
            self.after[giver].append(taker)

    def starts(self, urgency: Sequence[float]) -> list[int] | None:
        """Where each task begins when, of those that may be put down, the one with the smallest number always is; None where one has no place."""
        free = {name: list(rows) for name, rows in self.free.items()}
        found = [-1] * len(self.length)
        left = [len(those) for those in self.before]
        able = [(urgency[number], number) for number, count in enumerate(left) if not count]
        heapq.heapify(able)
        while able:
            number = heapq.heappop(able)[1]
            begin = self._place(number, self._earliest(number, found), free)
            if begin is None:
                return None
            found[number] = begin
            for other in self.after[number]:
                left[other] -= 1
                if not left[other]:
                    heapq.heappush(able, (urgency[other], other))
        return found

    def _earliest(self, number: int, found: list[int]) -> int:
        earliest = self.release[number]
        for giver, table in self.before[number]:
            end = found[giver] + self.length[giver]
            begin = table[end] if table else end
            earliest = max(earliest, begin)
        return earliest

    def _place(self, number: int, earliest: int, free: Rows) -> int | None:
        """Takes the first place that a task fits; None where there is none."""
        length = self.length[number]
        if any(units >= len(free[name]) for name, units in self.uses[number]):
            return None
        fits = self.allowed[self.problem.tasks[number].kind] >> earliest
        for name, units in self.uses[number]:
            fits &= free[name][units] >> earliest
        done = 1
        while done < length:
            step = min(done, length - done)
            fits &= fits >> step
            done += step
        holds = {} if self.backwards else self.problem.tasks[number].holds
        while fits:
            begin = earliest + (fits & -fits).bit_length() - 1
            taken = {name: self._taken(number, name, begin, holds) for name, _ in self.uses[number]}
            if not holds or all(free[name][units] & taken[name] == taken[name] for name, units in self.uses[number]):
                for name, units in self.uses[number]:
                    _take(free[name], units, taken[name])
                return begin
            fits &= fits - 1
        return None

    def _taken(self, number: int, name: str, begin: int, holds: object) -> int:
        """The slots in which a task takes a resource, as bits."""
        end = begin + self.length[number]
        if holds:
            end = min(self.problem.freed(number, name, end), self.reach[name])
        return ((1 << (end - begin)) - 1) << begin

    def _bits(self, row: NDArray[np.bool_], count: int) -> int:
        row = row[:count]
        packed = np.packbits(row[::-1] if self.backwards else row, bitorder="little")
        return int.from_bytes(packed.tobytes(), "little")

    def _levels(self, name: str, capacity: int) -> list[int]:
        """For each number of units: the slots in which so many are left."""
        missing = self.problem.missing.get(name, np.zeros(len(self.problem.slots.clock), np.int64))
        return [self._bits(capacity - missing >= units, self.reach[name]) for units in range(capacity + 1)]

    def _table(self, wait: float) -> Table:
        """For each end the first slot after a wait; None without one."""
        if not wait:
            return None
        table = self.problem.table(wait)
        if not self.backwards:
            return [int(begin) for begin in table[: self.count + 1]]
        begins = np.arange(self.count + 1)
        last_end = np.searchsorted(table[: self.count + 1], begins, side="right") - 1
        return [int(begin) for begin in (self.count - last_end)[::-1]]


def _take(rows: list[int], units: int, taken: int) -> None:
    """Takes units away in some slots: where more were left, so many less are."""
    for least in range(1, len(rows)):
        more = rows[least + units] if least + units < len(rows) else 0
        rows[least] = (rows[least] & ~taken) | (more & taken)
