"""Stiffness of the bolt and of the clamped parts of a joint.

Answers   bolt, members, load_share   N/m, N/m and 1, (draws,)
          bolt_with_ends              m/N, with head and engaged thread
          is_known                    whether the thicknesses are written
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.fastening import bolted_joints, joint_faces
from trialfit.subjects.fastening.joints import thread_of

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import BoltedJoint, FactRef


def is_known(joint: BoltedJoint) -> bool:
    """Whether the thicknesses are written that the grip is made of."""
    return all(ref.written is not None for ref in _grip_facts(joint))


def _grip_facts(joint: BoltedJoint) -> tuple[FactRef, FactRef]:
    thread_side = joint.thread_side_thickness if joint.threaded_into == "nut" else joint.engagement
    return joint.head_side_thickness, thread_side


def layers(ev: Evaluation, joint: BoltedJoint) -> tuple[Array, Array]:
    """Thickness under the head and at the thread, m; of a tapped part what the grip reaches into it."""
    head, other = ev.each(*_grip_facts(joint))
    if joint.threaded_into == "nut":
        return head, other
    return head, np.asarray(bolted_joints.tapped_grip(thread_of(joint).diameter, other))


def bolt(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Stiffness of one bolt over its grip, N/m."""
    thread = thread_of(joint)
    head, other = ev.of(layers, joint)
    shank = ev(joint.shank_length)
    shank_area = np.pi / 4 * thread.diameter**2
    steel = bolted_joints.MODULUS["steel"]
    return np.asarray(bolted_joints.bolt_stiffness(shank_area, thread.stress_area, shank, head + other - shank, steel))


def bolt_with_ends(ev: Evaluation, joint: BoltedJoint) -> Array:
    """How much one bolt gives with its head and its engaged thread, m/N: they count in short grips."""
    thread = thread_of(joint)
    head, other = ev.of(layers, joint)
    shank = np.minimum(ev(joint.shank_length), head + other)
    return np.asarray(
        joint_faces.bolt_compliance(
            thread.diameter, thread.stress_area, shank, head + other - shank, bolted_joints.MODULUS["steel"]
        )
    )


def members(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Stiffness of what one bolt clamps, N/m; a gasket in between is the softest."""
    face = joint.washer_diameter if joint.washer_diameter.written else joint.bearing_diameter
    diameter, hole = ev.each(face, joint.hole_diameter)
    head, other = ev.of(layers, joint)
    tapped_in = joint.threaded_into or "nut"
    at_thread = (joint.thread_side_material or "steel") if tapped_in == "nut" else tapped_in
    modulus = bolted_joints.MODULUS
    metal = np.asarray(
        bolted_joints.member_stiffness(
            head, modulus[joint.head_side_material or "steel"], other, modulus[at_thread], diameter, hole
        )
    )
    if joint.gasket_stiffness.written is None:
        return metal
    gasket = ev(joint.gasket_stiffness)
    return np.asarray(metal * gasket / (metal + gasket))


def load_share(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Share of a pull that goes into the bolts; 0, which is on the safe side, where the grip is not known."""
    if not is_known(joint):
        return np.zeros(ev.draws)
    return np.asarray(bolted_joints.load_share(ev.of(bolt, joint), ev.of(members, joint)))
