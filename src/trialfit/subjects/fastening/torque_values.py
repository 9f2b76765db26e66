"""The values behind the tightening figure of a joint: torque as set and as corrected, share of proof load, scatter, angle.

Answers   computed_beside_makers, torque_beside_computed, right_torque   torques
          over_intended_preload, most_over_intended   the maker's torque on threads in another state
          share_of_proof, share_of_yield, scatter, angle_after_snug   what the torque gives
          state_factor, TOLERANCE   from threads in one state to another; how far a torque may be off
Not here  what is required of them (torque_figures.py); whose torque is used, and its preload (preloads.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.handbook.fastening import bolted_joints, fasteners, tightening_stress
from trialfit.handbook.fastening.fastener_classes import nut_factor_of
from trialfit.subjects.fastening import preloads, stiffness
from trialfit.subjects.fastening.joints import strength_is_known, strength_of, thread_of

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import BoltedJoint

TOLERANCE = 0.10
"""How far a torque may be from the correct one: common practice, no source."""


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
    bears = preloads.proof_load(joint)
    return ev.of(preloads.judged_preload, joint) / bears


def share_of_yield(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Pull and twist together at the end of tightening, over the yield strength, (draws,)."""
    strength, thread = strength_of(joint), thread_of(joint)
    stress = tightening_stress.stress_in_tightening(
        ev.of(preloads.judged_preload, joint),
        thread.stress_area,
        thread.diameter,
        thread.pitch,
        ev.of(preloads.judged_friction, joint),
    )
    return np.asarray(stress / strength.yielding)


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
    wanted = ev.of(preloads.target_preload, joint)
    bolt, members = ev.of(stiffness.bolt, joint), ev.of(stiffness.members, joint)
    return np.asarray(bolted_joints.angle_after_snug(wanted, thread_of(joint).pitch, bolt, members))


def right_torque(ev: Evaluation, joint: BoltedJoint) -> Array:
    """The maker's torque for threads as they are, N·m: turned down where these rub less, never turned up.

    If the state for the maker's figure is missing, the figure is used unchanged.
    """
    figure = ev.of(preloads.makers_torque, joint)
    if joint.maker_state is None or joint.thread_state is None:
        return figure
    return np.asarray(figure * min(1.0, state_factor(joint.maker_state, joint.thread_state)))


def state_factor(meant: str, state: str) -> float:
    """Torque for threads in one state over that for threads in another, at the same preload: the usual nut factors."""
    return nut_factor_of(state).usual / nut_factor_of(meant).usual


def over_intended_preload(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Preload over the one that the maker meant. Raises MissingFact where a state is not written."""
    lacking = {name: getattr(joint, name) for name in ("maker_state", "thread_state")}
    missing = {f"{joint.name}.{name}": joint.specs()[name].says for name, text in lacking.items() if text is None}
    if missing:
        raise MissingFact(missing)
    if strength_is_known(joint):
        ev.of(share_of_proof, joint)  # read here for the sentence that says what the oil does to the preload
    factor = state_factor(joint.maker_state or "dry", joint.thread_state or "dry")
    return np.asarray(ev.of(preloads.torque_in_use, joint) / ev.of(preloads.makers_torque, joint) / factor)


def most_over_intended(_: Evaluation, joint: BoltedJoint) -> float:
    """How far the preload may exceed the maker's: by a tenth, or up to the usual share of proof where only the bolt sets the limit.

    A thread in aluminium or a seal may be what the maker kept low for.
    """
    if joint.threaded_into == "aluminium" or joint.load_type == "a seal only" or not strength_is_known(joint):
        return 1 + TOLERANCE
    meant = joint.maker_torques[-1].written
    if meant is None or joint.maker_state is None:
        return 1 + TOLERANCE
    factor = nut_factor_of(joint.maker_state).usual
    intended = meant.si / (factor * thread_of(joint).diameter)
    return max(1 + TOLERANCE, preloads.target_share(joint) * preloads.proof_load(joint) / intended)
