"""Braking torque on one wheel: what hubs and studs of both axles bear when the car stops on its best grip.

Answers   brake_torque   of one wheel of an axle, N·m, (draws, load states)
          radius         of the tyres of an axle, m
          FORMULAS
Not here  whether the brakes are strong enough to lock the wheel (braking): they are taken to be

The outer wheel in a bend brakes with more than its half: best_wheel_share of grip.py.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.gearing import traction
from trialfit.parts import Tyre
from trialfit.subjects import line
from trialfit.subjects.torque_path import grip

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


MOST_SHARE = 0.6
"""Share of an axle's braking that its outer wheel does where the track is not written: that of a car 0.4 of its track high."""

FORMULAS = (traction.axle_loads, traction.best_wheel_share)


def radius(ev: Evaluation, axle: str) -> Array:
    """Rolling radius of the tyres of an axle, m, (draws,); those that drive where no others are written."""
    tyre = next((one for one in ev.build.all(Tyre) if one.axle == axle), None)
    if tyre is None or tyre.name == line.driven_tyre(ev).name:
        return ev.of(line.rolling_radius)
    rolls = ev(tyre.circumference) if tyre.circumference.written else None
    if rolls is None:
        rolls = line.circumference_by_size(tyre.size, tyre.name) * ev(tyre.circumference_factor)
    return np.asarray(rolls / (2 * np.pi))


def brake_torque(ev: Evaluation, axle: str) -> Array:
    """Torque of one wheel of an axle in a stop on the best grip, N·m, (draws, load states)."""
    share = np.minimum(ev.of(grip.best_wheel_share, axle), MOST_SHARE)[:, None]
    return np.asarray(ev.of(grip.braking_grip, axle) * share * ev.of(radius, axle)[:, None])
