"""Where the ends of shafts go when the suspension moves.

Answers   pinion_joint_moved   the joint on the pinion of a live axle that rises and winds up
          rise_to_level        the rise at which a shaft lies level, within the travel
          outward_at           how far a wheel has moved outward at a rise
Not here  lengths and angles of the shafts themselves (shaft_lines.py)
Symbols   h rise over ride height, θ wind-up, s inclination and p heading of the pinion, l axle centre to pinion joint.
          Points in the car's axes (ISO 8855: x forward, y left, z up)
Sources   [1] vector geometry   [2] an axle that rises straight up without turning, and an outward movement in proportion
          to the rise: common practice, no source
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Array, Numbers, as_floats, where
from trialfit.handbook.driveline.shaft_lines import direction


def pinion_joint_moved(
    joint: Array, inclination: Numbers, heading: Numbers, pinion_length: Numbers, rise: Numbers, wind_up: Numbers
) -> Array:
    """Centre of the joint on the pinion when a live axle has risen and its nose has turned up about the axle.

        P' = P + h·z + l·(u(s) − u(s + θ)),   u in the car's axes

    joint          P, at ride height, shape (..., 3)          m
    inclination    s, at ride height, down to the rear        rad
    heading        p, to the left looking rearward            rad
    pinion_length  l                                          m
    rise           h, negative in droop                       m
    wind_up        θ, nose up                                 rad
    returns        P', shape (..., 3)                         m

    The axle rises straight up and does not turn with the rise: springs with long, flat leaves or links do so nearly.
    Source: vector geometry.

    >>> moved = pinion_joint_moved(np.array([-2.5, 0.0, 0.40]), 0.0, 0.0, 0.28, 0.05, np.radians(2.0))
    >>> print(moved.round(4) + 0)
    [-2.5002  0.      0.4598]
    """
    inclination, heading, long, rise, wind_up = np.broadcast_arrays(
        *as_floats(inclination, heading, pinion_length, rise, wind_up)
    )
    swung = direction(inclination, heading) - direction(inclination + wind_up, heading)
    lift = np.stack([np.zeros(rise.shape), np.zeros(rise.shape), rise], axis=-1)
    return np.asarray(joint + lift + long[..., None] * swung * [-1.0, -1.0, 1.0])


def rise_to_level(fixed_height: Numbers, moving_height: Numbers, bump: Numbers, droop: Numbers) -> Numbers:
    """Rise at which the moving end stands as high as the fixed one, or the end of the travel nearest to it.

        h = z_fixed − z_moving, kept within −droop … bump

    fixed_height    z of the end that stays                  m
    moving_height   z of the other end, at ride height       m
    bump            travel upward from ride height           m     ≥ 0
    droop           travel downward                          m     ≥ 0
    returns         h                                        m     nan outside that range

    There a shaft whose end moves straight up and down is shortest. Source: geometry.

    >>> f"{rise_to_level(0.300, 0.281, 0.062, 0.075) * 1e3:.0f} mm"
    '19 mm'
    """
    fixed, moving, bump, droop = as_floats(fixed_height, moving_height, bump, droop)
    sound = (bump >= 0) & (droop >= 0)
    return where(sound, np.clip(fixed - moving, -np.abs(droop), np.abs(bump)))


def outward_at(rise: Numbers, bump: Numbers, droop: Numbers, at_bump: Numbers, at_droop: Numbers) -> Numbers:
    """How far a wheel has moved outward at a rise, in proportion between ride height and the stops.

        e = e_bump·h/bump upward, e_droop·(−h)/droop downward

    rise            h, negative in droop                     m     −droop ≤ h ≤ bump
    bump, droop     travel from ride height                  m     ≥ 0
    at_bump         e_bump, outward at full bump             m
    at_droop        e_droop, outward at full droop           m
    returns         e                                        m     nan outside that range

    Source: common practice, no source: a straight line to each stop.

    >>> f"{outward_at(-0.030, 0.060, 0.075, 0.002, -0.005) * 1e3:.1f} mm"
    '-2.0 mm'
    """
    rise, bump, droop, at_bump, at_droop = as_floats(rise, bump, droop, at_bump, at_droop)
    sound = (bump >= 0) & (droop >= 0) & (rise <= bump) & (rise >= -droop)
    up = np.clip(rise, 0, None) / np.where(bump > 0, bump, 1.0)
    down = np.clip(-rise, 0, None) / np.where(droop > 0, droop, 1.0)
    return where(sound, at_bump * up + at_droop * down)
