"""Grip on a hill: the steepest slope that the driven tyres climb, with what the car carries and what it pulls.

Answers   grip_share_on_hill   largest drive force over all of the weight that is moved, which is the slope it climbs
Not here  grip on the level without a trailer (traction.py); slope by torque (road_load.py)
Symbols   μ grip coefficient, m_d mass on the driven wheels, m' mass on all wheels of the car, M mass that is moved, trailer
          included, h height of the car's centre of mass, h_b height of the coupling ball, L wheelbase
Sources   [1] statics   [2] Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where

BALL_HEIGHT = 0.40
"""Height of the coupling ball of a laden car, m: 350 to 420 mm by European rules on couplings, from memory."""


def grip_share_on_hill(
    grip_coefficient: Numbers,
    driven_mass: Numbers,
    own_mass: Numbers,
    moved_mass: Numbers,
    wheelbase: Numbers,
    gravity_centre_height: Numbers,
    towards_driven: Numbers,
    lifted: Numbers = 0.0,
    ball_height: Numbers = BALL_HEIGHT,
) -> Numbers:
    """Tangent of the steepest slope by grip: what the driven tyres push, over the weight that is moved.

        tan θ = μ·m_d/(M·(1 + k) − s·μ·(m'·h + (M − m')·h_b)/L)

    A hill moves load to the rear: the slope's part of the weight of the car acts at h, that of the trailer at the ball.

    grip_coefficient       μ                                                              1     ≥ 0
    driven_mass            m_d, at rest on the level, the nose mass included              kg    0 to m'
    own_mass               m'                                                             kg    > 0
    moved_mass             M                                                              kg    ≥ m'
    wheelbase              L                                                              m     > 0
    gravity_centre_height  h                                                              m     ≥ 0
    towards_driven         s: 1 where the rear axle drives, −1 the front axle, 0 both     1
    lifted                 k: 2·μ·r/(i_f·t)·K_f/(K_f + K_r) of an open solid axle, else 0  1    ≥ 0
    ball_height            h_b                                                            m     ≥ 0
    returns                tan θ                                                          1     nan outside that range

    A rear-driven car climbs no steeper than where its front axle lifts. Rolling resistance left out, as in traction.py.
    Source: statics.

    >>> f"{grip_share_on_hill(0.8, 612, 1200, 1200, 2.55, 0.52, 1):.4f}, with 900 kg behind:"
    '0.4875, with 900 kg behind:'
    >>> f"{grip_share_on_hill(0.8, 650, 1240, 2100, 2.55, 0.52, 1):.4f}"
    '0.2905'
    """
    values = as_floats(grip_coefficient, driven_mass, own_mass, moved_mass, wheelbase, gravity_centre_height)
    grip, driven, own, moved, wheelbase, height = values
    side, lifted, ball = as_floats(towards_driven, lifted, ball_height)
    sound = (grip >= 0) & (driven >= 0) & (driven <= own) & (own > 0) & (moved >= own)
    sound = sound & (wheelbase > 0) & (height >= 0) & (lifted >= 0) & (ball >= 0)
    moment = (own * height + (moved - own) * ball) / np.where(wheelbase > 0, wheelbase, 1.0)
    left = moved * (1 + lifted) - side * grip * moment
    share = np.where(left > 0, grip * driven / np.where(left > 0, left, 1.0), np.inf)
    lifts = np.where(moment > 0, (own - driven) / np.where(moment > 0, moment, 1.0), np.inf)
    return where(sound, np.where(side > 0, np.minimum(share, lifts), share))
