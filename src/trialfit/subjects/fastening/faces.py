"""The faces that head and nut press on: does the metal under them bear the preload?

Answers   requirements   hollow, where the bolts pass through a hollow section; bearing_pressure, for the sides of which something is written
Not here  what is lost as faces bed in (preloads.py)

A stretch bolt has a flange or washer of its own: its face is judged once it is written. A conical seat is not judged.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Requirement
from trialfit.evaluation.states import InStates
from trialfit.facts.quantity import COUNT, STRESS
from trialfit.handbook.fastening import joint_faces
from trialfit.parts.fastening.fasteners import HOLLOW
from trialfit.subjects.fastening import preloads
from trialfit.subjects.fastening.joints import CAUTION, SUBJECT, source_of, stake_of, thread_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import BoltedJoint, FactRef

_HEAD, _NUT = "under the head", "under the nut"
_TUBE = (
    'Weld a crush tube round each bolt into the section, from wall to wall, and write through = "crush tube"; or bolt to one wall with '
    'a plate inside, and write through = "solid". Thin walls fold in long before the bolt has its clamp.'
)
_WASHER = 2.0  # a flat washer's diameter over that of the bolt: ISO 7089


def requirements(joint: BoltedJoint) -> Iterator[Requirement]:
    """The walls of a hollow section, and the pressure under head and nut."""
    if joint.through == HOLLOW:
        yield Requirement(
            id=f"{SUBJECT}.{joint.name}.hollow",
            about=joint.name,
            says="the bolts do not pull the walls of a hollow section together: a tube round each from wall to wall takes their clamp; the "
            "value is 1 with one",
            value=lambda _: 0.0,
            quantity=COUNT,
            stake=stake_of(joint),
            limit=AtLeast(1.0),
            source=COMMON_PRACTICE,
            caution=CAUTION,
            cure=_TUBE,
        )
    if joint.seat == "cone of 60°" or not _sides(joint):
        return
    yield Requirement(
        id=f"{SUBJECT}.{joint.name}.bearing_pressure",
        about=joint.name,
        says="the part under head or nut bears the pressure of the preload: it does not creep and the clamp stays",
        value=partial(pressures, joint=joint),
        quantity=STRESS,
        stake=stake_of(joint),
        limit=AtMost(partial(_allowed, joint=joint)),
        source=source_of("VDI 2230, allowed pressure under heads, both issues as a tool maker's catalogue quotes them"),
        formulas=(joint_faces.bearing_pressure, joint_faces.washer_face),
        shows=partial(_shown, joint=joint),
        caution=CAUTION,
        cure="a hard flat washer, or a flanged bolt or nut",
    )


def _sides(joint: BoltedJoint) -> tuple[str, ...]:
    """The sides of which the material, thickness, face or washer is written."""
    own_head = joint.bolt_kind == "stretch" or joint.maker_angles
    head: tuple[FactRef, ...] = (joint.washer_diameter, joint.bearing_diameter)
    if not own_head:
        head = (*head, joint.head_side_thickness, joint.head_side_bearing)
    nut = (joint.nut_washer_diameter, joint.thread_side_thickness, joint.thread_side_bearing)
    head_is = any(ref.written for ref in head) or ("head_side_material" in joint.values and not own_head)
    nut_is = joint.threaded_into == "nut" and (
        any(ref.written for ref in nut) or "thread_side_material" in joint.values
    )
    return (*((_HEAD,) if head_is else ()), *((_NUT,) if nut_is else ()))


def pressures(ev: Evaluation, joint: BoltedJoint) -> InStates:
    """Pressure under head and nut right after tightening, Pa."""
    sides = _sides(joint)
    return InStates(np.stack([_pressure(ev, joint, side) for side in sides], axis=-1), sides)


def _pressure(ev: Evaluation, joint: BoltedJoint, side: str) -> Array:
    washer = joint.washer_diameter if side == _HEAD else joint.nut_washer_diameter
    face, hole = ev.each(joint.bearing_diameter, joint.hole_diameter)
    if washer.written is not None:
        face = np.asarray(joint_faces.washer_face(face, *ev.each(washer, joint.washer_thickness)))
    return np.asarray(joint_faces.bearing_pressure(ev.of(preloads.preload, joint), face, hole))


def _allowed(ev: Evaluation, joint: BoltedJoint) -> InStates:
    bears = {_HEAD: joint.head_side_bearing, _NUT: joint.thread_side_bearing}
    sides = _sides(joint)
    return InStates(np.stack(ev.each(*(bears[side] for side in sides)), axis=-1), sides)


def _shown(ev: Evaluation, joint: BoltedJoint) -> str:
    size = thread_of(joint).diameter
    face, hole, thick = (
        float(each[0]) for each in ev.each(joint.bearing_diameter, joint.hole_diameter, joint.washer_thickness)
    )
    wide = joint_faces.washer_face(face, _WASHER * size, thick)
    pressed = float(joint_faces.bearing_pressure(float(ev.of(preloads.preload, joint)[0]), wide, hole))
    return f"a hard flat washer of {_WASHER * size * 1e3:.0f} mm would bring it to {pressed / 1e6:.0f} MPa"
