"""Which torque a joint is tightened to, and the preload that it gives.

Answers   Figure, figure_of      the maker's figure, the builder's, or the one worked out
          target_share, yield_share   of the proof load, and of yield by pull and twist together
          nut_factor, nut_factor_ratio   K as the threads are, and how far it can lie apart
          thread_friction        that goes with it
          target_preload, computed_torque
          torque_in_use          the figure that counts
          whether_it_runs        whether a maker's figure has a locking nut in it
          is_makers_word         whether it is the maker's, for these very threads
          preload, judged_preload, settled_preload
Not here  what is required of them (torque_figures.py); stiffness (stiffness.py)
"""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.ranks import is_from_its_maker
from trialfit.facts.quantity import TORQUE
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.fastening import bolted_joints, fasteners, joint_faces, tightening_stress
from trialfit.handbook.fastening.fastener_classes import nut_factor_of
from trialfit.parts import BoltedJoint, TorqueWrench
from trialfit.subjects.fastening import stiffness
from trialfit.subjects.fastening.joints import strength_is_known, strength_of, thread_of

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef

FLAT_HEAD = 1.28
"""Friction diameter of a flat hexagon head over the nominal diameter, for which nut factors are printed: hexagon_heads.csv."""


class Figure(StrEnum):
    """Whose torque a joint is tightened to."""

    builder = "your own"
    maker = "the maker's"
    computed = "worked out"


def figure_of(joint: BoltedJoint) -> Figure:
    """Whose torque it is: the builder's if one is written that differs, the maker's, else the one worked out."""
    if joint.torque.written is not None:
        return Figure.builder
    return Figure.maker if joint.maker_torques or joint.maker_angles else Figure.computed


def target_share(joint: BoltedJoint) -> float:
    """Target preload over proof load."""
    return fasteners.PERMANENT_SHARE if joint.service == "permanent" else fasteners.REUSABLE_SHARE


def yield_share(joint: BoltedJoint) -> float:
    """Target of pull and twist together over the yield strength."""
    permanent = joint.service == "permanent"
    return tightening_stress.YIELD_SHARE if permanent else tightening_stress.REUSABLE_YIELD_SHARE


def nut_factor(ev: Evaluation, joint: BoltedJoint) -> Array:
    """K as the threads are: by friction where both frictions are written, else written or by the state of the threads.

    A conical seat rubs on twice the arm: the table's K, which is for a flat head, is turned into friction and back.
    """
    if joint.thread_friction.written is None or joint.head_friction.written is None:
        return _on_its_seat(ev, joint, ev(joint.nut_factor))
    return _by_friction(ev, joint, *ev.each(joint.thread_friction, joint.head_friction))


def _by_friction(ev: Evaluation, joint: BoltedJoint, in_thread: Array | float, under_head: Array | float) -> Array:
    thread = thread_of(joint)
    return np.asarray(
        fasteners.nut_factor_of_friction(
            thread.diameter, thread.pitch, in_thread, under_head, ev.of(friction_diameter, joint)
        )
    )


def _on_its_seat(ev: Evaluation, joint: BoltedJoint, factor: Array | float) -> Array:
    if joint.seat != "cone of 60°" or joint.nut_factor.written is not None:
        return np.asarray(factor)
    thread = thread_of(joint)
    flat = FLAT_HEAD * thread.diameter
    friction = tightening_stress.friction_of_nut_factor(factor, thread.diameter, thread.pitch, flat)
    return _by_friction(ev, joint, np.asarray(friction), np.asarray(friction))


def friction_diameter(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Diameter on which the head or nut rubs, m: of a cone of 60° twice that of a flat face, 1/sin 30°."""
    face, hole = ev.each(joint.bearing_diameter, joint.hole_diameter)
    return np.asarray((face + hole) / 2 * (2.0 if joint.seat == "cone of 60°" else 1.0))


def thread_friction(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Friction in the thread: written, else the one that the nut factor stands for, the same under the head."""
    if joint.thread_friction.written is not None:
        return ev(joint.thread_friction)
    thread = thread_of(joint)
    return np.asarray(
        tightening_stress.friction_of_nut_factor(
            ev.of(nut_factor, joint), thread.diameter, thread.pitch, ev.of(friction_diameter, joint)
        )
    )


def nut_factor_ratio(ev: Evaluation, joint: BoltedJoint) -> float:
    """Largest over smallest nut factor within the spread of its facts."""
    if joint.thread_friction.written is None or joint.head_friction.written is None:
        low, high = (float(np.atleast_1d(_on_its_seat(ev, joint, end))[0]) for end in _ends(ev, joint.nut_factor))
        return high / low
    thread = thread_of(joint)
    face = float(ev.of(friction_diameter, joint)[0])
    ends = zip(_ends(ev, joint.thread_friction), _ends(ev, joint.head_friction), strict=True)
    low, high = (
        float(fasteners.nut_factor_of_friction(thread.diameter, thread.pitch, *friction, face)) for friction in ends
    )
    return high / low


def _ends(ev: Evaluation, ref: FactRef) -> tuple[float, float]:
    """Lower and upper end of a fact's spread, SI."""
    value = float(ev(ref)[0])
    spread = ref.known.spread if ref.known else None
    return (value - spread.minus, value + spread.plus) if spread else (value, value)


def proof_load(joint: BoltedJoint) -> float:
    """Proof load of one bolt, N."""
    strength = strength_of(joint)
    return float(fasteners.proof_load(thread_of(joint).stress_area, strength.proof))


def target_preload(ev: Evaluation, joint: BoltedJoint) -> float:
    """Preload to aim at, N: the usual share of the proof load, or a share of yield by pull and twist together if that is less."""
    strength, thread = strength_of(joint), thread_of(joint)
    twisted = fasteners.preload_at_yield_share(
        yield_share(joint),
        strength.yielding,
        thread.diameter,
        thread.pitch,
        float(ev.of(thread_friction, joint)[0]),
    )
    return min(target_share(joint) * proof_load(joint), float(twisted))


def computed_torque(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Torque for the target preload at the bolt, N·m."""
    aim = ev.of(target_preload, joint)
    return np.asarray(fasteners.torque_for_preload(aim, ev.of(nut_factor, joint), thread_of(joint).diameter))


def computed_setting(ev: Evaluation, joint: BoltedJoint) -> float:
    """The figure worked out, as one number, N·m: the builder sets one torque, whatever the friction of a draw."""
    return float(ev.of(computed_torque, joint)[0])


def makers_torque(ev: Evaluation, joint: BoltedJoint) -> Array:
    """The maker's last torque stage, N·m. Raises MissingFact."""
    if not joint.maker_torques:
        raise MissingFact({f"{joint.name}.maker_torques": BoltedJoint.maker_torques.says})
    return ev(joint.maker_torques[-1])


def torque_in_use(ev: Evaluation, joint: BoltedJoint) -> Array:
    """The torque that is set for the bolt, N·m; of one that is worked out, without what a locking nut needs to turn.

    The builder sets one number; the wrench error spreads the torque at the bolt.
    """
    figure = figure_of(joint)
    if figure is Figure.builder:
        return np.full(ev.draws, ev(joint.torque)[0])
    if figure is Figure.maker:
        return ev.of(makers_torque, joint)
    return np.full(ev.draws, ev.of(computed_setting, joint))


def _takes_to_turn(ev: Evaluation, joint: BoltedJoint) -> Array | float:
    """What a locking nut takes of the torque that is set, N·m: it is added only to a torque that is worked out."""
    if figure_of(joint) is Figure.computed or joint.running_torque.written is None:
        return 0.0
    return ev(joint.running_torque)


def whether_it_runs(ev: Evaluation, joint: BoltedJoint) -> str:
    """What to look up where a maker's torque meets a locking nut, as the end of a sentence; "" elsewhere."""
    if figure_of(joint) is not Figure.maker or not joint.maker_torques or joint.running_torque.written is None:
        return ""
    figure, running = (float(one[0]) for one in (ev.of(makers_torque, joint), ev(joint.running_torque)))
    unit = display_unit(TORQUE)
    return (
        f"; {show(figure, unit)} by the maker, {show(figure + running, unit)} if his figure does not include the running torque of the nut: "
        "look it up and write the one that you set as torque"
    )


def wrench_of(ev: Evaluation, joint: BoltedJoint) -> TorqueWrench | None:
    """The wrench that is named, or None."""
    found = ev.build.named(joint.wrench)
    return found if isinstance(found, TorqueWrench) else None


def preload(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Preload of one bolt right after tightening, N: friction and the wrench spread it."""
    return _preload_at(ev, joint, ev.of(nut_factor, joint))


def judged_preload(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Preload by which the bolt's own strength is judged, N: on a maker's word without the scatter of friction that he allowed for."""
    if not is_makers_word(joint):
        return ev.of(preload, joint)
    ev.of(nut_factor, joint)
    return _preload_at(ev, joint, np.full(ev.draws, ev.of(nut_factor, joint)[0]))


def judged_friction(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Friction in the thread that goes with the judged preload."""
    friction = ev.of(thread_friction, joint)
    return np.full(ev.draws, friction[0]) if is_makers_word(joint) else friction


def is_makers_word(joint: BoltedJoint) -> bool:
    """Whether the torque is his, from manual or catalogue, for threads in the very state of these."""
    if figure_of(joint) is not Figure.maker or joint.maker_angles or not joint.maker_torques:
        return False
    return (
        is_from_its_maker(joint.maker_torques[-1])
        and joint.maker_state is not None
        and joint.maker_state == joint.thread_state
        and joint.nut_factor.written is None
        and joint.thread_friction.written is None
        and _suits_the_bolt(joint)
    )


def _suits_the_bolt(joint: BoltedJoint) -> bool:
    """Whether the maker's torque leaves this bolt below 90 % of proof at the usual friction: else he meant a stronger one."""
    last = joint.maker_torques[-1].written
    if last is None or joint.thread_state is None or not strength_is_known(joint):
        return True
    factor = nut_factor_of(joint.thread_state).usual
    return last.si / (factor * thread_of(joint).diameter) <= fasteners.PERMANENT_SHARE * proof_load(joint)


def _preload_at(ev: Evaluation, joint: BoltedJoint, factor: Array) -> Array:
    wrench = ev.of(wrench_of, joint)
    at_bolt = ev.of(torque_in_use, joint) * (1 + (ev(wrench.reading_error) if wrench else 0.0))
    at_bolt = np.maximum(at_bolt - ev.of(_takes_to_turn, joint), 0.0)
    by_torque = np.asarray(fasteners.preload_of_torque(at_bolt, factor, thread_of(joint).diameter))
    if not joint.maker_angles:
        return by_torque
    return np.asarray(
        bolted_joints.preload_of_angle(
            by_torque,
            sum(ev.each(*joint.maker_angles)),
            thread_of(joint).pitch,
            ev.of(stiffness.bolt, joint),
            ev.of(stiffness.members, joint),
            ev.of(yield_preload, joint),
        )
    )


def yield_preload(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Preload at which pull and twist together reach the bolt's yield strength, N."""
    thread, friction = thread_of(joint), ev.of(thread_friction, joint)
    return np.asarray(
        fasteners.preload_at_yield_share(1.0, strength_of(joint).yielding, thread.diameter, thread.pitch, friction)
    )


def settled_preload(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Preload of one bolt once thread and faces have bedded in, N: by the grip where it is known and no loss is written."""
    full = ev.of(preload, joint)
    if joint.embedment_loss.written is not None or not stiffness.is_known(joint):
        return np.asarray(full * (1 - ev(joint.embedment_loss)))
    lost = joint_faces.bedding_loss(
        ev(joint.embedment), ev.of(stiffness.bolt_with_ends, joint), 1 / ev.of(stiffness.members, joint)
    )
    return np.asarray(np.maximum(full - lost, 0.0))
