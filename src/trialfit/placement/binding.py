"""What holds the pose where it is: every requirement there, what binds, what a little less would give, and the room left.

Answers   look          every requirement at a pose: value, limit, spread, margin, nearest points
          relaxations   what the best pose gains when each binding requirement is relaxed by 5 mm or 0.5°
          room          how far each coordinate can go before a requirement breaks, and which
Not here  the search (search.py); sets that cannot hold together (infeasible.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.placement.margins import Margins
from trialfit.placement.pose import AXES
from trialfit.placement.problem import LEAST_SIGMA
from trialfit.placement.search import improve, window

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from trialfit.placement.margins import Rows
    from trialfit.placement.problem import Problem, Sort
    from trialfit.placement.search import Best

    Array = NDArray[np.float64]

_HALVINGS = 24


@dataclass(frozen=True, eq=False)
class Seen:
    """One requirement at a pose, SI: `margin` = value − limit (or limit − value), `sigma` its standard deviation.

    points   (2, 3) for a gap: the nearest point on the group and on the car, in the car's axes; None for a measure
    state    the state that decides, in words; `where` the nearest points in words
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
    """How far one coordinate can go down and up, and what breaks there; the window's end where nothing does."""

    axis: str
    down: float
    up: float
    breaks_down: str
    breaks_up: str


def look(problem: Problem, pose: Array) -> list[Seen]:
    """Every requirement at a pose, all pairs without a cap, the smallest normalised margin first."""
    margins = Margins(problem)
    rows = margins.rows(pose, np.arange(margins.first.size))
    margins.freeze(pose, rows)
    seen = [*_gaps(problem, margins, rows), *_measured(problem, pose)]
    worst: dict[str, Seen] = {}
    for one in sorted(seen, key=lambda one: one.normalised):
        worst.setdefault(one.name, one)
    return list(worst.values())


def _gaps(problem: Problem, margins: Margins, rows: Rows) -> list[Seen]:
    distance, points, sigma = rows.distance, rows.points, margins.sigma
    states = _states(problem)
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
                    _in_words(states[first], states[second]),
                    f"{_point_on(margins, first, points[k, :3], gap.moving)}, {_point_on(margins, second, points[k, 3:], gap.fixed)}",
                )
            )
    return found


def _point_on(margins: Margins, number: int, point: Array, name: str) -> str:
    """A point of a placed piece in words."""
    stage = margins.stage
    turn = stage.turn[number]
    offset = point - stage.position[number] - turn @ stage.box_middle[number]
    return f"{name} {place_on(offset, np.abs(turn) @ stage.box_half[number])}".strip()


_WORDS = (("front", "rear"), ("left", "right"), ("upper", "lower"))
_ORDER = (0, 2, 1)
_EDGE = 0.9


def place_on(offset: Array, half: Array) -> str:
    """Where a point sits on a body of that half size: a corner, an edge or a face, in the car's words.

    >>> place_on(np.array([0.30, 0.19, -0.1]), np.array([0.3, 0.2, 0.1]))
    'front lower left corner'
    >>> place_on(np.array([0.0, 0.0, 0.1]), np.array([0.3, 0.2, 0.1]))
    'upper face'
    """
    words = [_WORDS[axis][0 if offset[axis] > 0 else 1] for axis in _ORDER if abs(offset[axis]) >= _EDGE * half[axis]]
    return " ".join([*words, ("middle", "face", "edge", "corner")[len(words)]])


def _states(problem: Problem) -> list[str]:
    return [
        f"{solid.name} {state.called}" if state.called else ""
        for solid in (*problem.moving, *problem.fixed)
        for state in solid.states
        for _ in solid.pieces
    ]


def _in_words(*states: str) -> str:
    return ", ".join(filter(None, states))


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
            found.append(Seen(name, block.sorts[n], float(values[n]), limit, margin, sigma))
    return found


def relaxations(problem: Problem, best: Best) -> list[Relaxed]:
    """The requirements that hold the best pose, and what each gives when relaxed; the largest gain first."""
    sorts = {limit.name: limit for limit in problem.limits}
    found = []
    for name, share in best.shares.items():
        limit = sorts[name]
        eased = improve(problem.with_eased(name, limit.step), best.pose)
        found.append(Relaxed(name, limit.sort, share, limit.step, max(eased.margin - best.margin, 0.0)))
    return sorted(found, key=lambda one: -one.gain)


def room(problem: Problem, pose: Array) -> list[Room]:
    """How far each free coordinate can go alone, the others held, before a margin falls below zero."""
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
    """How far along one coordinate, and the name of what breaks just beyond."""

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
