"""Pulling away: slip time of the clutch, its heat, and the steepest hill start.

Answers   clutch_slip          time, heat and distance until the clutch has engaged
          ClutchSlip
          steepest_hill_start  by torque and by grip
          HillStart
Not here  what torque a clutch carries (torque_path/clutch.py); the run after the start (acceleration.py)
Symbols   T torque, ω rotational speed, I moment of inertia, i total ratio, η efficiency, r_d rolling radius,
          F tractive effort, R road load at a crawl, m mass, m_c effective mass with the clutch open, θ slope
Sources   [1] Theory of Machines, friction clutches: heat of slip ½·I·ω² of a flywheel brought to speed
          [2] energy and momentum balance
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.gearing.road_load import gradeability_by_grip, gradeability_by_torque


@dataclass(frozen=True)
class ClutchSlip:
    """One start on the clutch; nan where the car does not pull away."""

    time: Numbers
    """[s] until engine and gearbox turn together."""
    heat: Numbers
    """[J] into the clutch."""
    way: Numbers
    """[m] covered meanwhile."""
    engaged_speed: Numbers
    """[rad/s] at which they meet: below the idling speed the engine stalls."""
    torque: Numbers
    """[N·m] through the clutch: what was asked for, or less where the tyres allow no more."""


def clutch_slip(
    *,
    engine_speed: Numbers,
    clutch_torque: Numbers,
    total_ratio: Numbers,
    efficiency: Numbers,
    rolling_radius: Numbers,
    mass: Numbers,
    decoupled_mass: Numbers,
    rolling: Numbers,
    slope_angle: Numbers = 0.0,
    grip_force: Numbers = np.inf,
    engine_torque: Numbers | None = None,
    engine_inertia: Numbers = np.inf,
) -> ClutchSlip:
    """A start from rest with a constant torque through the clutch.

        a = (T_c·i·η/r_d − R)/m_c,   R = m·g·(f·cos θ + sin θ)
        t = ω₀/(a·i/r_d + (T_c − T_e)/I_e)
        E = ∫ T_c·(ω_e − ω_g) dt = ½·T_c·ω₀·t,   x = ½·a·t²

    engine_speed    ω₀ when the clutch begins to bite             rad/s    > 0
    clutch_torque   T_c                                           N·m      > 0
    total_ratio     i = i_g·i_f                                   1        > 0
    efficiency      η, gearbox to wheel                           1        0 < η ≤ 1
    rolling_radius  r_d                                           m        > 0
    mass            m                                             kg       > 0
    decoupled_mass  m_c, wheels and driveline counted in          kg       ≥ m
    rolling         f                                             1        ≥ 0
    slope_angle     θ, uphill positive                            rad      −π/2 < θ < π/2
    grip_force      F_grip; inf: no limit                         N        > 0
    engine_torque   T_e; none given: as much as the clutch takes  N·m      ≥ 0
    engine_inertia  I_e; inf: the driver holds ω₀                 kg·m²    > 0
    returns         ClutchSlip; nan outside that range and where the car does not pull away

    The two speeds run towards each other along straight lines, so the heat is half of what the same torque would turn
    into at the full difference. Without resistance and with ω₀ held it is ½·I·ω₀² of the car seen from the gearbox,
    whatever the torque: a slope adds to it. Air drag is left out: a start is over below 30 km/h.
    Where the clutch asks for more than the grip, the driver lets in no more than the tyres carry: a is then
    (F_grip − R)/m at most.
    Source: energy and momentum balance; Theory of Machines, friction clutches.

    >>> start = clutch_slip(
    ...     engine_speed=200.0, clutch_torque=100.0, total_ratio=12.0, efficiency=1.0, rolling_radius=0.3, mass=1000.0,
    ...     decoupled_mass=1000.0, rolling=0.0)
    >>> f"{start.time:.2f} s, {start.heat:.0f} J, which is ½·1000·(200·0.3/12)² = 12500 J"
    '1.25 s, 12500 J, which is ½·1000·(200·0.3/12)² = 12500 J'
    """
    values = as_floats(engine_speed, clutch_torque, total_ratio, efficiency, rolling_radius, mass, decoupled_mass)
    engine_speed, clutch_torque, ratio, efficiency, radius, mass, decoupled = values
    rolling, slope, grip, inertia = as_floats(rolling, slope_angle, grip_force, engine_inertia)
    sound = (engine_speed > 0) & (clutch_torque > 0) & (ratio > 0) & (efficiency > 0) & (efficiency <= 1) & (radius > 0)
    sound = sound & (mass > 0) & (decoupled >= mass) & (rolling >= 0) & (grip > 0) & (inertia > 0)
    sound = sound & (np.abs(slope) < np.pi / 2)
    mass, decoupled, radius = (np.where(value > 0, value, 1.0) for value in (mass, decoupled, radius))
    pull = np.where(sound, ratio * efficiency / radius, 1.0)
    resistance = mass * STANDARD_GRAVITY * (rolling * np.cos(slope) + np.sin(slope))
    acceleration = np.minimum((clutch_torque * pull - resistance) / decoupled, (grip - resistance) / mass)
    torque = (acceleration * decoupled + resistance) / pull
    driving = torque if engine_torque is None else np.asarray(engine_torque, float)
    closing = acceleration * ratio / radius + (torque - driving) / np.where(inertia > 0, inertia, 1.0)
    sound = sound & (acceleration > 0) & (closing > 0) & (driving >= 0)
    time = engine_speed / np.where(sound, closing, 1.0)
    return ClutchSlip(
        time=where(sound, time),
        heat=where(sound, torque * engine_speed * time / 2),
        way=where(sound, acceleration * time**2 / 2),
        engaged_speed=where(sound, acceleration * time * ratio / radius),
        torque=where(sound, torque),
    )


@dataclass(frozen=True)
class HillStart:
    """Steepest slopes on which a car can pull away, as angles [rad]."""

    slope_angle: Numbers
    """The smaller of the two."""
    by_torque: Numbers
    """π/2 where torque is enough for any slope; negative where it does not pull away on the level."""
    by_grip: Numbers


def steepest_hill_start(
    *,
    clutch_torque: Numbers,
    total_ratio: Numbers,
    efficiency: Numbers,
    rolling_radius: Numbers,
    mass: Numbers,
    rolling: Numbers,
    grip_share: Numbers,
    acceleration: Numbers = 0.0,
) -> HillStart:
    """Steepest slope on which the car pulls away.

        T_c·i·η/r_d − m·a = m·g·(f·cos θ + sin θ)    by torque
        tan θ = F_grip/(m·g)                         by grip

    clutch_torque   T_c: engine torque while the clutch slips, or less    N·m     ≥ 0
    total_ratio     i = i_g·i_f                                           1       > 0
    efficiency      η, gearbox to wheel                                   1       0 < η ≤ 1
    rolling_radius  r_d                                                   m       > 0
    mass            m, as loaded, with the trailer if there is one        kg      > 0
    rolling         f                                                     1       ≥ 0
    grip_share      F_grip/(m·g) on the level, from traction.py           1       ≥ 0
    acceleration    a left for pulling away                               m/s²    ≥ 0
    returns         HillStart; nan outside that range; negative where the torque is too small on the level

    With a = 0 the clutch slips for ever at the steepest slope: 0.5 m/s² leaves a start that can be driven (common
    practice, no source). clutch_slip tells what heat it takes.
    Source: statics, see road_load.py.

    >>> start = steepest_hill_start(
    ...     clutch_torque=150.0, total_ratio=12.21, efficiency=0.93, rolling_radius=0.3067, mass=1400.0, rolling=0.012,
    ...     grip_share=0.4873)
    >>> f"torque {np.tan(start.by_torque):.1%}, grip {np.tan(start.by_grip):.1%}"
    'torque 42.8%, grip 48.7%'
    """
    values = as_floats(clutch_torque, total_ratio, efficiency, rolling_radius, mass, rolling, acceleration)
    clutch_torque, ratio, efficiency, radius, mass, rolling, acceleration = values
    sound = (clutch_torque >= 0) & (ratio > 0) & (efficiency > 0) & (efficiency <= 1) & (radius > 0) & (mass > 0)
    sound = sound & (acceleration >= 0) & (rolling >= 0)
    force = clutch_torque * ratio * efficiency / np.where(radius > 0, radius, 1.0) - mass * acceleration
    weight = np.where(mass > 0, mass, 1.0) * STANDARD_GRAVITY
    angle = np.asarray(gradeability_by_torque(np.maximum(force, 0.0), mass, rolling))
    angle = np.where(force > weight * np.sqrt(1 + rolling**2), np.pi / 2, angle)
    by_torque = where(sound, angle)
    by_grip = gradeability_by_grip(grip_share)
    return HillStart(np.minimum(by_torque, by_grip)[()], by_torque, by_grip)
