"""Size and place of a weld: least and largest leg, length of run, distance from an edge, and room to weld.

Answers   requirements   weld_hinge, weld_leg, weld_largest_leg, weld_edge, weld_run, weld_place, weld_angle, torch_access, each with the name
Not here  what it carries (welds.py); the sheet under it (sheet.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import AtLeast, AtMost, Between, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import ANGLE, COUNT, LENGTH
from trialfit.handbook.sources import NO_SOURCE
from trialfit.handbook.structure import welds as handbook
from trialfit.parts import Weld
from trialfit.subjects.structure import joined, loads
from trialfit.subjects.structure.margins import WELDING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


LEAST_LEG = Source("AISC/AWS table of least fillet sizes, no more than the thinner part", SourceKind.published)
LARGEST_LEG = Source("AISC/AWS: largest leg along an edge", SourceKind.published)
ON_SHEET = Source(
    f"{NO_SOURCE}: 1.0 to 1.2 times the thinner sheet, a millimetre more at best", SourceKind.common_practice
)
SHORTEST_RUN = Source("AISC/AWS: four legs and 38 mm", SourceKind.published)
FROM_AN_EDGE = Source(
    "AISC 360 J2.2b, from memory: a fillet stops one leg short of an edge; 10 mm by common practice",
    SourceKind.from_memory,
)
ONE_SIDED = Source(
    "EN 1993-1-8, 4.12, from memory: no bending about the root of a one-sided fillet", SourceKind.from_memory
)
FACES = Source("AWS D1.1, from memory: fillets between faces at 60 to 135°", SourceKind.from_memory)
ROOM = Source(f"{NO_SOURCE}: 100 mm for a torch and to see the pool", SourceKind.common_practice)

OPEN_FACES = (np.radians(60.0), np.radians(135.0))
TORCH_ROOM = 0.100
LEAST_TO_EDGE = 0.010


def requirements(build: Build) -> Iterator[Requirement]:
    """How large each weld must be, and where it may be."""
    for weld in build.all(Weld):
        yield from _legs(weld)
        if weld.pattern == "one upright" and weld.side_load.written:
            yield _hinge(weld)
        if weld.run_length.written:
            yield _run(weld)
        if weld.edge_distance.written:
            yield _place(weld)
        yield from _access(weld)


def _legs(weld: Weld) -> Iterator[Requirement]:
    yield Requirement(
        id=f"structure.weld_leg.{weld.name}",
        about=weld.name,
        says=f"{weld.name} is large enough for the thicker part, which draws the heat away",
        value=lambda ev: ev(weld.leg),
        quantity=LENGTH,
        stake=Stake.safety,
        limit=AtLeast(lambda ev: handbook.smallest_leg(ev.of(joined.thicker, weld), ev.of(joined.thinner, weld))),
        source=LEAST_LEG,
        formulas=(handbook.smallest_leg,),
        caution=WELDING,
    )
    yield Requirement(
        id=f"structure.weld_largest_leg.{weld.name}",
        about=weld.name,
        says=f"the leg of {weld.name} stays within what the thinner part takes: more burns through, and the sheet tears beside it",
        value=lambda ev: ev(weld.leg),
        quantity=LENGTH,
        stake=Stake.durability,
        limit=AtMost(lambda ev: handbook.largest_leg_on_sheet(ev.of(joined.thinner, weld))),
        source=ON_SHEET,
        formulas=(handbook.largest_leg_on_sheet,),
        caution=WELDING,
        cure="make the leg smaller and the runs longer, or put a doubler plate between the part and the sheet",
    )
    if weld.on_edge == "yes":
        yield Requirement(
            id=f"structure.weld_edge.{weld.name}",
            about=weld.name,
            says=f"{weld.name} leaves the edge that it runs along visible",
            value=lambda ev: ev(weld.leg),
            quantity=LENGTH,
            stake=Stake.durability,
            limit=AtMost(lambda ev: handbook.longest_leg(ev.of(joined.thinner, weld))),
            source=LARGEST_LEG,
            formulas=(handbook.longest_leg,),
            caution=WELDING,
        )


def _hinge(weld: Weld) -> Requirement:
    return Requirement(
        id=f"structure.weld_hinge.{weld.name}",
        about=weld.name,
        says=f"{weld.name} has runs enough for the side load on its arm: a single fillet folds about its root like a hinge",
        value=lambda ev: np.ones(ev.draws),
        quantity=COUNT,
        stake=Stake.safety,
        limit=AtLeast(partial(_runs_needed, weld=weld)),
        source=ONE_SIDED,
        caution=WELDING,
        cure='weld the plate on both faces, pattern = "two upright" with its thickness as width, and stay it sideways with a gusset',
    )


def _runs_needed(ev: Evaluation, weld: Weld) -> Array:
    levered = ev(weld.side_load)[0] * ev.of(loads.reach, weld)[0] != 0
    return np.full(ev.draws, 2.0 if levered else 1.0)


def _run(weld: Weld) -> Requirement:
    return Requirement(
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


def _place(weld: Weld) -> Requirement:
    return Requirement(
        id=f"structure.weld_place.{weld.name}",
        about=weld.name,
        says=f"the toe of {weld.name} keeps away from edges and holes of the sheet, where it would melt away or tear out",
        value=lambda ev: ev(weld.edge_distance),
        quantity=LENGTH,
        stake=Stake.safety,
        limit=AtLeast(partial(_least_to_edge, weld=weld)),
        source=FROM_AN_EDGE,
        caution=WELDING,
        cure="move the part inwards, or put a doubler plate under it that reaches past the hole",
    )


def _least_to_edge(ev: Evaluation, weld: Weld) -> Array:
    return np.maximum(ev(weld.leg), LEAST_TO_EDGE)


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
