"""The schedule: a good one at once, then better ones as long as the search runs.

Answers   schedule     the best schedule found, whether it is proven to be the best, and how far from the best it can be
          Scheduled    that
Not here  the first schedule (serial.py); a better order without a solver (justifying.py); the model (model.py); how
          the problem is put together (task_list.py)

The same problem gives the same schedule: the solver runs with a fixed seed, its searches by turns, and its effort is counted
in its own deterministic units, not in seconds. Ctrl-C ends the search with the best schedule so far. Where `seconds` are given
instead, its searches run side by side, as many as there are processors: two runs may differ.
"""

from __future__ import annotations

from dataclasses import dataclass
from os import cpu_count
from threading import Thread
from time import perf_counter
from typing import TYPE_CHECKING, Any

import numpy as np

from trialfit.planning.critical import least_end
from trialfit.planning.justifying import justified
from trialfit.planning.model import Model
from trialfit.planning.serial import serial
from trialfit.planning.stopping import listening

if TYPE_CHECKING:
    from collections.abc import Callable
    from threading import Event

    from trialfit.planning.problem import Problem

EFFORT = 1.0
"""The usual effort: about half a second of pushing back and forth, and two seconds of the solver, for a whole
conversion."""
_PLACED = 80_000  # tasks put down anew for each unit of effort
_UNITS = 0.4  # deterministic units that the solver is given for each unit of effort
MOST_TASKS = 1200
"""Beyond this many tasks the solver is not asked: the model would take longer than it saves."""
_ANY = 1e6  # effort without an end: the seconds end it
_BY_TURNS, _SIDE_BY_SIDE = 4, 6  # searches
_TRIED = 0.1  # deterministic units in which the places of tasks are tried one by one before the search
_TICK = 0.05
_JUSTIFIED = 0.05  # share of the seconds in which a better order is sought before the solver is asked


@dataclass(frozen=True)
class Scheduled:
    """Starts of all tasks; the end; the least possible end; whether the search was stopped from outside."""

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
    """The best schedule found with an effort, or in a number of `seconds`. Raises ValueError where nothing fits.

    `told` is called with the end of each better one.
    `warm` is False for the baseline of a benchmark: the plain model, without a hint of other schedules.
    """
    begin = perf_counter()
    effort = effort if seconds is None else _ANY
    first = serial(problem)
    bound = least_end(problem)
    told = _if_better(told)
    told(problem.makespan(first))
    with listening() as stop:
        is_large = len(problem.tasks) > MOST_TASKS
        if warm:
            until = None if seconds is None else begin + (1.0 if is_large else _JUSTIFIED) * seconds
            passes = int(effort * _PLACED) // max(1, len(problem.tasks))
            first = justified(problem, first, passes, bound=bound, until=until, stop=stop, told=told)
        if stop.is_set() or is_large or effort <= 0 or problem.makespan(first) <= bound:
            return _as_it_is(problem, first, bound, is_cut_short=stop.is_set() or (is_large and seconds is not None))
        left = None if seconds is None else max(0.1, seconds - (perf_counter() - begin))
        return _Search(problem, first, bound, warm=warm).run(effort, left, stop, told)


def _if_better(told: Callable[[int], None] | None) -> Callable[[int], None]:
    """Passes on only an end that is better than those before: the solver reports first the schedule it was given."""
    least: list[int] = []

    def better(end: int) -> None:
        if told and (not least or end < least[0]):
            least[:] = [end]
            told(end)

    return better


def _as_it_is(problem: Problem, starts: list[int], bound: int, *, is_cut_short: bool) -> Scheduled:
    end = problem.makespan(starts)
    return Scheduled(tuple(starts), end, bound, end <= bound, is_cut_short and end > bound)


class _Search:
    """The search in the model of one problem."""

    def __init__(self, problem: Problem, first: list[int], bound: int, *, warm: bool) -> None:
        self.problem, self.first, self.bound, self.warm = problem, first, bound, warm
        self.model = Model(problem, first, bound, warm=warm)

    def run(self, effort: float, seconds: float | None, stop: Event, told: Callable[[int], None]) -> Scheduled:
        solver = self._solver(is_by_turns=seconds is None)
        solver.parameters.max_deterministic_time = effort * _UNITS
        if seconds is not None:
            solver.parameters.max_time_in_seconds = seconds
        status = self._solve(solver, stop, told)
        if status not in ("OPTIMAL", "FEASIBLE"):
            return _as_it_is(self.problem, self.first, self.bound, is_cut_short=stop.is_set() or seconds is not None)
        starts = tuple(int(solver.value(start)) for start in self.model.starts)
        found = self.problem.makespan(starts)
        starts = starts if found <= self.problem.makespan(self.first) else tuple(self.first)
        cut = status != "OPTIMAL" and (stop.is_set() or seconds is not None)
        bound = max(self.bound, int(np.ceil(solver.best_objective_bound - 1e-6)))
        return Scheduled(starts, self.problem.makespan(starts), bound, status == "OPTIMAL", cut)

    def _solver(self, *, is_by_turns: bool) -> Any:  # noqa: ANN401 - the solver has no types
        """The solver; its searches by turns, the same model gives the same schedule on every machine."""
        solver = self.model.cp.CpSolver()
        chosen = solver.parameters
        chosen.random_seed = 1
        chosen.catch_sigint_signal = False  # Ctrl-C is ours: _solve hears it
        chosen.interleave_search = is_by_turns
        if not self.warm:
            chosen.num_workers = 8
            return solver
        # Relaxations by linear programs, most of what it does unasked, say next to nothing about one task after the other.
        chosen.subsolvers.extend(["no_lp", "quick_restart_no_lp"])
        chosen.num_workers = _BY_TURNS if is_by_turns else max(_SIDE_BY_SIDE, cpu_count() or 1)
        chosen.interleave_batch_size = _BY_TURNS
        chosen.use_hard_precedences_in_cumulative = True
        chosen.use_overload_checker_in_cumulative = True
        chosen.use_timetable_edge_finding_in_cumulative = True
        chosen.use_strong_propagation_in_disjunctive = True
        chosen.use_dynamic_precedence_in_disjunctive = True
        chosen.probing_deterministic_time_limit = _TRIED
        if not self.problem.slots.is_plain:  # to try every step of every wait first takes longer than it saves
            chosen.cp_model_probing_level = 0
            chosen.symmetry_level = 0
        return solver

    def _solve(self, solver: Any, stop: Event, told: Callable[[int], None]) -> str:  # noqa: ANN401 - the solver has no types
        """Runs the solver beside this thread, so that Ctrl-C is heard; how it ended."""
        watcher = _watcher(self.model.cp, told)
        failed: list[BaseException] = []
        ended: list[Any] = []

        def work() -> None:
            try:
                ended.append(solver.solve(self.model.model, watcher))
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


def _watcher(cp: Any, told: Callable[[int], None]) -> Any:  # noqa: ANN401 - the solver has no types
    """What the solver reports of each better schedule."""

    class Watcher(cp.CpSolverSolutionCallback):  # type: ignore[misc]
        def on_solution_callback(self) -> None:
            told(int(self.objective_value))

    return Watcher()
