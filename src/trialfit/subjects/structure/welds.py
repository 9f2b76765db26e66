"""Welds: throat under direct load, bending and twist; least and largest leg, length of run, and room to weld.

Answers   requirements   weld_throat, weld_yield, weld_leg, weld_edge, weld_run, weld_angle, torch_access, each with the name, and
                         the figure weld_leg_needed
Not here  the bracket it holds (brackets.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import AtLeast, AtMost, Between, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import ANGLE, LENGTH, STRESS
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.sources import NO_SOURCE
from trialfit.handbook.structure import welds as handbook
from trialfit.handbook.structure.weld_lines import shared_force, throat_stress, weld_group
from trialfit.parts import Bracket, Mount, Weld
from trialfit.subjects import power_unit
from trialfit.subjects.structure import brackets
from trialfit.subjects.structure.margins import SAFETY_ON_YIELD, WELDING, in_life, safety

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef


ON_THE_THROAT = Source("AISC: 0.30 of the weld metal's strength on the throat", SourceKind.published)
LEAST_LEG = Source("AISC/AWS table of least fillet sizes, no more than the thinner part", SourceKind.published)
LARGEST_LEG = Source("AISC/AWS: largest leg along an edge", SourceKind.published)
SHORTEST_RUN = Source("AISC/AWS: four legs and 38 mm", SourceKind.published)
FACES = Source("AWS D1.1, from memory: fillets between faces at 60 to 135°", SourceKind.from_memory)
ROOM = Source(f"{NO_SOURCE}: 100 mm for a torch and to see the pool", SourceKind.common_practice)

OPEN_FACES = (np.radians(60.0), np.radians(135.0))
TORCH_ROOM = 0.100


def requirements(build: Build) -> Iterator[Requirement]:
    """What each weld must carry and how large it must be."""
    for weld in build.all(Weld):
        yield from _strength(weld)
        yield from _size(weld)
        yield from _access(weld)


def _strength(weld: Weld) -> Iterator[Requirement]:
    yield Requirement(
        id=f"structure.weld_throat.{weld.name}",
        about=weld.name,
        says=f"the throat of {weld.name} carries its worst load: shear over the allowable of the weld metal",
        value=partial(stress, weld=weld),
        quantity=STRESS,
        stake=Stake.safety,
        limit=AtMost(lambda ev: handbook.allowable_shear(ev(weld.metal_strength))),
        source=ON_THE_THROAT,
        formulas=(weld_group, shared_force, handbook.throat, throat_stress, handbook.allowable_shear),
        shows=partial(_leg_in_words, weld=weld),
        caution=WELDING,
    )
    yield Requirement(
        id=f"structure.weld_yield.{weld.name}",
        about=weld.name,
        says=f"the steel at {weld.name} carries its load, which comes {in_life(repeats(weld))}, with its strength after welding",
        value=lambda ev: np.sqrt(3.0) * stress(ev, weld),
        quantity=STRESS,
        stake=Stake.safety,
        limit=AtMost(lambda ev: ev(weld.yield_strength) / safety(repeats(weld))),
        source=SAFETY_ON_YIELD,
        formulas=(weld_group, shared_force, handbook.throat, throat_stress),
        caution=WELDING,
    )
    yield Requirement(
        id=f"structure.weld_leg_needed.{weld.name}",
        about=weld.name,
        says=f"leg at which {weld.name} just carries its load, by the weld metal and by the steel as welded",
        value=partial(leg_needed, weld=weld),
        quantity=LENGTH,
        stake=Stake.safety,
        formulas=(shared_force, handbook.allowable_shear, handbook.throat),
        caution=WELDING,
    )


def _size(weld: Weld) -> Iterator[Requirement]:
    yield Requirement(
        id=f"structure.weld_leg.{weld.name}",
        about=weld.name,
        says=f"{weld.name} is large enough for the thicker part, which draws the heat away",
        value=lambda ev: ev(weld.leg),
        quantity=LENGTH,
        stake=Stake.safety,
        limit=AtLeast(lambda ev: handbook.smallest_leg(*ev.each(weld.thicker, weld.thinner))),
        source=LEAST_LEG,
        formulas=(handbook.smallest_leg,),
        caution=WELDING,
    )
    if weld.on_edge == "yes":
        yield Requirement(
            id=f"structure.weld_edge.{weld.name}",
            about=weld.name,
            says=f"{weld.name} leaves the edge that it runs along visible",
            value=lambda ev: ev(weld.leg),
            quantity=LENGTH,
            stake=Stake.durability,
            limit=AtMost(lambda ev: handbook.longest_leg(ev(weld.thinner))),
            source=LARGEST_LEG,
            formulas=(handbook.longest_leg,),
            caution=WELDING,
        )
    if weld.run_length.written:
        yield Requirement(
            id=f"structure.weld_run.{weld.name}",
            about=weld.name,
            says=f"the shortest run of {weld.name} is longer than its start and end crater",
            value=lambda ev: ev(weld.run_length),
            quantity=LENGTH,
            stake=Stake.durability,
            limit=AtLeast(lambda ev: handbook.shortest_run(ev(weld.leg))),
            source=SHORTEST_RUN,
            formulas=(handbook.shortest_run,),
            caution=WELDING,
        )


def _access(weld: Weld) -> Iterator[Requirement]:
    yield Requirement(
        id=f"structure.weld_angle.{weld.name}",
        about=weld.name,
        says=f"the angle between the faces at {weld.name} is wide enough to reach the root, and small enough for a throat",
        value=lambda ev: ev(weld.face_angle),
        quantity=ANGLE,
        stake=Stake.durability,
        limit=Between(*OPEN_FACES),
        source=FACES,
        caution=WELDING,
    )
    yield Requirement(
        id=f"structure.torch_access.{weld.name}",
        about=weld.name,
        says=f"there is room in front of {weld.name} for the torch and a view of the weld pool",
        value=lambda ev: ev(weld.torch_access),
        quantity=LENGTH,
        stake=Stake.durability,
        limit=AtLeast(TORCH_ROOM),
        source=ROOM,
        caution=WELDING,
    )


def repeats(weld: Weld) -> str | None:
    """How often its load comes: as for what it holds."""
    return "once" if weld.carries else weld.repeats


def _held(ev: Evaluation, weld: Weld) -> tuple[Array, Array]:
    """The worst load in the direction of its depth, N, and how far out of the face it stands, m."""
    held = ev.build.named(weld.carries)
    if isinstance(held, Bracket):
        reach = ev(weld.reach) if weld.reach.written else ev(held.reach)
        return ev.of(brackets.load, held), reach
    if isinstance(held, Mount):
        return np.maximum(ev.of(power_unit.pressed, held), ev.of(power_unit.pulled, held)), ev(weld.reach)
    at_rest, factor, reach = ev.each(weld.load, weld.load_factor, weld.reach)
    return np.asarray(np.abs(at_rest) * factor), reach


def _also(ev: Evaluation, ref: FactRef) -> Array:
    """A load or distance that counts only where it is written."""
    return ev(ref) if ref.written else np.zeros(ev.draws)


def _at_worst(ev: Evaluation, weld: Weld, ref: FactRef) -> Array:
    return np.asarray(_also(ev, ref) * ev(weld.load_factor)) if ref.written else np.zeros(ev.draws)


def force_per_length(ev: Evaluation, weld: Weld) -> Array:
    """Force per length at the worst point, N/m."""
    if weld.pattern is None:
        raise MissingFact({f"{weld.name}.pattern": "pattern of the runs"})
    depth = ev(weld.depth)
    width = ev(weld.width) if weld.pattern not in {"one upright", "circle"} else np.ones(ev.draws)
    down, reach = _held(ev, weld)
    aside, pull = (_at_worst(ev, weld, ref) for ref in (weld.side_load, weld.pull))
    offset = _also(ev, weld.offset)
    return np.asarray(
        shared_force(
            weld_group(weld.pattern, width, depth),
            down=down,
            aside=aside,
            pull=pull,
            upright_moment=down * reach,
            sideways_moment=aside * reach,
            twist=down * offset,
        )
    )


def stress(ev: Evaluation, weld: Weld) -> Array:
    """Shear on the throat, Pa."""
    throat = handbook.throat(*ev.each(weld.leg, weld.throat_deduction))
    return np.asarray(throat_stress(ev.of(force_per_length, weld), throat))


def leg_needed(ev: Evaluation, weld: Weld) -> Array:
    """Leg at which the throat just carries the load, m: the larger one by weld metal and by welded steel."""
    by_metal = handbook.allowable_shear(ev(weld.metal_strength))
    by_steel = ev(weld.yield_strength) / safety(repeats(weld)) / np.sqrt(3.0)
    throat = ev.of(force_per_length, weld) / np.minimum(by_metal, by_steel) + ev(weld.throat_deduction)
    return np.asarray(throat * np.sqrt(2.0))


def _leg_in_words(ev: Evaluation, weld: Weld) -> str:
    return f"a leg of {show(float(leg_needed(ev, weld)[0]), display_unit(LENGTH))} just carries it, by weld metal and steel"
