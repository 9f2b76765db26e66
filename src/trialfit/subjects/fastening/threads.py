"""Bolts, nuts and holes that match: engagement, stripping, nut class, stretch bolts.

Answers   requirements   engagement, stripping, nut_grade, reused_stretch_bolt, reused_lock_nut
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Source, SourceKind
from trialfit.evaluation.states import InStates
from trialfit.facts.quantity import COUNT, FORCE, LENGTH, STRESS
from trialfit.handbook.fastening import screw_threads, thread_fit
from trialfit.handbook.fastening.fastener_classes import nut_against_bolt, nut_goes_with
from trialfit.subjects.fastening.joints import (
    CAUTION,
    SUBJECT,
    force,
    nominal,
    stake_of,
    strength_is_known,
    strength_of,
    thread_of,
    word,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import BoltedJoint


_RULE = Source("engine maker's service notes: 1.25 d in steel and iron, 2 d in aluminium", SourceKind.published)
_BREAKS_FIRST = Source(
    "the bolt breaks before the threads shear, from memory: rule of thread standards; greatest strength from ISO 898-1's "
    "greatest hardness, from memory",
    SourceKind.from_memory,
)
_NUTS = Source(
    "ISO 898-2, SAE J995, ISO 3506-2: class of the nut at least that of the bolt, from memory", SourceKind.from_memory
)
_STRETCH = Source("car repair manuals: bolts tightened into yield are used once", SourceKind.published)


LOCK_USES = 5.0
"""Tightenings of a locking nut: its standard tests the running torque up to the fifth removal, from memory."""
_LOCKS = Source("ISO 2320, running torque tested up to the fifth removal, from memory", SourceKind.from_memory)

WAYS = ("the threads of the hole shear", "the threads of the bolt shear")


def requirements(joint: BoltedJoint) -> Iterator[Requirement]:
    """What thread, nut and hole of one joint must satisfy."""
    if joint.threaded_into == "nut":
        yield _nut_grade(joint)
    else:
        yield _engagement(joint)
        yield _stripping(joint)
    if joint.bolt_kind == "stretch":
        yield _reused(joint)
    elif joint.times_used.written is not None and joint.running_torque.written is not None:
        yield _reused_lock(joint)


def _nut_grade(joint: BoltedJoint) -> Requirement:
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.nut_grade",
        about=joint.name,
        says="the nut is at least as strong as the bolt, by class, or by stress across metric and inch: the bolt breaks before the "
        "nut strips",
        value=partial(nut_strength, joint=joint),
        quantity=STRESS,
        stake=stake_of(joint),
        limit=AtLeast(lambda _: nut_against_bolt(word(joint, "nut_class"), strength_of(joint))[1]),
        source=_NUTS,
        shows=partial(_nut_shown, joint=joint),
        caution=CAUTION,
    )


def _engagement(joint: BoltedJoint) -> Requirement:
    material = joint.threaded_into or "steel"
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.engagement",
        about=joint.name,
        says=f"the thread engagement in {material} is {screw_threads.ENGAGEMENT[material]} diameters or more, or so long that the "
        "bolt breaks before the threads strip",
        value=lambda ev: ev(joint.engagement),
        quantity=LENGTH,
        stake=stake_of(joint),
        limit=AtLeast(partial(least_engagement, joint=joint)),
        source=_RULE,
        formulas=(screw_threads.engagement_rule,),
        caution="a thread that strips in tightening fails in service: fit a thread insert, or a longer bolt",
    )


def _stripping(joint: BoltedJoint) -> Requirement:
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.stripping",
        about=joint.name,
        says=f"the threads of {joint.threaded_into} and bolt hold until the strongest bolt of its class breaks",
        value=partial(strip_force, joint=joint),
        quantity=FORCE,
        stake=stake_of(joint),
        limit=AtLeast(lambda _: breaking_force(joint)),
        source=_BREAKS_FIRST,
        formulas=(
            screw_threads.hole_strip_force,
            screw_threads.bolt_strip_force,
            screw_threads.stress_area,
            thread_fit.thread_left,
        ),
        unit="kN",
        shows=partial(_strip_shown, joint=joint),
        caution=CAUTION,
        cure="a longer bolt, a thread insert, or a weaker class of bolt",
    )


def _reused(joint: BoltedJoint) -> Requirement:
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.reused_stretch_bolt",
        about=joint.name,
        says="stretch bolts (torque to yield) are new",
        value=lambda ev: ev(joint.times_used),
        quantity=COUNT,
        stake=stake_of(joint),
        limit=AtMost(0.0),
        source=_STRETCH,
        shows=lambda _: "a bolt that has yielded stays longer: the same angle gives less preload",
        caution=CAUTION,
    )


def _reused_lock(joint: BoltedJoint) -> Requirement:
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.reused_lock_nut",
        about=joint.name,
        says="a locking nut has not been tightened more often than it keeps its running torque",
        value=lambda ev: ev(joint.times_used),
        quantity=COUNT,
        stake=stake_of(joint),
        limit=AtMost(LOCK_USES),
        source=_LOCKS,
        shows=lambda _: "a nut that can be run on by hand no longer locks",
        caution=CAUTION,
        cure="a new locking nut",
    )


def nut_strength(_: Evaluation, joint: BoltedJoint) -> float:
    """Strength of the strongest bolts the nut goes with, Pa; its proof stress across metric and inch. Raises MissingFact."""
    nut = word(joint, "nut_class")
    if not strength_is_known(joint):
        return nut_goes_with(nut)[0]
    return nut_against_bolt(nut, strength_of(joint))[0]


def breaking_force(joint: BoltedJoint) -> float:
    """Pull at which the strongest bolt of its class breaks, N. Raises MissingFact."""
    return strength_of(joint).greatest * thread_of(joint).stress_area


def strip_force(ev: Evaluation, joint: BoltedJoint) -> InStates:
    """Pull at which the threads shear off, N: those of the hole, and those of the bolt."""
    thread = thread_of(joint)
    engaged, strength, share, left = ev.each(
        joint.engagement, joint.hole_strength, joint.hole_shear_share, joint.thread_left
    )
    bolt = strength_of(joint)
    size = (thread.diameter, thread.pitch, engaged)
    in_hole = screw_threads.hole_strip_force(*size, strength, share)
    on_bolt = screw_threads.bolt_strip_force(*size, bolt.greatest, bolt.shear_share)
    return InStates(np.stack([in_hole * left, on_bolt * left], axis=-1), WAYS)


def least_engagement(ev: Evaluation, joint: BoltedJoint) -> Array:
    """The usual rule, m, or less where the bolt breaks first with less."""
    rule = np.full(ev.draws, screw_threads.engagement_rule(thread_of(joint).diameter, joint.threaded_into or "steel"))
    if not strength_is_known(joint):
        return rule
    strips = ev.of(strip_force, joint).values.min(axis=-1)
    return np.asarray(np.minimum(rule, ev(joint.engagement) * breaking_force(joint) / strips))


def _nut_shown(_: Evaluation, joint: BoltedJoint) -> str:
    return f"a nut of class {joint.nut_class} on a bolt of class {joint.strength_class}"


def _strip_shown(ev: Evaluation, joint: BoltedJoint) -> str:
    engaged = nominal(ev(joint.engagement))
    strips = float(ev.of(strip_force, joint).values[0].min())
    needed = engaged * breaking_force(joint) / strips
    return (
        f"engagement is {engaged / thread_of(joint).diameter:.2f} diameters, {needed * 1e3:.1f} mm would do; the strongest bolt "
        f"of its class breaks at {force(breaking_force(joint))}"
    )
