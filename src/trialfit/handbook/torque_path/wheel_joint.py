"""The joint between wheel and hub: studs clamp, and the friction of the clamped face carries the torque.

Answers   wheel_slip_torque    at which the wheel turns on the hub face
          WHEEL_RESERVE
Not here  preload from a torque (fastening/fasteners.py), strength of threads
Symbols   F preload, T torque, N studs, μ_j friction of the face, r_p pitch radius
Sources   friction on a clamped face
"""

from __future__ import annotations

from trialfit.handbook.arrays import Numbers, as_floats, where

WHEEL_RESERVE = 1.5
"""S, slip torque over the largest wheel torque: 1.5 to 2 is common practice, no source."""


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
