"""The values behind the tightening figure of a joint: torque as set and as corrected, share of proof load, scatter, angle.

Answers   computed_beside_makers, torque_beside_computed, right_torque, over_right_torque   torques
          share_of_proof, scatter, angle_after_snug   what the torque gives
          state_factor, TOLERANCE   from threads in one state to another; how far a torque may be off
Not here  what is required of them (torque_figures.py); whose torque is used, and its preload (preloads.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.handbook.fastening import bolted_joints, fasteners
from trialfit.handbook.fastening.fastener_classes import nut_factor_of
from trialfit.subjects.fastening import preloads, stiffness
from trialfit.subjects.fastening.joints import strength_is_known, thread_of

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
    return figure * state_factor(joint.maker_state, joint.thread_state)


def state_factor(meant: str, state: str) -> float:
    """What a torque for threads in one state is multiplied by for threads in another."""
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
