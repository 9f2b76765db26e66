"""The wall round a thread: what a plug presses on it as it is tightened, and the tension that follows.

Answers   taper_pressure     of a tapered thread on its hole, from the torque
          washer_pressure    of a parallel thread that pulls a washer down
          boss_tension       the largest tension in the wall, by the distance to the nearest edge
          edge_for_tension   the least distance to an edge for a tension that is allowed
          boss_strength      what the metal round a thread bears in tension
Not here  drill and depth (tapping.py); stripping (fastening)
Symbols   T torque, d₂ pitch diameter, L length engaged, μ friction, α flank angle, K nut factor, p pressure, r radius of the hole,
          e from its middle to the nearest edge, σ tension
Sources   [1] equilibrium of a wedged thread, worked out here   [2] Lamé, thick cylinder; Jeffery 1920, a hole near a straight edge: in
          textbooks of elasticity, from memory   [3] tables/boss_metals.csv
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.tables import rows

MEGA = 1e6


def taper_pressure(
    torque: Numbers, pitch_diameter: Numbers, length: Numbers, friction: Numbers, flank_angle: Numbers
) -> Numbers:
    """Pressure of a tapered male thread on its hole.

        p = 2·T·sin(α/2)/(μ·π·d₂²·L)

    torque          T                      N·m    ≥ 0
    pitch_diameter  d₂                     m      > 0
    length          L, thread engaged      m      > 0
    friction        μ, with the sealant    1      > 0
    flank_angle     α                      rad    0 < α < π
    returns         p                      Pa     nan outside that range

    Both flanks bear; no head pulls. The torque is all friction: what the growing hole takes is below 1 % of it. Even along the length.
    Source: equilibrium of a wedged thread, worked out here.

    >>> f"{taper_pressure(8.0, 9.49e-3, 5.98e-3, 0.14, np.radians(60)) / 1e6:.1f} MPa"
    '33.8 MPa'
    """
    torque, diameter, length, friction, angle = as_floats(torque, pitch_diameter, length, friction, flank_angle)
    sound = (torque >= 0) & (diameter > 0) & (length > 0) & (friction > 0) & (angle > 0) & (angle < np.pi)
    area = np.where(sound, friction * np.pi * diameter**2 * length, 1.0)
    return where(sound, 2 * torque * np.sin(angle / 2) / area)


def washer_pressure(
    torque: Numbers,
    diameter: Numbers,
    pitch_diameter: Numbers,
    length: Numbers,
    nut_factor: Numbers,
    flank_angle: Numbers,
) -> Numbers:
    """Pressure of a parallel male thread on its hole, as it pulls a washer or a flare down.

        p = T/(K·d)·tan(α/2)/(π·d₂·L)

    torque          T                      N·m    ≥ 0
    diameter        d                      m      > 0
    pitch_diameter  d₂                     m      > 0
    length          L, thread engaged      m      > 0
    nut_factor      K                      1      > 0
    flank_angle     α                      rad    0 < α < π
    returns         p                      Pa     nan outside that range

    One flank bears the pull. Source: equilibrium of a screw thread; torque by nut factor as in fastening.

    >>> f"{washer_pressure(14.0, 12e-3, 11.03e-3, 12e-3, 0.2, np.radians(60)) / 1e6:.1f} MPa"
    '8.1 MPa'
    """
    torque, outer, diameter, length, factor, angle = as_floats(
        torque, diameter, pitch_diameter, length, nut_factor, flank_angle
    )
    sound = (torque >= 0) & (outer > 0) & (diameter > 0) & (length > 0) & (factor > 0) & (angle > 0) & (angle < np.pi)
    area = np.where(sound, factor * outer * np.pi * diameter * length, 1.0)
    return where(sound, torque * np.tan(np.where(sound, angle, 1.0) / 2) / area)


def boss_tension(pressure: Numbers, hole_radius: Numbers, edge_distance: Numbers) -> Numbers:
    """The largest tension in the metal round a pressed hole.

        σ = p·max(e² + r², 4·r²)/(e² − r²)

    pressure       p                                         Pa    ≥ 0
    hole_radius    r                                         m     > 0
    edge_distance  e, from its middle to the nearest edge    m     > r
    returns        σ                                         Pa    nan outside that range

    The first is that of a round boss at its hole, and of a hole near a straight edge; the second that of the straight edge itself, which
    is the greater in a thin wall. Elastic, long boss. Source: Lamé, thick cylinder; Jeffery 1920: from memory.

    >>> f"{boss_tension(34e6, 5.12e-3, 9e-3) / 1e6:.0f} MPa"
    '67 MPa'
    """
    pressure, radius, edge = as_floats(pressure, hole_radius, edge_distance)
    sound = (pressure >= 0) & (radius > 0) & (edge > radius)
    left = np.where(sound, edge**2 - radius**2, 1.0)
    return where(sound, pressure * np.maximum(edge**2 + radius**2, 4 * radius**2) / left)


def edge_for_tension(pressure: Numbers, hole_radius: Numbers, allowed: Numbers) -> Numbers:
    """The least distance from the middle of a pressed hole to an edge for a tension that is allowed: boss_tension turned round.

        e = r·max(√((s + 1)/(s − 1)), √((s + 4)/s)),   s = σ/p

    pressure     p    Pa    ≥ 0
    hole_radius  r    m     > 0
    allowed      σ    Pa    > p
    returns      e    m     nan outside that range: no wall bears it

    Source: as for boss_tension.

    >>> f"{edge_for_tension(34e6, 5.12e-3, 67e6) * 1e3:.1f} mm"
    '9.0 mm'
    """
    pressure, radius, allowed = as_floats(pressure, hole_radius, allowed)
    sound = (pressure >= 0) & (radius > 0) & (allowed > pressure)
    share = np.where(sound & (pressure > 0), pressure, 0.0) / np.where(sound, allowed, 1.0)  # 1/s
    round_boss = np.sqrt((1 + share) / np.where(sound, 1 - share, 1.0))
    return where(sound, radius * np.maximum(round_boss, np.sqrt(1 + 4 * share)))


def boss_strength(material: str) -> float:
    """What the metal round a thread bears in tension, the least of what is found.

    material  "aluminium", "iron" or "steel"
    returns   tension, Pa

    Source: tables/boss_metals.csv, from memory.

    >>> boss_strength("aluminium") / 1e6
    90.0
    """
    row = next(row for row in rows("ports", "boss_metals") if row["material"] == material)
    return float(row["allowed tension [MPa]"]) * MEGA
