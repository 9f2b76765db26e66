"""Three readings with an angle gauge along a driveline, and the correction.

Answers   working_angles            of both joints in side view, from the readings
          inclination_over_level    what a reading means where the floor slopes
          cancelling_angle          of the last joint, when more than one stands before it
          shim_thickness            of the wedge that tilts a base so far
          heading_from_offsets      plan angle from distances to one straight line
Not here  angles in space (shaft_lines.py), limits (joint_angle_limits.py, subjects)
Symbols   s_g, s_p, s_a readings on gearbox output, prop shaft and axle pinion, each positive down towards the rear, all on
          machined faces, same side, same way round; β₁, β₂ working angles; δ change of the pinion, nose up positive
Sources   [1] geometry
          [2] car workshop manual, propeller-shaft joint-angle chart: front member minus rear member, sign kept

Read the tube twice, turned half a turn, and take the mean. The tube's reading enters both angles, with opposite signs: with
± 0.2° on each reading an angle is good to ± 0.28°, the difference of the two to ± 0.49°.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, plain, where

if TYPE_CHECKING:
    from trialfit.handbook.arrays import Array


def working_angles(gearbox: Numbers, shaft: Numbers, final_drive: Numbers) -> tuple[Numbers, Numbers]:
    """Side-view angle of the front and of the rear joint, front member minus rear member.

        β₁ = s_g − s_p,   β₂ = s_p − s_a

    gearbox       s_g        rad    any
    shaft         s_p        rad    any
    final_drive   s_a        rad    any
    returns       β₁, β₂     rad    positive where the member behind points further up

    Opposite signs: the ends are near parallel; equal signs: they lean towards each other. The slope of the floor is the
    same in all three readings and drops out: the car need not stand level. Side view only: shaft_lines.true_angle for space.
    Source: car workshop manual, propeller-shaft joint-angle chart.

    >>> front, rear = working_angles(*np.radians([4.0, 6.0, 4.5]))
    >>> f"{np.degrees(front):.1f}°, {np.degrees(rear):.1f}°"
    '-2.0°, 1.5°'
    """
    gearbox, shaft, final_drive = as_floats(gearbox, shaft, final_drive)
    return plain(gearbox - shaft), plain(shaft - final_drive)


def inclination_over_level(reading: Numbers, floor_slope: Numbers) -> Numbers:
    """Inclination that a member would show with the car on a level floor.

        s = reading − slope

    reading       on the member, down towards the rear      rad    any
    floor_slope   of the floor, down towards the rear       rad    any
    returns       s                                         rad

    Needed where one reading stands alone or is held against a drawing: it carries the whole slope. Differences of
    readings do not need it. Source: geometry.

    >>> f"{np.degrees(inclination_over_level(np.radians(3.4), np.radians(0.3))):.1f}°"
    '3.1°'
    """
    reading, floor_slope = as_floats(reading, floor_slope)
    return plain(reading - floor_slope)


def cancelling_angle(angles_before: Array) -> Numbers:
    """Size of the angle of the last joint at which it cancels all the joints before it.

        β_n = √(β_{n−1}² − β_{n−2}² + β_{n−3}² − …)

    angles_before   β₁ … β_{n−1}, front to rear      rad    shape (joints, ...)
    returns         β_n                              rad    shape (...); nan where no angle does (a negative sum)

    All in one plane, every shaft in phase, small angles. Source: sums of squared angles with sign, as
    shaft_lines.residual_angle.

    >>> f"{np.degrees(cancelling_angle(np.radians([3.0, 5.0]))):.1f}°: 5² − 3²"
    '4.0°: 5² − 3²'
    """
    (before,) = as_floats(angles_before)
    signs = (-1.0) ** np.arange(len(before))[::-1]
    square = np.tensordot(signs, before**2, axes=1)
    return where(square >= 0, np.sqrt(np.abs(square)))


def shim_thickness(base_length: Numbers, change: Numbers) -> Numbers:
    """Thickness at the thick end of a wedge, or of a shim under one end, that tilts a base.

        t = L·tan |δ|

    base_length   L, along the car     m      > 0
    change        δ                    rad    |δ| < π/4
    returns       t                    m      nan outside that range

    Nose up: on an axle above its springs the thick end goes to the front, on one below them to the rear.
    Source: geometry.

    >>> f"{shim_thickness(0.180, np.radians(1.5)) * 1e3:.1f} mm"
    '4.7 mm'
    """
    base, change = as_floats(base_length, change)
    sound = (base > 0) & (np.abs(change) < np.pi / 4)
    return where(sound, base * np.tan(np.where(sound, np.abs(change), 0.0)))


def heading_from_offsets(front_offset: Numbers, rear_offset: Numbers, length: Numbers) -> Numbers:
    """Plan angle of a shaft from the distances of its joint centres to one straight line along the car.

        p = asin((y_front − y_rear)/L)     (an axle maker's manual prints atan: 0.4 % less at 5°)

    front_offset   y_front, to the car's left of the line       m
    rear_offset    y_rear, the same                             m
    length         L, of the shaft between the joint centres    m      > |y_front − y_rear|
    returns        p, to the left looking rearward              rad    nan outside that range

    Looking rearward, the car's left is at the right hand: a shaft that runs to the car's left has p < 0. Exact for a level
    shaft; at 5° of inclination 0.4 % low. Enough where gearbox and pinion are parallel to the line; else their headings
    count too. Source: geometry.

    >>> f"{np.degrees(heading_from_offsets(0.040, 0.0, 1.2)):.2f}°"
    '1.91°'
    """
    front, rear, length = as_floats(front_offset, rear_offset, length)
    step = front - rear
    sound = (length > 0) & (np.abs(step) < length)
    return where(sound, np.arcsin(np.where(sound, step, 0.0) / np.where(sound, length, 1.0)))
