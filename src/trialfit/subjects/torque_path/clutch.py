"""The clutch: it carries the engine's torque with a reserve.

Answers   elements      torque_path.clutch
          requirements  torque_path.clutch_excess; the figures torque_path.capacity.clutch, torque_path.worked_out.clutch
Not here  where the capacity comes from (clutch_capacity.py); heat of a start (gearing)

The clutch limits the torque of the line: a clutch with far too much capacity sends shocks down the line.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.ranks import is_from_its_maker
from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Requirement, Stake
from trialfit.facts.quantity import FORCE, LENGTH, RATIO, TORQUE
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit, find_unit
from trialfit.parts import Clutch
from trialfit.subjects import line
from trialfit.subjects.torque_path import sentences
from trialfit.subjects.torque_path.behind import clutch_formulas, worked_out_formulas
from trialfit.subjects.torque_path.clutch_capacity import can_be_worked_out, clutch_capacity, is_rated, worked_out
from trialfit.subjects.torque_path.element import Element

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


LEAST_RATIO = 1.2
MOST_RATIO = 1.5
"""Clutch capacity over the engine's peak torque: 1.2 to 1.5 on the road is common practice, no source."""


def elements(build: Build) -> Iterator[Element]:
    """The clutch; none for a motor that pulls from standstill without one."""
    if line.starts_from_rest(build) or line.has_converter(build):
        return
    clutch = build.first(Clutch)
    requirement = Requirement(
        id="torque_path.clutch",
        about=clutch.name if clutch else Clutch.kind,
        says=f"the clutch carries at least {LEAST_RATIO} times the engine's peak torque",
        value=over_peak,
        quantity=RATIO,
        stake=Stake.durability,
        limit=AtLeast(LEAST_RATIO),
        source=COMMON_PRACTICE,
        formulas=clutch_formulas(build),
        shows=_shows,
        cure="Fit a clutch that carries more: clamp load, diameter or facing.",
    )
    known = clutch is not None and (is_rated(clutch) or can_be_worked_out(clutch))
    lacks = () if known else (f"{clutch.name}.rated_torque" if clutch else Clutch.kind,)
    yield Element(requirement, "the clutch", reserve, lacks)


def requirements(build: Build) -> Iterator[Requirement]:
    """What it lets through; its capacity; and the calculated one where its maker's rating outranks it."""
    clutch = build.first(Clutch)
    if clutch is None:
        return
    yield Requirement(
        id="torque_path.clutch_excess",
        about=clutch.name,
        says=f"the clutch slips before the line breaks: it carries at most {MOST_RATIO} times the engine's peak torque",
        value=most_over_peak,
        quantity=RATIO,
        stake=Stake.durability,
        limit=AtMost(MOST_RATIO),
        source=COMMON_PRACTICE,
        formulas=clutch_formulas(build),
        shows=_lets_through,
        cure="Fit a clutch nearer to the engine's torque, or write a limit of your own where every part behind it bears what it lets through.",
    )
    yield Requirement(
        id="torque_path.capacity.clutch",
        about=clutch.name,
        says="torque the clutch carries before it slips",
        value=clutch_capacity,
        quantity=TORQUE,
        stake=Stake.durability,
        formulas=clutch_formulas(build),
        turned_by=AtLeast,
    )
    if is_from_its_maker(clutch.rated_torque) and can_be_worked_out(clutch):
        yield Requirement(
            id="torque_path.worked_out.clutch",
            about=clutch.name,
            says="torque that the clutch carries, calculated from clamp load and facing; its maker's rating outranks it",
            value=worked_out,
            quantity=TORQUE,
            stake=Stake.durability,
            formulas=worked_out_formulas(clutch),
            turned_by=AtLeast,
            shows=_facing,
        )


def most_over_peak(ev: Evaluation) -> Array:
    """What the clutch lets through over the engine's peak torque."""
    return np.asarray(ev.of(clutch_capacity, "load") / ev.of(line.peak_torque))


def _lets_through(ev: Evaluation) -> str:
    held, peak = ev.of(clutch_capacity, "load"), ev.of(line.peak_torque)
    return f"carries {sentences.torque(held)}, the engine makes {sentences.torque(peak)}: a dropped clutch sends all of it down the line"


def over_peak(ev: Evaluation) -> Array:
    """Clutch capacity over the engine's peak torque."""
    return ev.of(clutch_capacity) / ev.of(line.peak_torque)


def reserve(ev: Evaluation) -> Array:
    """The same over demand: 1 is just at the limit."""
    return ev.of(over_peak) / LEAST_RATIO


def _shows(ev: Evaluation) -> str:
    clutch, counts = ev.part(Clutch), ev.of(clutch_capacity)
    by_facing = can_be_worked_out(clutch) and not is_from_its_maker(clutch.rated_torque)
    rated = is_rated(clutch) and (not by_facing or ev(clutch.rated_torque)[0] <= ev.of(worked_out)[0])
    how = f"rated {sentences.torque(counts)}" if rated else _facing(ev)
    return f"{how}, over {sentences.torque(ev.of(line.peak_torque))} of peak torque"


def _facing(ev: Evaluation) -> str:
    """Faces × friction × clamp load × mean radius."""
    clutch = ev.part(Clutch)
    faces, friction, load = (ev(ref)[0] for ref in (clutch.friction_faces, clutch.facing_friction, clutch.clamp_load))
    carried = ev.of(worked_out)[0]
    radius = carried / (faces * friction * load)
    return (
        f"{sentences.ratio(faces)} faces × {sentences.ratio(friction)} × {show(float(load), display_unit(FORCE))} × "
        f"{show(float(radius), find_unit(LENGTH, 'mm'))} = {sentences.torque(carried)}"
    )
