"""Threads that the builder cut: drill, depth, wall; and how tight a plug is.

Answers   requirements   tapping_wall, tapping_depth, tapping_height or tapping_drill for a thread the builder cut;
                         hole_depth, a figure; torque where one is written
Not here  bolts (fastening)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Between, Requirement, Source, SourceKind
from trialfit.facts.quantity import LENGTH, SHARE, TORQUE
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.ports.port_threads import System
from trialfit.handbook.ports.tapping import (
    LEAST_HEIGHT,
    MOST_HEIGHT,
    hole_depth,
    pipe_tap_drill,
    plug_torque,
    port_thread_needed,
    thread_height,
    wall_left,
    wall_wanted,
)
from trialfit.parts import Port
from trialfit.subjects.ports.runs import caution_of, material_of, port_thread, stake_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


DRILL_BELOW, DRILL_ABOVE = 0.1e-3, 0.25e-3
"""How far a drill may be from the printed one of a pipe thread [m]: common practice, no source."""

PRINTED_DRILLS = Source(
    "tap-drill article for 55° pipe threads; pipe-thread tables with tap drills", SourceKind.published
)
PLUG_TORQUES = Source("engine maker's manual, plugs with a washer", SourceKind.published)
_PARALLEL_60 = (System.metric, System.unified)
_CHIPS = "chips that fall into an engine or a gearbox ruin it: use grease on the tap, a magnet, a rag behind the hole"


def requirements(build: Build) -> Iterator[Requirement]:
    """Findings for each thread that the builder cut, and for each plug torque that is written."""
    for port in build.all(Port):
        if port.cut_by == "builder":
            yield from _cut(port)
        if port.torque.written is not None:
            yield Requirement(
                id=f"ports.{port.name}.torque",
                about=port.name,
                says="the plug torque stays within the limit of its thread in that material; the maker's figure outranks the table",
                value=partial(torque, port=port),
                quantity=TORQUE,
                stake=stake_of(port),
                limit=AtMost(partial(torque_taken, port=port)),
                source=PLUG_TORQUES,
                formulas=(plug_torque,),
                caution=caution_of(port),
            )


def _cut(port: Port) -> Iterator[Requirement]:
    def finding(
        what: str, says: str, value: Callable[..., Array], formula: Callable[..., object], **more: object
    ) -> Requirement:
        return Requirement(
            id=f"ports.{port.name}.{what}",
            about=port.name,
            says=says,
            value=partial(value, port=port),
            stake=stake_of(port),
            formulas=(formula,),
            caution=caution_of(port) or _CHIPS,
            **{"quantity": LENGTH, "source": COMMON_PRACTICE, **more},  # type: ignore[arg-type]
        )

    yield finding(
        "tapping_wall",
        "enough wall is left between the thread and the nearest edge of its boss",
        wall,
        wall_left,
        limit=AtLeast(partial(wall_for, port=port)),
    )
    yield finding(
        "tapping_depth",
        "the thread is long enough for a plug or fitting in that material",
        depth,
        port_thread_needed,
        limit=AtLeast(partial(depth_for, port=port)),
        shows=partial(how_deep_to_drill, port=port),
    )
    if _is_parallel_60(port):
        yield finding(
            "tapping_height",
            f"the drill leaves {LEAST_HEIGHT:.0%} to {MOST_HEIGHT:.0%} of the full thread height".replace("%", " %"),
            height,
            thread_height,
            quantity=SHARE,
            limit=Between(LEAST_HEIGHT, MOST_HEIGHT),
        )
    else:
        yield finding(
            "tapping_drill",
            "the drill is the standard tap drill of the pipe thread",
            drill,
            pipe_tap_drill,
            limit=Between(partial(least_drill, port=port), partial(most_drill, port=port)),
            source=PRINTED_DRILLS,
        )


def _is_parallel_60(port: Port) -> bool:
    try:
        return port_thread(port).system in _PARALLEL_60
    except MissingFact:
        return True


def wall(ev: Evaluation, port: Port) -> Array:
    """Wall left round a thread, m."""
    return np.asarray(wall_left(ev(port.edge_distance), port_thread(port).major_diameter))


def wall_for(_: Evaluation, port: Port) -> float:
    """Wall that the thread needs in its material, m."""
    return wall_wanted(port_thread(port), material_of(port))


def depth(ev: Evaluation, port: Port) -> Array:
    """Length of whole thread, m."""
    return ev(port.thread_depth)


def depth_for(_: Evaluation, port: Port) -> float:
    """Length of thread required, m."""
    return port_thread_needed(port_thread(port), material_of(port))


def how_deep_to_drill(ev: Evaluation, port: Port) -> str:
    """Depth of the drilled hole for the thread as written."""
    deep = float(np.asarray(hole_depth(ev(port.thread_depth), port_thread(port).pitch))[0])
    return f"a blind hole is drilled {show(deep, display_unit(LENGTH))} deep for it"


def height(ev: Evaluation, port: Port) -> Array:
    """Share of the full thread height."""
    thread = port_thread(port)
    return np.asarray(thread_height(thread.major_diameter, thread.pitch, ev(port.drill)))


def drill(ev: Evaluation, port: Port) -> Array:
    """The drill, m."""
    return ev(port.drill)


def least_drill(_: Evaluation, port: Port) -> float:
    """Smallest drill for a pipe thread, m."""
    return pipe_tap_drill(port_thread(port)) - DRILL_BELOW


def most_drill(_: Evaluation, port: Port) -> float:
    """Largest drill for a pipe thread, m."""
    return pipe_tap_drill(port_thread(port)) + DRILL_ABOVE


def torque(ev: Evaluation, port: Port) -> Array:
    """Torque as written, N·m."""
    return ev(port.torque)


def torque_taken(_: Evaluation, port: Port) -> float:
    """Torque that the thread takes in its material, N·m; nan outside the table."""
    return plug_torque(port_thread(port), material_of(port))
