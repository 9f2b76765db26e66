"""Shocks of the driveline: what the shafts see for a moment when a clutch is dropped or a spinning wheel grips again.

Answers   shock_peak            the lesser of what the engine's side sends and what the tyres' side holds, each with its factor
          overshoot             how far a shaft swings past its new torque
          clutch_drop_peak      clutch dropped, tyres hold
          stored_energy_peak    nothing slips: the turning engine winds the shaft up
          grip_regained_peak    a spinning axle comes from low to high grip
          shuffle_frequency     of the car on its shafts
Not here  full torque without a shock (along_the_path.py); capacity of a clutch (clutch.py) or a converter (torque_converter.py)
Symbols   T torque, T_c clutch capacity, T_g torque at which the tyres of an axle slip, T_e engine torque, i ratio of engine to
          wheels, J moment of inertia at the wheels (v car, g driven side of the clutch, s engine with it, w two wheels),
          k torsional stiffness at the wheels, ζ share of critical damping, k_c and k_g shock factors
Sources   [1] two rotating masses on a spring: any textbook of vibrations   [2] time stepping of engine, clutch, gearbox, shafts,
          wheels and tyres over 1600 guessed small cars, repeated in tests/independent/torque_path: the factors
          [3] Proc. IMechE Part D 2015, doi 10.1177/0954407015611293, abstract: an engagement of first gear at rest is the worst case

A published table of measured ratios was not found. A clutch is the fuse of the line: without slip the stored energy goes with the
square root of stiffness and flywheel inertia, and is several times the clutch's capacity.
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, plain, where


def shock_peak(
    drive_torque: Numbers, grip_torque: Numbers, drive_factor: Numbers = 1.0, grip_factor: Numbers = 1.0
) -> Numbers:
    """Largest torque of a shock at one place of the line.

        T = min(k_c·T_drive, k_g·T_g)

    drive_torque   T_drive: clutch capacity, or the engine's torque, at that place    N·m    ≥ 0
    grip_torque    T_g: the torque there at which the tyres slip                      N·m    ≥ 0
    drive_factor   k_c                                                                1      > 0
    grip_factor    k_g                                                                1      > 0
    returns        T                                                                  N·m    nan outside that range

    Dropped clutch: k_c 1.75 ± 0.2 on the clutch's capacity, k_g 1.8 (1.4 to 2.7). Low to high grip: the same k_c, k_g 1.65 ± 0.15.
    Throttle snatched open: the application factor on the engine's torque, k_g 1.2 ± 0.2; with care 1.0 to 1.3 on it, the same k_g.
    Either side alone bounds the peak: a clutch or a tyre that slips passes no more on. Source: time stepping over 1600 guessed small
    cars, of which one in twenty passes the largest; snatched open or with care: common practice, no source.

    >>> f"{shock_peak(3159.0, 1360.0, 1.75, 1.8):.0f} N·m: 1360·1.8 is less than 3159·1.75"
    '2448 N·m: 1360·1.8 is less than 3159·1.75'
    """
    drive, grip, drive_factor, grip_factor = as_floats(drive_torque, grip_torque, drive_factor, grip_factor)
    sound = (drive >= 0) & (grip >= 0) & (drive_factor > 0) & (grip_factor > 0)
    return where(sound, np.minimum(drive_factor * drive, grip_factor * grip))


def overshoot(damping: Numbers) -> Numbers:
    """How far a shaft swings past its new torque, over the step of torque.

        e^(−π·ζ/√(1 − ζ²))

    damping   ζ            1    0 ≤ ζ < 1; a driveline 0.03 to 0.10, from memory
    returns   share        1    nan outside that range

    Source: vibration of one mass after a step, any textbook.

    >>> f"{overshoot(0.05):.3f}"
    '0.854'
    """
    (damping,) = as_floats(damping)
    sound = (damping >= 0) & (damping < 1)
    inside = np.where(sound, damping, 0.0)
    return where(sound, np.exp(-np.pi * inside / np.sqrt(1 - inside**2)))


def clutch_drop_peak(
    clutch_capacity: Numbers,
    total_ratio: Numbers,
    driven_inertia: Numbers,
    vehicle_inertia: Numbers,
    damping: Numbers = 0.0,
) -> Numbers:
    """Torque of both half-shafts together when the clutch is dropped at rest and the tyres hold.

        T = T_c·i·J_v/(J_v + J_g)·(1 + e^(−π·ζ/√(1 − ζ²))),   J_g = J·i²

    clutch_capacity   T_c                                     N·m     ≥ 0
    total_ratio       i, gearbox and final drive              1       > 0
    driven_inertia    J, behind the clutch, at the input      kg·m²   ≥ 0
    vehicle_inertia   J_v = m·r²                              kg·m²   > 0
    damping           ζ                                       1       0 ≤ ζ < 1
    returns           T                                       N·m     nan outside that range

    Holds while the plate still slips. Losses left out. Source: two rotating masses on a spring, any textbook of vibrations.

    >>> f"{clutch_drop_peak(225.0, 14.04, 0.018, 900 * 0.28**2, 0.05):.0f} N·m"
    '5578 N·m'
    """
    capacity, ratio, inertia, vehicle = as_floats(clutch_capacity, total_ratio, driven_inertia, vehicle_inertia)
    sound = (capacity >= 0) & (ratio > 0) & (inertia >= 0) & (vehicle > 0)
    share = vehicle / np.where(sound, vehicle + inertia * ratio**2, 1.0)
    return where(sound, capacity * ratio * share * (1 + np.asarray(overshoot(damping))))


def stored_energy_peak(speed: Numbers, stiffness: Numbers, inertia: Numbers) -> Numbers:
    """Torque of a shaft that stops a turning mass all by itself.

        T = ω·√(k·J)

    speed       ω, of the mass against the other end     rad/s       ≥ 0
    stiffness   k                                        N·m/rad     > 0
    inertia     J                                        kg·m²       > 0
    returns     T                                        N·m         nan outside that range

    What would come if nothing slipped: far above a clutch's capacity, so that the clutch decides.
    Source: energy of a turning mass and of a spring.

    >>> f"{stored_energy_peak(3000 * np.pi / 30, 16000 / 14.04**2, 0.15):.0f} N·m at the input"
    '1096 N·m at the input'
    """
    speed, stiffness, inertia = as_floats(speed, stiffness, inertia)
    sound = (speed >= 0) & (stiffness > 0) & (inertia > 0)
    return where(sound, speed * np.sqrt(np.where(sound, stiffness * inertia, 0.0)))


def grip_regained_peak(
    grip_torque: Numbers,
    engine_torque: Numbers,
    engine_inertia: Numbers,
    wheel_inertia: Numbers,
    start_share: Numbers,
    damping: Numbers = 0.0,
) -> Numbers:
    """Torque of both half-shafts together when spinning wheels come from low to high grip, clutch engaged.

        T = T_s + (T_s − T_0)·e^(−π·ζ/√(1 − ζ²)),   T_s = (T_g·J_s + T_e·J_w)/(J_s + J_w),   T_0 = s·T_g

    grip_torque      T_g, on the high grip                                    N·m     ≥ 0
    engine_torque    T_e, of the engine at the wheels                         N·m     ≥ 0
    engine_inertia   J_s, engine and gearbox at the wheels                    kg·m²   > 0
    wheel_inertia    J_w, of both wheels                                      kg·m²   > 0
    start_share      s, low grip over high grip                               1       0 ≤ s ≤ 1
    damping          ζ                                                        1       0 ≤ ζ < 1
    returns          T                                                        N·m     nan outside that range

    Holds while the wheels still slide. Source: two rotating masses on a spring, any textbook of vibrations.

    >>> f"{grip_regained_peak(0.55 * 900 * 9.81 * 0.28, 2106.0, 0.168 * 14.04**2, 1.6, 0.2, 0.05):.0f} N·m"
    '2353 N·m'
    """
    grip, engine, shaft_side, wheels, share = as_floats(
        grip_torque, engine_torque, engine_inertia, wheel_inertia, start_share
    )
    sound = (grip >= 0) & (engine >= 0) & (shaft_side > 0) & (wheels > 0) & (share >= 0) & (share <= 1)
    settled = (grip * shaft_side + engine * wheels) / np.where(sound, shaft_side + wheels, 1.0)
    return where(sound, settled + (settled - share * grip) * np.asarray(overshoot(damping)))


def shuffle_frequency(stiffness: Numbers, inertia: Numbers, other_inertia: Numbers) -> Numbers:
    """Natural frequency of two turning masses on one shaft.

        f = √(k·(1/J_1 + 1/J_2))/(2·π)

    stiffness       k              N·m/rad    > 0
    inertia         J_1            kg·m²      > 0
    other_inertia   J_2            kg·m²      > 0
    returns         f              Hz         nan outside that range

    A car shuffles at 2 to 8 Hz in its low gears, from memory. A pedal let go within a third of a period is a dropped clutch.
    Source: two rotating masses on a spring, any textbook of vibrations.

    >>> f"{shuffle_frequency(16000.0, 0.168 * 14.04**2, 900 * 0.28**2):.2f} Hz"
    '4.24 Hz'
    """
    stiffness, one, other = as_floats(stiffness, inertia, other_inertia)
    sound = (stiffness > 0) & (one > 0) & (other > 0)
    softness = np.where(sound, stiffness, 1.0) * (1 / np.where(sound, one, 1.0) + 1 / np.where(sound, other, 1.0))
    return where(sound, np.asarray(plain(np.sqrt(softness))) / (2 * np.pi))
