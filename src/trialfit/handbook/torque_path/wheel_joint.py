"""The joint between wheel and hub: studs clamp, and the friction of the clamped face carries the torque.

Answers   preload              of one stud, from its tightening torque
          wheel_slip_torque    at which the wheel turns on the hub face
          WHEEL_RESERVE
Not here  tightening of other joints, strength of threads
Symbols   F preload, T torque, K nut factor, d nominal diameter, N studs, μ_j friction of the face, r_p pitch radius
Sources   [1] short form of the torque equation, fastener suppliers' torque-tension notes   [2] friction on a clamped face
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where

WHEEL_RESERVE = 1.5
"""S, slip torque over the largest wheel torque: 1.5 to 2 is common practice, no source."""


def preload(torque: Numbers, nut_factor: Numbers, diameter: Numbers) -> Numbers:
    """Preload of a stud from its tightening torque.

        F = T/(K·d)

    torque       T                 N·m    ≥ 0
    nut_factor   K                 1      > 0; dry steel 0.18 to 0.27, oiled less
    diameter     d, nominal        m      > 0
    returns      F                 N      nan outside that range

    K lumps all friction together: a preload set by torque scatters by a quarter and more. The wheel maker's torque and
    state of lubrication decide. Source: fastener suppliers' torque-tension notes, short form; their nut-factor table.

    >>> f"{preload(100.0, 0.20, 0.012) / 1e3:.1f} kN: 100/(0.2·0.012)"
    '41.7 kN: 100/(0.2·0.012)'
    """
    torque, factor, diameter = as_floats(torque, nut_factor, diameter)
    sound = (torque >= 0) & (factor > 0) & (diameter > 0)
    return where(sound, torque / np.where(sound, factor * diameter, 1.0))


def wheel_slip_torque(studs: Numbers, preload: Numbers, friction: Numbers, pitch_radius: Numbers) -> Numbers:
    """Torque at which one wheel turns on its hub face.

        T = N·F·μ_j·r_p,   wanted: T ≥ S·T_wheel

    studs          N                  1      ≥ 1
    preload        F, of one stud     N      ≥ 0
    friction       μ_j                1      ≥ 0; dry and clean 0.15, from memory
    pitch_radius   r_p                m      > 0
    returns        T                  N·m    nan outside that range

    Every stud at the same preload. Past this torque the studs are sheared and bent, which they are not made for. Paint,
    rust, grease or a spacer between the faces lowers μ_j. Source: friction on a clamped face.

    >>> f"{wheel_slip_torque(5, 54.84e3, 0.15, 0.057):.0f} N·m: 5·54840·0.15·0.057"
    '2344 N·m: 5·54840·0.15·0.057'
    """
    studs, load, friction, radius = as_floats(studs, preload, friction, pitch_radius)
    sound = (studs >= 1) & (load >= 0) & (friction >= 0) & (radius > 0)
    return where(sound, studs * load * friction * radius)
