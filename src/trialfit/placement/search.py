"""The best pose: the one with the largest smallest normalised margin, in the window that the builder gives.

Answers   search       the best pose of a problem, from many starts
          improve      the best pose near one start
          Best         what was found
          Step         the state of a search, for a progress display
Not here  margins (margins.py); which requirements bind (binding.py); when nothing fits (infeasible.py)
Method    128 Sobol poses are screened; from the ten best that differ, `scipy.optimize.minimize(method="SLSQP")` raises t
          subject to m_i(q) − t ≥ 0 (epigraph form) with exact gradients, over the pairs that are near; the set is
          refreshed and the solve repeated until nothing new binds. The final value comes from a fresh evaluation of all
          pairs, never from the solver. Ties are broken towards lower and further back. The seed is fixed: the same
          input gives the same pose.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.placement.margins import Margins
from trialfit.placement.pose import LEVER

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from typing import Any

    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array
    from trialfit.placement.margins import Rows
    from trialfit.placement.problem import Problem

    Indices = NDArray[np.intp]
    Progress = Callable[["Step"], None]

_SCALE = np.array([1, 1, 1, 1 / LEVER, 1 / LEVER, 1 / LEVER])
_SMALL = 1e-2
_APART = 0.04
_TRUST = 0.03
_FEW = 48
_ROUNDS = 6
_TIE = 0.005
_ROUNDING = 1e-4
ENOUGH = 900
"""After this many poses no further start is made."""


@dataclass(frozen=True)
class Step:
    """How far a search is: `done` of `total` starts, the best margin so far in s."""

    done: int
    total: int
    best: float


@dataclass(frozen=True, eq=False)
class Best:
    """The best pose that was found.

    margin        the smallest normalised margin there, in s: below zero nothing fits
    shares        by requirement: its share in limiting the pose; the shares sum to 1
    evaluations   how many poses were looked at
    interrupted   whether the search was stopped early
    """

    pose: Array
    margin: float
    shares: dict[str, float]
    evaluations: int
    interrupted: bool = False


@dataclass(frozen=True, eq=False)
class _Found:
    pose: Array
    margin: float
    shares: dict[int, float]


def search(
    problem: Problem,
    *,
    starts: int = 10,
    screen: int = 128,
    seed: int = 0,
    progress: Progress | None = None,
    also: Sequence[Array] = (),
    enough: float = np.inf,
) -> Best:
    """The best pose of a problem; `also` gives further poses to start from. An interrupt gives the best so far.

    With `enough` any pose of that margin will do: the first that is found ends the search.
    """
    margins = Margins(problem)
    best = _Found(problem.start.copy(), -np.inf, {})
    found: list[_Found] = []
    interrupted = False
    try:
        beginnings = [*also, *_screened(margins, screen, starts, seed)]
        for number, pose in enumerate(beginnings):
            found.append(_climb(margins, pose))
            best = _preferred(problem, found)
            if progress:
                progress(Step(number + 1, len(beginnings), best.margin))
            if margins.count > ENOUGH or best.margin >= enough:
                break
        best = best if best.margin >= enough else _tied(margins, _finish(margins, best))
    except KeyboardInterrupt:
        interrupted = True
        if not np.isfinite(best.margin):
            best = _Found(best.pose, margins.worst(best.pose), {})
    return _best(margins, best, interrupted=interrupted)


def _preferred(problem: Problem, found: Sequence[_Found]) -> _Found:
    """The best pose found; of several equal ones, the lower and further back."""
    highest = max(one.margin for one in found)
    as_good = [one for one in found if one.margin >= highest - _TIE]
    return min(as_good, key=lambda one: float(problem.prefer @ one.pose))


def improve(problem: Problem, pose: Array) -> Best:
    """The best pose reached from one start, whichever it is of several as good."""
    margins = Margins(problem)
    return _best(margins, _finish(margins, _climb(margins, pose), finely=False), interrupted=False)


def _best(margins: Margins, found: _Found, *, interrupted: bool) -> Best:
    named: dict[str, float] = {}
    for number, share in found.shares.items():
        name = margins.limits[number].name
        if share > _ROUNDING:
            named[name] = named.get(name, 0.0) + share
    ordered = dict(sorted(named.items(), key=lambda item: -item[1]))
    return Best(found.pose, found.margin, ordered, margins.count, interrupted)


def window(problem: Problem) -> tuple[Array, Array]:
    """The lowest and highest pose that may be taken."""
    return problem.start - problem.reach, problem.start + problem.reach


def _screened(margins: Margins, screen: int, starts: int, seed: int) -> list[Array]:
    """The best of evenly spread poses that differ from each other, the best first."""
    from scipy.stats import qmc

    low, high = window(margins.problem)
    free = np.flatnonzero(margins.problem.reach > 0)
    if not free.size:
        return [margins.problem.start.copy()]
    poses = np.tile(margins.problem.start, (screen, 1))
    poses[1:, free] = qmc.scale(qmc.Sobol(free.size, rng=seed).random(screen)[1:], low[free], high[free])
    worst = np.array([margins.worst(pose) for pose in poses])
    chosen: list[Array] = []
    for number in np.argsort(-worst, kind="stable"):
        if all(np.linalg.norm((poses[number] - other) / _SCALE) > _APART for other in chosen):
            chosen.append(poses[number])
        if len(chosen) == starts:
            break
    return chosen


def _climb(margins: Margins, pose: Array, *, finely: bool = False) -> _Found:
    """Solves from one start; pairs that turn out to bind are added, and the solve is repeated."""
    here = _Found(pose, margins.worst(pose), {})
    taken = _near_enough(margins, pose)
    for _ in range(_ROUNDS):
        solved = _solve(margins, here.pose, taken, exactness=1e-10 if finely else 1e-6, most=100 if finely else 40)
        rows = margins.full(solved.pose)
        margin = float(rows.margin.min(initial=np.inf))
        new = rows.pair[(rows.margin[: rows.pair.size] < solved.margin - 1e-3) & ~np.isin(rows.pair, taken)]
        gain = margin - here.margin
        if gain > 0:
            here = _Found(solved.pose, margin, solved.shares)
        if not new.size:
            break
        taken = np.union1d(taken, new)
    return here


def _near_enough(margins: Margins, pose: Array) -> Indices:
    """The pairs that a solve from a pose begins with: those that a step of a few centimetres could make bind."""
    if margins.first.size <= _FEW:
        return np.arange(margins.first.size)
    within = _TRUST / _typical(margins)
    rows = margins.full(pose, above=within)
    near = rows.margin[: rows.pair.size]
    return np.asarray(rows.pair[near <= rows.margin.min(initial=np.inf) + within])


def _typical(margins: Margins) -> float:
    return float(np.median(margins.sigma)) if margins.sigma.size else 1.0


def _finish(margins: Margins, best: _Found, *, finely: bool = True) -> _Found:
    """Two rounds with the spreads of the place."""
    if not np.isfinite(best.margin):
        return best
    for _ in range(2):
        rows = margins.full(best.pose, above=_TRUST / _typical(margins))
        margins.freeze(best.pose, rows)
        again = _climb(margins, best.pose, finely=finely)
        best = again if again.shares else _Found(best.pose, margins.worst(best.pose), best.shares)
    return best


def _tied(margins: Margins, best: _Found) -> _Found:
    """Of the poses equal to the best, the lower and further back."""
    if not np.isfinite(best.margin):
        return best
    solved = _solve(margins, best.pose, _near_enough(margins, best.pose), keep=best.margin - _TIE)
    margin = margins.worst(solved.pose)
    better = margins.problem.prefer @ solved.pose < margins.problem.prefer @ best.pose - 1e-5
    return _Found(solved.pose, margin, best.shares) if margin > best.margin - 2 * _TIE and better else best


def _solve(
    margins: Margins,
    pose: Array,
    pairs: Indices,
    keep: float | None = None,
    exactness: float = 1e-9,
    most: int = 60,
) -> _Found:
    """One local solve over a fixed set of pairs; with `keep`, the preferred pose that keeps that margin."""
    from scipy.optimize import minimize

    problem = margins.problem
    free = np.flatnonzero(problem.reach > 0)
    if not free.size:
        return _Found(pose, margins.worst(pose), {})
    scale, low, high = _SCALE[free], *window(problem)
    memory: dict[bytes, Rows] = {}

    def rows_at(v: Array) -> Rows:
        key = v[: free.size].tobytes()
        if key not in memory:
            memory.clear()
            memory[key] = margins.rows(_posed(pose, free, v, scale), pairs)
        return memory[key]

    bounds = [*zip(low[free] / scale, high[free] / scale, strict=True)]
    first = rows_at(pose[free] / scale)
    if not first.margin.size:
        return _Found(pose, np.inf, {})
    if keep is None:
        begin = np.append(pose[free] / scale, _SMALL * first.margin.min())
        result = minimize(
            lambda v: -v[-1],
            begin,
            jac=lambda v: np.append(np.zeros(v.size - 1), -1.0),
            bounds=[*bounds, (None, None)],
            constraints={
                "type": "ineq",
                "fun": lambda v: _SMALL * rows_at(v).margin - v[-1],
                "jac": lambda v: np.column_stack(
                    [_SMALL * rows_at(v).gradient[:, free] * scale, -np.ones(rows_at(v).margin.size)]
                ),
            },
            method="SLSQP",
            options={"ftol": exactness, "maxiter": most},
        )
        value = float(result.x[-1] / _SMALL)
    else:
        prefer = problem.prefer[free] * scale
        result = minimize(
            lambda v: float(prefer @ v),
            pose[free] / scale,
            jac=lambda _v: prefer,
            bounds=bounds,
            constraints={
                "type": "ineq",
                "fun": lambda v: _SMALL * (rows_at(v).margin - keep),
                "jac": lambda v: _SMALL * rows_at(v).gradient[:, free] * scale,
            },
            method="SLSQP",
            options={"ftol": exactness, "maxiter": most},
        )
        value = keep
    ended = np.clip(_posed(pose, free, result.x, scale), low, high)
    return _Found(ended, value, _shares(result, first))


def _posed(pose: Array, free: Indices, v: Array, scale: Array) -> Array:
    moved = pose.copy()
    moved[free] = v[: free.size] * scale
    return moved


def _shares(result: Any, rows: Rows) -> dict[int, float]:  # noqa: ANN401 - scipy's result has no type
    """The multipliers of the solver, by requirement."""
    multipliers = np.asarray(getattr(result, "multipliers", np.zeros(0)), float)[: rows.requirement.size]
    if multipliers.size != rows.requirement.size or not multipliers.sum() > 0:
        return {}
    totals = np.bincount(rows.requirement, weights=multipliers / multipliers.sum())
    return {int(number): float(total) for number, total in enumerate(totals) if total > 0}
