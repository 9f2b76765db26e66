"""Pull and twist together while a bolt is tightened, and what friction a nut factor amounts to.

Answers   friction_of_nut_factor   the one friction in thread and head that a nut factor stands for
          stress_in_tightening     pull and twist together in the thread
          YIELD_SHARE, REUSABLE_YIELD_SHARE   how much of the yield strength they may use
Not here  the preload at a share of the yield strength, torque and preload (fasteners.py)
Symbols   F preload, K nut factor, d nominal diameter, P pitch, d₂ pitch diameter, d₃ root diameter, D_K friction diameter of the
          head, μ friction, A_s stress area
Sources   [1] VDI 2230
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.fastening.screw_threads import pitch_diameter, root_diameter

YIELD_SHARE = 0.9
"""Pull and twist together over the yield strength, at the end of tightening: the 90 % of VDI 2230's tables."""

REUSABLE_YIELD_SHARE = 0.85
"""The same for a joint that is taken apart again: common practice, no source; stainless M8 A2-70 comes to 29 N·m, suppliers' tables
have 25.5 to 30 for it."""


def friction_of_nut_factor(
    nut_factor: Numbers, diameter: Numbers, pitch: Numbers, friction_diameter: Numbers
) -> Numbers:
    """Friction, the same in thread and under the head, that a nut factor stands for.

        μ = (K·d − 0.159·P)/(0.577·d₂ + ½·D_K)

    nut_factor          K                          1      > 0
    diameter            d, nominal                 m
    pitch               P                          m      0 < P < d
    friction_diameter   D_K = (d_w + d_h)/2        m      > 0
    returns             μ                          1      nan outside that range, or where K is below that of no friction

    The long form of VDI 2230, turned round. Source: VDI 2230.

    >>> f"{friction_of_nut_factor(0.20, 10e-3, 1.5e-3, 12.8e-3):.3f}"
    '0.152'
    """
    factor, diameter, pitch, face = as_floats(nut_factor, diameter, pitch, friction_diameter)
    middle = as_floats(pitch_diameter(diameter, pitch))[0]
    sound = (factor > 0) & np.isfinite(middle) & (face > 0)
    found = (factor * diameter - 0.159 * pitch) / np.where(sound, 0.577 * middle + face / 2, 1.0)
    return where(sound & (found >= 0), found)


def stress_in_tightening(
    preload: Numbers, stress_area: Numbers, diameter: Numbers, pitch: Numbers, thread_friction: Numbers
) -> Numbers:
    """Pull and twist together in the thread at the end of tightening, to be held against the yield strength.

        σ = (F/A_s)·√(1 + 3·[1.5·(d₂/d_s)·(P/(π·d₂) + 1.155·μ)]²),   d_s = (d₂ + d₃)/2

    preload           F                 N     ≥ 0
    stress_area       A_s               m²    > 0
    diameter          d, nominal        m
    pitch             P                 m     0 < P < d
    thread_friction   μ                 1     ≥ 0
    returns           σ                 Pa    nan outside that range

    60° thread. The twist goes partly when the wrench is taken off. Source: VDI 2230.

    >>> f"{stress_in_tightening(46.5e3, 61.2e-6, 10e-3, 1.25e-3, 0.12) / 1e6:.0f} MPa"
    '847 MPa'
    """
    preload, area, pitch, friction = as_floats(preload, stress_area, pitch, thread_friction)
    middle = as_floats(pitch_diameter(diameter, pitch))[0]
    stressed = (middle + root_diameter(diameter, pitch)) / 2
    sound = np.isfinite(middle) & (preload >= 0) & (area > 0) & (friction >= 0)
    twist = 1.5 * (middle / stressed) * (pitch / (np.pi * middle) + 1.155 * friction)
    return where(sound, preload / np.where(sound, area, 1.0) * np.sqrt(1 + 3 * twist**2))
