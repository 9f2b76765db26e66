"""A pose of the drivetrain group in the car: six numbers, their rotation, and how points move with them.

Answers   turn_of         the turning matrix of roll, pitch and yaw
          turn_and_axes   the same for one pose, and the axes about which a small change of its angles turns the group
          to_car, to_group    points from the group's axes into the car's, and back
          direction_rearward, inclination_and_heading, pose_of    a builder's angles and those of a pose
          AXES            the order of the six numbers
Symbols   q = (x, y, z, roll, pitch, yaw), m and rad; R = Rz(yaw)·Ry(pitch)·Rx(roll); p_car = R·p_group + t
Sources   ISO 8855 (x forward, y left, z up, right-handed; from memory). Positive pitch is nose down, positive yaw nose to
          the left, positive roll left side up, by the right-hand rule.
"""

from __future__ import annotations

from math import cos, sin
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.driveline.shaft_lines import direction as along_drive
from trialfit.handbook.driveline.shaft_lines import heading_of, inclination_of

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from trialfit.handbook.arrays import Array


AXES = ("x", "y", "z", "roll", "pitch", "yaw")
_TO_DRIVE_AXES = np.array([-1.0, -1.0, 1.0])
LEVER = 0.5
"""When poses are compared, a turn of 1 rad counts as a shift of this many metres."""


def turn_of(roll: ArrayLike, pitch: ArrayLike, yaw: ArrayLike) -> Array:
    """The matrix Rz(yaw)·Ry(pitch)·Rx(roll); angles in rad, of any one shape; returns that shape + (3, 3).

    >>> (turn_of(0, 0, np.pi / 2) @ [1, 0, 0]).round(9).tolist()
    [0.0, 1.0, 0.0]
    >>> (turn_of(0, np.pi / 2, 0) @ [1, 0, 0]).round(9).tolist()
    [0.0, 0.0, -1.0]
    """
    roll, pitch, yaw = np.broadcast_arrays(*(np.asarray(angle, float) for angle in (roll, pitch, yaw)))
    cr, sr, cp, sp, cy, sy = np.cos(roll), np.sin(roll), np.cos(pitch), np.sin(pitch), np.cos(yaw), np.sin(yaw)
    rows = (
        (cy * cp, cy * sp * sr - sy * cr, cy * sp * cr + sy * sr),
        (sy * cp, sy * sp * sr + cy * cr, sy * sp * cr - cy * sr),
        (-sp, cp * sr, cp * cr),
    )
    return np.moveaxis(np.array(rows), (0, 1), (-2, -1))


def turn_and_axes(roll: float, pitch: float, yaw: float) -> tuple[Array, Array]:
    """The same matrix for one pose, ten times as fast, and the columns J = [Rz·Ry·e_x, Rz·e_y, e_z].

    A small change of (roll, pitch, yaw) turns the group by J·change.

    >>> turn, axes = turn_and_axes(0.1, 0.2, 0.3)
    >>> bool(np.allclose(turn, turn_of(0.1, 0.2, 0.3))), axes[:, 2].tolist()
    (True, [0.0, 0.0, 1.0])
    """
    cr, sr, cp, sp, cy, sy = cos(roll), sin(roll), cos(pitch), sin(pitch), cos(yaw), sin(yaw)
    turn = np.array(
        (
            (cy * cp, cy * sp * sr - sy * cr, cy * sp * cr + sy * sr),
            (sy * cp, sy * sp * sr + cy * cr, sy * sp * cr - cy * sr),
            (-sp, cp * sr, cp * cr),
        )
    )
    return turn, np.array(((cy * cp, -sy, 0.0), (sy * cp, cy, 0.0), (-sp, 0.0, 1.0)))


def to_car(pose: Array, points: Array) -> Array:
    """Points (n, 3) of the group in the car's axes at one pose (6,), m."""
    return points @ turn_of(*pose[3:]).T + pose[:3]


def to_group(pose: Array, points: Array) -> Array:
    """Points (n, 3) of the car in the group's axes at one pose (6,), m."""
    return np.asarray((points - pose[:3]) @ turn_of(*pose[3:]))


def inclination_and_heading(direction: Array) -> tuple[Array, Array]:
    """How far a direction (..., 3) that points rearward drops, and how far it points to the left looking rearward, rad.

    >>> [round(float(np.degrees(angle)), 3) for angle in inclination_and_heading(np.array([-1.0, -0.0174551, -0.0524078]))]
    [3.0, 1.0]
    """
    along = direction * _TO_DRIVE_AXES
    return np.asarray(inclination_of(along)), np.asarray(heading_of(along))


def direction_rearward(inclination: ArrayLike, heading: ArrayLike) -> Array:
    """The unit vector in the car's axes that points rearward, drops by `inclination`, and points to the left by `heading`.

    Angles in rad; left when looking rearward is the right of the car.
    """
    return np.asarray(along_drive(inclination, heading) * _TO_DRIVE_AXES)  # type: ignore[arg-type]


def pose_of(inclination: ArrayLike, heading: ArrayLike) -> tuple[Array, Array]:
    """Pitch and yaw of a body whose crank has that inclination and heading, rad: dropping rearward is nose up."""
    return -np.asarray(inclination, float), np.asarray(heading, float)
