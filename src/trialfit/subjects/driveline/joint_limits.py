"""What the angle of a joint is held against: by its shaft's speed, by its maker, by what is usual for its kind.

Answers   allowed_angle   largest working angle at the highest shaft speed; by_speed at several speeds
          bound_of_joint  what the joint itself allows
          possible        the angles that a cardan joint can have
          maker_or        the source of a limit that is a fact of the part; usual while it is not written
          and the limits and their sources
Not here  the requirements (angles.py); formulas (handbook joint_angle_limits)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import COMMON_PRACTICE, Source, SourceKind
from trialfit.facts.provenance import Provenance
from trialfit.handbook.driveline.joint_angle_limits import angle_for_acceleration, largest_joint_angle
from trialfit.subjects.driveline.directions import the_joint
from trialfit.subjects.line import highest_shaft_speed
from trialfit.subjects.shaft_line import RUBBER_DISC

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef
    from trialfit.subjects.shaft_line import Joint


INERTIA_LIMIT = 1000.0
"""ω²β² [rad/s²] up to which a joint maker's printed angles go."""

CONSTANT_VELOCITY_LIMIT = np.radians(10.0)
NEEDLES_ROLL = np.radians(0.5)
NO_CARDAN_BEYOND = np.radians(45.0)
"""Angle that no cardan joint of a car reaches: common practice, no source."""
EQUAL_WITHIN = np.radians(1.0)
ONE_JOINT_ALONE = np.radians(1.5)
IN_LINE = np.radians(1.0)
"""Angle that cannot be told from none with a gauge and a tape."""

BY_SPEED = Source(
    "joint maker's largest angle by shaft speed, printed from 1500 to 5000 rpm; for a slower or faster shaft the 1000 rad/s² "
    "of ω²β² behind it, common practice",
    SourceKind.common_practice,
)
SHAKEN = Source(
    "joint maker's largest angle by shaft speed: its rows are 855 to 1024 rad/s² of ω²β², 1000 taken",
    SourceKind.published,
)
BY_SPEED_OR_MAKER = Source(f"{BY_SPEED.text}; the joint's own limit where that is smaller", BY_SPEED.kind)
ON_A_PROP_SHAFT = Source(
    "car workshop manual: constant-velocity joint on a propeller shaft, below 10°", SourceKind.published
)
ROLLING = Source(
    "joint maker's angle rules, and car workshop manual, propeller-shaft angle: 0.5°", SourceKind.published
)
EQUAL = Source(
    "joint maker's angle rules: 1°; an axle maker's manual allows 1.5°; the accelerations decide", SourceKind.published
)
ALONE = Source("car workshop manual, propeller-shaft angle: 1.5° where there is one joint only", SourceKind.published)
CARDAN_BINDS = Source("from memory: a cardan joint of a prop shaft binds at 15 to 35°", SourceKind.from_memory)
RUBBER = Source("from memory: discs of rubber or fabric bear 2 to 4° for long", SourceKind.from_memory)
BOLTED_STRAIGHT = Source(
    f"{COMMON_PRACTICE.text}: a rigid end is square and central within tenths of a millimetre; 1° is what gauge and tape can show",
    SourceKind.common_practice,
)


def allowed_angle(ev: Evaluation, place: str) -> Array:
    """Largest working angle of a joint at the highest shaft speed, rad; its maker's limit where that is smaller."""
    joint = the_joint(ev, place)
    if not joint.is_cardan:
        return bound_of_joint(ev, place)
    return by_speed(ev, joint, ev.of(highest_shaft_speed)[:, None])[:, 0]


def by_speed(ev: Evaluation, joint: Joint, speeds: Array) -> Array:
    """Largest working angle of a cardan joint at shaft speeds (draws, speeds), rad; its maker's limit where that is smaller."""
    printed = np.asarray(largest_joint_angle(speeds))
    fastest = np.where(np.isnan(printed), angle_for_acceleration(INERTIA_LIMIT, speeds), printed)
    return fastest if joint.angle_limit.written is None else np.minimum(fastest, ev(joint.angle_limit)[:, None])


def bound_of_joint(ev: Evaluation, place: str) -> Array:
    """What the joint itself allows, rad: as written, else what is usual for its kind."""
    joint = the_joint(ev, place)
    if joint.is_cardan or joint.works == RUBBER_DISC or joint.angle_limit.written is not None:
        return ev(joint.angle_limit)
    return np.full(ev.draws, CONSTANT_VELOCITY_LIMIT)


def possible(angles: Array) -> Array:
    """The angles of a cardan joint, rad; nan where no such joint goes: a place of the shaft is wrong."""
    return np.where(angles <= NO_CARDAN_BEYOND, angles, np.nan)


def usual(joint: Joint) -> Source:
    """The source of what is usual for a joint of its kind."""
    if joint.is_cardan:
        return CARDAN_BINDS
    return RUBBER if joint.works == RUBBER_DISC else ON_A_PROP_SHAFT


def maker_or(ref: FactRef, usual: Source) -> Source:
    """The source of a limit that is a fact of the part: its maker or the builder, or the usual one while it is not written."""
    if ref.written is None:
        return usual
    by_maker = ref.written.provenance in {Provenance.manual, Provenance.catalogue}
    return Source(f"{ref.path} as written", SourceKind.manual if by_maker else SourceKind.builder)
