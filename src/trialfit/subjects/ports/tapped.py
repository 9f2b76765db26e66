"""Threads that the builder cut: drill, depth, wall; and how tight a plug is.

Answers   requirements   tapping_wall, tapping_depth, tapping_height or tapping_drill for a thread the builder cut;
                         hole_depth, a figure; torque where one is written
Not here  the tension in the boss (bosses.py); bolts (fastening)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.ranks import is_from_its_maker
from trialfit.evaluation.requirement import (
    COMMON_PRACTICE,
    AtLeast,
    AtMost,
    Between,
    Limit,
    Requirement,
    Source,
    SourceKind,
)
from trialfit.facts.quantity import LENGTH, SHARE, TORQUE
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.ports.port_threads import System
from trialfit.handbook.ports.tapping import (
    LEAST_HEIGHT,
    MOST_HEIGHT,
    hole_depth,
    inner_thread_height,
    least_pipe_drill,
    least_wall,
    pipe_tap_drill,
    plug_torque,
    port_thread_needed,
    rule_of_thumb_wall,
    thread_height,
    wall_left,
)
from trialfit.parts import Port
from trialfit.subjects.ports.runs import caution_of, material_of, port_thread, stake_of, wedging_thread

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef


DRILL_BELOW, DRILL_ABOVE = 0.1e-3, 0.25e-3
"""How far a drill may be from the printed one of a pipe thread [m]: common practice, no source."""

PRINTED_DRILLS = Source(
    "tap maker's catalogue for Rc; tap-drill article for G; pipe-thread tables with tap drills for NPT",
    SourceKind.published,
)
PLUG_TORQUES = Source(
    "engine makers' manuals, plugs with a washer and pipe plugs; a machine maker's table for tapered fittings",
    SourceKind.published,
)
MAKERS = Source("maker's manual", SourceKind.manual)
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
                says="the plug torque stays within its maker's figure, or without one within the limit of its thread in that material",
                value=partial(torque, port=port),
                quantity=TORQUE,
                stake=stake_of(port),
                limit=AtMost(partial(torque_taken, port=port)),
                source=PLUG_TORQUES,
                also=tuple(_makers(port)),
                formulas=(plug_torque,),
                shows=partial(beside_the_table, port=port),
                caution=caution_of(port),
                cure="Loosen it, fit a new washer or clean the taper, and tighten it to the limit.",
            )


def _makers(port: Port) -> Iterator[Limit]:
    """The figure of the plug's maker, which replaces that of the table."""
    for ref in (port.specified_torque, port.torque):
        if is_from_its_maker(ref):
            yield Limit("maker", AtMost(partial(as_written, ref=ref)), MAKERS)
            return


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
        "enough wall is left beside the thread for drill and tap: two pitches, at least 2 mm",
        wall,
        wall_left,
        limit=AtLeast(partial(wall_for, port=port)),
        shows=partial(the_rule_of_thumb, port=port),
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
            "the drill is a standard tap drill of the pipe thread",
            drill,
            pipe_tap_drill,
            limit=Between(partial(least_drill, port=port), partial(most_drill, port=port)),
            source=PRINTED_DRILLS,
            shows=partial(what_it_leaves, port=port),
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
    """Wall that drill and tap need, m."""
    return float(np.asarray(least_wall(port_thread(port).pitch)))


def the_rule_of_thumb(_: Evaluation, port: Port) -> str:
    """What the trade asks, beside what the boss bears."""
    if port.material is None:
        return ""
    asked = show(rule_of_thumb_wall(wedging_thread(port), port.material), display_unit(LENGTH))
    return f"the rule of thumb asks {asked}; what the boss bears is judged by boss_stress"


def depth(ev: Evaluation, port: Port) -> Array:
    """Length of whole thread, m."""
    return ev(port.thread_depth)


def depth_for(_: Evaluation, port: Port) -> float:
    """Length of thread required, m."""
    return port_thread_needed(wedging_thread(port), material_of(port))


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


def what_it_leaves(ev: Evaluation, port: Port) -> str:
    """The thread that a drill leaves at the inner end of a tapered hole, and the drills that are printed for it."""
    thread = port_thread(port)
    left = float(np.asarray(inner_thread_height(thread, ev(port.drill)[0])))
    if np.isnan(left):
        return ""
    unit = display_unit(LENGTH)
    printed = f"{show(least_pipe_drill(thread), unit)} to {show(pipe_tap_drill(thread), unit)}"
    return f"it leaves {left:.0%} of the thread height at the inner end; a parallel bore is drilled {printed}".replace(
        "%", " %"
    )


def least_drill(_: Evaluation, port: Port) -> float:
    """Smallest drill for a pipe thread, m."""
    return least_pipe_drill(port_thread(port)) - DRILL_BELOW


def most_drill(_: Evaluation, port: Port) -> float:
    """Largest drill for a pipe thread, m."""
    return pipe_tap_drill(port_thread(port)) + DRILL_ABOVE


def torque(ev: Evaluation, port: Port) -> Array:
    """Torque as written, N·m."""
    return ev(port.torque)


def as_written(ev: Evaluation, ref: FactRef) -> Array:
    """A torque as it is written, N·m."""
    return ev(ref)


def torque_taken(ev: Evaluation, port: Port) -> Array:
    """Torque that the thread takes in its material, N·m; nan outside the table. A figure that is not its maker's can only lower it."""
    thread, specified = wedging_thread(port), port.specified_torque
    table = np.full(ev.draws, plug_torque(thread, material_of(port)))
    if is_from_its_maker(specified):
        return table
    if specified.written is None:  # a plug with a washer in aluminium: makers do not agree
        return ev(specified) if specified.known is not None and not thread.is_tapered else table
    return np.asarray(np.fmin(table, ev(specified)))


def beside_the_table(_: Evaluation, port: Port) -> str:
    """The figure of the table, where a maker's replaces it."""
    if not any(map(is_from_its_maker, (port.specified_torque, port.torque))) or port.material is None:
        known = port.specified_torque.known
        if port.specified_torque.written or known is None:
            return ""
        ends = (known.si - known.spread.minus, known.si + known.spread.plus)
        return f"makers give {show(ends[0], display_unit(TORQUE))} to {show(ends[1], display_unit(TORQUE))}: look up the one of this plug"
    taken = plug_torque(wedging_thread(port), port.material)
    if np.isnan(taken):
        return ""
    return f"the table has {show(taken, display_unit(TORQUE))} for that thread in {port.material}; the maker's figure outranks it"
