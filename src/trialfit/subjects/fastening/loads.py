"""The torque that a joint's faces carry, by its load type.

Answers   torque_on   N·m, (draws,): written, or what the drivetrain sends through that place
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.subjects.torque_path import loads
from trialfit.subjects.torque_path.events import Load
from trialfit.subjects.torque_path.gears import driven_axle
from trialfit.subjects.torque_path.loads import at

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import BoltedJoint
    from trialfit.subjects.torque_path.loads import Sides


def torque_on(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Largest torque that the faces see in any gear: the shock that the engine or the tyres set. Raises MissingFact."""
    if joint.load_type == "torque":
        return ev(joint.load_torque)
    return np.asarray(_sides(ev, joint.load_type or "").seen.max(axis=-1))


def _sides(ev: Evaluation, place: str) -> Sides:
    if place == "gearbox torque":
        return at(loads.gearbox_input, Load.shock)(ev)
    if place == "prop shaft torque":
        return at(loads.pinion, Load.shock)(ev)
    end = driven_axle(ev.build)
    return at(loads.axle if place == "axle torque" else loads.wheel, Load.shock, end)(ev)
