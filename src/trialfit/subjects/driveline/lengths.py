"""How long each shaft is, by its ends and by the tape, and the remaining travel of its slip joint.

Answers   requirements   length for each shaft where both are known; slip.overlap, slip.gap; shaft_length, slip.longer and
                         slip.shorter as figures
          shaft_length   of one shaft: measured, else between its ends
Not here  half-shafts and their plunge (half_shafts.py)

With a live axle the shaft that ends at it grows and shrinks: worked out at ride height, bump, droop, and where it lies level,
each without and with wind-up. With independent suspension the ends stay and the slip joint only takes up engine movement.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Requirement, Stake
from trialfit.facts.quantity import LENGTH
from trialfit.handbook.driveline.axle_travel import pinion_joint_moved, rise_to_level
from trialfit.handbook.driveline.shaft_lines import length_between, slip_travel
from trialfit.parts import PropShaft
from trialfit.subjects.driveline.directions import (
    axle_positions,
    ends_written,
    joint_centres,
    pinion_positions,
    suspension,
)
from trialfit.subjects.shaft_line import CONSTANT_VELOCITY, ShaftLine, find_line, is_live, name_in_ids, the_line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


AGREES_WITHIN = 0.010
OVERLAP_IN_DIAMETERS = 2.5
GAP_LEFT = 0.010
PULLS_OUT = "A spline that pulls out drops the shaft: the maker's mark on it outranks this figure."


def requirements(build: Build) -> Iterator[Requirement]:
    """Limits of the shaft lengths and of the slip-joint travel."""
    line = find_line(build)
    if line is None:
        return
    if isinstance(line, ShaftLine):
        for number, shaft in enumerate(line.shafts):
            yield from _length(name_in_ids(build, shaft), number, shaft, placed=ends_written(build, line, number))
    shafts = line.shafts if isinstance(line, ShaftLine) else build.all(PropShaft)
    if not shafts:
        return
    last = shafts[-1]
    if _has_slip(last) or not any(_has_slip(shaft) for shaft in shafts):
        if _has_slip(last) or not _plunges(last):
            yield from _slip(build, last, "", moves=True)
        if is_live(build):
            yield from _travel(last)
    for shaft in shafts[:-1]:
        if _has_slip(shaft):
            yield from _slip(build, shaft, f".{name_in_ids(build, shaft)}", moves=False)


def shaft_length(ev: Evaluation, shaft: PropShaft) -> Array:
    """Length of a shaft between its joint centres, m: as measured, else between its ends where they are written."""
    if shaft.length.written is not None:
        return ev(shaft.length)
    line = find_line(ev.build)
    if isinstance(line, ShaftLine) and shaft in line.shafts and ends_written(ev.build, line, line.shafts.index(shaft)):
        return ev.of(_between_ends, line.shafts.index(shaft))
    return ev(shaft.length)


def _between_ends(ev: Evaluation, number: int) -> Array:
    return np.asarray(length_between(*ev.of(joint_centres, number)))


def _length(name: str, number: int, shaft: PropShaft, *, placed: bool) -> Iterator[Requirement]:
    if placed and shaft.length.written is not None:
        yield Requirement(
            id=f"driveline.length.{name}",
            about=shaft.name,
            says="the measured shaft fits between its joint centres as placed: length and places agree",
            value=lambda ev: np.abs(ev.of(_between_ends, number) - ev(shaft.length)),
            quantity=LENGTH,
            stake=Stake.durability,
            limit=AtMost(AGREES_WITHIN),
            source=COMMON_PRACTICE,
            formulas=(length_between,),
        )
    yield Requirement(
        id=f"driveline.shaft_length.{name}",
        about=shaft.name,
        says="length of the shaft between its joint centres as placed, at ride height",
        value=partial(_between_ends, number=number),
        quantity=LENGTH,
        stake=Stake.durability,
        formulas=(length_between,),
    )


def _slip(build: Build, shaft: PropShaft, suffix: str, *, moves: bool) -> Iterator[Requirement]:
    formulas = (slip_travel, pinion_joint_moved) if moves and is_live(build) else ()
    when = "at its longest" if moves else "at ride height"
    yield Requirement(
        id=f"driveline.slip.overlap{suffix}",
        about=shaft.name,
        says=f"with the shaft {when}, its sliding spline is still engaged over {OVERLAP_IN_DIAMETERS} spline diameters",
        value=partial(overlap_left, shaft=shaft, moves=moves),
        quantity=LENGTH,
        stake=Stake.safety,
        limit=AtLeast(lambda ev: OVERLAP_IN_DIAMETERS * ev(shaft.spline_diameter)),
        source=COMMON_PRACTICE,
        formulas=formulas,
        caution=PULLS_OUT,
        cure="Lengthen the shaft, or fit a slip joint with a longer spline.",
    )
    yield Requirement(
        id=f"driveline.slip.gap{suffix}",
        about=shaft.name,
        says=f"with the shaft {'at its shortest' if moves else 'at ride height'}, its slip joint can still close",
        value=partial(gap_left, shaft=shaft, moves=moves),
        quantity=LENGTH,
        stake=Stake.durability,
        limit=AtLeast(GAP_LEFT),
        source=COMMON_PRACTICE,
        formulas=formulas,
        cure="Shorten the shaft, or move the gearbox forward, so that the slip joint never closes up.",
    )


def _travel(shaft: PropShaft) -> Iterator[Requirement]:
    for name, says in (("longer", "longer"), ("shorter", "shorter")):
        yield Requirement(
            id=f"driveline.slip.{name}",
            about=shaft.name,
            says=f"how much {says} than at ride height the shaft becomes over bump, droop and wind-up",
            value=partial(_travel_left, way=name),
            quantity=LENGTH,
            stake=Stake.durability,
            formulas=(slip_travel, pinion_joint_moved),
        )


def _travel_left(ev: Evaluation, way: str) -> Array:
    longest, shortest = ev.of(travel)
    return longest if way == "longer" else -shortest


def overlap_left(ev: Evaluation, shaft: PropShaft, *, moves: bool) -> Array:
    """Engaged length of the sliding spline with the shaft at its longest, m."""
    overlap, _ = ev.each(shaft.spline_overlap, shaft.spline_diameter)
    return overlap - ev.of(travel)[0] if moves else overlap


def gap_left(ev: Evaluation, shaft: PropShaft, *, moves: bool) -> Array:
    """How far the slip joint can still close with the shaft at its shortest, m."""
    gap = ev(shaft.slip_gap)
    return gap + ev.of(travel)[1] if moves else gap


def travel(ev: Evaluation) -> tuple[Array, Array]:
    """How much longer, and how much shorter (negative), the last shaft gets over its travel, m; zero where its ends stay."""
    if suspension(ev) != "live axle":
        return np.zeros(ev.draws), np.zeros(ev.draws)
    final_drive = ev.of(the_line).final_drive
    front, rear = ev.of(joint_centres, len(ev.of(the_line).shafts) - 1)
    axle = ev.of(axle_positions)
    bump, droop = ev.each(final_drive.bump_travel, final_drive.droop_travel)
    wound = axle.wound[[0, -1]]
    level = rise_to_level(front[:, 2], pinion_positions(ev, np.zeros(wound.shape), wound).points[..., 2], bump, droop)
    points = np.concatenate([axle.points, pinion_positions(ev, np.asarray(level), wound).points])
    grown = np.asarray(slip_travel(front, rear, points))
    return grown.max(axis=0), grown.min(axis=0)


def _has_slip(shaft: PropShaft) -> bool:
    return any(ref.written is not None for ref in (shaft.spline_diameter, shaft.spline_overlap, shaft.slip_gap))


def _plunges(shaft: PropShaft) -> bool:
    """Whether a constant-velocity joint may take the shaft's travel in place of a spline."""
    return CONSTANT_VELOCITY in {shaft.front_joint, shaft.rear_joint}
