"""Road load: what holds a car back, and the slope it can climb.

Answers   road_load               rolling, slope and air together
          gradeability_by_torque  steepest slope a tractive effort climbs
          gradeability_by_grip    steepest slope the driven tyres climb (from the share of grip: traction.py)
Not here  tractive effort (ratios.py); grip (traction.py); time and top speed (performance.py, top_speed.py)
Symbols   R road load, m mass, f rolling coefficient, C_dA drag area, ρ air density, θ slope, v speed
Sources   [1] mechanical-engineering teaching page, resistances to motion   [2] statics
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.constants import STANDARD_GRAVITY

ROLLING_CONSTANT = (0.012, 0.015)
"""Range of f taken as constant on a paved road: from memory. The best road gives 0.0095, loose sand 0.18 [1]."""

DRAG_AREA = (0.6, 0.8)
"""Range of C_dA [m²] of a car: from memory; a single figure for one car is good to ±10 %."""


def road_load(
    speed: Numbers,
    mass: Numbers,
    rolling: Numbers,
    drag_area: Numbers,
    air_density: Numbers,
    slope_angle: Numbers = 0.0,
) -> Numbers:
    """Force that holds a car back at a steady speed in still air.

        R = m·g·(f·cos θ + sin θ) + ½·ρ·C_dA·v²

    speed        v                         m/s     ≥ 0
    mass         m, as driven              kg      > 0
    rolling      f                         1       ≥ 0
    drag_area    C_dA                      m²      ≥ 0
    air_density  ρ                         kg/m³   ≥ 0
    slope_angle  θ, uphill positive        rad     −π/2 < θ < π/2
    returns      R                         N       nan outside that range; negative when the slope pulls

    Still air, dry paved road, no lift. Source: any vehicle dynamics textbook.

    >>> f"{road_load(100 / 3.6, 1200, 0.012, 0.665, 1.2):.0f} N"
    '449 N'
    """
    values = as_floats(speed, mass, rolling, drag_area, air_density, slope_angle)
    speed, mass, rolling, drag_area, air_density, slope_angle = values
    sound = (
        (speed >= 0)
        & (mass > 0)
        & (rolling >= 0)
        & (drag_area >= 0)
        & (air_density >= 0)
        & (np.abs(slope_angle) < np.pi / 2)
    )
    weight = mass * STANDARD_GRAVITY
    resistance = weight * (rolling * np.cos(slope_angle) + np.sin(slope_angle))
    return where(sound, resistance + 0.5 * air_density * drag_area * speed**2)


def gradeability_by_torque(
    force: Numbers,
    mass: Numbers,
    rolling: Numbers,
    drag_area: Numbers = 0.0,
    air_density: Numbers = 0.0,
    speed: Numbers = 0.0,
) -> Numbers:
    """Steepest slope on which a tractive effort keeps the speed.

        F − ½·ρ·C_dA·v² = m·g·(f·cos θ + sin θ)
        θ = arcsin(q/√(1 + f²)) − arctan f,   q = (F − ½·ρ·C_dA·v²)/(m·g)

    force        F at the wheels           N       ≥ 0
    mass         m                         kg      > 0
    rolling      f                         1       ≥ 0
    drag_area    C_dA                      m²      ≥ 0
    air_density  ρ                         kg/m³   ≥ 0
    speed        v                         m/s     ≥ 0
    returns      θ                         rad     nan outside that range and where F is enough for any slope (q² > 1 + f²)

    Grip sets a limit of its own: take the smaller of this and gradeability_by_grip.
    Source: statics.

    >>> f"{np.tan(gradeability_by_torque(4000, 1200, 0.012)) * 100:.1f} %"
    '34.8 %'
    """
    values = as_floats(force, mass, rolling, drag_area, air_density, speed)
    force, mass, rolling, drag_area, air_density, speed = values
    sound = (force >= 0) & (mass > 0) & (rolling >= 0) & (drag_area >= 0) & (air_density >= 0) & (speed >= 0)
    share = (force - 0.5 * air_density * drag_area * speed**2) / (np.where(mass > 0, mass, 1.0) * STANDARD_GRAVITY)
    sine = share / np.sqrt(1 + rolling**2)
    sound = sound & (np.abs(sine) <= 1)
    return where(sound, np.arcsin(np.where(sound, sine, 0.0)) - np.arctan(rolling))


def gradeability_by_grip(share: Numbers) -> Numbers:
    """Steepest slope the driven tyres climb at a crawl.

        tan θ = F/(m·g)        F of the level road, see below

    share    F/(m·g), grip of the driven tyres over the weight, level road    1      ≥ 0
    returns  θ                                                              rad    nan outside that range

    On a slope at a crawl the load moves to the rear by m·g·sin θ·h/L, on the level when accelerating by m·a·h/L: the
    two sums are the same with tan θ for a/g, so the formulas of traction.py serve for both. Rear drive
    μ·l_f/(L − μ·h), front drive μ·l_r/(L + μ·h), all wheels μ. Rolling resistance of the undriven wheels is left out:
    take f off tan θ to be on the safe side.
    Source: statics.

    >>> f"{np.tan(gradeability_by_grip(0.8 * 1.30 / (2.55 - 0.8 * 0.52))):.4f}"
    '0.4873'
    """
    (share,) = as_floats(share)
    return where(share >= 0, np.arctan(share))
