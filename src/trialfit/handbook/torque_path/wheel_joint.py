"""The joint between wheel and hub: studs clamp, and the friction of the clamped face carries the torque.

Answers   wheel_slip_torque    at which the wheel turns on the hub face
          seat_friction        of a nut that is seated in a cone, as friction of the whole stud
          stud_shear_force     what a stud carries across itself, beside its preload
          locked_torque        of a wheel whose nuts sit in cones: friction of the face and the studs across
          WHEEL_RESERVE
Not here  preload from a torque (fastening/fasteners.py), strength of threads
Symbols   F preload, T torque, N studs, μ_j friction of the face, r_p pitch radius
          α half of the cone's included angle, φ friction angle of the seat, A_s stress area, R_p yield strength
Sources   friction on a clamped face; wedge with friction; distortion energy
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.torque_path.torsion import SHEAR_YIELD_SHARE

WHEEL_RESERVE = 1.2
"""S, slip torque over the largest wheel torque on the best grip: 1.2 to 1.5 against slip, from memory of VDI 2230."""

HALF_CONE = np.pi / 6
"""α of the usual seat of a wheel nut, 60° in all, rad."""


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


def seat_friction(friction: Numbers, half_angle: Numbers = HALF_CONE) -> Numbers:
    """Friction of a conical seat, over the preload.

        μ' = μ/sin α

    friction     μ            1      ≥ 0
    half_angle   α            rad    > 0; to π/2, a flat seat
    returns      μ'           1      nan outside that range

    The arm of the nut's friction grows by the same factor: the same torque clamps less on a cone than on a flat seat.
    Source: wedge with friction.

    >>> f"{seat_friction(0.15):.2f}"
    '0.30'
    """
    friction, half = as_floats(friction, half_angle)
    sound = (friction >= 0) & (half > 0) & (half <= np.pi / 2)
    return where(sound, friction / np.sin(np.where(sound, half, 1.0)))


def stud_shear_force(stress_area: Numbers, yield_strength: Numbers, preload: Numbers) -> Numbers:
    """Force across a stud at which it yields, beside its preload.

        V = 0.577·√((A_s·R_p)² − F²)

    stress_area      A_s                m²    > 0
    yield_strength   R_p                Pa    > 0
    preload          F                  N     ≥ 0
    returns          V                  N     nan outside that range and where the preload alone is past yield

    Source: distortion energy.

    >>> f"{stud_shear_force(88.1e-6, 640e6, 25e3) / 1e3:.1f} kN"
    '29.2 kN'
    """
    area, strength, load = as_floats(stress_area, yield_strength, preload)
    whole = area * strength
    sound = (area > 0) & (strength > 0) & (load >= 0) & (load <= whole)
    return where(sound, SHEAR_YIELD_SHARE * np.sqrt(np.where(sound, whole**2 - load**2, 0.0)))


def locked_torque(
    studs: Numbers,
    preload: Numbers,
    friction: Numbers,
    pitch_radius: Numbers,
    shear_force: Numbers,
    seat_friction: Numbers,
    half_angle: Numbers = HALF_CONE,
) -> Numbers:
    """Torque of one wheel that is seated on conical nuts before it moves on its hub.

        T = N·r_p·(μ_j·F + min(V, F/tan(α − φ))),   tan φ = μ_s

    studs           N                        1      ≥ 1
    preload         F, of one stud           N      ≥ 0
    friction        μ_j, of the face         1      ≥ 0
    pitch_radius    r_p                      m      > 0
    shear_force     V, of one stud           N      ≥ 0
    seat_friction   μ_s, of the seat         1      ≥ 0
    half_angle      α                        rad    > 0
    returns         T                        N·m    nan outside that range

    To move, the wheel has to climb out of the cones or shear the studs. For a torque that comes seldom: under one that comes
    always studs across their axis crack. Where α ≤ φ nothing climbs. Source: wedge with friction; statics.

    >>> f"{locked_torque(4, 25e3, 0.15, 0.05, 29.2e3, 0.15):.0f} N·m: 4·0.05·(0.15·25000 + 29200)"
    '6590 N·m: 4·0.05·(0.15·25000 + 29200)'
    """
    studs, load, friction, radius = as_floats(studs, preload, friction, pitch_radius)
    shear, seat, half = as_floats(shear_force, seat_friction, half_angle)
    sound = (studs >= 1) & (load >= 0) & (friction >= 0) & (radius > 0) & (shear >= 0) & (seat >= 0) & (half > 0)
    left = half - np.arctan(seat)
    climbs = np.where(left > 0, load / np.tan(np.where(left > 0, left, 1.0)), np.inf)
    return where(sound, studs * radius * (friction * load + np.minimum(shear, climbs)))
