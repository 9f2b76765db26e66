"""Capacity of a friction clutch, new and worn, and the heat of one slip.

Answers   facing_radius_run_in, facing_radius_new   where the friction acts on a run-in and on a new facing
          clutch_capacity                     torque before it slips
          clamp_load_run_in, clamp_load_new   clamp load from the pressure on the facing
          clamp_load_after_wear               clamp load of worn coil springs
Not here  the heat of a start with the car attached (gearing/launch.py), how warm it gets (gearing/clutch_heat.py)
Symbols   T torque, n friction faces (one disc has two), μ friction, W clamp load, R mean friction radius, r_o and r_i outer
          and inner radius of the facing, p pressure, k stiffness of one spring, N springs, Δ wear, I moment of inertia
Sources   [1] Theory of Machines, friction clutches
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array


def facing_radius_run_in(outer_radius: Numbers, inner_radius: Numbers) -> Numbers:
    """Mean friction radius of a run-in facing, worn so that pressure times radius is even.

        R = (r_o + r_i)/2

    outer_radius  r_o     m      > 0
    inner_radius  r_i     m      0 ≤ r_i < r_o
    returns       R       m      nan outside that range

    Source: Theory of Machines, friction clutches, uniform wear.

    >>> f"{facing_radius_run_in(0.150, 0.100):.3f} m"
    '0.125 m'
    """
    outer, inner = as_floats(outer_radius, inner_radius)
    return where(_sound_ring(outer, inner), (outer + inner) / 2)


def facing_radius_new(outer_radius: Numbers, inner_radius: Numbers) -> Numbers:
    """Mean friction radius of a new facing, pressed evenly.

        R = (2/3)·(r_o³ − r_i³)/(r_o² − r_i²) = (2/3)·(r_o² + r_o·r_i + r_i²)/(r_o + r_i)

    outer_radius  r_o     m      > 0
    inner_radius  r_i     m      0 ≤ r_i < r_o
    returns       R       m      nan outside that range

    2 % above the run-in radius at r_i/r_o = 0.6. Source: Theory of Machines, friction clutches, uniform pressure.

    >>> f"{facing_radius_new(0.120, 0.060) * 1e3:.2f} mm: 2/3·(14400 + 7200 + 3600)/180"
    '93.33 mm: 2/3·(14400 + 7200 + 3600)/180'
    """
    outer, inner = as_floats(outer_radius, inner_radius)
    sound = _sound_ring(outer, inner)
    return where(sound, 2 / 3 * (outer**2 + outer * inner + inner**2) / np.where(sound, outer + inner, 1.0))


def clutch_capacity(friction_faces: Numbers, friction: Numbers, clamp_load: Numbers, mean_radius: Numbers) -> Numbers:
    """Torque that a clutch carries before it slips.

        T = n·μ·W·R

    friction_faces  n, two for one disc                              1      ≥ 1
    friction        μ                                                1      ≥ 0; dry organic facing 0.25 to 0.30
    clamp_load      W                                                N      ≥ 0
    mean_radius     R, facing_radius_run_in or facing_radius_new     m      > 0
    returns         T                                                N·m    nan outside that range

    Take the run-in radius, the smaller one, for a clutch that must last. A maker's rating outranks it.
    Source: Theory of Machines, friction clutches; μ as its exercises use it.

    >>> f"{clutch_capacity(2, 0.3, 3141.6, 0.125):.1f} N·m: 2·0.3·3141.6·0.125"
    '235.6 N·m: 2·0.3·3141.6·0.125'
    """
    faces, friction, load, radius = as_floats(friction_faces, friction, clamp_load, mean_radius)
    sound = (faces >= 1) & (friction >= 0) & (load >= 0) & (radius > 0)
    return where(sound, faces * friction * load * radius)


def clamp_load_run_in(inner_pressure: Numbers, outer_radius: Numbers, inner_radius: Numbers) -> Numbers:
    """Clamp load of a run-in facing from the pressure at its inner edge, where it is highest.

        W = 2·π·p·r_i·(r_o − r_i)

    inner_pressure  p, at r_i     Pa     ≥ 0
    outer_radius    r_o           m      > 0
    inner_radius    r_i           m      0 < r_i < r_o
    returns         W             N      nan outside that range

    Source: Theory of Machines, friction clutches, uniform wear.

    >>> f"{clamp_load_run_in(0.1e6, 0.150, 0.100):.1f} N: 2·π·10⁵·0.1·0.05"
    '3141.6 N: 2·π·10⁵·0.1·0.05'
    """
    pressure, outer, inner = as_floats(inner_pressure, outer_radius, inner_radius)
    return where(
        _sound_ring(outer, inner) & (inner > 0) & (pressure >= 0), 2 * np.pi * pressure * inner * (outer - inner)
    )


def clamp_load_new(pressure: Numbers, outer_radius: Numbers, inner_radius: Numbers) -> Numbers:
    """Clamp load of a new facing from its even pressure.

        W = π·p·(r_o² − r_i²)

    pressure        p             Pa     ≥ 0
    outer_radius    r_o           m      > 0
    inner_radius    r_i           m      0 ≤ r_i < r_o
    returns         W             N      nan outside that range

    Source: Theory of Machines, friction clutches, uniform pressure.

    >>> f"{clamp_load_new(0.1e6, 0.150, 0.100):.0f} N: π·10⁵·0.0125"
    '3927 N: π·10⁵·0.0125'
    """
    pressure, outer, inner = as_floats(pressure, outer_radius, inner_radius)
    return where(_sound_ring(outer, inner) & (pressure >= 0), np.pi * pressure * (outer**2 - inner**2))


def clamp_load_after_wear(clamp_load: Numbers, spring_count: Numbers, spring_rate: Numbers, wear: Numbers) -> Numbers:
    """Clamp load that coil springs keep when the facings have worn.

        W' = W − N·k·Δ

    clamp_load    W, new                           N      ≥ 0
    spring_count  N                                1      ≥ 0
    spring_rate   k, of one spring                 N/m    ≥ 0
    wear          Δ, of all faces together         m      ≥ 0
    returns       W'                               N      nan outside that range and where the springs hang loose (W' < 0)

    Coil springs only. A diaphragm spring presses harder at first as the facing wears: its maker's curve decides.
    Source: Theory of Machines, friction clutches.

    >>> f"{clamp_load_after_wear(1353.0, 6, 13e3, 0.010):.0f} N: 1353 − 6·13·10"
    '573 N: 1353 − 6·13·10'
    """
    load, count, rate, wear = as_floats(clamp_load, spring_count, spring_rate, wear)
    left = load - count * rate * wear
    return where((load >= 0) & (count >= 0) & (rate >= 0) & (wear >= 0) & (left >= 0), left)


def _sound_ring(outer: Array, inner: Array) -> NDArray[np.bool_]:
    """Whether the two radii can belong to one ring."""
    sound: NDArray[np.bool_] = (outer > 0) & (inner >= 0) & (inner < outer)
    return sound
