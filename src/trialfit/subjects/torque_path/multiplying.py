"""What a torque converter makes of the engine's torque.

Answers   multiplied      most torque that leaves it
          stall_speed     of the engine against it
Not here  what is required of it (converter.py); its slip heat and oil cooler (cooling)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.handbook.torque_path import torque_converter as handbook
from trialfit.parts import Engine, TorqueConverter
from trialfit.subjects import full_load, line

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


FORMULAS = (handbook.multiplied_torque, handbook.stall_speed_of_curve, handbook.capacity_factor)


def stall_speed(ev: Evaluation) -> Array:
    """Engine speed at full throttle with its output held still, rad/s, (draws,)."""
    converter = ev.part(TorqueConverter)
    stated = ev(converter.stall_speed)
    if converter.stall_speed_torque.written is None:
        return stated
    factor = handbook.capacity_factor(stated, ev(converter.stall_speed_torque))
    curve = ev.of(full_load.torque_curve)
    return np.asarray(handbook.stall_speed_of_curve(factor, curve.x, curve.y * curve.scale[:, None]))


def multiplied(ev: Evaluation) -> Array:
    """Most torque that leaves the converter at full throttle, N·m, (draws,). Raises MissingFact."""
    converter = ev.part(TorqueConverter)
    (ratio, _), curve = ev.each(converter.stall_torque_ratio, converter.stall_speed), ev.of(full_load.torque_curve)
    stall = ev.of(stall_speed)
    if not np.isfinite(stall[0]) or stall[0] > curve.x[-1]:
        raise MissingFact({ev.part(Engine).torque_curve.path: "torque up to the stall speed of the torque converter"})
    torque = handbook.multiplied_torque(np.minimum(stall, curve.x[-1]), ratio, curve.x, curve.y * curve.scale[:, None])
    return np.asarray(np.maximum(np.asarray(torque), ev.of(line.peak_torque)))
