"""What a weld carries: its throat, and the metal beside it on both sides.

Answers   requirements        weld_throat, weld_yield, weld_parent, each with the name, and the figure weld_leg_needed
          of                  those of them by which a weld gives under its load
Not here  the force at its worst point (weld_forces.py); size and place (weld_sizes.py); a sheet that bends under it (sheet.py); what it joins (joined.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import AtMost, Requirement, Source, SourceKind, Stake
from trialfit.evaluation.states import InStates, crossed
from trialfit.facts.quantity import LENGTH, STRESS
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.structure import welds as handbook
from trialfit.handbook.structure.weld_lines import plate_force, shared_force, throat_stress, weld_group
from trialfit.handbook.structure.welded_metals import repeated_yield
from trialfit.parts import Weld
from trialfit.subjects.structure import joined, loads, metals, weld_forces
from trialfit.subjects.structure.margins import SAFETY_ON_YIELD, WELDING, safety

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


ON_THE_THROAT = Source("AISC: 0.30 of the weld metal's strength on the throat", SourceKind.published)
LARGER = (
    "make the pattern deeper along the load (twice the depth carries a lever four times as large), or the arm shorter; a larger leg "
    "only as far as the thinner part takes it"
)
HELD, BASE, SHEET = "part that is held", "what it is welded to", "sheet under the doubler"
MORE_AT_BEST, STEP = 0.001, 0.0005
"""By how much a leg may exceed the thinner part (handbook.largest_leg_on_sheet), and the steps in which plate is sold, m."""
BOTH_FACES = 2.0
"""Width of a pattern over the thickness of a plate up to which its two runs lie on both faces of that plate: a choice, no source."""


def requirements(build: Build) -> Iterator[Requirement]:
    """What each weld must carry."""
    for weld in build.all(Weld):
        yield from of(build, [weld])
        yield _leg_needed(weld)


def of(build: Build, some: Iterable[Weld]) -> Iterator[Requirement]:
    """What decides whether welds carry their load."""
    for weld in some:
        yield _throat(weld)
        yield _yield(build, weld)
        yield _parent(build, weld)


def _throat(weld: Weld) -> Requirement:
    return Requirement(
        id=f"structure.weld_throat.{weld.name}",
        about=weld.name,
        says=f"the throat of {weld.name} carries its worst load: shear over the allowable of the weld metal",
        value=lambda ev: ev.of(stress, weld).max(axis=0),
        quantity=STRESS,
        stake=Stake.safety,
        limit=AtMost(lambda ev: handbook.allowable_shear(ev(weld.metal_strength))),
        source=ON_THE_THROAT,
        formulas=(weld_group, shared_force, handbook.throat, throat_stress, handbook.allowable_shear),
        shows=lambda ev: _in_words(leg_by_metal(ev, weld), "weld metal"),
        caution=WELDING,
        cure=LARGER,
    )


def _yield(build: Build, weld: Weld) -> Requirement:
    often = loads.how_often(build, weld)
    return Requirement(
        id=f"structure.weld_yield.{weld.name}",
        about=weld.name,
        says=f"the metal fused into {weld.name} carries its load, which comes {often}, with its strength after welding",
        value=lambda ev: loads.in_comings(ev.build, weld, np.sqrt(3.0) * ev.of(stress, weld)),
        quantity=STRESS,
        stake=Stake.safety,
        limit=AtMost(lambda ev: loads.in_comings(ev.build, weld, ev.of(allowed_in_throat, weld))),
        source=SAFETY_ON_YIELD,
        formulas=(weld_group, shared_force, handbook.throat, throat_stress, repeated_yield),
        shows=partial(_yield_in_words, weld=weld),
        caution=WELDING,
        cure=LARGER,
    )


def _parent(build: Build, weld: Weld) -> Requirement:
    return Requirement(
        id=f"structure.weld_parent.{weld.name}",
        about=weld.name,
        says=f"the metal beside {weld.name} carries in its thickness what the weld hands over, {loads.how_often(build, weld)}",
        value=partial(parent_stress, weld=weld),
        quantity=STRESS,
        stake=Stake.safety,
        limit=AtMost(partial(allowed_beside, weld=weld)),
        source=SAFETY_ON_YIELD,
        formulas=(weld_group, plate_force, throat_stress, repeated_yield),
        shows=lambda ev: _taken_as(ev, weld),
        caution=WELDING,
        cure="a larger leg does not help: make the pattern longer or deeper, or weld a thicker doubler plate all round to the sheet",
    )


def _leg_needed(weld: Weld) -> Requirement:
    return Requirement(
        id=f"structure.weld_leg_needed.{weld.name}",
        about=weld.name,
        says=f"leg at which {weld.name} just carries its load, by weld metal and the metal fused in; the sheet beside it is judged apart",
        value=partial(leg_needed, weld=weld),
        quantity=LENGTH,
        stake=Stake.safety,
        formulas=(shared_force, handbook.allowable_shear, handbook.throat),
        shows=partial(_no_leg_meets_both, weld=weld),
        caution=WELDING,
    )


def stress(ev: Evaluation, weld: Weld) -> Array:
    """Shear on the throat, Pa, (comings, draws)."""
    throat = handbook.throat(*ev.each(weld.leg, weld.throat_deduction))
    return np.asarray(throat_stress(ev.of(weld_forces.force_per_length, weld), throat))


def allowed_in_throat(ev: Evaluation, weld: Weld) -> Array:
    """Yield of the weaker of the two metals over its margin, Pa, (comings, draws)."""
    held, base = ev.of(joined.held_yield, weld), ev.of(joined.base_yield, weld)
    return np.stack([np.minimum(*_over_margins(ev, weld, held, base, way.repeats)) for way in _ways(ev, weld)])


def _over_margins(ev: Evaluation, weld: Weld, held: Array, base: Array, repeats: str) -> tuple[Array, Array]:
    words = joined.held_metal(ev.build, weld), joined.base_metal(ev.build, weld)
    one, other = (metals.counted(*both, repeats) / safety(repeats) for both in zip((held, base), words, strict=True))
    return np.asarray(one), np.asarray(other)


def _ways(ev: Evaluation, weld: Weld) -> tuple[loads.Coming, ...]:
    return loads.comings(ev.build, weld)


def sides(build: Build, weld: Weld) -> tuple[str, ...]:
    """The plates beside a weld that it judges: a bracket is judged by its own root."""
    held = () if joined.bracket_of(build, weld) else (HELD,)
    return (*held, BASE, *((SHEET,) if joined.has_doubler(weld) else ()))


def parent_stress(ev: Evaluation, weld: Weld) -> InStates:
    """Equivalent stress in the thickness of each plate beside a weld, Pa."""
    at_weld = ev.of(weld_forces.force_beside, weld)
    by_side = []
    for side in sides(ev.build, weld):
        if side == SHEET:
            handed, thickness = ev.of(weld_forces.force_round_the_doubler, weld), ev(weld.base_thickness)
        elif side == BASE:
            handed, thickness = at_weld, ev.of(joined.base_thickness, weld)
        else:
            thickness = ev.of(joined.held_thickness, weld)
            handed = at_weld * _runs_on_it(ev, weld, thickness)
        by_side.append(np.asarray(throat_stress(handed, thickness)))
    return _by_side(ev, weld, np.stack(by_side))


def _runs_on_it(ev: Evaluation, weld: Weld, thickness: Array) -> Array:
    """Two where the runs lie on both faces of one plate, else one."""
    if weld.pattern not in {"two upright", "all round", "channel"}:
        return np.ones(ev.draws)
    return np.where(weld_forces.width(ev, weld) <= BOTH_FACES * thickness, 2.0, 1.0)


def allowed_beside(ev: Evaluation, weld: Weld) -> InStates:
    """What each plate beside a weld may see, Pa."""
    held, base = ev.of(joined.held_yield, weld), ev.of(joined.base_yield, weld)
    by_side = []
    for side in sides(ev.build, weld):
        of_both = [_over_margins(ev, weld, held, base, way.repeats) for way in _ways(ev, weld)]
        by_side.append(np.stack([both[0 if side == HELD else 1] for both in of_both]))
    return _by_side(ev, weld, np.stack(by_side))


def _by_side(ev: Evaluation, weld: Weld, values: Array) -> InStates:
    """Values (sides, comings, draws) as states."""
    names = tuple(way.name for way in _ways(ev, weld))
    return crossed(np.moveaxis(values, -1, 0), sides(ev.build, weld), names)


def leg_needed(ev: Evaluation, weld: Weld) -> Array:
    """Leg at which the throat just carries the load, m: the larger one by weld metal and by fused metal."""
    return np.maximum(leg_by_metal(ev, weld), leg_by_yield(ev, weld))


def leg_by_metal(ev: Evaluation, weld: Weld) -> Array:
    """The same by the weld metal alone, m."""
    return _leg_at(ev, weld, np.asarray(handbook.allowable_shear(ev(weld.metal_strength))))


def leg_by_yield(ev: Evaluation, weld: Weld) -> Array:
    """The same by the metal fused in, m: the largest of any coming."""
    return _leg_at(ev, weld, ev.of(allowed_in_throat, weld) / np.sqrt(3.0))


def _leg_at(ev: Evaluation, weld: Weld, shear: Array) -> Array:
    throat = (ev.of(weld_forces.force_per_length, weld) / shear).max(axis=0) + ev(weld.throat_deduction)
    return np.asarray(throat * np.sqrt(2.0))


def _in_words(leg: Array, what: str) -> str:
    return f"a leg of {show(float(leg[0]), display_unit(LENGTH))} just carries it, by {what}; the sheet beside it is judged apart"


def _no_leg_meets_both(ev: Evaluation, weld: Weld) -> str:
    """What then, where the leg that the load needs is larger than the thinner part takes; nothing where one meets both."""
    if weld.thinner.written is None or weld.thicker.written is None:
        return ""
    needed, thin = float(leg_needed(ev, weld)[0]), ev.of(joined.thinner, weld)
    takes = float(np.asarray(handbook.largest_leg_on_sheet(thin))[0])
    if not needed > takes:
        return ""
    unit = display_unit(LENGTH)
    plate = np.ceil((needed - MORE_AT_BEST) / STEP) * STEP
    under = "" if joined.has_doubler(weld) else f", or weld a doubler plate of {plate * 1e3:g} mm or more under it"
    return (
        f"no leg meets both: the load needs {show(needed, unit)}, the thinner part takes {show(takes, unit)} at most. Make the pattern "
        f"deeper along the load, then a smaller leg is enough{under}"
    )


def _taken_as(ev: Evaluation, weld: Weld) -> str:
    return metals.said(weld) if joined.held_metal(ev.build, weld) is None else ""


def _yield_in_words(ev: Evaluation, weld: Weld) -> str:
    leg = _in_words(leg_by_yield(ev, weld), "the metal fused in")
    return "; ".join(
        filter(
            None,
            (
                leg,
                _no_leg_meets_both(ev, weld),
                loads.greater(ev, weld),
                _taken_as(ev, weld),
                loads.unheeded(ev.build, weld),
            ),
        )
    )
