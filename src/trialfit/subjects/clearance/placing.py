"""A build as a placement problem: its solids with their spreads, every requirement that the pose decides, and the window.

Answers   placing_of    the problem of a build, and what had to be left out of it
          Placing       these, with the pose the build has
          held_value    "x=1.21 m" read
Not here  the search (placement/search.py); words and ranking (advice/placing.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import Evaluation, MissingFact
from trialfit.facts.quantity import ANGLE, LENGTH
from trialfit.facts.reading import read_fact
from trialfit.parts import Drivetrain
from trialfit.parts.reading import nearest
from trialfit.placement import solids
from trialfit.placement.problem import Gap, Measures, Problem
from trialfit.subjects.clearance.gaps import WAY_OFF
from trialfit.subjects.clearance.moving import drawn_solid, state_names
from trialfit.subjects.clearance.pairs import are_joined, burns
from trialfit.subjects.clearance.place import EDGES, lever_facts, lever_room, rear_share_at, share_facts
from trialfit.subjects.clearance.shaft_joints import joint_measures
from trialfit.subjects.clearance.shapes import group, surroundings, way_off
from trialfit.subjects.clearance.unevenness import residual_measure
from trialfit.subjects.clearance.wanted import wanted
from trialfit.subjects.placed import pose_now
from trialfit.subjects.shaft_line import name_in_ids

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from trialfit.book.build import Build
    from trialfit.handbook.arrays import Array
    from trialfit.parts import Solid as SolidPart
    from trialfit.placement.draws import Drawn


DRAWS = 257
COORDINATES = ("x", "y", "z", "roll", "inclination", "heading")
"""The names of the six coordinates as a builder writes them."""

SIGNS = np.array([1.0, 1, 1, 1, -1, 1])
"""A pose counts the inclination the other way: its pitch is nose down."""
GROUND = "ground"


@dataclass(frozen=True, eq=False)
class Placing:
    """The problem, the pose now (6,), and what was left out of it, with the reason, by name."""

    problem: Problem
    now: Array
    left_out: Mapping[str, str]


def held_value(text: str) -> tuple[int, float]:
    """A held coordinate: its number and its value as a pose counts it, SI. Raises ValueError with one sentence."""
    name, equals, value = (piece.strip() for piece in text.partition("="))
    if name not in COORDINATES or not equals:
        raise ValueError(f'"{text}" holds no coordinate: {nearest(name, COORDINATES)}; write for example "x=1.21 m"')
    number = COORDINATES.index(name)
    return number, float(read_fact(value, LENGTH if number < 3 else ANGLE).si * SIGNS[number])  # noqa: PLR2004 - x, y, z


def placing_of(build: Build, held: Mapping[int, float] | None = None) -> Placing:
    """The problem of a build. Raises MissingFact where the pose now or all solids are missing."""
    ev = Evaluation(build, DRAWS)
    now = ev.of(pose_now)[0].copy()
    start, reach = now.copy(), _window(ev)
    for number, value in (held or {}).items():
        start[number], reach[number] = value, 0.0
    left_out: dict[str, str] = {}
    moving, fixed = (_shapes(ev, parts, left_out) for parts in (group(build), surroundings(build)))
    if not moving:
        raise MissingFact(
            {"solid": 'no solid with fixed_to = "drivetrain" is known: tape the sump, the block, the gearbox as boxes'}
        )
    gaps, ways = _gaps(ev, moving, fixed, left_out)
    problem = Problem(
        (*(shape for _, shape in moving.values()), *ways),
        (*(shape for _, shape in fixed.values()), _ground()),
        gaps,
        start,
        reach,
        _measures(ev, left_out),
    )
    return Placing(problem, now, left_out)


def _window(ev: Evaluation) -> Array:
    part = ev.part(Drivetrain)
    refs = (part.x_window, part.y_window, part.z_window, part.roll_window, part.inclination_window, part.heading_window)
    return np.array([float(ev(ref)[0]) for ref in refs])


def _shapes(
    ev: Evaluation, parts: tuple[SolidPart, ...], left_out: dict[str, str]
) -> dict[str, tuple[SolidPart, solids.Solid]]:
    found = {}
    for part in parts:
        try:
            drawn = ev.of(drawn_solid, part)
        except MissingFact as missing:
            left_out[part.name] = ", ".join(missing.wanted)
            continue
        found[part.name] = (part, _solid(part.name, drawn, state_names(ev, part)))
    return found


def _solid(name: str, drawn: Drawn, states: tuple[str, ...] = ()) -> solids.Solid:
    """The nominal shape with the covariances of its draws."""
    words = states or ("",) * drawn.turns.shape[1]
    place = drawn.shifts[:, 0]
    turned = drawn.turns[1:, 0] @ drawn.turns[0, 0].T
    small = (
        np.stack(
            [turned[:, 2, 1] - turned[:, 1, 2], turned[:, 0, 2] - turned[:, 2, 0], turned[:, 1, 0] - turned[:, 0, 1]],
            axis=-1,
        )
        / 2
    )
    grown = 0.0 if drawn.sizes is None else float(drawn.sizes[1:].std(axis=0).max())
    return solids.Solid(
        name,
        drawn.pieces,
        np.cov(place[1:].T),
        np.cov(small.T),
        place[0],
        grown,
        tuple(solids.Movement(drawn.turns[0, n], drawn.shifts[0, n], words=word) for n, word in enumerate(words)),
    )


def _gaps(
    ev: Evaluation,
    moving: dict[str, tuple[SolidPart, solids.Solid]],
    fixed: dict[str, tuple[SolidPart, solids.Solid]],
    left_out: dict[str, str],
) -> tuple[tuple[Gap, ...], list[solids.Solid]]:
    """Every gap of the group, to the car and to the ground, and the solids on their way off."""
    build, gaps, ways = ev.build, [], []
    for one, _ in moving.values():
        others = [other for other, _ in fixed.values() if not are_joined(build, one, other)]
        for other in [other for other, _ in fixed.values() if other in others or burns(one, other)]:
            want = wanted(one, other)
            name = f"clearance.gap.{name_in_ids(build, one)}.{name_in_ids(build, other)}"
            gaps.append(
                Gap(name, one.name, other.name, want.gap, float(np.std(ev(want.written)[1:])) if want.written else 0.0)
            )
        if one.neighbour != "access":
            gaps.append(
                Gap(
                    f"clearance.ground.{name_in_ids(build, one)}",
                    one.name,
                    GROUND,
                    float(ev(ev.part(Drivetrain).ground_clearance)[0]),
                )
            )
        if one.removal_drop.written is None:
            continue
        try:
            way = _solid(f"{one.name} on its way off", ev.of(way_off, one))
        except MissingFact as missing:
            left_out[f"{one.name}.removal_drop"] = ", ".join(missing.wanted)
            continue
        ways.append(way)
        gaps += [Gap(f"clearance.removal.{name_in_ids(build, one)}", way.name, other.name, WAY_OFF) for other in others]
    return tuple(gaps), ways


def _ground() -> solids.Solid:
    return solids.Solid(GROUND, (solids.box(8, 4, 1, (-1.5, 0, -0.5)),))


def _measures(ev: Evaluation, left_out: dict[str, str]) -> tuple[Measures, ...]:
    found = []
    made: tuple[tuple[str, Callable[[], Measures | None]], ...] = (
        ("joint angles", lambda: joint_measures(ev)),
        ("evenness", lambda: residual_measure(ev)),
        ("lever", lambda: _lever(ev)),
        ("level", lambda: _level(ev)),
        ("rear share", lambda: _rear_share(ev)),
    )
    for name, make in made:
        try:
            block = make()
        except MissingFact as missing:
            left_out[name] = ", ".join(missing.wanted)
            continue
        if block is not None:
            found.append(block)
    return tuple(found)


def _lever(ev: Evaluation) -> Measures | None:
    from trialfit.parts import Opening

    if ev.build.first(Opening) is None:
        return None
    lever, edges = ev.of(lever_facts)
    pose = np.repeat(ev.of(pose_now)[:1], ev.draws, axis=0)
    sigmas = lever_room(pose, lever, edges)[1:].std(axis=0)
    wanted_gap = float(ev(ev.part(Opening).lever_clearance)[0])
    names = tuple(f"clearance.lever.{edge}" for edge in EDGES)
    return Measures(
        names,
        lambda poses: lever_room(poses, lever[:1], edges[:1]),
        np.full(4, wanted_gap),
        np.ones(4),
        sigmas,
        ("length",) * 4,
    )


def _level(ev: Evaluation) -> Measures | None:
    part = ev.part(Drivetrain)
    if part.level_inclination.written is None:
        return None
    level, within = float(ev(part.level_inclination)[0]), float(ev(part.level_tolerance)[0])
    sigma = float(ev(part.inclination)[1:].std())
    return Measures(
        ("clearance.level", "clearance.level"),
        lambda poses: np.stack([-poses[:, 4] - level, poses[:, 4] + level], axis=-1),
        np.full(2, within),
        -np.ones(2),
        np.full(2, sigma),
        ("angle", "angle"),
    )


def _rear_share(ev: Evaluation) -> Measures | None:
    part = ev.part(Drivetrain)
    if part.minimum_rear_share.written is None:
        return None
    facts = ev.of(share_facts)
    nominal = tuple(fact[:1] for fact in facts)
    least = float(ev(part.minimum_rear_share)[0])
    return Measures(
        ("clearance.rear_share",),
        lambda poses: rear_share_at(poses, *nominal)[:, None],
        np.array([least]),
        np.ones(1),
        np.array([float(facts[0][1:].std())]),
        ("share",),
    )
