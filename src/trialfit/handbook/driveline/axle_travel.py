"""Where the ends of shafts go when the suspension moves.

Answers   pinion_joint_moved   the joint on the pinion of a live axle that rises, moves forward and turns
          rise_of_turning      the rise at which a shaft is shortest or longest, whatever the path of its end
          rise_of_nearest      the rise at which a wheel comes nearest to the inner joint of its half-shaft
          outward_at           how far a wheel has moved outward at a rise
          swing_outward        the same for the wheel of a swing axle
          wound_by_gear        how far a live axle winds up in a gear
Not here  lengths and angles of the shafts themselves (shaft_lines.py); how far an axle moves forward and turns as it rises
          (axle_linkage.py)
Symbols   h rise over ride height, θ turn of the axle, nose up, s inclination and p heading of the pinion, l axle centre to
          pinion joint. Points in the car's axes (ISO 8855: x forward, y left, z up)
Sources   [1] vector geometry   [2] an outward movement in proportion to the rise: common practice, no source
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Array, Numbers, as_floats, plain, where
from trialfit.handbook.driveline.shaft_lines import direction


def pinion_joint_moved(
    joint: Array,
    inclination: Numbers,
    heading: Numbers,
    pinion_length: Numbers,
    rise: Numbers,
    turn: Numbers,
    forward: Numbers = 0.0,
) -> Array:
    """Centre of the joint on the pinion when a live axle has risen, moved forward and turned its nose up.

        P' = P + (v, 0, h) + l·(u(s) − u(s + θ)),   u in the car's axes

    joint          P, at ride height, shape (..., 3)          m
    inclination    s, at ride height, down to the rear        rad
    heading        p, to the left looking rearward            rad
    pinion_length  l                                          m
    rise           h of the axle centre, negative in droop    m
    turn           θ, nose up: by its links and by wind-up    rad
    forward        v, of the axle centre                      m
    returns        P', shape (..., 3)                         m

    The axle turns about its own centre line. Source: vector geometry.

    >>> moved = pinion_joint_moved(np.array([-2.5, 0.0, 0.40]), 0.0, 0.0, 0.28, 0.05, np.radians(2.0), 0.003)
    >>> print(moved.round(4) + 0)
    [-2.4972  0.      0.4598]
    """
    inclination, heading, long, rise, turn, forward = np.broadcast_arrays(
        *as_floats(inclination, heading, pinion_length, rise, turn, forward)
    )
    swung = direction(inclination, heading) - direction(inclination + turn, heading)
    lift = np.stack([forward, np.zeros(rise.shape), rise], axis=-1)
    return np.asarray(joint + lift + long[..., None] * swung * [-1.0, -1.0, 1.0])


def rise_of_turning(at_droop: Numbers, at_ride: Numbers, at_bump: Numbers, bump: Numbers, droop: Numbers) -> Numbers:
    """Rise at which the length of a shaft turns over, from its length at both stops and at ride height.

        h = (bump²·(L_d − L₀) − droop²·(L_b − L₀))/(2·(bump·(L_d − L₀) + droop·(L_b − L₀))), kept within −droop … bump

    at_droop   L_d, at full droop              m
    at_ride    L₀, at ride height              m
    at_bump    L_b, at full bump               m
    bump       travel upward                   m    ≥ 0
    droop      travel downward                 m    ≥ 0
    returns    h                               m    nan outside that range

    There it is shortest, or longest where the links of the axle are shorter than the shaft. The top or bottom of the parabola
    through the three; at the upper stop where they lie in one line. Source: geometry.

    >>> f"{rise_of_turning(1.0081, 1.0001, 1.0009, 0.04, 0.08) * 1e3:.0f} mm: lengths 1 + (h − 0.01)²"
    '10 mm: lengths 1 + (h − 0.01)²'
    """
    low, ride, high, bump, droop = as_floats(at_droop, at_ride, at_bump, bump, droop)
    sound = (bump >= 0) & (droop >= 0)
    below, above = low - ride, high - ride
    curved = bump * below + droop * above
    turns = curved != 0
    found = np.where(turns, (bump**2 * below - droop**2 * above) / (2 * np.where(turns, curved, 1.0)), bump)
    return where(sound & np.isfinite(below + above), np.clip(found, -np.abs(droop), np.abs(bump)))


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


def rise_of_nearest(out: Numbers, up: Numbers, outward_per_rise: Numbers) -> Numbers:
    """Rise at which the wheel comes nearest to the inner joint: there its shaft is shortest.

        h = −(z + k·y)/(1 + k²)

    out                y, from inner joint to wheel, outward, at ride height      m
    up                 z, the same upward                                         m
    outward_per_rise   k, how far outward the wheel goes for each metre of rise   m/m
    returns            h                                                          m

    The wheel goes along a straight line in the view from behind. Source: geometry, the foot of the perpendicular.

    >>> f"{rise_of_nearest(0.480, -0.020, 0.0) * 1e3:.0f} mm, {rise_of_nearest(0.480, -0.020, 0.05) * 1e3:.0f} mm"
    '20 mm, -4 mm'
    """
    out, up, slope = as_floats(out, up, outward_per_rise)
    return plain(-(up + slope * out) / (1 + slope**2))


def swing_outward(out: Numbers, up: Numbers, rise: Numbers) -> Numbers:
    """How far the wheel of a swing axle has moved outward at a rise: its shaft keeps its length.

        e = √(y² + z² − (z + h)²) − y

    out       y, from inner joint to wheel, outward, at ride height     m      > 0
    up        z, the same upward                                        m
    rise      h, negative in droop                                      m      |z + h| < √(y² + z²)
    returns   e                                                         m      nan outside that range

    The tube swings about one line along the car through the inner joint. Source: vector geometry.

    >>> f"{swing_outward(0.5, 0.0, 0.1) * 1e3:.1f} mm: √(500² − 100²) − 500"
    '-10.1 mm: √(500² − 100²) − 500'
    """
    out, up, rise = as_floats(out, up, rise)
    square = out**2 + up**2 - (up + rise) ** 2
    sound = (square > 0) & (out > 0)
    return where(sound, np.sqrt(np.where(sound, square, 0.0)) - out)


def wound_by_gear(wind_up: Numbers, ratio: Numbers, lowest: Numbers) -> Numbers:
    """How far a live axle winds up in a gear, from what it winds up in the lowest.

        θ = θ₁·i/i₁

    wind_up   θ₁, at full drive in the lowest gear      rad    any
    ratio     i, of the gear                            –      0 < i ≤ i₁
    lowest    i₁, ratio of the lowest gear              –      > 0
    returns   θ                                         rad    nan outside that range

    Wind-up goes with the torque at the wheels, that with the ratio, as long as the tyres grip in the lowest gear; where they
    do not, it is more in the other gears. Source: springs that give in proportion.

    >>> f"{np.degrees(wound_by_gear(np.radians(4.0), 1.0, 4.0)):.1f}°"
    '1.0°'
    """
    wind_up, ratio, lowest = as_floats(wind_up, ratio, lowest)
    sound = (ratio > 0) & (lowest > 0) & (ratio <= lowest)
    return where(sound, wind_up * ratio / np.where(sound, lowest, 1.0))
