"""Brakes: how the braking is shared between the axles, how much of the grip each uses, and which locks first.

Answers   line_pressure         from the pedal
          wheel_torque          of one disc or drum at a pressure
          force_over_pressure   of the two brakes of an axle, at the road
          front_share           of the brake force
          rear_force            over the weight, where a valve holds the rear back
          adhesion_utilisation  of each axle
          synchronous_rate      at which both axles lock together
          reach                 rates at which each axle locks on a road
Not here  heat, fade, stopping distance, antilock and motor braking; axle loads alone (gearing/traction.py)
Symbols   z deceleration over that of gravity (rate of braking), β front share of brake force, L wheelbase, l_f front axle to
          centre of gravity, l_r = L − l_f, h its height, k adhesion utilised, μ grip of the road, p line pressure
          z_v rate at which the valve begins to hold back, s rise of rear over front pressure beyond it
Sources   [1] statics   [2] UN Regulations 13 and 13-H, annex on the distribution of braking: adhesion utilised is brake force
          over load of an axle   [3] hydrostatics and Coulomb friction
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where

NO_VALVE = np.inf
"""Rate of braking at which a valve begins to hold back, where there is none."""


def line_pressure(
    pedal_force: Numbers, pedal_ratio: Numbers, efficiency: Numbers, booster_force: Numbers, master_area: Numbers
) -> Numbers:
    """Pressure that the pedal makes.

        p = (F·i·η + F_b)/A

    pedal_force    F                               N     ≥ 0
    pedal_ratio    i, travel of foot over that of the rod   1     > 0
    efficiency     η of the linkage                1     0 < η ≤ 1
    booster_force  F_b at the rod                  N     ≥ 0
    master_area    A of the master cylinder        m²    > 0
    returns        p                               Pa    nan outside that range

    Springs and seals of the cylinder left out. Source: lever law and hydrostatics.

    >>> f"{line_pressure(350, 6, 0.95, 0, np.pi / 4 * 0.01905**2) / 1e5:.2f} bar"
    '69.99 bar'
    """
    force, ratio, efficiency, booster, area = as_floats(
        pedal_force, pedal_ratio, efficiency, booster_force, master_area
    )
    sound = (force >= 0) & (ratio > 0) & (efficiency > 0) & (efficiency <= 1) & (booster >= 0) & (area > 0)
    return where(sound, (force * ratio * efficiency + booster) / np.where(area > 0, area, 1.0))


def wheel_torque(pressure: Numbers, piston_area: Numbers, effective_radius: Numbers, brake_factor: Numbers) -> Numbers:
    """Torque of the brake of one wheel.

        T = C·p·A·r,   C = 2·μ for a disc

    pressure          p at the wheel                                              Pa    ≥ 0
    piston_area       A: of the pistons on one side of the disc; of one piston of a drum   m²    > 0
    effective_radius  r: to the middle of the pads; half the diameter of the drum          m     > 0
    brake_factor      C: friction at disc or drum over force of the pistons on one side    1     > 0
    returns           T                                                           N·m   nan outside that range

    A sliding caliper with one piston has that piston as its one side. Pressure that only moves pads or shoes left out.
    Source: hydrostatics and Coulomb friction.

    >>> f"{wheel_torque(70e5, np.pi / 4 * 0.054**2, 0.115, 2 * 0.38):.0f} N·m"
    '1401 N·m'
    """
    pressure, area, radius, factor = as_floats(pressure, piston_area, effective_radius, brake_factor)
    sound = (pressure >= 0) & (area > 0) & (radius > 0) & (factor > 0)
    return where(sound, factor * pressure * area * radius)


def force_over_pressure(
    piston_area: Numbers, effective_radius: Numbers, brake_factor: Numbers, tyre_radius: Numbers
) -> Numbers:
    """Brake force of both wheels of an axle at the road, over the pressure at the wheels.

        G = 2·C·A·r/R

    piston_area       A, as of wheel_torque   m²      > 0
    effective_radius  r, as of wheel_torque   m       > 0
    brake_factor      C, as of wheel_torque   1       > 0
    tyre_radius       R                       m       > 0
    returns           G                       N/Pa    nan outside that range

    Source: wheel_torque and lever law.

    >>> f"{force_over_pressure(np.pi / 4 * 0.054**2, 0.115, 2 * 0.38, 0.30) * 1e5:.0f} N/bar"
    '133 N/bar'
    """
    (radius,) = as_floats(tyre_radius)
    torque = wheel_torque(1.0, piston_area, effective_radius, brake_factor)
    return where(radius > 0, 2 * torque / np.where(radius > 0, radius, 1.0))


def front_share(front: Numbers, rear: Numbers) -> Numbers:
    """Front share of the brake force at equal pressure.

        β = G_f/(G_f + G_r)

    front     G_f of force_over_pressure   N/Pa    ≥ 0
    rear      G_r                          N/Pa    ≥ 0, not both zero
    returns   β                            1       nan outside that range

    Source: sum of the forces.

    >>> front_share(140, 60)
    np.float64(0.7)
    """
    front, rear = as_floats(front, rear)
    sound = (front >= 0) & (rear >= 0) & (front + rear > 0)
    return where(sound, front / np.where(sound, front + rear, 1.0))


def rear_force(rate: Numbers, share: Numbers, valve_rate: Numbers = NO_VALVE, valve_slope: Numbers = 1.0) -> Numbers:
    """Brake force of the rear axle over the weight of the car.

        F_r/(m·g) = (1 − β)·z                        up to z_v
                  = (1 − β)·z_v + ρ·(z − z_v)        beyond,   ρ = s·(1 − β)/(β + s·(1 − β))

    rate         z                                            1    ≥ 0
    share        β without the valve                          1    0 ≤ β ≤ 1
    valve_rate   z_v = (G_f + G_r)·p_v/(m·g), inf: no valve   1    ≥ 0
    valve_slope  s, 0: the rear pressure rises no further     1    0 ≤ s ≤ 1
    returns      F_r/(m·g)                                    1    nan outside that range, and where front brakes would be needed and there
                      are none (β + s·(1 − β) = 0)

    A valve without load sensing. Source: sum of the forces, pressure of a valve with one corner.

    >>> f"{rear_force(0.8, 0.7):.3f} {rear_force(0.8, 0.7, 0.5, 0.0):.3f}"
    '0.240 0.150'
    """
    rate, share, corner, slope = as_floats(rate, share, valve_rate, valve_slope)
    sound = (rate >= 0) & (share >= 0) & (share <= 1) & (corner >= 0) & (slope >= 0) & (slope <= 1)
    start, share_beyond = _beyond(share, corner, slope)
    return where(sound, np.where(rate <= corner, (1 - share) * rate, start + share_beyond * rate))


def adhesion_utilisation(
    rate: Numbers,
    share: Numbers,
    wheelbase: Numbers,
    front_axle_to_gravity_centre: Numbers,
    gravity_centre_height: Numbers,
    valve_rate: Numbers = NO_VALVE,
    valve_slope: Numbers = 1.0,
) -> tuple[Numbers, Numbers]:
    """Brake force over load of the front and of the rear axle: the grip that each needs to roll without locking.

        k_f = (z − f_r)·L/(l_r + z·h),   k_r = f_r·L/(l_f − z·h),   f_r = rear_force

    rate                          z                      1    ≥ 0
    share                         β                      1    0 ≤ β ≤ 1
    wheelbase                     L                      m    > 0
    front_axle_to_gravity_centre  l_f, l_r = L − l_f     m    0 < l_f < L
    gravity_centre_height         h                      m    ≥ 0
    valve_rate                    z_v of rear_force      1    ≥ 0
    valve_slope                   s of rear_force        1    0 ≤ s ≤ 1
    returns                       k_f, k_r               1    nan outside that range and where the rear axle lifts, z·h ≥ l_f

    Level road, straight ahead, steady; suspension movement, air and the engine's drag left out. The axle that uses more locks
    first. Source: UN Regulation 13-H, annex on distribution of braking, and statics.

    >>> front, rear = adhesion_utilisation(0.8, 0.70, 2.6, 1.15, 0.54)
    >>> f"{front:.4f} {rear:.4f}"
    '0.7736 0.8691'
    """
    rate, length, to_centre, height = as_floats(rate, wheelbase, front_axle_to_gravity_centre, gravity_centre_height)
    behind = np.asarray(rear_force(rate, share, valve_rate, valve_slope))
    rear_load = to_centre - rate * height
    sound = _sound_car(length, to_centre, height) & np.isfinite(behind) & (rear_load > 0)
    front_load = np.where(sound, length - to_centre + rate * height, 1.0)
    front = (rate - behind) * length / front_load
    return where(sound, front), where(sound, behind * length / np.where(sound, rear_load, 1.0))


def synchronous_rate(
    share: Numbers, wheelbase: Numbers, front_axle_to_gravity_centre: Numbers, gravity_centre_height: Numbers
) -> Numbers:
    """Rate of braking, and grip, at which both axles lock together: softer the front locks first, harder the rear.

        z_s = (L·β − l_r)/h

    share                         β, no valve            1    0 ≤ β ≤ 1
    wheelbase                     L                      m    > 0
    front_axle_to_gravity_centre  l_f, l_r = L − l_f     m    0 < l_f < L
    gravity_centre_height         h                      m    > 0
    returns                       z_s                    1    nan outside that range; below zero the rear always locks first

    Source: statics, k_f = k_r.

    >>> f"{synchronous_rate(0.70, 2.6, 1.15, 0.54):.4f}"
    '0.6852'
    """
    share, length, to_centre, height = as_floats(share, wheelbase, front_axle_to_gravity_centre, gravity_centre_height)
    sound = _sound_car(length, to_centre, height) & (share >= 0) & (share <= 1) & (height > 0)
    return where(sound, (length * share - (length - to_centre)) / np.where(sound, height, 1.0))


def reach(
    grip_coefficient: Numbers,
    share: Numbers,
    wheelbase: Numbers,
    front_axle_to_gravity_centre: Numbers,
    gravity_centre_height: Numbers,
    valve_rate: Numbers = NO_VALVE,
    valve_slope: Numbers = 1.0,
) -> tuple[Numbers, Numbers]:
    """Rates of braking at which the front and the rear axle lock; the smaller one is the limit of the car without locking.

        z_f = μ·l_r/(L·β − μ·h),   z_r = μ·l_f/(L·(1 − β) + μ·h)

    With a valve the same from f_r = rear_force, beyond its corner.

    grip_coefficient              μ                      1    ≥ 0
    share                         β                      1    0 ≤ β ≤ 1
    wheelbase                     L                      m    > 0
    front_axle_to_gravity_centre  l_f, l_r = L − l_f     m    0 < l_f < L
    gravity_centre_height         h                      m    ≥ 0
    valve_rate                    z_v of rear_force      1    ≥ 0
    valve_slope                   s of rear_force        1    0 ≤ s ≤ 1
    returns                       z_f, z_r               1    nan outside that range; inf: that axle never locks

    Source: statics, k = μ in adhesion_utilisation.

    >>> front, rear = reach(0.8, 0.70, 2.6, 1.15, 0.54)
    >>> f"{front:.4f} {rear:.4f}"
    '0.8357 0.7591'
    """
    grip, share, length, to_centre, height, corner, slope = as_floats(
        grip_coefficient,
        share,
        wheelbase,
        front_axle_to_gravity_centre,
        gravity_centre_height,
        valve_rate,
        valve_slope,
    )
    sound = _sound_car(length, to_centre, height) & (grip >= 0) & (share >= 0) & (share <= 1)
    sound = sound & (corner >= 0) & (slope >= 0) & (slope <= 1)
    length = np.where(sound, length, 1.0)
    start, share_beyond = _beyond(share, corner, slope)
    front_grip, rear_grip = grip * (length - to_centre) / length, grip * to_centre / length
    moved = grip * height / length
    front = _over(front_grip, share - moved)
    front = np.where(front <= corner, front, _over(front_grip + start, 1 - share_beyond - moved))
    rear = _over(rear_grip, 1 - share + moved)
    rear = np.where(rear <= corner, rear, _over(rear_grip - start, share_beyond + moved))
    return where(sound, front), where(sound, rear)


def _beyond(share: np.ndarray, corner: np.ndarray, slope: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Beyond the corner of a valve the rear force over the weight is start + share·z: both of them."""
    gain = share + slope * (1 - share)
    share_beyond = np.where(gain > 0, slope * (1 - share) / np.where(gain > 0, gain, 1.0), np.nan)
    finite = np.where(np.isfinite(corner), corner, 0.0)
    return (1 - share - share_beyond) * finite, share_beyond


def _over(force: np.ndarray, per_rate: np.ndarray) -> np.ndarray:
    """The rate at which a force is reached that grows with it; inf where it does not grow."""
    return np.where(per_rate > 0, force / np.where(per_rate > 0, per_rate, 1.0), np.inf)


def _sound_car(length: np.ndarray, to_centre: np.ndarray, height: np.ndarray) -> np.ndarray:
    """Whether the three figures can belong to one car that stands on both axles."""
    sound: np.ndarray = (length > 0) & (to_centre > 0) & (to_centre < length) & (height >= 0)
    return sound
