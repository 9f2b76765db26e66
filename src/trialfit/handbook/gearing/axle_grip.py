"""Grip of one axle in the cases that traction.py leaves out: reversing, and one axle of a car that drives all wheels.

Answers   grip_reversing_rear_drive        the load moves off the driven axle
          grip_reversing_front_drive       the load moves onto it
          grip_reversing_open_solid_axle   the same as rear drive, one wheel lifted by the prop shaft's torque
          grip_rear_of_all_drive           largest drive force of the rear axle of an all-wheel drive
          grip_front_of_all_drive_reversing
Not here  driving forward on one axle (traction.py)
Symbols   μ grip coefficient, m mass, L wheelbase, l_f front axle to centre of gravity, l_r = L − l_f,
          h height of the centre of gravity, t track, r wheel radius, i_f final ratio, K roll stiffness
Sources   [1] statics: the formulas of traction.py with the ends of the car exchanged
          [2] Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.gearing.traction import axle_loads, grip_front_drive, grip_rear_drive


def grip_reversing_rear_drive(
    grip_coefficient: Numbers,
    mass: Numbers,
    wheelbase: Numbers,
    front_axle_to_gravity_centre: Numbers,
    gravity_centre_height: Numbers,
) -> Numbers:
    """Largest tractive effort of a rear-driven car in reverse.

        F = μ·m·g·(l_f/L)/(1 + μ·h/L)

    grip_coefficient              μ       1     ≥ 0
    mass                          m       kg    > 0
    wheelbase                     L       m     > 0
    front_axle_to_gravity_centre  l_f     m     0 ≤ l_f ≤ L
    gravity_centre_height         h       m     ≥ 0
    returns                       F       N     nan outside that range

    Level road. A car with rear drive going backwards is one with front drive going forwards. Source: statics.

    >>> f"{grip_reversing_rear_drive(0.95, 1250, 2.55, 1.30, 0.50):.0f} N"
    '5005 N'
    """
    to_centre = _from_the_other_end(wheelbase, front_axle_to_gravity_centre)
    return grip_front_drive(grip_coefficient, mass, wheelbase, to_centre, gravity_centre_height)


def grip_reversing_front_drive(
    grip_coefficient: Numbers,
    mass: Numbers,
    wheelbase: Numbers,
    front_axle_to_gravity_centre: Numbers,
    gravity_centre_height: Numbers,
) -> Numbers:
    """Largest tractive effort of a front-driven car in reverse.

        F = μ·m·g·(l_r/L)/(1 − μ·h/L)

    grip_coefficient              μ       1     ≥ 0
    mass                          m       kg    > 0
    wheelbase                     L       m     > 0
    front_axle_to_gravity_centre  l_f     m     0 ≤ l_f ≤ L, with l_r = L − l_f
    gravity_centre_height         h       m     ≥ 0
    returns                       F       N     nan outside that range and where the rear axle would lift (μ·h > l_f)

    Level road. Source: statics.

    >>> f"{grip_reversing_front_drive(0.95, 1250, 2.55, 1.10, 0.50):.0f} N"
    '8138 N'
    """
    to_centre = _from_the_other_end(wheelbase, front_axle_to_gravity_centre)
    return grip_rear_drive(grip_coefficient, mass, wheelbase, to_centre, gravity_centre_height)


def grip_reversing_open_solid_axle(
    grip_coefficient: Numbers,
    mass: Numbers,
    wheelbase: Numbers,
    front_axle_to_gravity_centre: Numbers,
    gravity_centre_height: Numbers,
    track: Numbers,
    wheel_radius: Numbers,
    final_ratio: Numbers,
    front_roll_stiffness: Numbers,
    rear_roll_stiffness: Numbers,
) -> Numbers:
    """Largest tractive effort in reverse of a solid rear axle with an open differential.

        F = μ·m·g·(l_f/L)/(1 + μ·h/L + (2·μ·r/(i_f·t))·K_f/(K_f + K_r))

    grip_coefficient              μ                 1         ≥ 0
    mass                          m                 kg        > 0
    wheelbase                     L                 m         > 0
    front_axle_to_gravity_centre  l_f               m         0 ≤ l_f ≤ L
    gravity_centre_height         h                 m         ≥ 0
    track                         t, of that axle   m         > 0
    wheel_radius                  r                 m         > 0
    final_ratio                   i_f               1         > 0
    front_roll_stiffness          K_f               N·m/rad   ≥ 0, any unit that both share
    rear_roll_stiffness           K_r               N·m/rad   ≥ 0, not both zero
    returns                       F                 N         nan outside that range

    Turned round, the prop shaft lifts the other wheel by as much. Level road, efficiency of the axle left out.
    Source: Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory, with the load transfer reversed.

    >>> car = dict(mass=1790, wheelbase=2.743, front_axle_to_gravity_centre=1.285, gravity_centre_height=0.533)
    >>> axle = dict(track=1.499, wheel_radius=0.330, final_ratio=2.90)
    >>> f"{grip_reversing_open_solid_axle(0.62, **car, **axle, front_roll_stiffness=1150, rear_roll_stiffness=280):.0f} N"
    '4262 N'
    """
    locked = np.asarray(
        grip_reversing_rear_drive(
            grip_coefficient, mass, wheelbase, front_axle_to_gravity_centre, gravity_centre_height
        )
    )
    values = as_floats(grip_coefficient, wheelbase, gravity_centre_height, track, wheel_radius, final_ratio)
    grip, wheelbase, height, track, wheel_radius, final_ratio = values
    front, rear = as_floats(front_roll_stiffness, rear_roll_stiffness)
    sound = (track > 0) & (wheel_radius > 0) & (final_ratio > 0) & (front >= 0) & (rear >= 0) & (front + rear > 0)
    sound = sound & np.isfinite(locked)
    lifted = (
        2 * grip * wheel_radius / np.where(sound, final_ratio * track, 1.0) * front / np.where(sound, front + rear, 1.0)
    )
    moved = 1 + grip * height / np.where(sound, wheelbase, 1.0)
    return where(sound, locked * moved / np.where(sound, moved + lifted, 1.0))


def grip_rear_of_all_drive(
    grip_coefficient: Numbers,
    mass: Numbers,
    wheelbase: Numbers,
    front_axle_to_gravity_centre: Numbers,
    gravity_centre_height: Numbers,
) -> Numbers:
    """Largest drive force of the rear axle of a car with all-wheel drive, going forward.

        F_r = μ·m·g·(l_f + μ·h)/L

    grip_coefficient              μ       1     ≥ 0
    mass                          m       kg    > 0
    wheelbase                     L       m     > 0
    front_axle_to_gravity_centre  l_f     m     0 ≤ l_f ≤ L
    gravity_centre_height         h       m     ≥ 0
    returns                       F_r     N     nan outside that range and where the front axle would lift (μ·h > l_r)

    Both axles push at their grip, so that the car gains speed at μ·g and the load on the rear axle is as large as it can
    get. In reverse, the front axle in place of the rear. Level road, no lift from the air. Source: statics.

    >>> f"{grip_rear_of_all_drive(0.95, 1250, 2.55, 1.30, 0.50):.0f} N"
    '8106 N'
    """
    (grip,) = as_floats(grip_coefficient)
    ahead = grip * STANDARD_GRAVITY
    rear = axle_loads(mass, wheelbase, front_axle_to_gravity_centre, gravity_centre_height, acceleration=ahead)[1]
    return where(grip >= 0, grip * rear)


def grip_front_of_all_drive_reversing(
    grip_coefficient: Numbers,
    mass: Numbers,
    wheelbase: Numbers,
    front_axle_to_gravity_centre: Numbers,
    gravity_centre_height: Numbers,
) -> Numbers:
    """Largest drive force of the front axle of a car with all-wheel drive, in reverse.

        F_f = μ·m·g·(l_r + μ·h)/L

    grip_coefficient              μ       1     ≥ 0
    mass                          m       kg    > 0
    wheelbase                     L       m     > 0
    front_axle_to_gravity_centre  l_f     m     0 ≤ l_f ≤ L, with l_r = L − l_f
    gravity_centre_height         h       m     ≥ 0
    returns                       F_f     N     nan outside that range and where the rear axle would lift (μ·h > l_f)

    Level road, no lift from the air. Source: statics.

    >>> f"{grip_front_of_all_drive_reversing(0.95, 1250, 2.55, 1.30, 0.50):.0f} N"
    '7878 N'
    """
    to_centre = _from_the_other_end(wheelbase, front_axle_to_gravity_centre)
    return grip_rear_of_all_drive(grip_coefficient, mass, wheelbase, to_centre, gravity_centre_height)


def _from_the_other_end(wheelbase: Numbers, front_axle_to_gravity_centre: Numbers) -> Numbers:
    """Rear axle to centre of gravity: what the front axle's distance is for a car that goes the other way."""
    wheelbase, to_centre = as_floats(wheelbase, front_axle_to_gravity_centre)
    return wheelbase - to_centre
