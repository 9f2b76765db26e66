"""How long each shaft is, by its ends and by the tape, and the remaining travel of its slip joint.

Answers   requirements   length for each shaft where both are known; slip.overlap, slip.gap; shaft_length, slip.longer and
                         slip.shorter as figures
          shaft_length   of one shaft: the longer of measured and between its ends, where both are known
          lengths_told   in words: that the two are far apart
          changes        how much longer a shaft becomes, in states
Not here  half-shafts and their plunge (half_shafts.py)

The shaft behind the gearbox moves with the engine on its mounts, forward and back; where it cannot change its length it pushes the
next one through the rubber of its centre bearing, up to the first that has a slip joint. The shaft that ends at a live axle grows and
shrinks with it: worked out at ride height, bump, droop and where its length turns over, each without torque, at full drive, in hard
braking and in reverse. What can come together is taken together.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Requirement, Stake
from trialfit.evaluation.states import InStates
from trialfit.facts.quantity import LENGTH
from trialfit.facts.showing import show
from trialfit.facts.units import find_unit
from trialfit.handbook.driveline.axle_travel import rise_of_turning
from trialfit.handbook.driveline.shaft_lines import length_between, slip_travel
from trialfit.parts import Drivetrain, PropShaft
from trialfit.subjects.driveline.axle_moving import (
    RISES,
    WOUND,
    axle_positions,
    formulas_of,
    pinion_positions,
    suspension,
    ways_risen,
    ways_wound,
)
from trialfit.subjects.driveline.directions import ends_written, joint_centres
from trialfit.subjects.shaft_line import CONSTANT_VELOCITY, ShaftLine, find_line, is_live, name_in_ids, the_line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


AGREES_WITHIN = 0.010
OVERLAP_IN_DIAMETERS = 2.5
GAP_LEFT = 0.010
_STAYS: tuple[str, ...] = ("",)
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
        yield from _travel(build, last)
    for shaft in shafts[:-1]:
        if _has_slip(shaft):
            yield from _slip(build, shaft, f".{name_in_ids(build, shaft)}", moves=False)


def shaft_length(ev: Evaluation, shaft: PropShaft) -> Array:
    """Length of a shaft between its joint centres, m: as measured or between its ends; where both are known, the longer.

    The critical speed falls with the square of the length: where tape and places contradict each other, the short one flatters.
    """
    number = _placed(ev.build, shaft)
    if number is None:
        return ev(shaft.length)
    between = ev.of(_between_ends, number)
    return between if shaft.length.written is None else np.maximum(between, ev(shaft.length))


def lengths_told(ev: Evaluation, shaft: PropShaft) -> str:
    """That the measured length and the places are far apart, in numbers; nothing where they agree, or where one is missing."""
    number = _placed(ev.build, shaft)
    if number is None or shaft.length.written is None:
        return ""
    taped, between = float(ev(shaft.length)[0]), float(ev.of(_between_ends, number)[0])
    if abs(taped - between) <= AGREES_WITHIN:
        return ""
    unit = find_unit(LENGTH, "mm")
    return f"measured as {show(taped, unit)}, but {show(between, unit)} between its joint centres as placed: the longer counts"


def _placed(build: Build, shaft: PropShaft) -> int | None:
    """The number of a shaft in the line, if both its ends are written."""
    line = find_line(build)
    if not isinstance(line, ShaftLine) or shaft not in line.shafts:
        return None
    number = line.shafts.index(shaft)
    return number if ends_written(build, line, number) else None


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
    formulas = (slip_travel, *(formulas_of(build) if moves and is_live(build) else ()))
    yield Requirement(
        id=f"driveline.slip.overlap{suffix}",
        about=shaft.name,
        says=f"with the shaft at its longest, its sliding spline is still engaged over {OVERLAP_IN_DIAMETERS} spline diameters",
        value=partial(_overlaps, shaft=shaft),
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
        says="with the shaft at its shortest, its slip joint can still close",
        value=partial(_gaps, shaft=shaft),
        quantity=LENGTH,
        stake=Stake.durability,
        limit=AtLeast(GAP_LEFT),
        source=COMMON_PRACTICE,
        formulas=formulas,
        cure="Shorten the shaft, or move the gearbox forward, so that the slip joint never closes up.",
    )


def _travel(build: Build, shaft: PropShaft) -> Iterator[Requirement]:
    over = "bump, droop and torque, and with the engine on its mounts" if is_live(build) else "the engine on its mounts"
    for name, side in (("longer", AtMost), ("shorter", AtMost)):
        yield Requirement(
            id=f"driveline.slip.{name}",
            about=shaft.name,
            says=f"how much {name} than at ride height the shaft becomes over {over}",
            value=partial(_change, shaft=shaft, sign=1.0 if name == "longer" else -1.0),
            quantity=LENGTH,
            stake=Stake.durability,
            formulas=(slip_travel, *(formulas_of(build) if is_live(build) else ())),
            turned_by=side,
        )


def _change(ev: Evaluation, shaft: PropShaft, sign: float) -> Array:
    """The largest growth over the states, or the largest shrinking, m."""
    return np.asarray((sign * ev.of(changes, shaft).values).max(axis=1))


def _overlaps(ev: Evaluation, shaft: PropShaft) -> InStates:
    overlap, _ = ev.each(shaft.spline_overlap, shaft.spline_diameter)
    grown = ev.of(changes, shaft)
    return InStates(overlap[:, None] - grown.values, grown.names)


def _gaps(ev: Evaluation, shaft: PropShaft) -> InStates:
    gap, grown = ev(shaft.slip_gap), ev.of(changes, shaft)
    return InStates(gap[:, None] + grown.values, grown.names)


def overlap_left(ev: Evaluation, shaft: PropShaft) -> Array:
    """Engaged length of the sliding spline with the shaft at its longest, m."""
    return np.asarray(_overlaps(ev, shaft).values.min(axis=1))


def gap_left(ev: Evaluation, shaft: PropShaft) -> Array:
    """How far the slip joint can still close with the shaft at its shortest, m."""
    return np.asarray(_gaps(ev, shaft).values.min(axis=1))


def changes(ev: Evaluation, shaft: PropShaft) -> InStates:
    """How much longer than at ride height a shaft is, m: the gearbox forward and back, times what a live axle does."""
    kind = suspension(ev)
    line = ev.of(the_line)
    number = line.shafts.index(shaft)
    front, rear = ev.of(joint_centres, number)
    moved, names = front[None], _STAYS
    if number == _takes_surge(line):
        surge = ev.of(output_surge)[:, None] * [1.0, 0.0, 0.0]
        moved, names = np.stack([front + surge, front - surge]), ("gearbox forward", "gearbox back")
    ends, where = rear[None], _STAYS
    if number == len(line.shafts) - 1 and kind == "live axle":
        ends, where = ev.of(_ends_moved)
    grown = np.asarray(slip_travel(front, rear, ends[:, None], moved[None]))
    joined = tuple(", ".join(filter(None, (one, other))) for one in where for other in names)
    return InStates(grown.reshape(-1, ev.draws).T, joined)


def _takes_surge(line: ShaftLine) -> int:
    """Number of the shaft that the surge of the gearbox works on: the first with a slip joint; without one, the first.

    A shaft that keeps its length is pushed through the rubber of its centre bearing and hands the surge on. A constant-velocity joint
    may be one that does not plunge.
    """
    return next((number for number, shaft in enumerate(line.shafts) if _has_slip(shaft)), 0)


def output_surge(ev: Evaluation) -> Array:
    """How far the gearbox output moves forward and back on the mounts, m: as written for it, else for the whole drivetrain."""
    own, drivetrain = ev.of(the_line).gearbox.output_surge, ev.build.first(Drivetrain)
    if own.written is None and drivetrain is not None and drivetrain.fore_aft.written is not None:
        return ev(drivetrain.fore_aft)
    return ev(own)


def _ends_moved(ev: Evaluation) -> tuple[Array, tuple[str, ...]]:
    """Where the joint on the pinion goes, (positions, draws, 3), in words too: at three rises and where its length turns over."""
    line = ev.of(the_line)
    front, _ = ev.of(joint_centres, len(line.shafts) - 1)
    wound, (_, bump, droop) = ev.of(ways_wound), ev.of(ways_risen)
    known = ev.of(axle_positions).points.reshape(len(RISES), len(WOUND), ev.draws, 3)
    ride, high, low = np.asarray(length_between(front, known))
    turning = np.asarray(rise_of_turning(low, ride, high, bump, -droop))
    between = pinion_positions(ev, turning, wound).points
    names = tuple(f"{rise}, {way}" for rise in (*RISES, "between the stops") for way in WOUND)
    return np.concatenate([known.reshape(-1, ev.draws, 3), between]), names


def _has_slip(shaft: PropShaft) -> bool:
    return any(ref.written is not None for ref in (shaft.spline_diameter, shaft.spline_overlap, shaft.slip_gap))


def _plunges(shaft: PropShaft) -> bool:
    """Whether a constant-velocity joint may take the shaft's travel in place of a spline."""
    return CONSTANT_VELOCITY in {shaft.front_joint, shaft.rear_joint}
