"""The tightening figure of a joint, its preload, and the scatter of the preload.

Answers   requirements   preload_share, dry_figure_on_oiled_thread or oiled_figure_on_dry_thread, maker_figure
                         figures: computed_torque, preload, preload_scatter, angle_after_snug
Not here  what the joint holds with it (holding.py); the wrench (wrenches.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import AtLeast, AtMost, Between, Requirement, Source, SourceKind
from trialfit.facts.quantity import ANGLE, FORCE, RATIO, SHARE, TORQUE
from trialfit.handbook.fastening import bolted_joints, fasteners
from trialfit.handbook.fastening.fastener_classes import nut_factor_of, scatter_of, strength_of
from trialfit.handbook.fastening.thread_sizes import read_fastener_thread
from trialfit.handbook.sources import NO_SOURCE
from trialfit.subjects.fastening import preloads, stiffness
from trialfit.subjects.fastening.joints import (
    CAUTION,
    SUBJECT,
    force,
    nominal,
    share,
    source_of,
    stake_of,
    strength_is_known,
    thread_of,
    torque,
    word,
)
from trialfit.subjects.fastening.preloads import Figure, figure_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import BoltedJoint


TOLERANCE = 0.10
"""How far a torque may be from the correct one: common practice, no source."""

LUBRICATION = Source(
    "fastener suppliers' torque-tension note: three quarters of the dry figure on lubricated threads; 10 % either way is "
    f"{NO_SOURCE}",
    SourceKind.common_practice,
)
_LONG_FORM = (fasteners.nut_factor_of_friction,)
_PRELOAD = (fasteners.preload_of_torque, *_LONG_FORM)


def requirements(joint: BoltedJoint) -> Iterator[Requirement]:
    """What one joint's tightening must do, and its figures."""
    yield _computed_torque(joint)
    yield _preload(joint)
    if not joint.maker_angles:
        yield _scatter(joint)
    if joint.bolt_kind != "stretch":
        yield _preload_share(joint)
    if joint.maker_torques and not joint.maker_angles:
        yield _lubrication(joint)
    if joint.maker_torques and joint.torque.written is not None:
        yield _maker_figure(joint)
    if stiffness.is_known(joint):
        yield _angle(joint)


def _computed_torque(joint: BoltedJoint) -> Requirement:
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.computed_torque",
        about=joint.name,
        says=f"torque for a preload of {preloads.target_share(joint):.0%} of proof load at each bolt",
        value=partial(computed_beside_makers, joint=joint),
        quantity=TORQUE,
        stake=stake_of(joint),
        formulas=(fasteners.torque_for_preload, fasteners.proof_load, *_LONG_FORM),
        shows=partial(why_it_differs, joint=joint),
        caution=CAUTION,
    )


def _preload(joint: BoltedJoint) -> Requirement:
    by_angle = (bolted_joints.preload_of_angle, fasteners.preload_at_yield_share) if joint.maker_angles else ()
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.preload",
        about=joint.name,
        says=f"preload of one bolt, tightened to {_called(joint)}",
        value=partial(_of, function=preloads.preload, joint=joint),
        quantity=FORCE,
        stake=stake_of(joint),
        formulas=(*_PRELOAD, *by_angle),
        unit="kN",
        turned_by=AtLeast,
    )


def _scatter(joint: BoltedJoint) -> Requirement:
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.preload_scatter",
        about=joint.name,
        says="largest over smallest preload of bolts tightened alike, by friction and wrench",
        value=partial(scatter, joint=joint),
        quantity=RATIO,
        stake=stake_of(joint),
        formulas=(fasteners.tightening_factor, fasteners.combined_scatter),
        shows=partial(_usual_scatter, joint=joint),
    )


def _preload_share(joint: BoltedJoint) -> Requirement:
    bears = _strength_source(joint)
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.preload_share",
        about=joint.name,
        says="the preload after tightening stays below the proof load of the bolt",
        value=partial(share_of_proof, joint=joint),
        quantity=SHARE,
        stake=stake_of(joint),
        limit=AtMost(1.0),
        source=source_of(f"proof load: {bears}"),
        formulas=(fasteners.share_of_proof, fasteners.proof_load, *_PRELOAD),
        shows=partial(_in_use, joint=joint),
        caution=CAUTION,
    )


def _lubrication(joint: BoltedJoint) -> Requirement:
    meant_oiled = joint.maker_state == "oiled"
    which = "oiled_figure_on_dry_thread" if meant_oiled else "dry_figure_on_oiled_thread"
    says = (
        "a torque for oiled threads is not used on dry threads, where it gives too little preload"
        if meant_oiled
        else "a torque for dry threads is not used on oiled threads, where it gives too much preload"
    )
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.{which}",
        about=joint.name,
        says=f"{says}; the value is this torque over the correct one",
        value=partial(over_right_torque, joint=joint),
        quantity=RATIO,
        stake=stake_of(joint),
        limit=AtLeast(1 - TOLERANCE) if meant_oiled else AtMost(1 + TOLERANCE),
        source=LUBRICATION,
        formulas=(fasteners.preload_of_torque,),
        shows=partial(_what_oil_does, joint=joint),
        caution=CAUTION,
    )


def _maker_figure(joint: BoltedJoint) -> Requirement:
    def low(ev: Evaluation) -> Array:
        return (1 - TOLERANCE) * ev.of(right_torque, joint)

    def high(ev: Evaluation) -> Array:
        return (1 + TOLERANCE) * ev.of(right_torque, joint)

    return Requirement(
        id=f"{SUBJECT}.{joint.name}.maker_figure",
        about=joint.name,
        says="the torque that you intend to set is the maker's figure, corrected to the threads as they are",
        value=partial(torque_beside_computed, joint=joint),
        quantity=TORQUE,
        stake=stake_of(joint),
        limit=Between(low, high),
        source=Source("maker's manual, within 10 %", SourceKind.manual),
        shows=partial(why_it_differs, joint=joint),
        caution=CAUTION,
    )


def _angle(joint: BoltedJoint) -> Requirement:
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.angle_after_snug",
        about=joint.name,
        says=f"turn from seated parts to {preloads.target_share(joint):.0%} of the proof load",
        value=partial(angle_after_snug, joint=joint),
        quantity=ANGLE,
        stake=stake_of(joint),
        formulas=(bolted_joints.angle_after_snug, bolted_joints.bolt_stiffness, bolted_joints.member_stiffness),
        caution=CAUTION,
    )


def _of(ev: Evaluation, function: object, joint: BoltedJoint) -> Array:
    return np.asarray(ev.of(function, joint))  # type: ignore[arg-type]


def computed_beside_makers(ev: Evaluation, joint: BoltedJoint) -> Array:
    """The torque worked out, N·m; the maker's is read too, because the sentence below compares them."""
    if joint.maker_torques:
        ev.of(preloads.makers_torque, joint)
    return ev.of(preloads.computed_torque, joint)


def torque_beside_computed(ev: Evaluation, joint: BoltedJoint) -> Array:
    """The torque that is set, N·m; the one worked out is read too, because the sentence compares them."""
    if strength_is_known(joint):
        ev.of(preloads.computed_torque, joint)
    return ev.of(preloads.torque_in_use, joint)


def share_of_proof(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Preload over proof load, (draws,)."""
    return ev.of(preloads.preload, joint) / preloads.proof_load(joint)


def scatter(ev: Evaluation, joint: BoltedJoint) -> float:
    """Largest over smallest preload, by the spread of the friction and of the wrench."""
    thread_of(joint)
    by_friction = preloads.nut_factor_ratio(ev, joint)
    wrench = ev.of(preloads.wrench_of, joint)
    error = 0.0
    if wrench is not None and wrench.reading_error.known is not None:
        ev(wrench.reading_error)
        error = wrench.reading_error.known.spread.plus
    return float(fasteners.tightening_factor(fasteners.combined_scatter((by_friction - 1) / (by_friction + 1), error)))


def angle_after_snug(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Turn that gives the target preload, rad."""
    wanted = preloads.target_share(joint) * preloads.proof_load(joint)
    bolt, members = ev.of(stiffness.bolt, joint), ev.of(stiffness.members, joint)
    return np.asarray(bolted_joints.angle_after_snug(wanted, thread_of(joint).pitch, bolt, members))


def right_torque(ev: Evaluation, joint: BoltedJoint) -> Array:
    """The maker's torque for threads as they are, N·m: three quarters of a dry figure on oiled threads, and the reverse.

    If the state for the maker's figure is missing, the figure is used unchanged.
    """
    figure = ev.of(preloads.makers_torque, joint)
    if joint.maker_state is None or joint.thread_state is None:
        return figure
    return figure * _state_factor(joint.maker_state, joint.thread_state)


def _state_factor(meant: str, state: str) -> float:
    oiled = nut_factor_of(state).oiled
    if (meant == "oiled") == oiled:
        return 1.0
    return fasteners.LUBRICATED_SHARE if oiled else 1 / fasteners.LUBRICATED_SHARE


def over_right_torque(ev: Evaluation, joint: BoltedJoint) -> Array:
    """The torque in use over the maker's for threads as they are. Raises MissingFact where a state is not written."""
    lacking = {name: getattr(joint, name) for name in ("maker_state", "thread_state")}
    missing = {f"{joint.name}.{name}": joint.specs()[name].says for name, text in lacking.items() if text is None}
    if missing:
        raise MissingFact(missing)
    if strength_is_known(joint):
        ev.of(share_of_proof, joint)  # read here for the sentence that says what the oil does to the preload
    return ev.of(preloads.torque_in_use, joint) / ev.of(right_torque, joint)


def why_it_differs(ev: Evaluation, joint: BoltedJoint) -> str:
    """The maker's figure beside the one worked out, and what makes them differ."""
    if not joint.maker_torques:
        return "no maker's figure: look for one before using this one"
    figure = nominal(ev.of(preloads.makers_torque, joint))
    if not strength_is_known(joint):
        return f"the maker's {torque(figure)} counts"
    computed = nominal(ev.of(preloads.computed_torque, joint))
    said = f"the maker's {torque(figure)} counts; {torque(computed)} is worked out"
    if abs(figure / computed - 1) <= TOLERANCE:
        return said
    return f"{said}: {'; '.join(_reasons(joint, figure, computed))}"


def _reasons(joint: BoltedJoint, figure: float, computed: float) -> Iterator[str]:
    if joint.maker_angles:
        yield "the maker's torque only seats the parts, the angle behind it gives the preload"
        return
    if joint.maker_state and joint.thread_state and _state_factor(joint.maker_state, joint.thread_state) != 1:
        yield f"it is for {joint.maker_state} threads, these are {joint.thread_state}"
    if figure < computed and joint.threaded_into == "aluminium":
        yield "makers go lower where threads in aluminium, a gasket or a soft part set the limit"
    target, area = preloads.target_share(joint), thread_of(joint).stress_area
    wanted = target * preloads.proof_load(joint)
    yield (
        f"the maker's figure means {figure / computed * target:.0%} of proof at this friction, or a nut factor of "
        f"{figure / (thread_of(joint).diameter * wanted):.2f} at {target:.0%} ({area * 1e6:.1f} mm² of "
        f"{word(joint, 'strength_class')} in {thread_of(joint).designation})"
    )


def _in_use(ev: Evaluation, joint: BoltedJoint) -> str:
    clamp = force(ev.of(preloads.preload, joint))
    usual = f"{preloads.target_share(joint):.0%} of proof is usual"
    if joint.maker_angles:
        return f"{_called(joint)} gives {clamp}; {usual}"
    return f"{torque(ev.of(preloads.torque_in_use, joint))}, {_called(joint)}, gives {clamp}; {usual}"


def _what_oil_does(ev: Evaluation, joint: BoltedJoint) -> str:
    in_use, right = ev.of(preloads.torque_in_use, joint), ev.of(right_torque, joint)
    ratio = nominal(in_use) / nominal(right)
    if abs(ratio - 1) <= TOLERANCE:
        return f"{torque(in_use)} suits {joint.thread_state} threads"
    said = f"{torque(in_use)} on {joint.thread_state} threads gives about {ratio:.2f} times the intended preload"
    if strength_is_known(joint):
        said += f", {share(nominal(ev.of(share_of_proof, joint)))} of proof"
    cure = f"set about {torque(right)}, or bring the threads to the maker's state"
    return f"{said}: {cure}, and ask the maker"


def _usual_scatter(_: Evaluation, joint: BoltedJoint) -> str:
    friction_known = joint.nut_factor.written is not None or joint.thread_friction.written is not None
    way = "torque wrench and known friction" if friction_known else "torque wrench and guessed friction"
    low, high, source = scatter_of(way)
    return f"{way}: {low} to {high} is usual ({source})"


def _called(joint: BoltedJoint) -> str:
    figure = figure_of(joint)
    if figure is Figure.computed:
        return "the figure worked out"
    angles = ", torque and angle" if joint.maker_angles else ""
    return f"{figure} figure{angles}"


def _strength_source(joint: BoltedJoint) -> str:
    if joint.thread is None or joint.strength_class is None:
        return "ISO 898-1, SAE J429"
    found = strength_of(joint.strength_class, read_fastener_thread(joint.thread).diameter)
    return found.source if found else "ISO 898-1, SAE J429"
