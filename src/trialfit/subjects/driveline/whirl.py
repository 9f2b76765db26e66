"""Whirling: no shaft turns near its critical speed.

Answers   requirements   whirl for each shaft; critical_speed for each, and highest_shaft_speed, as figures
Not here  angles (angles.py)

The highest speed is that of the engine's limit in the highest gear, and where that limit is a guess no less than what is written of
the engine: neither the end of a torque curve nor a guessed drag makes a
shaft slower.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.provenance import Provenance
from trialfit.facts.quantity import LENGTH, RATIO, ROTATIONAL_SPEED
from trialfit.facts.showing import show
from trialfit.facts.units import find_unit
from trialfit.handbook.driveline.whirling import (
    ALUMINIUM,
    STEEL,
    USABLE_SHARE,
    TubeMaterial,
    critical_speed,
    longest_shaft,
)
from trialfit.parts import Engine, PropShaft
from trialfit.subjects.driveline.lengths import lengths_told, shaft_length
from trialfit.subjects.line import highest_shaft_speed, speed_beyond_limit, speed_written
from trialfit.subjects.shaft_line import RUBBER_DISC, find_line, name_in_ids

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


SUPPLIER = Source("cardan-shaft supplier, critical speeds: 0.7 in cars, 0.65 in industry", SourceKind.published)
LETS_GO = (
    "A shaft that fails at speed comes through the floor: never run it on stands with people beside it, have it balanced by a "
    "driveline shop, fit a safety hoop. Its maker's figure outranks this one."
)


CURE = (
    "Fit a tube of larger diameter, or two shorter shafts with a centre bearing. The same tube in aluminium "
    "does not help."
)


def requirements(build: Build) -> Iterator[Requirement]:
    """Limits of the speed of each prop shaft."""
    shafts = build.all(PropShaft)
    if not shafts and find_line(build) is None:
        return
    for shaft in shafts:
        name = name_in_ids(build, shaft)
        yield Requirement(
            id=f"driveline.whirl.{name}",
            about=shaft.name,
            says="the highest shaft speed stays well below the shaft's critical speed",
            value=partial(_share_of_critical, shaft=shaft),
            quantity=RATIO,
            stake=Stake.safety,
            limit=AtMost(USABLE_SHARE),
            source=SUPPLIER,
            formulas=(critical_speed, longest_shaft),
            shows=partial(_longest_shown, shaft=shaft),
            caution=LETS_GO,
            cure=CURE,
        )
        yield Requirement(
            id=f"driveline.critical_speed.{name}",
            about=shaft.name,
            says="speed at which the bare tube whirls, hinged at its joint centres; yokes, slip joint and soft mounts lower it",
            value=partial(critical, shaft=shaft),
            quantity=ROTATIONAL_SPEED,
            stake=Stake.safety,
            formulas=(critical_speed,),
            unit="rpm",
            turned_by=AtLeast,
        )
    yield Requirement(
        id="driveline.highest_shaft_speed",
        about=shafts[0].name if shafts else "prop_shaft",
        says="highest speed of the prop shaft: the engine's limit over the smallest ratio",
        value=lambda ev: ev.of(highest_shaft_speed),
        shows=lambda ev: _limit_told(ev.build),
        quantity=ROTATIONAL_SPEED,
        stake=Stake.safety,
        unit="rpm",
    )


def _longest_shown(ev: Evaluation, shaft: PropShaft) -> str:
    """The longest tube, in numbers."""
    material = _material(shaft)
    outside, wall = ev.each(shaft.tube_outside_diameter, shaft.tube_wall_thickness)
    wanted = ev.of(highest_shaft_speed) / USABLE_SHARE
    length = np.asarray(longest_shaft(wanted, outside, outside - 2 * wall, material.youngs_modulus, material.density))
    speed = show(float(ev.of(highest_shaft_speed)[0]), find_unit(ROTATIONAL_SPEED, "rpm"))
    longest = (
        f"at {speed} this tube can be {show(float(length[0]), find_unit(LENGTH, 'mm'))} long between its joint centres"
    )
    return "; ".join(filter(None, (longest, _rubber_told(shaft), lengths_told(ev, shaft), _limit_told(ev.build))))


def _rubber_told(shaft: PropShaft) -> str:
    """That a shaft whose ends hang in rubber whirls lower than one that is hinged at its joint centres."""
    if {shaft.front_joint, shaft.rear_joint} != {RUBBER_DISC}:
        return ""
    return "between two rubber discs it whirls lower than worked out: ask the maker of the discs or a driveline shop"


def _limit_told(build: Build) -> str:
    """Which engine speed counts where what is written of the engine ends below its limit or, the limit a guess, above it."""
    engine = build.first(Engine)
    limit = engine.max_speed.written if engine else None
    if engine is None or limit is None:
        return ""
    beyond = speed_beyond_limit(build)
    if beyond is not None:
        why = "is a guess" if limit.provenance is Provenance.guess else "has no provenance"
        return f"{engine.max_speed.path} of {_rpm(limit.si)} {why}, and {beyond.path} reaches {_rpm(speed_written(beyond))}: the higher counts"
    curve = speed_written(engine.torque_curve)
    if curve is None or curve >= limit.si:
        return ""
    return f"the torque curve ends at {_rpm(curve)}, the engine's limit of {_rpm(limit.si)} counts"


def _rpm(speed: float | None) -> str:
    return show(speed or 0.0, find_unit(ROTATIONAL_SPEED, "rpm"))


def _material(shaft: PropShaft) -> TubeMaterial:
    return ALUMINIUM if shaft.material == "aluminium" else STEEL


def critical(ev: Evaluation, shaft: PropShaft) -> Array:
    """First critical speed of a shaft's tube, rad/s."""
    material = _material(shaft)
    outside, wall = ev.each(shaft.tube_outside_diameter, shaft.tube_wall_thickness)
    length = ev.of(shaft_length, shaft)
    return np.asarray(critical_speed(length, outside, outside - 2 * wall, material.youngs_modulus, material.density))


def _share_of_critical(ev: Evaluation, shaft: PropShaft) -> Array:
    return ev.of(highest_shaft_speed) / ev.of(critical, shaft)
