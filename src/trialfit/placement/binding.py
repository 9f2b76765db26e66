"""What limits the pose: every requirement there, those that bind, what relaxing them would gain, and the room left.

Answers   look          every requirement at a pose: value, limit, spread, margin, nearest points
          relaxations   what the best pose gains when each binding requirement is relaxed by 5 mm or 0.5°
          room          how far each coordinate can go before a requirement fails, and which
Not here  the search (search.py); the place of a point on its body (where.py); sets that cannot hold together (infeasible.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.placement.margins import Margins
from trialfit.placement.pose import AXES, turn_of
from trialfit.placement.problem import LEAST_SIGMA
from trialfit.placement.search import improve, window
from trialfit.placement.solids import corners
from trialfit.placement.where import where_on

if TYPE_CHECKING:
    from trialfit.handbook.arrays import Array
    from trialfit.placement.margins import Rows
    from trialfit.placement.problem import Problem, Sort
    from trialfit.placement.search import Best
    from trialfit.placement.solids import Movement, Solid


_HALVINGS = 24


@dataclass(frozen=True, eq=False)
class Seen:
    """One requirement at a pose, SI: `margin` = value − limit (or limit − value), `sigma` its standard deviation.

    points   (2, 3) for a gap: the nearest point on the group and on the car, in the car's axes; None for a measure
    state    the state that decides, in words; `where` the nearest points in words
    side     +1 if the limit is the least allowed value, −1 if it is the largest
    """

    name: str
    sort: Sort
    value: float
    limit: float
    margin: float
    sigma: float
    points: Array | None = None
    state: str = ""
    where: str = ""
    side: int = 1

    @property
    def normalised(self) -> float:
        """The margin in standard deviations."""
        return self.margin / self.sigma


@dataclass(frozen=True)
class Relaxed:
    """What relaxing one requirement by `step` (SI) gives: `gain` in s on the smallest margin."""

    name: str
    sort: Sort
    share: float
    step: float
    gain: float


@dataclass(frozen=True)
class Room:
    """How far one coordinate can go down and up, and what fails there; the end of the window if nothing does."""

    axis: str
    down: float
    up: float
    breaks_down: str
    breaks_up: str


def look(problem: Problem, pose: Array) -> list[Seen]:
    """Every requirement at a pose, with all pairs, the smallest normalised margin first."""
    margins = Margins(problem)
    rows = margins.rows(pose, np.arange(margins.first.size))
    margins.freeze(pose, rows)
    seen = [*_gaps(problem, margins, rows, pose), *_measured(problem, pose)]
    worst: dict[str, Seen] = {}
    for one in sorted(seen, key=lambda one: one.normalised):
        worst.setdefault(one.name, one)
    return list(worst.values())


def _gaps(problem: Problem, margins: Margins, rows: Rows, pose: Array) -> list[Seen]:
    distance, points, sigma = rows.distance, rows.points, margins.sigma
    placed = _placed(problem)
    turn = turn_of(*pose[3:])
    found = []
    for number, gap in enumerate(problem.gaps):
        these = np.flatnonzero(margins.gap == number)
        if these.size:
            k = these[(distance - margins.wanted)[these].argmin()]
            first, second = int(margins.first[k]), int(margins.second[k])
            found.append(
                Seen(
                    gap.name,
                    "length",
                    float(distance[k]),
                    float(margins.wanted[k]),
                    float(distance[k] - margins.wanted[k]),
                    float(sigma[k]),
                    points[k].reshape(2, 3),
                    _in_words(placed[first], placed[second]),
                    f"{_point_on(placed[first], points[k, :3], turn, pose[:3])}, {_point_on(placed[second], points[k, 3:], np.eye(3), np.zeros(3))}",
                )
            )
    return found


def _point_on(placed: tuple[Solid, Movement], point: Array, turn: Array, shift: Array) -> str:
    """A point of a solid in one of its states, in words; the solid is turned and shifted with its group."""
    solid, state = placed
    pieces = [state.applied(piece).moved(turn, shift) for piece in solid.pieces]
    return f"{solid.name} {where_on(point, np.concatenate([corners(piece) for piece in pieces]), pieces[0].turn)}"


def _placed(problem: Problem) -> list[tuple[Solid, Movement]]:
    """For every piece on the stage its solid and its state."""
    return [
        (solid, state) for solid in (*problem.moving, *problem.fixed) for state in solid.states for _ in solid.pieces
    ]


def _in_words(*placed: tuple[Solid, Movement]) -> str:
    return ", ".join(f"{solid.name} {state.words}" for solid, state in placed if state.words)


def _measured(problem: Problem, pose: Array) -> list[Seen]:
    found = []
    for block in problem.measures:
        values = block.of(pose[None])[0]
        for n, name in enumerate(block.names):
            if name in problem.left_out:
                continue
            limit = float(block.limits[n] - block.sides[n] * problem.eased.get(name, 0.0))
            margin = float((values[n] - limit) * block.sides[n])
            sigma = max(float(block.sigmas[n]), LEAST_SIGMA[block.sorts[n]])
            side = int(block.sides[n])
            found.append(Seen(name, block.sorts[n], float(values[n]), limit, margin, sigma, side=side))
    return found


def relaxations(problem: Problem, best: Best) -> list[Relaxed]:
    """The requirements that limit the best pose, and the gain from relaxing each; the largest gain first."""
    sorts = {limit.name: limit for limit in problem.limits}
    found = []
    for name, share in best.shares.items():
        limit = sorts[name]
        eased = improve(problem.with_eased(name, limit.step), best.pose)
        found.append(Relaxed(name, limit.sort, share, limit.step, max(eased.margin - best.margin, 0.0)))
    return sorted(found, key=lambda one: -one.gain)


def room(problem: Problem, pose: Array) -> list[Room]:
    """How far each free coordinate can go, the others fixed, before a margin falls below zero."""
    margins = Margins(problem)
    low, high = window(problem)
    if margins.worst(pose) < 0:
        return []
    found = []
    for axis in np.flatnonzero(problem.reach > 0).tolist():
        down, broken_down = _until(margins, pose, axis, low[axis] - pose[axis])
        up, broken_up = _until(margins, pose, axis, high[axis] - pose[axis])
        found.append(Room(AXES[axis], float(-down), float(up), broken_down, broken_up))
    return found


def _until(margins: Margins, pose: Array, axis: int, whole: float) -> tuple[float, str]:
    """How far along one coordinate, and the name of the requirement that fails just beyond."""

    def broken(share: float) -> str:
        there = pose.copy()
        there[axis] += share * whole
        rows = margins.full(there)
        worst = int(rows.margin.argmin()) if rows.margin.size else -1
        return margins.limits[rows.requirement[worst]].name if worst >= 0 and rows.margin[worst] < 0 else ""

    steps = np.linspace(0, 1, 33)[1:]
    beyond = next((share for share in steps if broken(float(share))), None)
    if beyond is None:
        return whole, ""
    sound, beyond = float(beyond) - 1 / 32, float(beyond)
    for _ in range(_HALVINGS):
        middle = (sound + beyond) / 2
        sound, beyond = (sound, middle) if broken(middle) else (middle, beyond)
    return sound * whole, broken(beyond)
