"""Screw threads: the profile, the stress area, and the pull that strips the threads.

Answers   pitch_diameter, minor_diameter, root_diameter   of the basic 60° profile
          stress_area, stress_area_unified                what carries the pull
          hole_strip_force, bolt_strip_force              pull at which engaged threads shear off
          engagement_rule                                 usual thread engagement in a material
Not here  designations such as M10×1.25 (thread_sizes.py); torque and preload (fasteners.py); threads that seal
Symbols   d nominal diameter, P pitch, d₂ pitch diameter, D₁ minor diameter of the nut, d₃ root of the bolt, A_s stress area,
          L engaged length of full threads, τ shear strength
Sources   [1] ISO 68-1, ISO 724, ASME B1.1: basic profile   [2] ISO 898-1, ASME B1.1: stress area
          [3] engine maker's service notes: engagement      [4] geometry of the basic profile
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array

ENGAGEMENT = {"steel": 1.25, "iron": 1.25, "aluminium": 2.0}
"""Least engaged length over nominal diameter [3]; common practice elsewhere is 1 and, in aluminium, 1.5."""

SHEAR_OVER_TENSILE = 0.6
"""τ over R_m where nothing better is known, from memory: 0.577 by distortion energy to 0.7; by material in tables/."""


def pitch_diameter(diameter: Numbers, pitch: Numbers) -> Numbers:
    """Diameter at which thread and gap are equally wide.

        d₂ = d − 0.649519·P

    diameter   d, nominal     m
    pitch      P              m     0 < P < d
    returns    d₂             m     nan outside that range

    Basic 60° profile, metric and unified alike. Source: ISO 724, ASME B1.1.

    >>> f"{pitch_diameter(10e-3, 1.5e-3) * 1e3:.3f} mm"
    '9.026 mm'
    """
    return _below(diameter, pitch, 0.649519)


def minor_diameter(diameter: Numbers, pitch: Numbers) -> Numbers:
    """Smallest diameter of the nut thread.

        D₁ = d − 1.082532·P

    diameter   d, nominal     m
    pitch      P              m     0 < P < d
    returns    D₁             m     nan outside that range

    Basic 60° profile. Source: ISO 724, ASME B1.1.

    >>> f"{minor_diameter(10e-3, 1.5e-3) * 1e3:.3f} mm"
    '8.376 mm'
    """
    return _below(diameter, pitch, 1.082532)


def root_diameter(diameter: Numbers, pitch: Numbers) -> Numbers:
    """Smallest diameter of the bolt thread, at its rounded root.

        d₃ = d − 1.226869·P

    diameter   d, nominal     m
    pitch      P              m     0 < P < d
    returns    d₃             m     nan outside that range

    Basic 60° profile. Source: ISO 68-1, ISO 724.

    >>> f"{root_diameter(10e-3, 1.5e-3) * 1e3:.3f} mm"
    '8.160 mm'
    """
    return _below(diameter, pitch, 1.226869)


def stress_area(diameter: Numbers, pitch: Numbers) -> Numbers:
    """Area of steel that carries the pull in an ISO metric thread.

        A_s = (π/4)·(d − 0.9382·P)²

    diameter   d, nominal     m
    pitch      P              m     0 < P < d
    returns    A_s            m²    nan outside that range

    0.9382 is the mean of 0.6495 (pitch diameter) and 1.2269 (root). Not for pipe or tapered threads.
    Source: ISO 898-1, nominal stress area.

    >>> f"{stress_area(10e-3, 1.5e-3) * 1e6:.1f} mm²"
    '58.0 mm²'
    """
    inner = _below(diameter, pitch, 0.9382)
    return np.pi / 4 * inner**2


def stress_area_unified(diameter: Numbers, pitch: Numbers) -> Numbers:
    """Area of steel that carries the pull in a unified (inch) thread.

        A_s = 0.7854·(D − 0.9743/n)²   with P = 1/n

    diameter   D, nominal             m
    pitch      P = 25.4 mm over n     m     0 < P < D
    returns    A_s                    m²    nan outside that range

    Source: ASME B1.1.

    >>> f"{stress_area_unified(0.375 * 0.0254, 0.0254 / 16) / 0.0254**2:.4f} in²"
    '0.0775 in²'
    """
    inner = _below(diameter, pitch, 0.9743)
    return 0.7854 * inner**2


def hole_strip_force(
    diameter: Numbers,
    pitch: Numbers,
    engagement: Numbers,
    tensile_strength: Numbers,
    shear_share: Numbers = SHEAR_OVER_TENSILE,
) -> Numbers:
    """Pull at which the threads of the hole shear off, when the bolt is the stronger.

        F = τ/R_m·R_m·A,   A = (7/8)·π·d·L

    diameter            d, nominal                        m
    pitch               P                                 m     0 < P < d
    engagement          L, of full threads                m     ≥ 0
    tensile_strength    R_m, of what the hole is in       Pa    ≥ 0
    shear_share         τ/R_m                             1     ≥ 0; 0.6 if missing
    returns             F                                 N     nan outside that range

    On the basic profile the hole's thread is 7/8 of the pitch wide where the bolt's crest cuts it. Threads made to their
    tolerances keep 0.78 to 1 of that (thread_fit.py). Take a repeated thread as less.
    Source: geometry of the basic profile (ISO 68-1); shear over tensile strength 0.6 from memory.

    >>> f"{hole_strip_force(10e-3, 1.5e-3, 20e-3, 220e6) / 1e3:.1f} kN"
    '72.6 kN'
    """
    diameter, pitch, length, strength, share = as_floats(diameter, pitch, engagement, tensile_strength, shear_share)
    sound = _sound(diameter, pitch) & (length >= 0) & (strength >= 0) & (share >= 0)
    return where(sound, share * strength * 0.875 * np.pi * diameter * length)


def bolt_strip_force(
    diameter: Numbers,
    pitch: Numbers,
    engagement: Numbers,
    tensile_strength: Numbers,
    shear_share: Numbers = SHEAR_OVER_TENSILE,
) -> Numbers:
    """Pull at which the threads of the bolt shear off, when the nut is the stronger.

        F = τ/R_m·R_m·A,   A = (3/4)·π·D₁·L

    diameter            d, nominal               m
    pitch               P                        m     0 < P < d
    engagement          L, of full threads       m     ≥ 0
    tensile_strength    R_m, of the bolt         Pa    ≥ 0
    shear_share         τ/R_m                    1     ≥ 0; 0.6 if missing
    returns             F                        N     nan outside that range

    On the basic profile the bolt's thread is 3/4 of the pitch wide where the nut's crest cuts it.
    Source: geometry of the basic profile (ISO 68-1); shear over tensile strength 0.6 from memory.

    >>> f"{bolt_strip_force(10e-3, 1.5e-3, 8e-3, 800e6) / 1e3:.1f} kN"
    '75.8 kN'
    """
    inner, length, strength, share = as_floats(
        minor_diameter(diameter, pitch), engagement, tensile_strength, shear_share
    )
    sound = np.isfinite(inner) & (length >= 0) & (strength >= 0) & (share >= 0)
    return where(sound, share * strength * 0.75 * np.pi * inner * length)


def engagement_rule(diameter: Numbers, material: str) -> Numbers:
    """Least engaged length of the trade for a tapped hole.

        L = 1.25·d in steel and iron, 2·d in aluminium

    diameter   d, nominal                        m    > 0
    material   steel, iron or aluminium
    returns    L                                 m    nan outside that range

    Errors: KeyError for another material. Source: engine maker's service notes; 1 d and 1.5 d are common practice.

    >>> f"{engagement_rule(8e-3, 'aluminium') * 1e3:.0f} mm"
    '16 mm'
    """
    (diameter,) = as_floats(diameter)
    return where(diameter > 0, ENGAGEMENT[material] * diameter)


def _below(diameter: Numbers, pitch: Numbers, pitches: float) -> Numbers:
    diameter, pitch = as_floats(diameter, pitch)
    return where(_sound(diameter, pitch), diameter - pitches * pitch)


def _sound(diameter: Array, pitch: Array) -> NDArray[np.bool_]:
    return np.asarray((pitch > 0) & (pitch < diameter))
