"""The content of a view: the solids at a pose, and its tightest gaps with their verdicts. Plain data, no drawing.

Answers   scene_of_placement     the best pose of `place`
          scene_of_clearances    the present pose of the build
          Scene, Body, Mark      what they hold
Not here  outlines (views.py), the page (page.py); required gaps (subjects/clearance)
Symbols   lengths in m, in the car's axes: x forward, y left, z up, origin on the ground under the middle of the front axle
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np

from trialfit import parts
from trialfit.advice.posed import with_picks
from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.verdict import Verdict
from trialfit.facts.showing import interval_text, room_text
from trialfit.placement.binding import look
from trialfit.placement.distance import Stage
from trialfit.placement.pose import turn_of
from trialfit.placement.solids import corners
from trialfit.subjects.clearance.placing import SIGNS, placing_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from trialfit.advice.placement_shapes import Clearances, PairSeen, PlacedRequirement, Placement
    from trialfit.book.build import Build
    from trialfit.handbook.arrays import Array
    from trialfit.placement.binding import Seen
    from trialfit.placement.problem import Gap, Problem
    from trialfit.placement.solids import Movement, Piece, Solid


LISTED = 12
"""The number of gaps listed, the tightest first; others are listed too if they fail or are unsettled."""
GROUND = "ground"
_ON_ITS_WAY = " on its way "
_TO_UNITS = np.array([1000.0] * 3 + [np.degrees(1.0)] * 3)
_SAME = 1e-7
_RING = np.arange(24) * np.pi / 12


@dataclass(frozen=True, eq=False)
class Body:
    """One solid at its place: for each of its convex pieces the points that it is the hull of, (n, 3)."""

    name: str
    moves: bool
    pieces: tuple[Array, ...]


@dataclass(frozen=True, eq=False)
class Mark:
    """One gap: its nearest points, (2, 3), first the one on the drivetrain, and its text.

    moved   by name of a body: the matrix (4, 4) that takes it from where it is drawn to where the gap is at its
            tightest, such as rolled on its mounts
    """

    name: str
    moving: str
    fixed: str
    ends: Array
    gap: str
    wanted: str
    left: str
    verdict: Verdict | None
    word: str
    where: str
    state: str
    moved: Mapping[str, Array] = field(default_factory=dict)


@dataclass(frozen=True, eq=False)
class Scene:
    """The whole view; `others` are requirements without a place in the picture, `notes` further text to read."""

    title: str
    says: str
    bodies: tuple[Body, ...]
    marks: tuple[Mark, ...]
    more: int
    others: tuple[str, ...]
    notes: tuple[str, ...]


def scene_of_placement(build: Build, found: Placement) -> Scene:
    """The best pose with its tightest gaps."""
    problem = placing_of(with_picks(build, found.picks)).problem
    pose = np.array([one.best for one in found.coordinates]) / _TO_UNITS * SIGNS
    picked = f" with {', '.join(found.picks.values())}" if found.picks else ""
    gaps = {gap.name for gap in problem.gaps}
    others = tuple(_in_a_line(one) for one in found.requirements if one.id not in gaps)
    left_out = (f"Left out: {name}, missing {lacks}." for name, lacks in found.left_out.items())
    notes = (*left_out, *said_of_scans(build), found.caution)
    judged = {one.id: _of_requirement(one) for one in found.requirements if one.id in gaps}
    title = f"{_named(build)}{picked}: where the drivetrain sits best"
    return _scene(problem, pose, Scene(title, found.says, (), (), 0, others, notes), judged)


def scene_of_clearances(build: Build, found: Clearances) -> Scene:
    """The present pose of the build with its tightest gaps; empty without a pose or solids."""
    missing = tuple(f"Missing: {path} ({meaning})." for path, meaning in found.missing.items())
    said = f"{sum(pair.verdict is Verdict.fails for pair in found.pairs)} of {len(found.pairs)} gaps fail."
    title = f"{_named(build)}: gaps where the drivetrain sits"
    empty = Scene(title, said, (), (), 0, (), (*missing, *said_of_scans(build), found.caution))
    try:
        placing = placing_of(build)
    except MissingFact as lacks:
        wanted = ", ".join(f"{path} ({meaning})" for path, meaning in lacks.wanted.items())
        return replace(empty, says=f"Nothing can be drawn. Missing: {wanted}.")
    return _scene(placing.problem, placing.now, empty, {pair.id: _of_pair(pair) for pair in found.pairs})


def said_of_scans(build: Build) -> tuple[str, ...]:
    """A note that scans are drawn differently from how they are judged; empty without scans."""
    scans = [solid.name for solid in build.all(parts.Solid) if solid.shape == "mesh"]
    if not scans:
        return ()
    drawn = "is a scan, drawn as its" if len(scans) == 1 else "are scans, drawn as their"
    says = "convex pieces: gaps are worked out from the surface, and can differ from the drawn lines by millimetres."
    return (f"{', '.join(scans)} {drawn} {says}",)


def _named(build: Build) -> str:
    return build.name or "a build without a name"


def _in_a_line(one: PlacedRequirement) -> str:
    unit = one.unit if one.unit == "°" else f" {one.unit}"
    return f"{one.id}: {one.value:.1f}{unit}, {one.side} {one.limit:.1f}{unit} required, {one.word}"


@dataclass(frozen=True)
class _Judged:
    gap: str
    wanted: str
    left: str
    verdict: Verdict | None
    word: str
    where: str
    state: str


def _of_requirement(one: PlacedRequirement) -> _Judged:
    return _Judged(
        f"{one.value:.1f} {one.unit}",
        f"{one.limit:.1f} {one.unit}",
        room_text(one.margin, one.margin - one.spread, one.margin + one.spread, one.unit),
        one.verdict,
        one.word,
        one.where,
        one.state,
    )


def _of_pair(pair: PairSeen) -> _Judged:
    gap, wanted, left = (
        text(one.nominal, one.low, one.high, one.unit) if one else "not known"
        for text, one in ((interval_text, pair.gap), (interval_text, pair.wanted), (room_text, pair.margin))
    )
    return _Judged(gap, wanted, left, pair.verdict, str(pair.verdict), pair.where, pair.state)


def _scene(problem: Problem, pose: Array, empty: Scene, judged: Mapping[str, _Judged]) -> Scene:
    seen = [one for one in look(problem, pose) if one.points is not None and one.name in judged]
    listed = [one for n, one in enumerate(seen) if n < LISTED or judged[one.name].verdict in _CALLS_FOR_A_LOOK]
    marks = tuple(_mark(problem, pose, one, judged[one.name]) for one in listed)
    return replace(empty, bodies=tuple(_bodies(problem, pose)), marks=marks, more=len(seen) - len(listed))


def _mark(problem: Problem, pose: Array, seen: Seen, words: _Judged) -> Mark:
    gap, first, second = _tightest(problem, pose, seen)
    return Mark(
        seen.name,
        gap.moving,
        gap.fixed,
        np.asarray(seen.points),
        words.gap,
        words.wanted,
        words.left,
        words.verdict,
        words.word,
        words.where,
        words.state,
        _moved(problem, pose, gap, first, second),
    )


_CALLS_FOR_A_LOOK = {Verdict.fails, Verdict.unsettled}


def _bodies(problem: Problem, pose: Array) -> Iterable[Body]:
    for solids, moves in ((problem.fixed, False), (problem.moving, True)):
        for solid in solids:
            if solid.name != GROUND and _ON_ITS_WAY not in solid.name:
                yield Body(solid.name, moves, tuple(map(round_corners, _placed(solid, solid.states[0], pose, moves))))


def _placed(solid: Solid, state: Movement, pose: Array, moves: bool) -> list[Piece]:  # noqa: FBT001 - which of two
    pieces = [state.applied(piece) for piece in solid.pieces]
    return [piece.moved(turn_of(*pose[3:]), pose[:3]) for piece in pieces] if moves else pieces


def body_of(name: str) -> str:
    """The body that a solid is drawn as: for the sump on its way off, the sump."""
    return name.partition(_ON_ITS_WAY)[0]


def _tightest(problem: Problem, pose: Array, seen: Seen) -> tuple[Gap, int, int]:
    """The pair that decides a requirement on one or many gaps, and the states in which it is tightest."""
    found = []
    for gap in (gap for gap in problem.gaps if gap.name == seen.name):
        moving, fixed = _solid(problem.moving, gap.moving), _solid(problem.fixed, gap.fixed)
        distance, first, second = _nearest(moving, fixed, pose, seen.state)
        found.append((distance - gap.wanted, gap, first, second))
    return min(found, key=lambda one: one[0])[1:]


def _solid(solids: Iterable[Solid], name: str) -> Solid:
    return next(solid for solid in solids if solid.name == name)


def _nearest(moving: Solid, fixed: Solid, pose: Array, words: str) -> tuple[float, int, int]:
    """How close two solids come, m, and the numbers of the states in which they do; among equal ones the one with these words."""
    ours = [(n, piece) for n, state in enumerate(moving.states) for piece in _placed(moving, state, pose, moves=True)]
    theirs = [(n, piece) for n, state in enumerate(fixed.states) for piece in _placed(fixed, state, pose, moves=False)]
    pairs = [(first, second) for first in range(len(ours)) for second in range(len(ours), len(ours) + len(theirs))]
    stage = Stage([piece for _, piece in (*ours, *theirs)])
    distances, _ = stage.distances([first for first, _ in pairs], [second for _, second in pairs])
    equal = [pairs[n] for n in np.flatnonzero(distances <= distances.min() + _SAME)]
    states = [(ours[first][0], theirs[second - len(ours)][0]) for first, second in equal]
    first, second = next((one for one in states if _in_words(moving, fixed, *one) == words), states[0])
    return float(distances.min()), first, second


def _in_words(moving: Solid, fixed: Solid, first: int, second: int) -> str:
    moves = ((moving.name, moving.states[first].words), (fixed.name, fixed.states[second].words))
    return ", ".join(f"{name} {words}" for name, words in moves if words)


def _moved(problem: Problem, pose: Array, gap: Gap, first: int, second: int) -> dict[str, Array]:
    """The movement of both from where they are drawn to their places in these states."""
    moving, fixed = _solid(problem.moving, gap.moving), _solid(problem.fixed, gap.fixed)
    at_rest = _solid(problem.moving, body_of(gap.moving))
    at_pose = _matrix(turn_of(*pose[3:]), pose[:3])
    found = {}
    if first or moving is not at_rest:
        steps = at_pose, _of(moving.states[first]), np.linalg.inv(_of(at_rest.states[0])), np.linalg.inv(at_pose)
        found[body_of(gap.moving)] = np.linalg.multi_dot(steps)
    if second:
        found[gap.fixed] = _of(fixed.states[second]) @ np.linalg.inv(_of(fixed.states[0]))
    return found


def _matrix(turn: Array, shift: Array) -> Array:
    matrix = np.eye(4)
    matrix[:3, :3], matrix[:3, 3] = turn, shift
    return matrix


def _of(state: Movement) -> Array:
    return _matrix(state.turn, state.about - state.turn @ state.about + state.shift)


def round_corners(piece: Piece) -> Array:
    """Points that the piece is the hull of, (n, 3), m; the ends of a capsule are as round as its sides."""
    if piece.shape != "capsule":
        return corners(piece)
    radius, half = piece.size
    ring = np.stack([np.cos(_RING), np.sin(_RING)], axis=-1)
    rings = [
        np.column_stack([radius * np.cos(up) * ring, np.full(len(ring), sign * (half + radius * np.sin(up)))])
        for up in np.radians([0, 22.5, 45, 67.5])
        for sign in (-1, 1)
    ]
    local = np.concatenate([*rings, [[0, 0, half + radius], [0, 0, -half - radius]]])
    return np.asarray(local @ piece.turn.T + piece.position)
