"""One cardan joint: speed fluctuation of its output at an angle.

Answers   driven_angle           where the output stands when the input stands at φ₁
          speed_ratio            output over input speed
          fluctuation            the whole swing of that ratio
          angular_acceleration   of the output, at an even input speed
          peak_acceleration      its largest value and where it comes
Not here  several joints in a row, the angle between two shafts in space (shaft_lines.py); limits (subjects)
Symbols   β joint angle, φ₁ and φ₂ input and output angle, ω input speed. φ is zero where the pin of the driving yoke lies in
          the plane of the two shafts: there the output is fastest
Sources   [1] kinematics of the joint: the two pins of the cross stay square to each other; any textbook on mechanisms
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array


def driven_angle(drive_angle: Numbers, joint_angle: Numbers) -> Numbers:
    """Angle of the output of a cardan joint.

        tan φ₂ = tan φ₁/cos β
        φ₂ = φ₁ + atan2((1 − cos β)·sin φ₁·cos φ₁, cos β·cos²φ₁ + sin²φ₁)

    The second form is the same, without jumps: it counts whole turns.

    drive_angle   φ₁       rad   any
    joint_angle   β        rad   −π/2 < β < π/2; its sign does not matter
    returns       φ₂       rad   nan outside that range

    Exact for a joint without play. Source: kinematics of the joint.

    >>> f"{np.degrees(driven_angle(np.radians(45.0), np.radians(30.0))):.2f} degrees: tan φ₂ = 1/0.866"
    '49.11 degrees: tan φ₂ = 1/0.866'
    """
    drive_angle, joint_angle = as_floats(drive_angle, joint_angle)
    sine, cosine = np.sin(drive_angle), np.cos(drive_angle)
    lead = np.arctan2(
        2 * np.sin(joint_angle / 2) ** 2 * sine * cosine,
        np.cos(joint_angle) * cosine**2 + sine**2,
    )
    return where(_bends_less_than_square(joint_angle), drive_angle + lead)


def speed_ratio(drive_angle: Numbers, joint_angle: Numbers) -> Numbers:
    """Output speed of a cardan joint over its input speed.

        ω₂/ω₁ = cos β/(1 − sin²β·cos²φ₁)

    drive_angle   φ₁       rad   any
    joint_angle   β        rad   −π/2 < β < π/2
    returns       ω₂/ω₁    1     nan outside that range; between cos β and 1/cos β

    Exact. Without friction, torque goes the other way round: T₂/T₁ = ω₁/ω₂. Source: kinematics of the joint.

    >>> f"{speed_ratio(0.0, np.radians(30.0)):.4f} at most, {speed_ratio(np.pi / 2, np.radians(30.0)):.4f} at least"
    '1.1547 at most, 0.8660 at least'
    """
    drive_angle, joint_angle = as_floats(drive_angle, joint_angle)
    sound = _bends_less_than_square(joint_angle)
    below = 1 - (np.sin(joint_angle) * np.cos(drive_angle)) ** 2
    return where(sound, np.cos(joint_angle) / np.where(sound, below, 1.0))


def fluctuation(joint_angle: Numbers) -> Numbers:
    """Whole swing of the output speed over the input speed.

        U = (ω_max − ω_min)/ω₁ = 1/cos β − cos β = tan β·sin β

    joint_angle   β        rad   −π/2 < β < π/2
    returns       U        1     nan outside that range

    Exact. Source: kinematics of the joint; a cardan-shaft maker's technical section takes U ≤ 0.0027, which is 3°.

    >>> f"{fluctuation(np.radians(3.0)):.4f}"
    '0.0027'
    """
    (joint_angle,) = as_floats(joint_angle)
    return where(_bends_less_than_square(joint_angle), np.tan(joint_angle) * np.sin(joint_angle))


def angular_acceleration(drive_angle: Numbers, joint_angle: Numbers, speed: Numbers) -> Numbers:
    """Acceleration of the output while the input turns evenly.

        α₂ = −ω²·cos β·sin²β·sin 2φ₁/(1 − sin²β·cos²φ₁)²

    drive_angle   φ₁       rad      any
    joint_angle   β        rad      −π/2 < β < π/2
    speed         ω        rad/s    any
    returns       α₂       rad/s²   nan outside that range; negative where the output slows down

    Exact. Source: kinematics of the joint, the derivative of its speed ratio.

    >>> f"{angular_acceleration(np.pi / 4, np.radians(30.0), 100.0):.0f} rad/s²: −10⁴·0.866·0.25/0.875²"
    '-2828 rad/s²: −10⁴·0.866·0.25/0.875²'
    """
    drive_angle, joint_angle, speed = as_floats(drive_angle, joint_angle, speed)
    sound = _bends_less_than_square(joint_angle)
    square = np.sin(joint_angle) ** 2
    below = np.where(sound, 1 - square * np.cos(drive_angle) ** 2, 1.0)
    return where(sound, -(speed**2) * np.cos(joint_angle) * square * np.sin(2 * drive_angle) / below**2)


def peak_acceleration(joint_angle: Numbers, speed: Numbers) -> tuple[Numbers, Numbers]:
    """Largest acceleration of the output in a turn, and the input angle at which it comes.

        cos 2φ = 4·sin²β/(2 − sin²β + √((2 − sin²β)² + 8·sin⁴β))
        α̂ = ω²·cos β·sin²β·sin 2φ/(1 − sin²β·cos²φ)²

    joint_angle   β        rad              −π/2 < β < π/2
    speed         ω        rad/s            any
    returns       α̂, φ     rad/s², rad      nan outside that range

    The output slows down hardest at φ and at π + φ, and gains speed hardest at −φ and at π − φ; φ is π/4 for a small
    angle, then less. Exact; for small angles α̂ ≈ ω²·β², which is 0.5 % low at 10°, 2.5 % at 20°, 7 % at 30°.
    Source: kinematics of the joint; where the derivative of the acceleration is zero.

    >>> peak, at = peak_acceleration(np.radians(30.0), 1.0)
    >>> f"{peak:.5f}·ω² at {np.degrees(at):.1f} degrees"
    '0.29457·ω² at 37.0 degrees'
    """
    joint_angle, speed = as_floats(joint_angle, speed)
    square = np.sin(joint_angle) ** 2
    cosine = 4 * square / (2 - square + np.sqrt((2 - square) ** 2 + 8 * square**2))
    at = where(_bends_less_than_square(joint_angle), np.arccos(cosine) / 2 + 0.0 * speed)
    return -angular_acceleration(at, joint_angle, speed), at


def _bends_less_than_square(joint_angle: Array) -> NDArray[np.bool_]:
    """Whether the joint can turn at that angle at all."""
    sound: NDArray[np.bool_] = np.abs(joint_angle) < np.pi / 2
    return sound
