"""The schedule: a good one at once, then better ones as long as the solver is given.

Answers   schedule     the best schedule found, whether it is proven the best, and how far it can be from it at most
          Scheduled    that
Not here  the first schedule (serial.py); a better order without a solver (swapping.py); where the problem comes from (task_list.py)

The same problem gives the same schedule: the solver runs with a fixed seed, its searches by turns, and its effort is counted
in its own deterministic units, not in seconds. Ctrl-C ends the search with the best schedule so far. `seconds` is a stop for
the impatient; when it strikes, two runs may differ, and `is_cut_short` says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from threading import Thread
from time import perf_counter
from typing import TYPE_CHECKING, Any

import numpy as np

from trialfit.planning.critical import least_end
from trialfit.planning.serial import serial
from trialfit.planning.stopping import listening
from trialfit.planning.swapping import better_order

if TYPE_CHECKING:
    from collections.abc import Callable
    from threading import Event

    from trialfit.planning.problem import Problem

EFFORT = 1.0
"""Deterministic units that the solver is given: a few seconds for a whole conversion."""
STEPS = 400
"""Steps of the search for a better order, for each unit of effort: half a second or so for a whole conversion."""
MOST_TASKS = 1200
"""Beyond this many tasks the first schedule stands: the model would take longer than it saves."""
_TICK = 0.05
_SWAPPED = 0.6  # share of the seconds in which a better order is sought before the solver is asked


@dataclass(frozen=True)
class Scheduled:
    """Starts of all tasks; the end; the least end that there can be; whether the search was ended from outside."""

    starts: tuple[int, ...]
    end: int
    bound: int
    is_proven: bool
    is_cut_short: bool = False

    @property
    def gap(self) -> float:
        """How far the end may lie above the least possible one, as a share of the end."""
        return (self.end - self.bound) / self.end if self.end else 0.0


def schedule(
    problem: Problem,
    effort: float = EFFORT,
    *,
    seconds: float | None = None,
    warm: bool = True,
    told: Callable[[int], None] | None = None,
) -> Scheduled:
    """The best schedule found. `told` is called with the end of each better one. Raises ValueError where nothing fits.

    `warm` is False for the baseline of a benchmark: the plain model, which knows nothing of other schedules.
    """
    begin = perf_counter()
    first = serial(problem)
    bound = least_end(problem)
    is_large = len(problem.tasks) > MOST_TASKS
    if told:
        told(problem.makespan(first))
    with listening() as stop:
        if warm and not is_large:
            until = None if seconds is None else begin + _SWAPPED * seconds
            first = better_order(problem, first, int(effort * STEPS), bound=bound, until=until, stop=stop, told=told)
        if stop.is_set() or is_large or effort <= 0 or problem.makespan(first) <= bound:
            return _as_it_is(problem, first, bound, is_cut_short=stop.is_set())
        left = None if seconds is None else max(0.1, seconds - (perf_counter() - begin))
        return _Search(problem, first, bound, warm=warm).run(effort, left, stop, told)


def _as_it_is(problem: Problem, starts: list[int], bound: int, *, is_cut_short: bool) -> Scheduled:
    end = problem.makespan(starts)
    return Scheduled(tuple(starts), end, bound, end <= bound, is_cut_short and end > bound)


class _Search:
    """The model of one problem, and the search in it."""

    def __init__(self, problem: Problem, first: list[int], bound: int, *, warm: bool) -> None:
        from ortools.sat.python import cp_model

        self.cp: Any = cp_model
        self.problem, self.first, self.bound = problem, first, bound
        self.model = cp_model.CpModel()
        # without a warm start the horizon must not know of the first schedule either
        self.latest = problem.makespan(first) if warm else sum(task.length for task in problem.tasks)
        self.horizon = min(
            len(problem.slots.clock), max(problem.end(n, b) for n, b in enumerate(first)) if warm else 10**9
        )
        self.starts: list[Any] = []
        self.ends: list[Any] = []
        self.intervals: list[Any] = []
        for number in range(len(problem.tasks)):
            self._task(number)
        for link in problem.links:
            self._link(link.before, link.after, link.wait)
        for name, capacity in problem.capacity.items():
            self._resource(name, capacity)
        self._aim()
        if warm:
            for number, begin in enumerate(first):
                self.model.add_hint(self.starts[number], begin)

    def run(self, effort: float, seconds: float | None, stop: Event, told: Callable[[int], None] | None) -> Scheduled:
        solver = self.cp.CpSolver()
        solver.parameters.random_seed = 1
        solver.parameters.catch_sigint_signal = False  # Ctrl-C is ours: _solve hears it
        solver.parameters.num_workers = 8
        solver.parameters.interleave_search = True  # eight searches by turns in one thread: the same on every machine
        solver.parameters.max_deterministic_time = effort
        if seconds is not None:
            solver.parameters.max_time_in_seconds = seconds
        status = self._solve(solver, stop, told)
        if status not in ("OPTIMAL", "FEASIBLE"):
            return _as_it_is(self.problem, self.first, self.bound, is_cut_short=stop.is_set())
        starts = tuple(int(solver.value(start)) for start in self.starts)
        found = self.problem.makespan(starts)
        starts = starts if found <= self.problem.makespan(self.first) else tuple(self.first)
        cut = (stop.is_set() and status != "OPTIMAL") or (
            seconds is not None and solver.wall_time >= seconds and status != "OPTIMAL"
        )
        bound = max(self.bound, int(np.ceil(solver.best_objective_bound - 1e-6)))
        return Scheduled(starts, self.problem.makespan(starts), bound, status == "OPTIMAL", cut)

    def _solve(self, solver: Any, stop: Event, told: Callable[[int], None] | None) -> str:  # noqa: ANN401 - the solver has no types
        """Runs the solver beside this thread, so that Ctrl-C is heard; how it ended."""
        watcher = _watcher(self.cp, told)
        failed: list[BaseException] = []
        ended: list[Any] = []

        def work() -> None:
            try:
                ended.append(solver.solve(self.model, watcher))
            except BaseException as wrong:  # noqa: BLE001 - handed over to the thread that asked
                failed.append(wrong)

        thread = Thread(target=work, daemon=True)
        thread.start()
        while thread.is_alive():
            thread.join(_TICK)
            if stop.is_set():
                solver.stop_search()
        if failed:
            raise failed[0]
        return str(solver.status_name(ended[0]))

    def _task(self, number: int) -> None:
        task, slots = self.problem.tasks[number], self.problem.slots
        last = self.horizon - task.length
        allowed = slots.places(task.kind, task.length)
        allowed = allowed[(allowed >= task.release) & (allowed <= last)]
        if len(allowed) == last - task.release + 1:
            start = self.model.new_int_var(task.release, last, f"s{number}")
        else:
            start = self.model.new_int_var_from_domain(self.cp.Domain.from_values(allowed.tolist()), f"s{number}")
        end = start + task.length
        interval = self.model.new_fixed_size_interval_var(start, task.length, f"i{number}")
        self.starts.append(start)
        self.ends.append(end)
        self.intervals.append(interval)

    def _link(self, before: int, after: int, wait: float) -> None:
        slots = self.problem.slots
        if not wait:
            self.model.add(self.starts[after] >= self.ends[before])
        elif slots.is_plain:
            self.model.add(self.starts[after] >= self.ends[before] + int(np.ceil(wait / slots.length - 1e-9)))
        else:
            table = self.problem.table(wait)[: self.horizon + 1].tolist()
            least = self.model.new_int_var(0, max(table), f"w{before}_{after}")
            self.model.add_element(self.ends[before], table, least)
            self.model.add(self.starts[after] >= least)

    def _resource(self, name: str, capacity: int) -> None:
        users = [(number, task.uses[name]) for number, task in enumerate(self.problem.tasks) if task.uses.get(name)]
        gone = _blocks(self.problem.missing.get(name), self.horizon)
        if not users:
            return
        fixed = [
            self.model.new_fixed_size_interval_var(begin, end - begin, f"b{name}{begin}") for begin, end, _ in gone
        ]
        taken = [self._taken(number, name) for number, _ in users]
        if capacity == 1:
            self.model.add_no_overlap([*taken, *fixed])
            return
        intervals = [*taken, *fixed]
        self.model.add_cumulative(
            intervals, [*(count for _, count in users), *(count for _, _, count in gone)], capacity
        )

    def _taken(self, number: int, name: str) -> Any:  # noqa: ANN401 - the solver has no types
        """The slots in which a task takes a resource: its own, and those until it is free again."""
        hold = self.problem.tasks[number].holds.get(name, 0.0)
        if not hold:
            return self.intervals[number]
        table = self.problem.table(hold)[: self.horizon + 1].tolist()
        freed = self.model.new_int_var(0, max(table), f"f{number}{name}")
        self.model.add_element(self.ends[number], table, freed)
        size = self.model.new_int_var(0, max(table), f"t{number}{name}")
        return self.model.new_interval_var(self.starts[number], size, freed, f"h{number}{name}")

    def _aim(self) -> None:
        end = self.model.new_int_var(self.bound, self.horizon, "end")
        goal = self.problem.goal
        for number in range(len(self.ends)) if goal is None else (goal,):
            self.model.add(end >= self.ends[number])
        self.model.minimize(end)


def _watcher(cp: Any, told: Callable[[int], None] | None) -> Any:  # noqa: ANN401 - the solver has no types
    """What the solver tells of each better schedule."""

    class Watcher(cp.CpSolverSolutionCallback):  # type: ignore[misc]
        def on_solution_callback(self) -> None:
            if told:
                told(int(self.objective_value))

    return Watcher()


def _blocks(missing: Any, horizon: int) -> list[tuple[int, int, int]]:  # noqa: ANN401 - an array or None
    """Stretches in which the same amount of a resource is missing."""
    if missing is None or not np.any(missing[:horizon]):
        return []
    row = missing[:horizon]
    edges = np.flatnonzero(np.diff(np.concatenate([[0], row, [0]])))
    return [(int(low), int(high), int(row[low])) for low, high in pairwise(edges) if row[low]]
