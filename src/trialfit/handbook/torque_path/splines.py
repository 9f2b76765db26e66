"""Splines: torque that the flanks and the root of a splined end carry.

Answers   flank_torque    by the pressure on the flanks
          FLANKS_THAT_CARRY, FLANK_PRESSURE
Not here  torsion of the bar at the root of the spline (torsion.py)
Symbols   T torque, p pressure, z teeth, h height in contact, L length, d_m middle diameter, k share of the flanks that carry
Sources   [1] textbooks of machine elements: T = k·p·z·h·L·d_m/2, with k 0.75   [2] from memory: 100 to 200 MPa for hardened
          splines under shocks that do not slide
"""

from __future__ import annotations

from trialfit.handbook.arrays import Numbers, as_floats, where

FLANKS_THAT_CARRY = 0.75
"""Share of the flanks that carry: the pitch of the teeth is never even [1]."""


LEAST_TEETH = 2
"""Fewer teeth are a key or a pin."""


def flank_torque(
    pressure: Numbers, teeth: Numbers, outside_diameter: Numbers, inside_diameter: Numbers, length: Numbers
) -> Numbers:
    """Torque that the flanks of a spline carry.

        T = 0.75·p·z·h·L·d_m/2,   h = (D − d)/2,   d_m = (D + d)/2

    pressure           p, on the flanks                 Pa     > 0
    teeth              z                                1      ≥ 2
    outside_diameter   D, over the teeth                m      > 0
    inside_diameter    d, at the root of the teeth      m      0 ≤ d < D
    length             L, engaged                       m      > 0
    returns            T                                N·m    nan outside that range

    Source: textbooks of machine elements.

    >>> f"{flank_torque(150e6, 24, 0.028, 0.0256, 0.030):.0f} N·m: 0.75·150e6·24·0.0012·0.030·0.0134"
    '1302 N·m: 0.75·150e6·24·0.0012·0.030·0.0134'
    """
    pressure, teeth, outside, inside, length = as_floats(pressure, teeth, outside_diameter, inside_diameter, length)
    sound = (pressure > 0) & (teeth >= LEAST_TEETH) & (outside > 0) & (inside >= 0) & (inside < outside) & (length > 0)
    height, middle = (outside - inside) / 2, (outside + inside) / 2
    return where(sound, FLANKS_THAT_CARRY * pressure * teeth * height * length * middle / 2)
