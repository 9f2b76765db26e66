"""How large a joint angle may be at a speed.

Answers   largest_joint_angle       as a joint maker prints it by shaft speed
          angle_for_acceleration    that a limit of angular acceleration leaves
          largest_second_angle      of the second joint of a shaft, for the angle of the first
Not here  the angles themselves (shaft_lines.py), limits of acceleration (subjects)
Symbols   β joint angle, ω speed of the shaft, α angular acceleration
Sources   [1] joint maker's angle rules (tables/joint_angle_by_speed.csv)
          [2] general engineering reference site, design guidelines for drive shaft installation angle
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.constants import REVOLUTION_PER_MINUTE
from trialfit.handbook.tables import rows

if TYPE_CHECKING:
    from trialfit.handbook.arrays import Array


def largest_joint_angle(speed: Numbers) -> Numbers:
    """Largest angle of a joint at a shaft speed, as a joint maker prints it.

        β = √α/ω, with α = ω²·β² interpolated between the printed rows, linear in ω

    speed      ω       rad/s    157.08 ≤ ω ≤ 523.60 (1500 to 5000 rpm)
    returns    β       rad      nan outside that range

    The rows are 855 to 1024 rad/s²: α hardly changes where the angle itself bends with 1/ω, so it is α that is
    interpolated. The table ends at 5000 rpm; for a faster shaft use angle_for_acceleration and say which limit.
    Source: joint maker's angle rules.

    >>> f"{np.degrees(largest_joint_angle(3000 * 2 * np.pi / 60)):.1f}°, as printed"
    '5.8°, as printed'
    """
    (speed,) = as_floats(speed)
    speeds, angles = _printed()
    acceleration = np.interp(speed, speeds, (speeds * angles) ** 2)
    ends = 1e-12 * speeds[-1]
    sound = (speed >= speeds[0] - ends) & (speed <= speeds[-1] + ends)
    return where(sound, np.sqrt(acceleration) / np.where(sound, speed, 1.0))


def angle_for_acceleration(acceleration: Numbers, speed: Numbers) -> Numbers:
    """Joint angle at which a limit of angular acceleration is reached.

        β = √α/ω

    acceleration  α                  rad/s²    ≥ 0
    speed         ω, of the shaft    rad/s     > 0
    returns       β                  rad       nan outside that range

    Small angles, the inverse of shaft_lines.torsional_acceleration. Source: kinematics of the joint.

    >>> f"{np.degrees(angle_for_acceleration(1000.0, 6000 * 2 * np.pi / 60)):.2f}°: √1000/628.3"
    '2.88°: √1000/628.3'
    """
    acceleration, speed = as_floats(acceleration, speed)
    sound = (acceleration >= 0) & (speed > 0)
    return where(sound, np.sqrt(np.where(sound, acceleration, 0.0)) / np.where(sound, speed, 1.0))


def largest_second_angle(first_angle: Numbers, acceleration: Numbers, speed: Numbers) -> Numbers:
    """Largest angle of the second joint of a shaft when the first is given: both in phase and in one plane.

        β₂ = √(β₁² + α/ω²)

    first_angle   β₁                         rad       any
    acceleration  α, torsional, allowed      rad/s²    ≥ 0
    speed         ω, of the shaft            rad/s     > 0
    returns       β₂                         rad       nan outside that range

    The smallest is √(β₁² − α/ω²), where that is not negative. With 400 rad/s² it gives a published table by shaft speed
    within 0.08°. Source: general engineering reference site, design guidelines for drive shaft installation angle.

    >>> f"{np.degrees(largest_second_angle(np.radians(3.0), 400.0, 1500 * 2 * np.pi / 60)):.1f}°: √(3² + 7.3²)"
    '7.9°: √(3² + 7.3²)'
    """
    first, acceleration, speed = as_floats(first_angle, acceleration, speed)
    return where(np.isfinite(first), np.hypot(first, np.asarray(angle_for_acceleration(acceleration, speed))))


@cache
def _printed() -> tuple[Array, Array]:
    """Speeds [rad/s], rising, and angles [rad] of the printed table."""
    printed = rows("driveline", "joint_angle_by_speed")
    by_speed = sorted((float(row["shaft_speed_rpm"]), float(row["joint_angle_deg"])) for row in printed)
    speeds, angles = np.array(by_speed).T
    return speeds * REVOLUTION_PER_MINUTE, np.radians(angles)
