"""Loads on the mounts of engine and gearbox: weight by the load cases, torque in the lowest gear, and with one mount lost.

Answers   unit_mass, lowest_gear_torque    of the power unit
          pressed, pulled                  the worst load on each mount
          everyday                         the load on each mount that comes again and again
          upright_and_level                the load on a mount in every load case, for its bolts
          points_left, worst_use_left      with one mount broken
          the_mounts, restraints           of a build
Not here  limits (structure/mounts.py)
All arrays SI, (draws,) or (draws, mounts).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.lifting.hoisting import centre_of_mass
from trialfit.handbook.structure import mounts as handbook
from trialfit.handbook.structure.mounts import LoadCase, everyday_load_cases, load_cases
from trialfit.parts import Clutch, MassPart, Mount, PowerUnit
from trialfit.subjects import line
from trialfit.subjects.placed import mass_centres
from trialfit.subjects.torque_path.clutch_capacity import can_be_worked_out, clutch_capacity, is_rated
from trialfit.subjects.torque_path.loads import unit_torque

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef


BROKEN = (
    LoadCase("at rest", 1.0, 0.0, 0.0, 0.0),
    LoadCase("lowest gear", 1.0, 0.0, 0.0, 1.0),
    LoadCase("reverse or overrun", 1.0, 0.0, 0.0, -1.0),
)
"""What the remaining mounts must carry until the car has stopped: a choice, no source."""


def the_mounts(build: Build) -> tuple[Mount, ...]:
    """The mounts that always carry."""
    return tuple(mount for mount in build.all(Mount) if mount.role == "mount")


def restraints(build: Build) -> tuple[Mount, ...]:
    """What holds only when a mount has broken."""
    return tuple(mount for mount in build.all(Mount) if mount.role == "restraint")


def _masses(build: Build) -> tuple[MassPart, ...]:
    found = tuple(part for part in build.all(MassPart) if part.mounted == "yes")
    if not found:
        raise MissingFact({MassPart.kind: "no engine or gearbox with its mass and centre of mass is written"})
    return found


def unit_mass(ev: Evaluation) -> Array:
    """Mass on the mounts, kg."""
    return np.asarray(np.sum(ev.each(*(part.mass for part in _masses(ev.build))), axis=0))


def unit_centre(ev: Evaluation) -> tuple[Array, Array, Array]:
    """Centre of that mass, m."""
    parts = _masses(ev.build)
    mass = np.stack(ev.each(*(part.mass for part in parts)), axis=-1)
    at = mass_centres(ev, parts)
    x, y, z = (np.asarray(centre_of_mass(mass, at[..., axis])) for axis in range(3))
    return x, y, z


def lowest_gear_torque(ev: Evaluation) -> Array:
    """Largest torque on the mounts, N·m: the worst shock that leaves the unit, in any gear and load state.

    Where a fact of car, tyres or gears is missing for it, the torque factor on what the clutch transmits in the lower of first gear
    and reverse. A factor that is written counts anyway: the greater of both.
    """
    unit = ev.build.first(PowerUnit)
    across = unit is not None and unit.layout == "transverse"
    try:
        shock = ev.of(unit_torque, across=across)
    except MissingFact:
        shock = np.zeros(ev.draws)
    if shock.all() and (unit is None or unit.torque_factor.written is None):
        return shock
    lowest = ev.of(line.lowest_ratio)
    final = ev.of(line.final_ratio) if across else np.ones(ev.draws)
    factor = ev(unit.torque_factor) if unit else np.full(ev.draws, 2.0)
    stated = handbook.torque_on_mounts(factor * ev.of(_through_clutch), lowest, final)
    return np.asarray(np.maximum(shock, np.asarray(stated)))


def everyday_torque(ev: Evaluation) -> Array:
    """Torque on the mounts at full throttle in the lower of first gear and reverse, without a shock, N·m.

    By what the clutch transmits where the torque of the engine is missing.
    """
    unit = ev.build.first(PowerUnit)
    lowest = ev.of(line.lowest_ratio)
    across = unit is not None and unit.layout == "transverse"
    try:
        torque = ev.of(line.peak_torque)
    except MissingFact:
        torque = ev.of(_through_clutch)
    final = ev.of(line.final_ratio) if across else np.ones(ev.draws)
    return np.asarray(handbook.torque_on_mounts(torque, lowest, final))


def _through_clutch(ev: Evaluation) -> Array:
    """Torque that gets into the gearbox, N·m: the clutch's where it is known, else the engine's peak."""
    clutch = ev.build.first(Clutch)
    if clutch is not None and (is_rated(clutch) or can_be_worked_out(clutch)):
        return ev.of(clutch_capacity, "load")
    return ev.of(line.peak_torque)


def _stack(ev: Evaluation, mounts: tuple[Mount, ...], *names: str) -> list[Array]:
    """Facts of several mounts, (draws, mounts) each; where some are missing all are named."""
    refs: list[FactRef] = [getattr(mount, name) for name in names for mount in mounts]
    values = ev.each(*refs)
    size = len(mounts)
    return [np.stack(values[start : start + size], axis=-1) for start in range(0, len(values), size)]


@dataclass(frozen=True)
class _Loads:
    """Upright force of each mount on the unit and the size of the level one, N, (cases, draws, mounts)."""

    upright: Array
    level: Array


def _loads(
    ev: Evaluation,
    names: tuple[str, ...],
    cases: tuple[LoadCase, ...],
    largest: Callable[[Evaluation], Array] = lowest_gear_torque,
) -> _Loads:
    mounts = tuple(mount for mount in ev.build.all(Mount) if mount.name in names)
    if not mounts:
        raise MissingFact({Mount.kind: "no mount of the engine is written"})
    x, y, z, stiffness = _stack(ev, mounts, "x", "y", "z", "stiffness")
    weight = ev.of(unit_mass) * STANDARD_GRAVITY
    at_x, at_y, at_z = ev.of(unit_centre)
    torque = ev.of(largest) if any(case.torque for case in cases) else np.zeros(ev.draws)
    unit = ev.build.first(PowerUnit)
    across = unit is not None and unit.layout == "transverse"
    share = stiffness / stiffness.sum(axis=-1, keepdims=True)
    lever = at_z - (share * z).sum(axis=-1)
    down, forward, left, turned = (
        np.array([[getattr(case, name)] for case in cases]) for name in ("down", "forward", "left", "torque")
    )
    about_x = -left * weight * lever + (0 if across else turned * torque)
    about_y = forward * weight * lever + (turned * torque if across else 0)
    upright = handbook.upright_loads(x, y, stiffness, down * weight, at_x, at_y, about_x, about_y)
    level = np.hypot(forward, left)[:, None] * weight[:, None] * share
    return _Loads(np.asarray(upright), level)


def _all_loads(ev: Evaluation) -> _Loads:
    return _loads(ev, tuple(mount.name for mount in the_mounts(ev.build)), load_cases())


def _everyday_loads(ev: Evaluation) -> _Loads:
    return _loads(ev, tuple(mount.name for mount in the_mounts(ev.build)), everyday_load_cases(), everyday_torque)


def _column(ev: Evaluation, mount: Mount) -> int:
    return [one.name for one in the_mounts(ev.build)].index(mount.name)


def pressed(ev: Evaluation, mount: Mount) -> Array:
    """The worst load on a mount pressed down and aside together, N, over the load cases."""
    loads, column = ev.of(_all_loads), _column(ev, mount)
    both = np.hypot(np.maximum(loads.upright[:, :, column], 0), loads.level[:, :, column])
    return np.asarray(both.max(axis=0))


def pulled(ev: Evaluation, mount: Mount) -> Array:
    """The worst pull upwards on a mount, N, over the load cases; nothing where it is always pressed."""
    upright = ev.of(_all_loads).upright[:, :, _column(ev, mount)]
    return np.asarray(np.maximum(-upright, 0).max(axis=0))


def everyday(ev: Evaluation, mount: Mount) -> Array:
    """The largest load on a mount that comes again and again, N: pressed, pulled or aside, over the everyday load cases."""
    loads, column = ev.of(_everyday_loads), _column(ev, mount)
    return np.asarray(np.hypot(loads.upright[:, :, column], loads.level[:, :, column]).max(axis=0))


def upright_and_level(ev: Evaluation, mount: Mount) -> tuple[Array, Array]:
    """Upright load on a mount, pressed positive and pulled negative, and size of the level one, N, (cases, draws) each.

    The cases are those of handbook.mounts.load_cases, in their order. Raises MissingFact for a restraint: it carries in none.
    """
    if mount.role == "restraint":
        raise MissingFact(
            {f"{mount.name}.role": "expected a mount that always carries: no load case comes on a restraint"}
        )
    loads, column = ev.of(_all_loads), _column(ev, mount)
    return loads.upright[:, :, column], loads.level[:, :, column]


def worst_case(ev: Evaluation, mount: Mount) -> str:
    """The load case that presses a mount hardest, in words, with the load at rest."""
    loads, column = ev.of(_all_loads), _column(ev, mount)
    both = np.hypot(np.maximum(loads.upright[:, 0, column], 0), loads.level[:, 0, column])
    return f"hardest in the case: {load_cases()[int(np.argmax(both))].name}"


def _left(build: Build, lost: Mount) -> tuple[str, ...]:
    return tuple(mount.name for mount in (*the_mounts(build), *restraints(build)) if mount.name != lost.name)


def points_left(ev: Evaluation, lost: Mount) -> Array:
    """Points that still hold the unit when a mount has torn: itself as well where it is captive; two where all are in one line."""
    names = (*_left(ev.build, lost), *((lost.name,) if lost.captive == "yes" else ()))
    mounts = tuple(mount for mount in ev.build.all(Mount) if mount.name in names)
    if not mounts:
        return np.zeros(ev.draws)
    x, y = _stack(ev, mounts, "x", "y")
    return np.where(handbook.in_one_line(x, y), min(len(mounts), 2), len(mounts))


def worst_use_left(ev: Evaluation, lost: Mount) -> Array:
    """Load over rating of the hardest pressed or pulled point that is left, at rest and with the torque of the lowest gear."""
    names = _left(ev.build, lost)
    mounts = tuple(mount for mount in ev.build.all(Mount) if mount.name in names)
    if handbook.in_one_line(*_stack(ev, mounts, "x", "y"))[0]:
        says = f"without {lost.name} the remaining points are in one line: expected a restraint or mount off that line"
        raise MissingFact({Mount.kind: says})
    loads = _loads(ev, names, BROKEN)
    rated, rated_pull = _stack(ev, mounts, "rated_load", "rated_pull")
    use = np.maximum(np.maximum(loads.upright, 0) / rated, np.maximum(-loads.upright, 0) / rated_pull)
    return np.asarray(np.where(np.isfinite(loads.upright), use, np.nan).max(axis=(0, 2)))


def holding_share(ev: Evaluation) -> Array:
    """Load along the car at which the mounts break, over the crash load."""
    mounts = the_mounts(ev.build)
    if not mounts:
        raise MissingFact({Mount.kind: "no mount of the engine is written"})
    (breaking,) = _stack(ev, mounts, "breaking_load")
    return np.asarray(breaking.sum(axis=-1) / (handbook.CRASH_FACTOR * STANDARD_GRAVITY * ev.of(unit_mass)))
