"""Several shafts in a row: directions, joint angles, and the residual unevenness of the joints.

Answers   direction, direction_between   of a shaft, from two angles or from two points
          inclination_of, heading_of     the two angles of a direction
          true_angle, compound_angle     of one joint
          bends                          of every joint in a row, side view and plan in one number
          residual_angle                 the single joint that is as uneven as the whole row
          inertia_angles                 the same for the shafts in between, driving and coasting
          torsional_acceleration         what an angle does at a speed
          length_between, slip_travel    how far a slip joint must move
Not here  one joint (cardan.py), limits (joint_angle_limits.py), gauge readings (angle_finder.py), axles (axle_travel.py)
Symbols   s inclination, down towards the rear; p heading, to the left of someone who looks rearward along the drive;
          u direction; β joint angle; b bend; Δ yoke twist, right-handed about the drive; ω speed.
          Directions have the axes of the drive: rearward, left looking rearward (the car's right), up. Points have the car's
          axes (ISO 8855: x forward, y left, z up). Both are right-handed
Sources   [1] vector geometry   [2] sums of squared angles with sign: textbooks on cardan shafts, from memory
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Array, Numbers, as_floats, plain, where

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Complexes = NDArray[np.complex128]

_TO_DRIVE_AXES = np.array([-1.0, -1.0, 1.0])  # from forward, left and up to rearward, the car's right and up


def direction(inclination: Numbers, heading: Numbers = 0.0) -> Array:
    """Direction of a shaft from the two angles a builder can measure.

        u = (cos s·cos p, cos s·sin p, −sin s)

    inclination   s, as an angle gauge shows it        rad
    heading       p, as a plan view shows it           rad
    returns       u, unit vectors                      1     shape (..., 3)

    Source: vector geometry.

    >>> print(direction(np.radians(30.0)).round(3))
    [ 0.866  0.    -0.5  ]
    """
    inclination, heading = np.broadcast_arrays(*as_floats(inclination, heading))
    level = np.cos(inclination)
    return np.stack([level * np.cos(heading), level * np.sin(heading), -np.sin(inclination)], axis=-1)


def inclination_of(direction: Array) -> Numbers:
    """Inclination of a direction: what an angle gauge on it shows, positive down towards the rear.

        s = atan2(−u₃, √(u₁² + u₂²))

    direction   u, of any length     1      shape (..., 3)
    returns     s                    rad    shape (...)

    Source: vector geometry.

    >>> f"{np.degrees(inclination_of(direction(np.radians(3.5), np.radians(2.5)))):.2f}°"
    '3.50°'
    """
    (along,) = as_floats(direction)
    return plain(np.arctan2(-along[..., 2], np.hypot(along[..., 0], along[..., 1])))


def heading_of(direction: Array) -> Numbers:
    """Heading of a direction: how far it points to the left in plan, looking rearward.

        p = atan2(u₂, u₁)

    direction   u, of any length     1      shape (..., 3)
    returns     p                    rad    shape (...)

    Source: vector geometry.

    >>> f"{np.degrees(heading_of(direction(np.radians(3.5), np.radians(2.5)))):.2f}°"
    '2.50°'
    """
    (along,) = as_floats(direction)
    return plain(np.arctan2(along[..., 1], along[..., 0]))


def direction_between(front: Array, rear: Array) -> Array:
    """Direction of a shaft from the centres of the joints at its ends.

        u = (P_rear − P_front)/|P_rear − P_front|, in the axes of the drive

    front     P_front, in the car's axes           m    shape (..., 3)
    rear      P_rear, in the car's axes            m    shape (..., 3)
    returns   u, unit vectors                      1    shape (..., 3); nan where both points are one

    Source: vector geometry.

    >>> print(direction_between(np.array([-1.0, 0.0, 0.4]), np.array([-1.8, 0.0, -0.2])))
    [ 0.8 -0.  -0.6]
    """
    front, rear = as_floats(front, rear)
    along = (rear - front) * _TO_DRIVE_AXES
    length = np.linalg.norm(along, axis=-1, keepdims=True)
    return np.asarray(where(length > 0, along / np.where(length > 0, length, 1.0)))


def true_angle(before: Array, after: Array) -> Numbers:
    """Angle between two directions: the working angle of the joint between them.

        β = atan2(|u₁ × u₂|, u₁·u₂)     (the same as cos β = u₁·u₂, and still sharp at small angles)

    before    u₁                rad   shape (..., 3)
    after     u₂                rad   shape (..., 3)
    returns   β, 0 to π         rad   shape (...)

    Source: vector geometry.

    >>> f"{np.degrees(true_angle(direction(np.radians(2.0)), direction(np.radians(3.5), np.radians(2.5)))):.3f}°"
    '2.913°'
    """
    before, after = as_floats(before, after)
    (a, b, c), (x, y, z) = (
        [side[..., n] for n in range(3)] for side in (before, after)
    )  # numpy's cross is slow on few
    across = np.sqrt((b * z - c * y) ** 2 + (c * x - a * z) ** 2 + (a * y - b * x) ** 2)
    return plain(np.arctan2(across, np.vecdot(before, after)))


def compound_angle(side_angle: Numbers, plan_angle: Numbers) -> Numbers:
    """Angle of a joint from its angle in side view and its angle in plan.

        cos β = cos Δs·cos Δp     (short: β = √(Δs² + Δp²), within 0.2 % below 10°)

    side_angle   Δs, by an angle gauge      rad     −π/2 < Δs < π/2
    plan_angle   Δp, seen from above        rad     −π/2 < Δp < π/2
    returns      β                          rad     nan outside that range

    Exact where one of the two members is level; true_angle is exact for any two.
    Source: vector geometry; the short form: axle maker's manual on measuring driveline angles.

    >>> f"{np.degrees(compound_angle(np.radians(3.0), np.radians(4.0))):.2f}°: a triangle of 3, 4, 5"
    '5.00°: a triangle of 3, 4, 5'
    """
    side, plan = as_floats(side_angle, plan_angle)
    sound = (np.abs(side) < np.pi / 2) & (np.abs(plan) < np.pi / 2)
    half = np.where(sound, np.sin(side / 2) ** 2 * np.cos(plan) + np.sin(plan / 2) ** 2, 0.0)
    return where(sound, 2 * np.arcsin(np.sqrt(half)))


def bends(directions: Array) -> Complexes:
    """How every joint of a row bends: size and plane in one complex number.

        b = Δs + i·Δp·cos s for small angles;   |b| = true angle, exactly

    Real part: the member behind points further down; imaginary part: further to the left, looking rearward. The frame they
    are read in goes along the row without turning about it: nothing depends on how the car stands.

    directions   u, gearbox output first        1      shape (members, ..., 3)
    returns      b                              rad    shape (members − 1, ...); nan where a joint bends by π/2 or more

    Source: vector geometry.

    >>> print(bends(direction(np.array([0.025, 0.040, 0.018]))).round(3))
    [ 0.015+0.j -0.022+0.j]
    """
    members = np.asarray(directions, dtype=np.float64)
    inclination, heading = as_floats(inclination_of(members[0]), heading_of(members[0]))
    down = direction(inclination + np.pi / 2, heading)
    left = direction(0.0 * heading, heading + np.pi / 2)
    found = []
    for before, after in pairwise(members):
        ahead = np.vecdot(before, after)
        bent = np.where(ahead > 0, np.asarray(true_angle(before, after)), np.nan)
        aside = np.vecdot(after, down) + 1j * np.vecdot(after, left)
        found.append(bent * np.exp(1j * np.angle(aside)))
        down, left = (_carried_over(side, before, after, ahead) for side in (down, left))
    return np.stack(found)


def residual_angle(directions: Array, twists: Numbers = 0.0, is_cardan: Sequence[bool] | None = None) -> Numbers:
    """Angle of the one joint that would turn the last member as unevenly as all joints of a row do together.

        β_eq = √|Σ σ_k·b_k²·exp(−2i·Δ_k)|,   σ = +1, −1, +1 … over the cardan joints,   Δ_k sum of the twists up to joint k

    directions   u, gearbox output first                                           1      shape (members, ..., 3)
    twists       Δ of each shaft between two joints, from its front yoke to its
                 rear yoke, right-handed; 0 is in phase, π/2 crossed               rad    one, or shape (members − 2, ...)
    is_cardan    of each joint: a constant-velocity joint turns evenly; None: all  –      members − 1 of them
    returns      β_eq                                                              rad    shape (...)

    Up to 6° a joint β_eq is within 0.2 % of an exact vector solver; where much cancels, β_eq² within 0.4 % of Σ β_k². Two
    joints in one plane: √|β₁² − β₂²| in phase, √(β₁² + β₂²) crossed. Equal angles in different planes do not cancel.
    Source: sums of squared angles with sign, textbooks on cardan shafts, from memory.

    >>> line = direction(np.radians([2.5, 4.0, 1.8]))
    >>> f"{np.degrees(residual_angle(line)):.3f}°: √(2.2² − 1.5²)"
    '1.609°: √(2.2² − 1.5²)'
    """
    return plain(np.sqrt(np.abs(_running_sums(directions, twists, is_cardan)[-1])))


def inertia_angles(
    directions: Array, twists: Numbers = 0.0, is_cardan: Sequence[bool] | None = None
) -> tuple[Numbers, Numbers]:
    """Angles that excite the shafts between the first and the last member: driven from the front, and from the rear.

        drive: √|Σ up to joint k|, coast: √|Σ from joint k + 1 on|, the largest over the shafts k between

    directions   u, gearbox output first     1      shape (members, ..., 3)
    twists       as in residual_angle        rad    one, or shape (members − 2, ...)
    is_cardan    as in residual_angle        –      members − 1 of them
    returns      drive, coast                rad    shape (...) each

    With two joints they are β₁ and β₂. Behind a single joint there is no shaft between: both are its angle.
    Small angles, as residual_angle. Source: sums of squared angles with sign, textbooks on cardan shafts, from memory.

    >>> drive, coast = inertia_angles(direction(np.radians([2.5, 4.0, 1.8])))
    >>> f"{np.degrees(drive):.1f}°, {np.degrees(coast):.1f}°"
    '1.5°, 2.2°'
    """
    sums = _running_sums(directions, twists, is_cardan)
    drive, coast = (sums[:-1], sums[-1] - sums[:-1]) if len(sums) > 1 else (sums, sums)
    return plain(np.sqrt(np.abs(drive).max(axis=0))), plain(np.sqrt(np.abs(coast).max(axis=0)))


def torsional_acceleration(angle: Numbers, speed: Numbers) -> Numbers:
    """Peak angular acceleration that a joint angle, a residual angle or an inertia angle causes.

        α = ω²·β²

    angle     β                  rad       any
    speed     ω, of the shaft    rad/s     any
    returns   α                  rad/s²

    Small angles: 0.5 % low at 10°, 2.5 % at 20°; cardan.peak_acceleration is exact. Source: kinematics of the joint.

    >>> f"{torsional_acceleration(0.05, 300.0):.0f} rad/s²: 15²"
    '225 rad/s²: 15²'
    """
    angle, speed = as_floats(angle, speed)
    return plain((angle * speed) ** 2)


def length_between(front: Array, rear: Array) -> Numbers:
    """Distance of two joint centres.

        L = |P_rear − P_front|

    front     P_front     m    shape (..., 3)
    rear      P_rear      m    shape (..., 3)
    returns   L           m    shape (...)

    Source: vector geometry.

    >>> f"{length_between(np.array([0.0, 0.0, 0.3]), np.array([-1.2, 0.0, 0.8])):.2f} m: 12, 5, 13"
    '1.30 m: 12, 5, 13'
    """
    front, rear = as_floats(front, rear)
    return plain(np.linalg.norm(rear - front, axis=-1))


def slip_travel(front: Array, rear: Array, rear_moved: Array, front_moved: Array | None = None) -> Numbers:
    """How much longer a shaft has to be when its ends have moved.

        ΔL = |P'_rear − P'_front| − |P_rear − P_front|

    front         P_front, at ride height                                m    shape (..., 3)
    rear          P_rear, at ride height                                 m    shape (..., 3)
    rear_moved    P'_rear: bump, rebound, wind-up                        m    shape (..., 3)
    front_moved   P'_front: the engine on its mounts; else it stays      m    shape (..., 3)
    returns       ΔL, positive: the slip joint opens                     m    shape (...)

    Exact; take the extremes of both ends together. Source: vector geometry.

    >>> front, rear, droop = np.array([0, 0, 0.4]), np.array([-1.2, 0, 0.4]), np.array([-1.2, 0, 0.3])
    >>> f"{slip_travel(front, rear, droop) * 1e3:.1f} mm: √(1200² + 100²) − 1200"
    '4.2 mm: √(1200² + 100²) − 1200'
    """
    after = length_between(front if front_moved is None else front_moved, rear_moved)
    return plain(after - length_between(front, rear))


def _running_sums(directions: Array, twists: Numbers, is_cardan: Sequence[bool] | None) -> Complexes:
    """Σ σ·b²·exp(−2iΔ) up to each joint, (joints, ...): σ turns over at each cardan joint, others add nothing."""
    bent = bends(directions)
    turned = np.zeros(bent.shape)
    if len(bent) > 1:
        (each,) = as_floats(twists)
        each = each.reshape(each.shape + (1,) * (bent.ndim - each.ndim)) if each.ndim else each
        turned[1:] = np.cumsum(np.broadcast_to(each, bent[1:].shape), axis=0)
    uneven = np.asarray([True] * len(bent) if is_cardan is None else is_cardan, dtype=bool)
    signs = np.where(uneven, (-1.0) ** (np.cumsum(uneven) - 1), 0.0).reshape(-1, *[1] * (bent.ndim - 1))
    return np.asarray(np.cumsum(signs * bent**2 * np.exp(-2j * turned), axis=0))


def _carried_over(side: Array, before: Array, after: Array, ahead: Array) -> Array:
    """A vector square to `before`, turned with it into `after` by the shortest way."""
    share = np.asarray(np.vecdot(side, after) / np.where(ahead > 0, 1 + ahead, np.nan))
    return side - share[..., None] * (before + after)
