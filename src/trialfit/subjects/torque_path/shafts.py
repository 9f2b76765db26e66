"""The prop-shaft line: each shaft and each joint against its torque.

Answers   elements      torque_path.shaft.NAME, torque_path.joint.PLACE
          requirements  figures of them: shock_over_rating, worked_out
Not here  angles and speeds of the line (driveline); half-shafts (half_shafts.py)

A shaft with a maker's rating is compared with full torque. Without one, its tube is calculated and compared with the shocks, beside
a rating of somebody else's: each with its own reserve.
Joints are called by their place in the line, as in the driveline subject: front, centre, rear; a rigid end is not a joint.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.ranks import is_from_its_maker
from trialfit.evaluation.requirement import AtLeast, Requirement, Stake
from trialfit.facts.quantity import TORQUE
from trialfit.parts import PropShaft
from trialfit.subjects.shaft_line import Gap, find_line, joint_places, name_in_ids, the_line
from trialfit.subjects.torque_path import loads, sentences, yielding
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
from trialfit.subjects.torque_path.loads import at
from trialfit.subjects.torque_path.reserves import STAYS_SOUND, YIELD, against_each
from trialfit.subjects.torque_path.shock_figure import shock_over_rating

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef
    from trialfit.subjects.shaft_line import Joint
    from trialfit.subjects.torque_path.loads import Sides


def elements(build: Build) -> Iterator[Element]:
    """Every shaft that is written, or the one that is missing; every joint that the line has or would have."""
    shafts = build.all(PropShaft)
    for shaft in shafts:
        yield _rated_shaft(build, shaft) if is_rated(shaft) else _worked_out_shaft(build, shaft)
    if not shafts and find_line(build) is not None:
        yield _shaft_to_write(build)
    for place in joint_places(build):
        yield _joint(build, place)


def requirements(build: Build) -> Iterator[Requirement]:
    """The calculated capacity beside a rating, and the shock torque over ratings."""
    for shaft in build.all(PropShaft):
        if not shaft.rated_torque.written:
            continue
        shock = at(loads.pinion, Load.shock)
        yield shock_over_rating(
            _held(build, shaft, _by_rating(shaft)), shock, shaft.name, shaft.name, torque_formulas(build, Load.shock)
        )
        if is_from_its_maker(shaft.rated_torque) and not lacking(*yielding.tube_facts(shaft)):
            yield Requirement(
                id=f"{SUBJECT}.worked_out.shaft.{name_in_ids(build, shaft)}",
                about=shaft.name,
                says=f"yield torque of the tube of {shaft.name}, over its reserve of 1.5; its rating outranks it",
                value=partial(yielding.tube_capacity, shaft=shaft),
                quantity=TORQUE,
                stake=Stake.durability,
                formulas=yielding.FORMULAS,
                turned_by=AtLeast,
                shows=partial(yielding.tube_shown, shaft=shaft),
            )
    for place in joint_places(build):
        rated = _joint_rating(build, place)
        if rated and rated.written:
            held = _held_joint(place)
            yield shock_over_rating(
                held,
                at(loads.pinion, Load.shock),
                _joint_about(build, place),
                f"the {place} joint",
                torque_formulas(build, Load.shock),
            )


def is_rated(shaft: PropShaft) -> bool:
    """Whether its maker's rating decides, or another one while the tube is not known."""
    ref = shaft.rated_torque
    return is_from_its_maker(ref) or (ref.written is not None and bool(_tube_lacks(shaft)))


def _tube_lacks(shaft: PropShaft) -> tuple[str, ...]:
    aluminium = shaft.material == "aluminium" and shaft.yield_strength.written is None
    return lacking(*yielding.tube_facts(shaft)) + ((shaft.yield_strength.path,) if aluminium else ())


def _by_rating(shaft: PropShaft) -> Compared:
    def rating(ev: Evaluation) -> Array:
        return ev(shaft.rated_torque)[:, None]

    def how(ev: Evaluation, _column: int) -> str:
        said = f"rated {sentences.torque(ev(shaft.rated_torque))}"
        if not is_from_its_maker(shaft.rated_torque) or _tube_lacks(shaft):
            return said
        return f"{said}; {yielding.beside_rating(shaft, yielding.tube_shown(ev, shaft))}"

    return Compared(at(loads.pinion, Load.steady), rating, how)


def _held(build: Build, shaft: PropShaft, *compared: Compared) -> Held:
    return Held(f"shaft.{name_in_ids(build, shaft)}", compared)


def _rated_shaft(build: Build, shaft: PropShaft) -> Element:
    return element_of(
        build,
        _held(build, shaft, _by_rating(shaft)),
        about=shaft.name,
        title=shaft.name,
        says=f"full torque stays within the rating of {shaft.name}, in every gear",
        source=rating_source(shaft.rated_torque),
        formulas=torque_formulas(build, Load.steady),
    )


def _worked_out_shaft(build: Build, shaft: PropShaft) -> Element:
    def sees(load: Load) -> Callable[..., Sides]:
        return at(loads.pinion, load)

    def carried(ev: Evaluation, load: Load) -> Array:
        return ev.of(yielding.tube_capacity, shaft, load)

    def how(ev: Evaluation, load: Load) -> str:
        return yielding.tube_shown(ev, shaft, load)

    by_tube = against_each(sees, carried, how)
    beside = (_by_rating(shaft),) if shaft.rated_torque.written else ()
    return element_of(
        build,
        _held(build, shaft, *beside, *by_tube),
        about=shaft.name,
        title=shaft.name,
        says=STAYS_SOUND.format(f"the tube of {shaft.name}"),
        cure=SHAFT_CURE,
        source=YIELD,
        formulas=(*torque_formulas(build, Load.shock), *yielding.FORMULAS),
        lacks=_tube_lacks(shaft),
    )


def _shaft_to_write(build: Build) -> Element:
    """The shaft that the line needs and the build lacks."""

    def carried(ev: Evaluation) -> Array:
        raise MissingFact(_gap(ev.build))

    by_tube = Compared(at(loads.pinion, Load.shock), carried, lambda _ev, _column: "")
    held = Held(f"shaft.{PropShaft.kind}", (by_tube,))
    return element_of(
        build,
        held,
        about=PropShaft.kind,
        title="the prop shaft",
        says=STAYS_SOUND.format("the tube of the prop shaft"),
        cure=SHAFT_CURE,
        source=YIELD,
        formulas=(*torque_formulas(build, Load.shock), *yielding.FORMULAS),
        lacks=(PropShaft.kind,),
    )


def _joint(build: Build, place: str) -> Element:
    rated = _joint_rating(build, place)
    return element_of(
        build,
        _held_joint(place),
        about=_joint_about(build, place),
        title=_joint_called(place),
        says=f"full torque stays within the rating of {_joint_called(place)}, in every gear",
        source=rating_source(rated),
        formulas=torque_formulas(build, Load.steady),
        lacks=lacking(rated) if rated else (PropShaft.kind,),
    )


def _held_joint(place: str) -> Held:
    def rated(ev: Evaluation) -> FactRef:
        joints = {joint.place: joint for joint in ev.of(the_line).joints}
        return _rating_of(joints[place])

    def carried(ev: Evaluation) -> Array:
        return ev(rated(ev))[:, None]

    def how(ev: Evaluation, _column: int) -> str:
        return f"rated {sentences.torque(ev(rated(ev)))}"

    return Held(f"joint.{place}", (Compared(at(loads.pinion, Load.steady), carried, how),))


def _joint_called(place: str) -> str:
    return f"joint {place.removeprefix('joint_')} of the line" if place.startswith("joint_") else f"the {place} joint"


def _joint_rating(build: Build, place: str) -> FactRef | None:
    """The rating of the joint at a place; None while the line has a gap."""
    found = find_line(build)
    if found is None or isinstance(found, Gap):
        return None
    return next(_rating_of(joint) for joint in found.joints if joint.place == place)


def _rating_of(joint: Joint) -> FactRef:
    return joint.shaft.front_joint_rated_torque if joint.end == "front" else joint.shaft.rear_joint_rated_torque


def _joint_about(build: Build, place: str) -> str:
    rated = _joint_rating(build, place)
    return rated.path.partition(".")[0] if rated else PropShaft.kind


def _gap(build: Build) -> dict[str, str]:
    found = find_line(build)
    return found.wanted if isinstance(found, Gap) else {}
