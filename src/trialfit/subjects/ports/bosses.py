"""The boss round a thread: does it bear the plug as it is tightened.

Answers   requirements   boss_stress and boss_wall, a figure, for a thread the builder cut and for one whose distance to an edge is
                         written
Not here  drill, depth and the wall that a tap needs (tapped.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.ranks import outranked
from trialfit.evaluation.requirement import AtMost, Requirement, Source, SourceKind
from trialfit.facts.quantity import LENGTH, STRESS
from trialfit.handbook.ports.boss_walls import (
    boss_strength,
    boss_tension,
    edge_for_tension,
    taper_pressure,
    washer_pressure,
)
from trialfit.handbook.ports.tapping import plug_torque
from trialfit.parts import Port
from trialfit.subjects.ports.runs import caution_of, material_of, stake_of, wedging_thread

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array

TURNS_BY_WRENCH = 2.0
"""Turns of a tapered thread past hand-tight at which it is judged, fewer than the printed 2½ to 3: common practice, no source."""

NUT_FACTOR_AT_LEAST = 0.12
"""Torque over pull and diameter of an oiled plug, which presses the most: common practice, no source."""

_SKIN = 1.001  # of the radius: what a hole that breaks out is taken to have left

METALS = Source(
    "EN 1706, EN 1561, EN 10025: the least of what is found; hole near an edge as in textbooks of elasticity",
    SourceKind.from_memory,
)
_CURE = (
    "Take a place with more metal round it, weld a thicker boss on, or seal with a washer on a parallel thread, which does not wedge; "
    "with a maker's torque and strength, write specified_torque and yield_strength."
)


def requirements(build: Build) -> Iterator[Requirement]:
    """One finding and one figure for each thread whose wall is in question."""
    for port in build.all(Port):
        if port.gender != "male" and (port.cut_by == "builder" or port.edge_distance.written is not None):
            yield Requirement(
                id=f"ports.{port.name}.boss_stress",
                about=port.name,
                says="the boss bears the plug as it is tightened: tension in the wall towards the nearest edge",
                value=partial(tension, port=port),
                quantity=STRESS,
                stake=stake_of(port),
                limit=AtMost(partial(allowed, port=port)),
                source=METALS,
                formulas=(taper_pressure, washer_pressure, boss_tension, boss_strength),
                caution=caution_of(port),
                cure=f"{_CURE} The figure ports.{port.name}.boss_wall is the wall that bears it.",
            )
            yield Requirement(
                id=f"ports.{port.name}.boss_wall",
                about=port.name,
                says="wall between the thread and the nearest edge that bears the plug as it is tightened; undefined where none does",
                value=partial(wall_that_does, port=port),
                quantity=LENGTH,
                stake=stake_of(port),
                formulas=(edge_for_tension,),
            )


def torque_of(ev: Evaluation, port: Port) -> Array:
    """The torque, N·m, (draws,): as it is set, else the maker's, else that of the tables. Raises MissingFact."""
    for ref in (port.torque, port.specified_torque):
        if ref.written is not None:
            return ev(ref)
    thread, material = wedging_thread(port), material_of(port)
    # the engine maker's pipe plugs go into iron as well: the larger figure is that of steel fittings in steel
    usual = plug_torque(thread, "aluminium" if thread.is_tapered and material == "iron" else material)
    if np.isnan(usual):
        raise MissingFact({port.torque.path: Port.torque.says})
    return np.full(ev.draws, usual)


def pressure(ev: Evaluation, port: Port) -> Array:
    """What the plug presses on its hole, Pa, (draws,)."""
    thread, torque = wedging_thread(port), torque_of(ev, port)
    if thread.is_tapered:
        length = thread.gauge_length + TURNS_BY_WRENCH * thread.pitch
        friction = ev(port.thread_friction)
        return np.asarray(taper_pressure(torque, thread.pitch_diameter, length, friction, thread.flank_angle))
    engaged = np.minimum(ev(port.thread_depth), thread.major_diameter)
    return np.asarray(
        washer_pressure(
            torque, thread.major_diameter, thread.pitch_diameter, engaged, NUT_FACTOR_AT_LEAST, thread.flank_angle
        )
    )


def tension(ev: Evaluation, port: Port) -> Array:
    """Largest tension in the wall, Pa, (draws,); that of a skin where the hole breaks out."""
    radius = wedging_thread(port).major_diameter / 2
    edge = np.maximum(ev(port.edge_distance), _SKIN * radius)
    return np.asarray(boss_tension(ev.of(pressure, port), radius, edge))


def allowed(ev: Evaluation, port: Port) -> Array:
    """What the metal bears, Pa, (draws,): by its maker, else the lesser of what is written and the least of that metal."""
    return np.asarray(outranked(ev, port.yield_strength, lambda _: np.full(ev.draws, boss_strength(material_of(port)))))


def wall_that_does(ev: Evaluation, port: Port) -> Array:
    """The wall that bears it, m, (draws,); nan where no wall of that metal does."""
    radius = wedging_thread(port).major_diameter / 2
    return np.asarray(edge_for_tension(ev.of(pressure, port), radius, allowed(ev, port))) - radius
