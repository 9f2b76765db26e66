"""The model of a problem for the solver.

Answers   Model     the variables and constraints of one problem, with a schedule that is known as a hint
Not here  the search (schedule.py); the windows of tasks (critical.py)

A task may begin between the earliest slot that the links leave it and the latest from which the known end can still be kept:
all that lies outside is not in the model. A wait on the clock is a staircase over the ends of the task before it; each step
is a choice of its own, which the solver reads faster than a table of all slots.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np

from trialfit.planning.critical import windows
from trialfit.planning.solver import solver

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.planning.problem import Problem


class Model:
    """The model of one problem: every schedule in it reaches the goal no later than the known one."""

    def __init__(self, problem: Problem, known: Sequence[int], bound: int, *, warm: bool) -> None:
        """`known` starts; `bound`, the least possible end. Not `warm`: the known schedule is not used, a benchmark's
        baseline.
        """
        self.cp: Any = solver()
        self.problem = problem
        self.model = self.cp.CpModel()
        count = len(problem.slots.clock)
        self.last = problem.makespan(known) if warm else count
        self.earliest, self.latest = windows(problem, self.last, count)
        self.starts: list[Any] = []
        self.ends: list[Any] = []
        self.intervals: list[Any] = []
        for number in range(len(problem.tasks)):
            self._task(number)
        for link in problem.links:
            self._link(link.before, link.after, link.wait)
        for name, capacity in problem.capacity.items():
            self._resource(name, capacity)
        self._aim(bound)
        for number, begin in enumerate(known if warm else ()):
            self.model.add_hint(self.starts[number], begin)

    def _task(self, number: int) -> None:
        task, low, high = self.problem.tasks[number], self.earliest[number], self.latest[number]
        allowed = self.problem.slots.places(task.kind, task.length)
        allowed = allowed[(allowed >= low) & (allowed <= high)]
        if len(allowed) == high - low + 1:
            start = self.model.new_int_var(low, high, f"s{number}")
        else:
            start = self.model.new_int_var_from_domain(self.cp.Domain.from_values(allowed.tolist()), f"s{number}")
        self.starts.append(start)
        self.ends.append(start + task.length)
        self.intervals.append(self.model.new_fixed_size_interval_var(start, task.length, f"i{number}"))

    def _link(self, before: int, after: int, wait: float) -> None:
        slots, start = self.problem.slots, self.starts[after]
        if not wait:
            self.model.add(start >= self.ends[before])
            return
        if slots.is_plain:
            self.model.add(start >= self.ends[before] + int(np.ceil(wait / slots.length - 1e-9)))
            return
        low, high = (one[before] + self.problem.tasks[before].length for one in (self.earliest, self.latest))
        begins = self.problem.table(wait)[low : high + 1]
        for step in np.flatnonzero(np.diff(begins)).tolist():
            if begins[step + 1] <= self.earliest[after]:
                continue
            is_early = self.model.new_bool_var("")
            self.model.add(self.ends[before] <= low + step).only_enforce_if(is_early)
            self.model.add(start >= int(begins[step + 1])).only_enforce_if(~is_early)

    def _resource(self, name: str, capacity: int) -> None:
        users = [(number, task.uses[name]) for number, task in enumerate(self.problem.tasks) if task.uses.get(name)]
        if not users:
            return
        gone = _blocks(self.problem.missing.get(name), max(self._freed(number, name) for number, _ in users))
        fixed = [
            self.model.new_fixed_size_interval_var(begin, end - begin, f"b{name}{begin}") for begin, end, _ in gone
        ]
        taken = [self._taken(number, name) for number, _ in users]
        if capacity == 1:
            self.model.add_no_overlap([*taken, *fixed])
            return
        counts = [*(count for _, count in users), *(count for _, _, count in gone)]
        self.model.add_cumulative([*taken, *fixed], counts, capacity)

    def _taken(self, number: int, name: str) -> Any:  # noqa: ANN401 - the solver has no types
        """The slots in which a task takes a resource: its own, and those until it is free again."""
        hold = self.problem.tasks[number].holds.get(name, 0.0)
        if not hold:
            return self.intervals[number]
        low, high = (one[number] + self.problem.tasks[number].length for one in (self.earliest, self.latest))
        table = self.problem.table(hold)[low : high + 1].tolist()
        freed = self.model.new_int_var(min(table), max(table), f"f{number}{name}")
        self.model.add_element(self.ends[number] - low, table, freed)
        size = self.model.new_int_var(0, max(table), f"t{number}{name}")
        return self.model.new_interval_var(self.starts[number], size, freed, f"h{number}{name}")

    def _freed(self, number: int, name: str) -> int:
        """The latest slot in which a task gives a resource back."""
        return self.problem.freed(number, name, self.problem.end(number, self.latest[number]))

    def _aim(self, bound: int) -> None:
        end = self.model.new_int_var(bound, self.last, "end")
        goal = self.problem.goal
        for number in range(len(self.ends)) if goal is None else (goal,):
            self.model.add(end >= self.ends[number])
        self.model.minimize(end)


def _blocks(missing: Any, horizon: int) -> list[tuple[int, int, int]]:  # noqa: ANN401 - an array or None
    """Stretches in which the same amount of a resource is missing."""
    if missing is None or not np.any(missing[:horizon]):
        return []
    row = missing[:horizon]
    edges = np.flatnonzero(np.diff(np.concatenate([[0], row, [0]])))
    return [(int(low), int(high), int(row[low])) for low, high in pairwise(edges) if row[low]]
