"""Pulling away in every load state: what the tyres push, and what has to be moved.

Answers   grip_shares    largest push of the driven tyres over all of the weight that is moved, (draws, states)
          grip_forces    the same as a force, N
Not here  the states (../load_states.py); grip as weighed (../line.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.gearing.hill_grip import grip_share_on_hill
from trialfit.parts import Car, FinalDrive
from trialfit.subjects import line, load_states

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array

_TOWARDS = {"rear": 1.0, "front": -1.0, "all": 0.0}


def grip_shares(ev: Evaluation) -> Array:
    """Largest push of the driven tyres over the weight that is moved, trailer included, in each load state."""
    car = ev.part(Car)
    own, moved = ev.of(load_states.masses), ev.of(load_states.moved_masses)
    friction = ev(car.tyre_friction)[:, None]
    if car.driven_axle == "all":
        return np.asarray(grip_share_on_hill(friction, own, own, moved, 1.0, 0.0, 0.0))
    wheelbase, height = (one[:, None] for one in ev.each(car.wheelbase, car.centre_of_mass_height))
    driven = ev.of(load_states.front_axle_masses if car.driven_axle == "front" else load_states.rear_axle_masses)
    side = _TOWARDS[car.driven_axle or "rear"]
    return np.asarray(
        grip_share_on_hill(friction, driven, own, moved, wheelbase, height, side, ev.of(_lifted)[:, None])
    )


def _lifted(ev: Evaluation) -> Array:
    """What the prop shaft's torque costs an open live axle: it lifts one rear wheel."""
    car = ev.part(Car)
    if car.driven_axle != "rear" or car.rear_suspension != "live axle":
        return np.zeros(ev.draws)
    if ev.part(FinalDrive).differential != "open":
        return np.zeros(ev.draws)
    friction, track, front = ev.each(car.tyre_friction, car.rear_track, car.front_roll_share)
    return np.asarray(2 * friction * ev.of(line.rolling_radius) / (ev.of(line.final_ratio) * track) * front)


def grip_forces(ev: Evaluation) -> Array:
    """Largest push of the driven tyres on the steepest hill it is good for, N, in each load state."""
    return np.asarray(ev.of(grip_shares) * ev.of(load_states.moved_masses) * STANDARD_GRAVITY)
