"""The mounts: the load on each, what holds the engine if one breaks, and whether it stays in the car in a crash.

Answers   requirements   mount_load.MOUNT, mount_pull.MOUNT, still_held.MOUNT, lost_mount.MOUNT (where three points are
                         left), crash_hold, and the figures
                         unit_mass, unit_torque
          of_mount       mount_load and mount_pull alone
Not here  the loads (subjects/power_unit.py); brackets and welds under the mounts (brackets.py, welds.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import COUNT, FORCE, MASS, RATIO, TORQUE
from trialfit.handbook.sources import NO_SOURCE
from trialfit.handbook.structure.mounts import in_one_line, torque_on_mounts, upright_loads
from trialfit.parts import MassPart, Mount, PowerUnit
from trialfit.subjects import power_unit
from trialfit.subjects.structure.margins import HOLDS_AN_ENGINE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


CASES = Source(
    f"{NO_SOURCE}: load factors of 3 g down, 1.5 g up, 1 g braking, 1 g sideways, and twice the torque the clutch "
    "transmits in the lowest gear; the check list of VSB 14 LA asks that mountings withstand crank torque times lowest gear",
    SourceKind.common_practice,
)
HELD = Source(f"{NO_SOURCE}: three points not in one line hold a unit", SourceKind.common_practice)
POINTS = 3.0
CRASH = Source(f"{NO_SOURCE}: 10 g forward once, without parting", SourceKind.common_practice)


def requirements(build: Build) -> Iterator[Requirement]:
    """What each mount must carry; nothing for a build without mounts and masses."""
    if not any(build.all(kind) for kind in (Mount, PowerUnit, MassPart)):
        return
    mounts = power_unit.the_mounts(build)
    yield from _unit(build)
    if not mounts:
        yield _no_mounts()
    for mount in mounts:
        yield from of_mount(mount)
        yield _still_held(mount)
        if mount.captive == "no" and len(mounts) - 1 + len(power_unit.restraints(build)) >= POINTS:
            yield _without(mount)
    yield Requirement(
        id="structure.crash_hold",
        about=_unit_name(build),
        says="load along the car at which the mounts break, over ten times the weight of the unit",
        value=power_unit.holding_share,
        quantity=RATIO,
        stake=Stake.safety,
        limit=AtLeast(1.0),
        source=CRASH,
        caution=HOLDS_AN_ENGINE,
    )


def _unit_name(build: Build) -> str:
    unit = build.first(PowerUnit)
    return unit.name if unit else PowerUnit.kind


def _unit(build: Build) -> Iterator[Requirement]:
    yield Requirement(
        id="structure.unit_mass",
        about=_unit_name(build),
        says="mass that the mounts carry",
        value=power_unit.unit_mass,
        quantity=MASS,
        stake=Stake.comfort,
        caution=HOLDS_AN_ENGINE,
    )
    yield Requirement(
        id="structure.unit_torque",
        about=_unit_name(build),
        says="largest torque on the mounts, in the lower of first gear and reverse",
        value=power_unit.lowest_gear_torque,
        quantity=TORQUE,
        stake=Stake.safety,
        formulas=(torque_on_mounts,),
        caution=HOLDS_AN_ENGINE,
    )


def _no_mounts() -> Requirement:
    def none(ev: Evaluation) -> Array:
        raise MissingFact({Mount.kind: f"no mount of the engine is written in {ev.build.name or 'the build'}"})

    return Requirement(
        id="structure.mount_load.mount",
        about=Mount.kind,
        says="each mount carries the worst load",
        value=none,
        quantity=FORCE,
        stake=Stake.safety,
        limit=AtMost(0.0),
        source=CASES,
        caution=HOLDS_AN_ENGINE,
    )


def of_mount(mount: Mount) -> Iterator[Requirement]:
    """What decides whether the rubber of a mount carries its load."""
    yield Requirement(
        id=f"structure.mount_load.{mount.name}",
        about=mount.name,
        says=f"{mount.name} carries the worst load pressed down and sideways, of bumps, bends, braking and the lowest gear",
        value=partial(power_unit.pressed, mount=mount),
        quantity=FORCE,
        stake=Stake.safety,
        limit=AtMost(lambda ev: ev(mount.rated_load)),
        source=CASES,
        formulas=(upright_loads, torque_on_mounts),
        shows=partial(power_unit.worst_case, mount=mount),
        caution=HOLDS_AN_ENGINE,
    )
    yield Requirement(
        id=f"structure.mount_pull.{mount.name}",
        about=mount.name,
        says=f"{mount.name} carries the worst pull upwards",
        value=partial(power_unit.pulled, mount=mount),
        quantity=FORCE,
        stake=Stake.safety,
        limit=AtMost(lambda ev: ev(mount.rated_pull)),
        source=CASES,
        formulas=(upright_loads, torque_on_mounts),
        caution=HOLDS_AN_ENGINE,
    )


def _still_held(mount: Mount) -> Requirement:
    return Requirement(
        id=f"structure.still_held.{mount.name}",
        about=mount.name,
        says=f"three points not in one line still hold the engine when {mount.name} has torn",
        value=partial(power_unit.points_left, lost=mount),
        quantity=COUNT,
        stake=Stake.safety,
        limit=AtLeast(POINTS),
        source=HELD,
        formulas=(in_one_line,),
        caution=HOLDS_AN_ENGINE,
        cure='Use a mount that holds without its rubber, and write captive = "yes" for it, or fit a retention strap or a fourth point.',
    )


def _without(mount: Mount) -> Requirement:
    return Requirement(
        id=f"structure.lost_mount.{mount.name}",
        about=mount.name,
        says=f"without {mount.name} the other points carry the weight and the torque of the lowest gear: largest load over rating",
        value=partial(power_unit.worst_use_left, lost=mount),
        quantity=RATIO,
        stake=Stake.safety,
        limit=AtMost(1.0),
        source=HELD,
        formulas=(upright_loads, torque_on_mounts),
        caution=HOLDS_AN_ENGINE,
    )
