"""The sheet for lifting: the load on the hook, each leg of the sling, the crane at its hole, and the stands.

Answers   lifting_sheet   of every lift and all stands; without any, a page to fill in
Not here  tension, tilt and the rated load of the crane (subjects/lifting)
"""

from __future__ import annotations

from itertools import zip_longest
from typing import TYPE_CHECKING

from trialfit.facts.quantity import LENGTH, MASS
from trialfit.parts import Crane, Lift, MassPart, Stands
from trialfit.sheets.amounts import NOT_KNOWN
from trialfit.sheets.cautions import MANUAL_FIRST
from trialfit.sheets.judged import about, box, cell, jobs_to_tick, missing_of, shown, text_of, unit_for, verdicts
from trialfit.sheets.sheet import (
    Blank,
    Caution,
    Column,
    Fields,
    Heading,
    Line,
    Missing,
    Paragraph,
    Sheet,
    Table,
    Tick,
    TickList,
)
from trialfit.subjects.lifting.cautions import HOISTING, STANDING
from trialfit.subjects.lifting.hoisting import legs_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.parts import SlingLeg
    from trialfit.sheets.known import Known
    from trialfit.sheets.sheet import Block, Cell

_NAME, _TITLE = "lifting", "Lifting and standing"
_NO_LIFT = "No lift is in the build yet. Fill in by hand before anything is lifted, then write it into the build."
_NO_STANDS = "No stands are in the build yet."
BEFORE_LIFT = (
    "plates on crane, sling, shackles and eyes read, and written below",
    "slings, hooks and eyes inspected; no cut, no kink, latch closes",
    "floor hard and level, path of the crane swept",
    "load free of the car: mounts, lines, wires, earth strap",
    "lifted a hand's breadth and held there: attitude as planned",
    "blocks ready to set the load down on",
)
_UNDER = (
    "floor hard and level, stands under the jacking points named by the car's maker",
    "pins locked, wheels on the floor chocked",
    "car rocked by hand: it does not move",
    "each end pressed down before and after anything heavy comes out: no stand goes light",
)
_EMPTY_LEGS = 4


def lifting_sheet(known: Known) -> Sheet:
    """The lifts with their legs, the crane, the stands, and the jobs that need a hoist."""
    lifts, stands = known.build.all(Lift), known.build.all(Stands)
    blocks: list[Block] = [Caution(texts=(HOISTING, STANDING, MANUAL_FIRST))]
    for lift in lifts:
        blocks += _lift(known, lift)
    if not lifts:
        blocks += _lift_by_hand(known)
    blocks += _cranes(known)
    blocks += [Heading(text="Before the load leaves the floor"), TickList(lines=BEFORE_LIFT)]
    blocks.append(Heading(text="Stands"))
    blocks += _stands(known, stands)
    blocks.append(TickList(lines=_UNDER))
    jobs = [job for job in known.site.network.jobs.values() if "hoist" in job.uses]
    if jobs:
        blocks += [Heading(text="Jobs that need the hoist"), *jobs_to_tick(known, jobs)]
    missing = missing_of(one for one in known.report.findings if one.subject == "lifting")
    if missing:
        blocks.append(Missing(facts=missing))
    blocks.append(Fields(lines=(Line(label="in charge of the lift"), Line(label="second person"), Line(label="date"))))
    return Sheet(name=_NAME, title=_TITLE, build=known.build.name, blocks=tuple(blocks))


def _lift(known: Known, lift: Lift) -> Iterator[Block]:
    note = known.build.document.parts[lift.name].note
    yield Heading(text=f"Lift: {lift.name}")
    if note:
        yield Paragraph(text=note)
    yield Fields(
        lines=(
            Line(label="hangs on it", value=_load(known, lift)),
            Line(label="mass together", value=shown(known, f"lifting.mass.{lift.name}")),
            Line(label="centre of mass", value=_forward(shown(known, f"lifting.centre.{lift.name}"))),
            *_hook(known, lift),
            *_hangs(known, lift),
            *_way(known, lift),
            Line(label="crane and hole", value=_crane_of(known, lift)),
            Line(label="reach needed", value=text_of(known, lift.required_reach)),
        )
    )
    yield from verdicts(known, about(known, "lifting", lift.name))
    legs = legs_of(known.build, lift)
    yield _legs(known, legs)
    yield from verdicts(known, about(known, "lifting", *(leg.name for leg in legs)) if legs else ())


def _hook(known: Known, lift: Lift) -> Iterator[Line]:
    """Where the hook should be and is; on a leveller how far its screw has to move it."""
    if lift.leveller_travel.written:
        yield Line(label="screw from the middle, at most", value=shown(known, f"lifting.leveller.{lift.name}"))
    else:
        yield Line(label="hook should be", value=_forward(shown(known, f"lifting.hook.{lift.name}")))
    yield Line(label="hook is at", value=_place(known, lift))


def _hangs(known: Known, lift: Lift) -> Iterator[Line]:
    """How far from its target it hangs along the car, and how far it leans to a side."""
    if not lift.leveller_travel.written:
        yield Line(label="off its target tilt", value=shown(known, f"lifting.tilt.{lift.name}"))
    if legs_of(known.build, lift):
        yield Line(label="leans to a side", value=shown(known, f"lifting.side_tilt.{lift.name}"))


def _way(known: Known, lift: Lift) -> Iterator[Line]:
    """The tilts of the way up and in, where they are written."""
    for label, ref in (("least tilt on the way", lift.lowest_tilt), ("steepest tilt on the way", lift.steepest_tilt)):
        if ref.written:
            yield Line(label=label, value=text_of(known, ref))


def _load(known: Known, lift: Lift) -> str:
    parts = [part for part in known.build.all(MassPart) if part.hoisted_by == lift.name]
    return "; ".join(f"{part.name}: {text_of(known, part.mass) or 'not weighed'}" for part in parts)


def _forward(text: str) -> str:
    return f"{text} forward of the front axle" if text and text != NOT_KNOWN else text


def _place(known: Known, lift: Lift) -> str:
    texts = [text_of(known, ref) for ref in (lift.hook_x, lift.hook_y, lift.hook_z)]
    labels = ("forward", "left", "up")
    return "; ".join(f"{label} {text}" for label, text in zip(labels, texts, strict=True) if text)


def _crane_of(known: Known, lift: Lift) -> str:
    hole = text_of(known, lift.hole)
    return ", ".join(filter(None, (lift.crane or "", f"hole {hole}" if hole else "")))


def _legs(known: Known, legs: tuple[SlingLeg, ...]) -> Table:
    columns = (
        Column(title="leg", share=2),
        Column(title="tension", share=2.2),
        Column(title="from the level", share=1.6),
        Column(title="rated", share=1.6),
        Column(title="plate read", share=1.4),
        Column(title="looked over"),
    )
    unit = Blank(unit=unit_for(MASS, known.units))
    rows = [
        (
            leg.name,
            shown(known, f"lifting.leg_tension.{leg.name}"),
            shown(known, f"lifting.leg_angle.{leg.name}"),
            cell(known, leg.rated_mass),
            unit,
            box(known, "lifting", leg.name),
        )
        for leg in legs
    ]
    empty = (Blank(), Blank(), Blank(unit="°"), unit, unit, Tick())
    return Table(columns=columns, rows=tuple(rows) or (empty,) * _EMPTY_LEGS)


def _lift_by_hand(known: Known) -> Iterator[Block]:
    yield Heading(text="Lift")
    yield Paragraph(text=_NO_LIFT, strong=True)
    labels = (
        "hangs on it",
        "mass together",
        "crane",
        "hole and reach",
        "rated load there, from the plate",
        "hook is at",
    )
    yield Fields(lines=tuple(Line(label=label) for label in labels))
    yield _legs(known, ())


def _cranes(known: Known) -> Iterator[Block]:
    for crane in known.build.all(Crane):
        yield Heading(text=f"Crane: {crane.name}")
        columns = (
            Column(title="hole", right=True),
            Column(title="reach", share=1),
            Column(title="rated, from the plate", share=1),
            Column(title="plate read", share=1),
        )
        unit = Blank(unit=unit_for(MASS, known.units))
        holes = zip_longest(crane.hole_reaches, crane.hole_ratings)
        rows: list[tuple[Cell, ...]] = [
            (
                str(number),
                cell(known, reach) if reach else Blank(unit=unit_for(LENGTH, known.units)),
                cell(known, rating) if rating else unit,
                unit,
            )
            for number, (reach, rating) in enumerate(holes, 1)
        ]
        if rows:
            yield Table(columns=columns, rows=tuple(rows))


def _stands(known: Known, stands: tuple[Stands, ...]) -> Iterator[Block]:
    if not stands:
        yield Paragraph(text=_NO_STANDS, strong=True)
    columns = (
        Column(title="under", share=1),
        Column(title="stands", share=2),
        Column(title="one is rated", share=2),
        Column(title="one carries, at most", share=2),
        Column(title="apart", share=1.4),
        Column(title="inboard of axle", share=1.4),
        Column(title="in place"),
    )
    mass, length = (Blank(unit=unit_for(quantity, known.units)) for quantity in (MASS, LENGTH))
    rows: list[tuple[Cell, ...]] = [
        (
            one.under or "",
            "; ".join(filter(None, (one.name, text_of(known, one.count)))),
            cell(known, one.rated_mass),
            shown(known, f"lifting.stand_load.{one.name}"),
            cell(known, one.spacing),
            cell(known, one.inboard),
            box(known, "lifting", one.name),
        )
        for one in stands
    ]
    rows = rows or [(end, Blank(), mass, "", length, length, Tick()) for end in ("front", "rear")]
    yield Table(columns=columns, rows=tuple(rows))
    yield from verdicts(known, about(known, "lifting", *(one.name for one in stands)) if stands else ())
