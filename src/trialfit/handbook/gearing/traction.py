"""Traction: the drive force of the driven tyres before they spin.

Answers   axle_loads         front and rear, standing, accelerating, on a slope
          grip_rear_drive    also for a solid rear axle with a locked differential
          grip_front_drive
          grip_all_drive
          grip_open_solid_axle   the prop shaft's torque lifts one rear wheel
          best_wheel_share       of an axle's grip, that one wheel can drive with
Not here  tractive effort (ratios.py); slope that the grip climbs (road_load.gradeability_by_grip)
Symbols   μ grip coefficient, m mass, L wheelbase, l_f front axle to centre of gravity, l_r = L − l_f,
          h height of the centre of gravity, t track, r wheel radius, i_f final ratio, K roll stiffness
Sources   [1] Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory   [2] statics
          [3] grip coefficients, from memory
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.constants import STANDARD_GRAVITY

GRIP_DRY = (0.8, 1.0)
"""Range of μ of road tyres on dry tarmac, from memory [3]."""

GRIP_WET = (0.5, 0.7)
"""Range of μ on wet tarmac, from memory [3]."""

GRIP_LOOSE = (0.3, 0.5)
"""Range of μ on gravel and other loose ground, from memory [3]."""


def axle_loads(
    mass: Numbers,
    wheelbase: Numbers,
    front_axle_to_gravity_centre: Numbers,
    gravity_centre_height: Numbers = 0.0,
    acceleration: Numbers = 0.0,
    slope_angle: Numbers = 0.0,
) -> tuple[Numbers, Numbers]:
    """Load on the front and on the rear axle.

        F_r = m·[g·cos θ·l_f + (a + g·sin θ)·h]/L
        F_f = m·g·cos θ − F_r

    mass                          m                 kg      > 0
    wheelbase                     L                 m       > 0
    front_axle_to_gravity_centre  l_f               m       0 ≤ l_f ≤ L
    gravity_centre_height         h                 m       ≥ 0
    acceleration                  a, forward        m/s²
    slope_angle                   θ, uphill         rad     −π/2 < θ < π/2
    returns                       F_f, F_r          N       nan outside that range and where an axle would lift

    Steady acceleration, no lift from the air, suspension movement left out. Source: statics.

    >>> front, rear = axle_loads(1000, 2.5, 1.25, 0.5, acceleration=9.80665 / 2)
    >>> f"{front:.0f} N, {rear:.0f} N"
    '3923 N, 5884 N'
    """
    values = as_floats(mass, wheelbase, front_axle_to_gravity_centre, gravity_centre_height, acceleration, slope_angle)
    mass, wheelbase, to_centre, height, acceleration, slope_angle = values
    sound = _sound_car(mass, wheelbase, to_centre, height) & (np.abs(slope_angle) < np.pi / 2)
    weight = mass * STANDARD_GRAVITY * np.cos(slope_angle)
    moved = mass * (acceleration + STANDARD_GRAVITY * np.sin(slope_angle)) * height
    rear = (weight * to_centre + moved) / np.where(sound, wheelbase, 1.0)
    front = weight - rear
    sound = sound & (front >= 0) & (rear >= 0)
    return where(sound, front), where(sound, rear)


def grip_rear_drive(
    grip_coefficient: Numbers,
    mass: Numbers,
    wheelbase: Numbers,
    front_axle_to_gravity_centre: Numbers,
    gravity_centre_height: Numbers,
) -> Numbers:
    """Largest tractive effort of a rear-driven car: both wheels at their grip.

        F = μ·m·g·(l_f/L)/(1 − μ·h/L)

    grip_coefficient              μ       1     ≥ 0
    mass                          m       kg    > 0
    wheelbase                     L       m     > 0
    front_axle_to_gravity_centre  l_f     m     0 ≤ l_f ≤ L
    gravity_centre_height         h       m     ≥ 0
    returns                       F       N     nan outside that range and where the front axle would lift (μ·h > l_r)

    Level road, no lift from the air; the load that moves back under acceleration is inside. Independent suspension,
    or a solid axle with a locked differential. An open one loses nothing here when the axle is independent.
    Source: Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory.

    >>> f"{grip_rear_drive(0.8, 1200, 2.55, 1.30, 0.52) / (1200 * 9.80665):.4f} of the weight"
    '0.4873 of the weight'
    """
    values = as_floats(grip_coefficient, mass, wheelbase, front_axle_to_gravity_centre, gravity_centre_height)
    grip, mass, wheelbase, to_centre, height = values
    sound = _sound_car(mass, wheelbase, to_centre, height) & (grip >= 0) & (grip * height <= wheelbase - to_centre)
    sound = sound & (grip * height < wheelbase)
    length = np.where(sound, wheelbase - grip * height, 1.0)
    return where(sound, grip * mass * STANDARD_GRAVITY * to_centre / length)


def grip_front_drive(
    grip_coefficient: Numbers,
    mass: Numbers,
    wheelbase: Numbers,
    front_axle_to_gravity_centre: Numbers,
    gravity_centre_height: Numbers,
) -> Numbers:
    """Largest tractive effort of a front-driven car: both wheels at their grip.

        F = μ·m·g·(l_r/L)/(1 + μ·h/L)

    grip_coefficient              μ       1     ≥ 0
    mass                          m       kg    > 0
    wheelbase                     L       m     > 0
    front_axle_to_gravity_centre  l_f     m     0 ≤ l_f ≤ L, with l_r = L − l_f
    gravity_centre_height         h       m     ≥ 0
    returns                       F       N     nan outside that range

    Level road, no lift from the air. Source: Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory.

    >>> f"{grip_front_drive(0.8, 1200, 2.55, 1.30, 0.52) / (1200 * 9.80665):.4f} of the weight"
    '0.3372 of the weight'
    """
    values = as_floats(grip_coefficient, mass, wheelbase, front_axle_to_gravity_centre, gravity_centre_height)
    grip, mass, wheelbase, to_centre, height = values
    sound = _sound_car(mass, wheelbase, to_centre, height) & (grip >= 0)
    length = np.where(sound, wheelbase + grip * height, 1.0)
    return where(sound, grip * mass * STANDARD_GRAVITY * (wheelbase - to_centre) / length)


def grip_all_drive(grip_coefficient: Numbers, mass: Numbers) -> Numbers:
    """Largest tractive effort with all wheels driven and each given the torque its load can use.

        F = μ·m·g

    grip_coefficient  μ       1     ≥ 0
    mass              m       kg    > 0
    returns           F       N     nan outside that range

    An upper bound: a fixed torque split reaches it at one grip only.
    Source: Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory.

    >>> f"{grip_all_drive(0.8, 1200):.0f} N"
    '9414 N'
    """
    grip, mass = as_floats(grip_coefficient, mass)
    return where((grip >= 0) & (mass > 0), grip * mass * STANDARD_GRAVITY)


def grip_open_solid_axle(
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
    """Largest tractive effort of a solid rear axle with an open differential.

        F = μ·m·g·(l_f/L)/(1 − μ·h/L + (2·μ·r/(i_f·t))·K_f/(K_f + K_r))

    The prop shaft's torque presses one rear wheel down and lifts the other; the front springs take their share of
    that torque through the body, and the lighter wheel sets what both can push.

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
    returns                       F                 N         nan outside that range and where the front axle would lift

    A locked differential takes the last term away: grip_rear_drive. Level road, efficiency of the axle left out.
    Source: Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory.

    >>> car = dict(mass=1790, wheelbase=2.743, front_axle_to_gravity_centre=1.285, gravity_centre_height=0.533)
    >>> axle = dict(track=1.499, wheel_radius=0.330, final_ratio=2.90)
    >>> f"{grip_open_solid_axle(0.62, **car, **axle, front_roll_stiffness=1150, rear_roll_stiffness=280):.0f} N"
    '5337 N'
    """
    locked = np.asarray(
        grip_rear_drive(grip_coefficient, mass, wheelbase, front_axle_to_gravity_centre, gravity_centre_height)
    )
    values = as_floats(grip_coefficient, wheelbase, gravity_centre_height, track, wheel_radius, final_ratio)
    grip, wheelbase, height, track, wheel_radius, final_ratio = values
    front, rear = as_floats(front_roll_stiffness, rear_roll_stiffness)
    sound = (track > 0) & (wheel_radius > 0) & (final_ratio > 0) & (front >= 0) & (rear >= 0) & (front + rear > 0)
    sound = sound & np.isfinite(locked)
    front_share = front / np.where(sound, front + rear, 1.0)
    lifted = 2 * grip * wheel_radius / np.where(sound, final_ratio * track, 1.0) * front_share
    kept = np.where(sound, 1 - grip * height / np.where(sound, wheelbase, 1.0), 1.0)
    return where(sound, locked * kept / np.where(sound, kept + lifted, 1.0))


def best_wheel_share(grip_coefficient: Numbers, gravity_centre_height: Numbers, track: Numbers) -> Numbers:
    """Largest share of an axle's straight-ahead grip that one of its wheels can drive with.

        s = max over λ of (1/2 + λ·k)·√(1 − λ²),   k = μ·h/t,   λ cornering force over grip
        λ = (√(1/4 + 8·k²) − 1/2)/(4·k)

    grip_coefficient       μ       1     ≥ 0
    gravity_centre_height  h       m     ≥ 0
    track                  t       m     > 0
    returns                s       1     nan outside that range; 1/2 straight ahead

    In a corner the outer wheel is loaded more, but what it corners with it cannot drive with (friction circle); in between
    lies the most. λ stops where the inner wheel lifts, λ·k = 1/2. Each axle is taken to move load as the whole car does.
    Source: statics and friction circle.

    >>> f"{best_wheel_share(0.9, 0.50, 1.50):.3f}, {best_wheel_share(0.9, 0.0, 1.50):.3f}"
    '0.568, 0.500'
    """
    grip, height, track = as_floats(grip_coefficient, gravity_centre_height, track)
    sound = (grip >= 0) & (height >= 0) & (track > 0)
    moved = np.where(sound, grip * height / np.where(track > 0, track, 1.0), 0.0)
    best = 2 * moved / (np.sqrt(0.25 + 8 * moved**2) + 0.5)  # the root, written so that k = 0 needs no limit
    cornering = np.minimum(best, 0.5 / np.maximum(moved, 0.5))
    return where(sound, (0.5 + cornering * moved) * np.sqrt(1 - cornering**2))


def _sound_car(mass: np.ndarray, wheelbase: np.ndarray, to_centre: np.ndarray, height: np.ndarray) -> np.ndarray:
    """Whether the four figures can belong to one car."""
    sound: np.ndarray = (mass > 0) & (wheelbase > 0) & (to_centre >= 0) & (to_centre <= wheelbase) & (height >= 0)
    return sound
