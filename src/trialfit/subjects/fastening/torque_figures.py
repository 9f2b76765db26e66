"""The tightening figure of a joint, its preload, and the scatter of the preload.

Answers   requirements   preload_share, pull_and_twist, dry_figure_on_oiled_thread or oiled_figure_on_dry_thread, maker_figure
                         figures: computed_torque, preload, preload_scatter, angle_after_snug
Not here  the values themselves (torque_values.py), what is said beside them (torque_remarks.py);
          what the joint holds with it (holding.py); the wrench (wrenches.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import AtLeast, AtMost, Between, Requirement, Source, SourceKind
from trialfit.facts.quantity import ANGLE, FORCE, RATIO, SHARE, TORQUE
from trialfit.handbook.fastening import bolted_joints, fasteners, tightening_stress
from trialfit.handbook.fastening.fastener_classes import nut_factor_of
from trialfit.handbook.sources import NO_SOURCE
from trialfit.subjects.fastening import preloads, stiffness
from trialfit.subjects.fastening.joints import (
    CAUTION,
    SUBJECT,
    source_of,
    stake_of,
)
from trialfit.subjects.fastening.torque_remarks import (
    in_use,
    pulled_and_twisted,
    strength_source,
    usual_scatter,
    what_oil_does,
    whose_figure,
    why_it_differs,
)
from trialfit.subjects.fastening.torque_values import (
    TOLERANCE,
    angle_after_snug,
    computed_beside_makers,
    most_over_intended,
    over_intended_preload,
    right_torque,
    scatter,
    share_of_proof,
    share_of_yield,
    torque_beside_computed,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import BoltedJoint


LUBRICATION = Source(
    "fastener suppliers' nut-factor table: the factor of these threads over that of the maker's; 10 % either way is "
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
        yield _pull_and_twist(joint)
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
        says=f"torque for a preload of {100 * preloads.target_share(joint):.0f} % of proof load at each bolt, or of "
        f"{100 * preloads.yield_share(joint):.0f} % of yield by pull and twist together if that is less",
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
        says=f"preload of one bolt, tightened to {whose_figure(joint)}",
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
        shows=partial(usual_scatter, joint=joint),
    )


def _preload_share(joint: BoltedJoint) -> Requirement:
    bears = strength_source(joint)
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
        shows=partial(in_use, joint=joint),
        caution=CAUTION,
    )


def _pull_and_twist(joint: BoltedJoint) -> Requirement:
    bears = strength_source(joint)
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.pull_and_twist",
        about=joint.name,
        says="pull and twist together stay below the yield strength of the bolt while it is tightened",
        value=partial(share_of_yield, joint=joint),
        quantity=SHARE,
        stake=stake_of(joint),
        limit=AtMost(1.0),
        source=source_of(f"VDI 2230; yield strength: {bears}"),
        formulas=(tightening_stress.stress_in_tightening, tightening_stress.friction_of_nut_factor, *_PRELOAD),
        shows=partial(pulled_and_twisted, joint=joint),
        caution=CAUTION,
        cure="less torque, or grease that lowers the twist and a torque that goes with it",
    )


def _lubrication(joint: BoltedJoint) -> Requirement:
    meant = joint.maker_state or "dry"
    meant_oiled = nut_factor_of(meant).oiled
    which = "oiled_figure_on_dry_thread" if meant_oiled else "dry_figure_on_oiled_thread"
    says = (
        f"a torque for {meant} threads is not used where the threads rub more and it gives too little preload"
        if meant_oiled
        else f"a torque for {meant} threads is not used where the threads rub less and it gives too much preload"
    )
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.{which}",
        about=joint.name,
        says=f"{says}; the value is the preload over the one the maker meant",
        value=partial(over_intended_preload, joint=joint),
        quantity=RATIO,
        stake=stake_of(joint),
        limit=AtLeast(1 - TOLERANCE) if meant_oiled else AtMost(partial(most_over_intended, joint=joint)),
        source=LUBRICATION,
        formulas=(fasteners.preload_of_torque,),
        shows=partial(what_oil_does, joint=joint),
        caution=CAUTION,
    )


def _maker_figure(joint: BoltedJoint) -> Requirement:
    def low(ev: Evaluation) -> Array:
        return (1 - TOLERANCE) * ev.of(right_torque, joint)

    def high(ev: Evaluation) -> Array:
        runs = (
            0.0 if joint.running_torque.written is None else ev(joint.running_torque)
        )  # his figure may not include it
        return np.asarray((1 + TOLERANCE) * ev.of(right_torque, joint) + runs)

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
        says=f"turn from seated parts to {100 * preloads.target_share(joint):.0f} % of the proof load, or to "
        f"{100 * preloads.yield_share(joint):.0f} % of yield",
        value=partial(angle_after_snug, joint=joint),
        quantity=ANGLE,
        stake=stake_of(joint),
        formulas=(bolted_joints.angle_after_snug, bolted_joints.bolt_stiffness, bolted_joints.member_stiffness),
        caution=CAUTION,
    )


def _of(ev: Evaluation, function: object, joint: BoltedJoint) -> Array:
    return np.asarray(ev.of(function, joint))  # type: ignore[arg-type]
