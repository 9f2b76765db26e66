"""Which torque a joint is tightened to, and the preload that it gives.

Answers   Figure, figure_of      the maker's figure, the builder's, or the one worked out
          target_share           of the proof load
          nut_factor, nut_factor_ratio   K as the threads are, and how far it can lie apart
          computed_torque        for the target preload
          torque_in_use          the figure that counts
          preload, settled_preload
Not here  what is required of them (torque_figures.py); stiffness (stiffness.py)
"""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.handbook.fastening import bolted_joints, fasteners
from trialfit.parts import BoltedJoint, TorqueWrench
from trialfit.subjects.fastening import stiffness
from trialfit.subjects.fastening.joints import strength_of, thread_of

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef


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


def nut_factor(ev: Evaluation, joint: BoltedJoint) -> Array:
    """K as the threads are: by friction where both frictions are written, else written or by the state of the threads."""
    if joint.thread_friction.written is None or joint.head_friction.written is None:
        return ev(joint.nut_factor)
    thread = thread_of(joint)
    in_thread, under_head, face, hole = ev.each(
        joint.thread_friction, joint.head_friction, joint.bearing_diameter, joint.hole_diameter
    )
    return np.asarray(
        fasteners.nut_factor_of_friction(thread.diameter, thread.pitch, in_thread, under_head, (face + hole) / 2)
    )


def nut_factor_ratio(ev: Evaluation, joint: BoltedJoint) -> float:
    """Largest over smallest nut factor within the spread of its facts."""
    if joint.thread_friction.written is None or joint.head_friction.written is None:
        low, high = _ends(ev, joint.nut_factor)
        return high / low
    thread = thread_of(joint)
    face, hole = (float(ev(ref)[0]) for ref in (joint.bearing_diameter, joint.hole_diameter))
    ends = zip(_ends(ev, joint.thread_friction), _ends(ev, joint.head_friction), strict=True)
    low, high = (
        float(fasteners.nut_factor_of_friction(thread.diameter, thread.pitch, *friction, (face + hole) / 2))
        for friction in ends
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


def computed_torque(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Torque for the target preload at the bolt, N·m."""
    wanted = target_share(joint) * proof_load(joint)
    return np.asarray(fasteners.torque_for_preload(wanted, ev.of(nut_factor, joint), thread_of(joint).diameter))


def computed_setting(ev: Evaluation, joint: BoltedJoint) -> float:
    """The figure worked out, as one number, N·m: the builder sets one torque, whatever the friction of a draw."""
    return float(ev.of(computed_torque, joint)[0])


def makers_torque(ev: Evaluation, joint: BoltedJoint) -> Array:
    """The maker's last torque stage, N·m. Raises MissingFact."""
    if not joint.maker_torques:
        raise MissingFact({f"{joint.name}.maker_torques": BoltedJoint.maker_torques.says})
    return ev(joint.maker_torques[-1])


def torque_in_use(ev: Evaluation, joint: BoltedJoint) -> Array:
    """The torque that is set for the bolt, N·m, without what a locking nut needs to turn.

    The builder sets one number; the wrench error spreads the torque at the bolt.
    """
    figure = figure_of(joint)
    if figure is Figure.builder:
        return np.full(ev.draws, ev(joint.torque)[0])
    if figure is Figure.maker:
        return ev.of(makers_torque, joint)
    return np.full(ev.draws, ev.of(computed_setting, joint))


def wrench_of(ev: Evaluation, joint: BoltedJoint) -> TorqueWrench | None:
    """The wrench that is named, or None."""
    found = ev.build.named(joint.wrench)
    return found if isinstance(found, TorqueWrench) else None


def preload(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Preload of one bolt right after tightening, N: friction and the wrench spread it."""
    wrench = ev.of(wrench_of, joint)
    at_bolt = ev.of(torque_in_use, joint) * (1 + (ev(wrench.reading_error) if wrench else 0.0))
    by_torque = np.asarray(fasteners.preload_of_torque(at_bolt, ev.of(nut_factor, joint), thread_of(joint).diameter))
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
    thread, friction = thread_of(joint), ev(joint.thread_friction)
    return np.asarray(
        fasteners.preload_at_yield_share(1.0, strength_of(joint).yielding, thread.diameter, thread.pitch, friction)
    )


def settled_preload(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Preload of one bolt once paint, gasket and faces have bedded in, N."""
    return np.asarray(ev.of(preload, joint) * (1 - ev(joint.embedment_loss)))
