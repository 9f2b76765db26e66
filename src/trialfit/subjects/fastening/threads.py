"""Bolts, nuts and holes that match: engagement, stripping, nut class, stretch bolts.

Answers   requirements   engagement, stripping, nut_grade, reused_stretch_bolt
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Source, SourceKind
from trialfit.facts.quantity import COUNT, FORCE, LENGTH, STRESS
from trialfit.handbook.fastening import screw_threads
from trialfit.handbook.fastening.fastener_classes import nut_goes_with
from trialfit.subjects.fastening.joints import CAUTION, SUBJECT, force, stake_of, strength_of, thread_of, word

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import BoltedJoint


_RULE = Source("engine maker's service notes: 1.25 d in steel and iron, 2 d in aluminium", SourceKind.published)
_BREAKS_FIRST = Source(
    "the bolt breaks before the threads of the hole shear, from memory: rule of thread standards",
    SourceKind.from_memory,
)
_NUTS = Source(
    "ISO 898-2, SAE J995, ISO 3506-2: class of the nut at least that of the bolt, from memory", SourceKind.from_memory
)
_STRETCH = Source("car repair manuals: bolts tightened into yield are used once", SourceKind.published)


def requirements(joint: BoltedJoint) -> Iterator[Requirement]:
    """What thread, nut and hole of one joint must satisfy."""
    if joint.threaded_into == "nut":
        yield _nut_grade(joint)
    else:
        yield _engagement(joint)
        yield _stripping(joint)
    if joint.bolt_kind == "stretch":
        yield _reused(joint)


def _nut_grade(joint: BoltedJoint) -> Requirement:
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.nut_grade",
        about=joint.name,
        says="the nut class matches the bolt class or is higher: the bolt breaks before the nut strips",
        value=partial(nut_strength, joint=joint),
        quantity=STRESS,
        stake=stake_of(joint),
        limit=AtLeast(lambda _: strength_of(joint).wants),
        source=_NUTS,
        shows=partial(_nut_shown, joint=joint),
        caution=CAUTION,
    )


def _engagement(joint: BoltedJoint) -> Requirement:
    material = joint.threaded_into or "steel"
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.engagement",
        about=joint.name,
        says=f"the thread engagement in {material} is {screw_threads.ENGAGEMENT[material]} diameters or more",
        value=lambda ev: ev(joint.engagement),
        quantity=LENGTH,
        stake=stake_of(joint),
        limit=AtLeast(lambda _: screw_threads.engagement_rule(thread_of(joint).diameter, material)),
        source=_RULE,
        formulas=(screw_threads.engagement_rule,),
        caution="a thread that strips in tightening fails in service: fit a thread insert, or a longer bolt",
    )


def _stripping(joint: BoltedJoint) -> Requirement:
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.stripping",
        about=joint.name,
        says=f"the threads in the {joint.threaded_into} hold until the bolt breaks",
        value=partial(strip_force, joint=joint),
        quantity=FORCE,
        stake=stake_of(joint),
        limit=AtLeast(lambda _: breaking_force(joint)),
        source=_BREAKS_FIRST,
        formulas=(screw_threads.hole_strip_force, screw_threads.stress_area),
        unit="kN",
        shows=partial(_strip_shown, joint=joint),
        caution=CAUTION,
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


def nut_strength(_: Evaluation, joint: BoltedJoint) -> float:
    """Tensile strength of the strongest bolts the nut goes with, Pa. Raises MissingFact."""
    return nut_goes_with(word(joint, "nut_class"))[0]


def breaking_force(joint: BoltedJoint) -> float:
    """Pull at which a bolt breaks, N. Raises MissingFact."""
    return strength_of(joint).tensile * thread_of(joint).stress_area


def strip_force(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Pull at which the threads of the hole shear off, N."""
    thread = thread_of(joint)
    engaged, strength = ev.each(joint.engagement, joint.hole_strength)
    return np.asarray(screw_threads.hole_strip_force(thread.diameter, thread.pitch, engaged, strength))


def _nut_shown(_: Evaluation, joint: BoltedJoint) -> str:
    return f"a nut of class {joint.nut_class} on a bolt of class {joint.strength_class}"


def _strip_shown(ev: Evaluation, joint: BoltedJoint) -> str:
    diameters = float(ev(joint.engagement)[0]) / thread_of(joint).diameter
    return f"engagement is {diameters:.2f} diameters; the bolt breaks at {force(breaking_force(joint))}"
