"""What a tightened joint holds: separation of the faces, pull on the bolts, slip of the faces.

Answers   requirements   separation, bolt_load, slip
Not here  the joint of an arm, with its lever (bracket.py); the preload (preloads.py); the torque of the drivetrain (loads.py); the load of a mount (mount_loads.py)

What a seal needs is its maker's word; a joint that only seals has none of these findings.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Requirement
from trialfit.facts.quantity import FORCE, TORQUE
from trialfit.handbook.fastening import bolted_joints
from trialfit.handbook.torque_path import shocks, wheel_joint
from trialfit.subjects.fastening import bracket, loads, mount_loads, preloads, stiffness
from trialfit.subjects.fastening.joints import (
    CAUTION,
    RESERVE,
    SUBJECT,
    cure_for_paint,
    force,
    source_of,
    stake_of,
    torque,
    word,
)
from trialfit.subjects.fastening.pattern import bolt_count, mean_radius

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import BoltedJoint


_FRICTION = (bolted_joints.slip_force, bolted_joints.clamp_force)
_TORQUE = (wheel_joint.wheel_slip_torque, shocks.shock_peak)


def requirements(joint: BoltedJoint) -> Iterator[Requirement]:
    """What one joint must hold; both load types are required while load_type is missing."""
    if bracket.applies(joint):
        yield from bracket.requirements(joint)
        return
    holds = mount_loads.held(joint)
    if holds is None or "pull" in holds:
        yield _separation(joint)
    has_arm = any(lever.written is not None for lever in (joint.lever_out, joint.lever_aside))
    if (holds is None and has_arm) or (holds is not None and "pull" in holds):
        yield _bolt_load(joint)
    if holds is None or "shear" in holds:
        yield _slip(joint)
    elif "torque" in holds:
        yield _twist(joint)


def _separation(joint: BoltedJoint) -> Requirement:
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.separation",
        about=joint.name,
        says=f"the clamped faces stay together under {RESERVE} times the pull on the joint",
        value=partial(separation_load, joint=joint),
        quantity=FORCE,
        stake=stake_of(joint),
        limit=AtLeast(lambda ev: RESERVE * ev.of(mount_loads.pull_on, joint)),
        source=COMMON_PRACTICE,
        formulas=(bolted_joints.separation_load, bolted_joints.load_share, *mount_loads.formulas(joint, joint.pull)),
        unit="kN",
        shows=partial(_parting, joint=joint),
        caution=CAUTION,
        cure=cure_for_paint(joint),
    )


def _bolt_load(joint: BoltedJoint) -> Requirement:
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.bolt_load",
        about=joint.name,
        says="preload plus its share of the pull stays below the proof load of a bolt",
        value=partial(bolt_load, joint=joint),
        quantity=FORCE,
        stake=stake_of(joint),
        limit=AtMost(lambda _: preloads.proof_load(joint)),
        source=source_of("proof load: ISO 898-1, SAE J429"),
        formulas=(
            bolted_joints.bolt_force,
            bolted_joints.load_share,
            bolted_joints.bolt_stiffness,
            *mount_loads.formulas(joint, joint.pull),
        ),
        unit="kN",
        shows=partial(_borne, joint=joint) if mount_loads.is_taken(joint, joint.pull) else None,
        caution=CAUTION,
    )


def _slip(joint: BoltedJoint) -> Requirement:
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.slip",
        about=joint.name,
        says=f"the clamped joint carries {RESERVE} times the shear force before its faces slide",
        value=partial(slip_force, joint=joint),
        quantity=FORCE,
        stake=stake_of(joint),
        limit=AtLeast(lambda ev: RESERVE * ev.of(mount_loads.shear_on, joint)),
        source=COMMON_PRACTICE,
        formulas=(*_FRICTION, *mount_loads.formulas(joint, joint.shear)),
        unit="kN",
        shows=partial(_clamped, joint=joint),
        caution=CAUTION,
        cure=cure_for_paint(joint),
    )


def _twist(joint: BoltedJoint) -> Requirement:
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.slip",
        about=joint.name,
        says=f"the clamped joint carries {RESERVE} times the largest {joint.load_type} before its faces turn on each other",
        value=partial(slip_torque, joint=joint),
        quantity=TORQUE,
        stake=stake_of(joint),
        limit=AtLeast(lambda ev: RESERVE * ev.of(loads.torque_on, joint)),
        source=COMMON_PRACTICE,
        formulas=_TORQUE,
        shows=partial(_twisted, joint=joint),
        caution=CAUTION,
        cure=cure_for_paint(joint),
    )


def separation_load(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Pull on the whole joint at which its faces part, N. Raises MissingFact where its load is missing."""
    if mount_loads.held(joint) is None:
        word(joint, "load_type")
    one = bolted_joints.separation_load(ev.of(preloads.settled_preload, joint), ev.of(stiffness.load_share, joint))
    return np.asarray(one * ev.of(bolt_count, joint))


def bolt_load(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Load on one bolt, N, before the parts bed in. Raises MissingFact where the grip is unknown."""
    ev.of(stiffness.layers, joint)
    pull = ev.of(mount_loads.pull_on, joint) / ev.of(bolt_count, joint)
    return np.asarray(
        bolted_joints.bolt_force(ev.of(preloads.preload, joint), ev.of(stiffness.load_share, joint), pull)
    )


def clamp_left(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Clamp load that remains at one bolt, N, under the pull on the joint if there is any."""
    settled = ev.of(preloads.settled_preload, joint)
    if mount_loads.held(joint) != "pull and shear":
        return settled
    pull = ev.of(mount_loads.pull_on, joint) / ev.of(bolt_count, joint)
    return np.asarray(bolted_joints.clamp_force(settled, ev.of(stiffness.load_share, joint), pull))


def slip_force(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Force across the bolts at which the faces slide, N. Raises MissingFact where its load is missing."""
    if mount_loads.held(joint) is None:
        word(joint, "load_type")
    friction, faces = ev.each(joint.face_friction, joint.sliding_faces)
    return np.asarray(bolted_joints.slip_force(ev.of(bolt_count, joint), ev.of(clamp_left, joint), friction, faces))


def slip_torque(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Torque at which the faces turn on each other, N·m."""
    friction, faces = ev.each(joint.face_friction, joint.sliding_faces)
    bolts, clamp = ev.of(bolt_count, joint), ev.of(preloads.settled_preload, joint)
    return np.asarray(wheel_joint.wheel_slip_torque(bolts, clamp, friction, ev.of(mean_radius, joint)) * faces)


def _parting(ev: Evaluation, joint: BoltedJoint) -> str:
    known = stiffness.is_known(joint)
    into = f"{float(ev.of(stiffness.load_share, joint)[0]):.2f} of the pull goes into the bolts"
    said = into if known else "the grip is missing: all of the pull is taken off the clamp load, the worst case"
    pull, clamp = force(ev.of(mount_loads.pull_on, joint)), force(ev.of(preloads.settled_preload, joint))
    in_line = " in line with the bolts" if joint.lever_out.written is None else ""
    return f"{said}; {pull} pull{in_line} against a clamp load of {clamp} per bolt{mount_loads.pull_shown(ev, joint)}"


def _clamped(ev: Evaluation, joint: BoltedJoint) -> str:
    clamp, shear = force(ev.of(clamp_left, joint)), force(ev.of(mount_loads.shear_on, joint))
    return f"clamp load {clamp} per bolt, shear {shear}{mount_loads.shear_shown(ev, joint)}"


def _borne(ev: Evaluation, joint: BoltedJoint) -> str:
    return f"{force(ev.of(mount_loads.pull_on, joint))} pull on the joint{mount_loads.pull_shown(ev, joint)}"


def _twisted(ev: Evaluation, joint: BoltedJoint) -> str:
    load = torque(ev.of(loads.torque_on, joint))
    said = f"clamp load {force(ev.of(preloads.settled_preload, joint))} per bolt against {load}"
    alone = joint.bolts.written is not None and joint.bolts.written.si == 1
    return f"{said}; one bolt alone: the parts turn about it, and only its own face holds them" if alone else said
