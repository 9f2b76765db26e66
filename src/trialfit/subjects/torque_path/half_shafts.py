"""Half-shafts: each side against the torque one wheel can get through the differential.

Answers   elements      torque_path.half_shaft.left, torque_path.half_shaft.right
          requirements  figures of them: shock_over_rating, worked_out
Not here  angles and plunge (driveline); how a differential shares (loads.wheel)

A half-shaft with a maker's rating is compared with full torque. Without one, its bar is calculated and compared with the shocks,
beside a rating of somebody else's: each with its own reserve.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.ranks import is_from_its_maker
from trialfit.evaluation.requirement import AtLeast, Requirement, Stake
from trialfit.facts.quantity import TORQUE
from trialfit.parts import FinalDrive, HalfShaft
from trialfit.subjects.torque_path import loads, reserves, sentences, yielding
from trialfit.subjects.torque_path.behind import torque_formulas
from trialfit.subjects.torque_path.element import (
    SHAFT_CURE,
    SUBJECT,
    Compared,
    Element,
    Held,
    element_of,
    lacking,
    rating_source,
)
from trialfit.subjects.torque_path.events import Load
from trialfit.subjects.torque_path.gears import driven_axle
from trialfit.subjects.torque_path.loads import at
from trialfit.subjects.torque_path.reserves import STAYS_SOUND, YIELD, against_each
from trialfit.subjects.torque_path.shock_figure import shock_over_rating

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.subjects.torque_path.loads import Sides


SIDES = ("left", "right")


def elements(build: Build) -> Iterator[Element]:
    """Both half-shafts, also those that have not been written yet."""
    for side in SIDES:
        shaft = _shaft_of(build, side)
        if shaft is not None and _is_rated(shaft):
            yield _rated(build, shaft, side)
        else:
            yield _worked_out(build, shaft, side)


def requirements(build: Build) -> Iterator[Requirement]:
    """The calculated capacity beside a rating, and the shock torque over a rating."""
    for side in SIDES:
        shaft = _shaft_of(build, side)
        if shaft is None or shaft.rated_torque.written is None:
            continue
        shock = at(loads.wheel, Load.shock, driven_axle(build))
        formulas = torque_formulas(build, Load.shock, at_wheel=True)
        rated = Held(f"half_shaft.{side}", (_by_rating(build, shaft),))
        yield shock_over_rating(rated, shock, shaft.name, _called(side), formulas)
        if is_from_its_maker(shaft.rated_torque) and shaft.bar_diameter.written is not None:
            yield Requirement(
                id=f"{SUBJECT}.worked_out.half_shaft.{side}",
                about=shaft.name,
                says=f"yield torque of the bar of {_called(side)}, over its reserve of 1.5; its rating outranks it",
                value=partial(yielding.bar_capacity, shaft=shaft),
                quantity=TORQUE,
                stake=Stake.durability,
                formulas=yielding.FORMULAS[:1],
                turned_by=AtLeast,
                shows=partial(yielding.bar_shown, shaft=shaft),
            )


def _shaft_of(build: Build, side: str) -> HalfShaft | None:
    return next((shaft for shaft in build.all(HalfShaft) if shaft.side == side), None)


def _called(side: str) -> str:
    return f"the {side} half-shaft"


def _is_rated(shaft: HalfShaft) -> bool:
    """Whether its maker's rating decides, or another one while the bar is not known."""
    ref = shaft.rated_torque
    return is_from_its_maker(ref) or (ref.written is not None and bool(lacking(*yielding.bar_facts(shaft))))


def _by_rating(build: Build, shaft: HalfShaft) -> Compared:
    def rating(ev: Evaluation) -> Array:
        return ev(shaft.rated_torque)[:, None]

    def how(ev: Evaluation, _column: int) -> str:
        said = f"{_shared(ev)}; rated {sentences.torque(ev(shaft.rated_torque))}"
        if not is_from_its_maker(shaft.rated_torque) or lacking(*yielding.bar_facts(shaft)):
            return said
        return f"{said}; {yielding.beside_rating(shaft, yielding.bar_shown(ev, shaft))}"

    return Compared(at(loads.wheel, Load.steady, driven_axle(build)), rating, how)


def _rated(build: Build, shaft: HalfShaft, side: str) -> Element:
    return element_of(
        build,
        Held(f"half_shaft.{side}", (_by_rating(build, shaft),)),
        about=shaft.name,
        title=_called(side),
        says=f"full torque stays within the rating of {_called(side)}, in every gear",
        source=rating_source(shaft.rated_torque),
        formulas=torque_formulas(build, Load.steady, at_wheel=True),
    )


def _worked_out(build: Build, shaft: HalfShaft | None, side: str) -> Element:
    def sees(load: Load) -> Callable[..., Sides]:
        return at(loads.wheel, load, driven_axle(build))

    def carried(ev: Evaluation, load: Load) -> Array:
        if shaft is None:
            raise MissingFact({HalfShaft.kind: f'no half-shaft with side = "{side}" is written'})
        return ev.of(yielding.bar_capacity, shaft, load)

    def how(ev: Evaluation, load: Load) -> str:
        return f"{_shared(ev)}; {yielding.bar_shown(ev, shaft, load)}" if shaft else ""

    beside = (_by_rating(build, shaft),) if shaft and shaft.rated_torque.written else ()
    return element_of(
        build,
        Held(f"half_shaft.{side}", (*beside, *against_each(sees, carried, how))),
        about=shaft.name if shaft else HalfShaft.kind,
        title=_called(side),
        says=STAYS_SOUND.format(_called(side)),
        cure=SHAFT_CURE,
        source=YIELD,
        formulas=(*torque_formulas(build, Load.shock, at_wheel=True), *reserves.FORMULAS),
        lacks=lacking(*yielding.bar_facts(shaft)) if shaft else (f"{HalfShaft.kind}, {side}",),
    )


def _shared(ev: Evaluation) -> str:
    """How the differential shares."""
    works = ev.part(FinalDrive).differential
    return f"{works} differential: one wheel can get {100 * ev.of(loads.wheel_share)[0]:.0f} % of the axle's torque"
