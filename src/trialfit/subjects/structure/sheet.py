"""A thin sheet or wall under a weld: whether the lever and the pull of the part fold it, or crack it in time.

Answers   requirements, of   sheet_bending with the name of the weld
Not here  stress in the plane of the sheet, and the weld (welds.py)
Method    The pattern, with a leg all round, is a stiff patch on a sheet that is free between what holds it. A load that comes once
          must not fold it (yield lines), one that repeats must not crack it: elastic stress at the toe, which counts in full, so that
          the margin on yield is 1.5 in both. Of a wall that runs along the load and one that runs across it the worse counts. A doubler
          bends between the pattern and its own weld, the sheet round the doubler.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import AtMost, Requirement, Source, SourceKind, Stake
from trialfit.evaluation.states import crossed
from trialfit.facts.quantity import LENGTH, STRESS
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.structure import thin_sheet
from trialfit.handbook.structure.welded_metals import repeated_yield
from trialfit.parts import Weld
from trialfit.subjects.structure import joined, loads, metals, weld_forces
from trialfit.subjects.structure.margins import SAFETY, WELDING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.states import InStates
    from trialfit.handbook.arrays import Array

SOURCE = Source(
    "thin plates; yield lines of a chord face from memory, EN 1993-1-8; yield over 1.5 by common practice, no source",
    SourceKind.common_practice,
)
_ELASTIC = (thin_sheet.lever_stress_along, thin_sheet.lever_stress_across, thin_sheet.pull_stress)
_FOLDING = (thin_sheet.lever_yield_along, thin_sheet.lever_yield_across, thin_sheet.pull_yield)
WALL, DOUBLER = "sheet", "doubler plate"
STEP, THICKEST, PAST = 0.0005, 0.010, 3.0
"""Thickness of plate is sold in half millimetres, m; nobody welds a thicker doubler to a car body, m; legs that it reaches past the
pattern: common practice, no source."""
_ONE, _HAIR = 0.001, 1e-6


def requirements(build: Build) -> Iterator[Requirement]:
    """That the sheet under each weld bears being bent."""
    yield from of(build, build.all(Weld))


def of(build: Build, some: Iterable[Weld]) -> Iterator[Requirement]:
    """The same for some welds; nothing for what cannot bend."""
    for weld in some:
        if not joined.bends(build, weld):
            continue
        often = loads.how_often(build, weld)
        yield Requirement(
            id=f"structure.sheet_bending.{weld.name}",
            about=weld.name,
            says=f"the sheet or wall under {weld.name} bears the lever and pull of the part, which come {often}, without folding or cracking",
            value=partial(bending, weld=weld),
            quantity=STRESS,
            stake=Stake.safety,
            limit=AtMost(partial(allowed, weld=weld)),
            source=SOURCE,
            formulas=(*_ELASTIC, *_FOLDING, repeated_yield),
            shows=partial(_shows, weld=weld),
            caution=WELDING,
            cure=(
                "weld a doubler plate all round between the part and the sheet that reaches to the folds, walls or rails which hold "
                "the sheet, or move the part onto a rail, or shorten its arm"
            ),
        )


def _plates(weld: Weld) -> tuple[str, ...]:
    return (DOUBLER, WALL) if joined.has_doubler(weld) else (WALL,)


def bending(ev: Evaluation, weld: Weld) -> InStates:
    """Stress in sheet and doubler, Pa: the yield that they need against a load that comes once, else the elastic stress."""
    on = ev.of(weld_forces.loads_on, weld)
    ev.of(_widths_that_fit, weld)
    moment = np.hypot(on.down * on.reach, on.aside * on.reach)
    width, depth, leg = ev.of(_patch_width, weld), ev.of(_patch_depth, weld), ev(weld.leg)
    pattern = width + 2 * leg, depth + 2 * leg
    found = []
    for plate in _plates(weld):
        if plate == DOUBLER:
            patch, free, thickness = pattern, ev(weld.doubler_width), ev(weld.doubler_thickness)
        elif joined.has_doubler(weld):
            patch = ev(weld.doubler_width), ev(weld.doubler_depth)
            free, thickness = ev.each(weld.base_width, weld.base_thickness)
        else:
            patch, free, thickness = pattern, ev(weld.base_width), ev.of(joined.base_thickness, weld)
        found.append(_of_plate(ev, weld, (moment, on.pull), patch, free, thickness))
    return _in_states(ev, weld, np.stack(found))


def _widths_that_fit(ev: Evaluation, weld: Weld) -> Array:
    """The free width. Raises MissingFact where the sheet or the doubler is narrower than what stands on it."""
    if weld.base_width.written is None and (why := joined.not_solid(ev.build, weld)):
        raise MissingFact({weld.base_width.path: f"{weld.base_width.spec.says}. {why}"})
    free, width, depth = ev(weld.base_width), ev.of(_patch_width, weld), ev.of(_patch_depth, weld)
    if joined.has_doubler(weld):
        plate = ev.each(weld.doubler_width, weld.doubler_depth)
        for ref, over, under in ((weld.doubler_width, width, plate[0]), (weld.doubler_depth, depth, plate[1])):
            if over[0] > under[0]:
                raise MissingFact({ref.path: f"measured again: it is {_mm(under)} and the pattern on it {_mm(over)}"})
        return free
    across = np.minimum(width, depth)
    if across[0] > free[0] and weld.pattern != "one upright":
        raise MissingFact(
            {
                weld.base_width.path: f"{weld.base_width.spec.says}; taped again: it is {_mm(free)}, and what is welded on it is {_mm(across)} "
                "the smaller way. Where that reaches over what holds the sheet on both sides, write its own width"
            }
        )
    return free


def _mm(length: Array) -> str:
    return show(float(length[0]), display_unit(LENGTH))


def _shows(ev: Evaluation, weld: Weld) -> str:
    said = (
        joined.not_solid(ev.build, weld),
        metals.said(weld) if joined.held_metal(ev.build, weld) is None else "",
        loads.unheeded(ev.build, weld),
        _doubler_in_words(ev, weld),
    )
    return "; ".join(filter(None, said))


def _doubler_in_words(ev: Evaluation, weld: Weld) -> str:
    """The doubler plate that would bear it, where the sheet or its doubler does not."""
    reserve = ev.of(allowed, weld).values / np.maximum(ev.of(bending, weld).values, 1.0)
    if reserve.min() >= 1:
        return ""
    thickness, side, depth = ev.of(doubler_needed, weld), *(float(part[0]) for part in ev.of(_doubler_size, weld))
    largest = float(np.ceil(thickness.max() / STEP - _HAIR) * STEP)
    size = f"{side * 1e3:.0f} × {depth * 1e3:.0f} mm"
    if largest > THICKEST:
        return (
            f"no doubler plate helps: one of {size}, to the folds, would have to be {largest * 1e3:g} mm thick. Make the pattern deeper "
            "or the arm shorter, or stand the part on two walls"
        )
    return f"a doubler plate of {largest * 1e3:g} mm, {size}, to the folds and welded all round, bears it"


def _doubler_size(ev: Evaluation, weld: Weld) -> tuple[Array, Array]:
    """Width and depth of a plate that reaches to what holds the sheet and past the pattern."""
    free, depth, leg = ev(weld.base_width), ev.of(_patch_depth, weld), ev(weld.leg)
    return np.maximum(free, ev.of(_patch_width, weld) + 2 * PAST * leg), np.maximum(free, depth + 2 * PAST * leg)


def doubler_needed(ev: Evaluation, weld: Weld) -> Array:
    """Thickness of a doubler plate to the folds that bears the load, m, (draws,): stress in it falls with its square."""
    on, leg = ev.of(weld_forces.loads_on, weld), ev(weld.leg)
    moment = np.hypot(on.down * on.reach, on.aside * on.reach)
    pattern = ev.of(_patch_width, weld) + 2 * leg, ev.of(_patch_depth, weld) + 2 * leg
    width, _ = ev.of(_doubler_size, weld)
    at_one = _of_plate(ev, weld, (moment, on.pull), pattern, width, np.full(ev.draws, _ONE))
    strength, metal = ev.of(joined.held_yield, weld), joined.held_metal(ev.build, weld)
    bears = np.stack([metals.counted(strength, metal, way.repeats) for way in loads.comings(ev.build, weld)])
    return np.asarray(_ONE * np.sqrt((at_one * SAFETY["once"] / bears).max(axis=0)))


def _of_plate(
    ev: Evaluation,
    weld: Weld,
    load: tuple[Array, Array],
    patch: tuple[Array, Array],
    free: Array,
    thickness: Array,
) -> Array:
    """Stress in one plate in each coming, Pa."""
    moment, pull = load
    ways = (*patch, free, thickness), (*patch[::-1], free, thickness)  # the wall runs along the load, or across it
    at_toe = np.maximum(
        thin_sheet.lever_stress_along(moment, *ways[0]) + thin_sheet.pull_stress(pull, *ways[0]),
        thin_sheet.lever_stress_across(moment, *ways[1]) + thin_sheet.pull_stress(pull, *ways[1]),
    )
    to_fold = np.maximum(
        thin_sheet.lever_yield_along(moment, *ways[0]) + thin_sheet.pull_yield(pull, *ways[0]),
        thin_sheet.lever_yield_across(moment, *ways[1]) + thin_sheet.pull_yield(pull, *ways[1]),
    )
    once = np.array([[way.repeats == "once"] for way in loads.comings(ev.build, weld)])
    return np.where(once, to_fold, at_toe)


def _patch_width(ev: Evaluation, weld: Weld) -> Array:
    """Width of the pattern, m: none for one run; of a circle the side of a square of the same area."""
    if weld.pattern == "one upright":
        return np.zeros(ev.draws)
    return ev(weld.depth) * np.sqrt(np.pi) / 2 if weld.pattern == "circle" else ev(weld.width)


def _patch_depth(ev: Evaluation, weld: Weld) -> Array:
    return ev(weld.depth) * np.sqrt(np.pi) / 2 if weld.pattern == "circle" else ev(weld.depth)


def allowed(ev: Evaluation, weld: Weld) -> InStates:
    """Yield beside the weld over 1.5, Pa; of the doubler as of the part that is held."""
    found = []
    for plate in _plates(weld):
        strength = ev.of(joined.held_yield if plate == DOUBLER else joined.base_yield, weld)
        metal = (joined.held_metal if plate == DOUBLER else joined.base_metal)(ev.build, weld)
        found.append(np.stack([metals.counted(strength, metal, way.repeats) for way in loads.comings(ev.build, weld)]))
    return _in_states(ev, weld, np.stack(found) / SAFETY["once"])


def _in_states(ev: Evaluation, weld: Weld, values: Array) -> InStates:
    names = tuple(way.name for way in loads.comings(ev.build, weld))
    return crossed(np.moveaxis(values, -1, 0), _plates(weld), names)
