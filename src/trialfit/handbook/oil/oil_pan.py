"""Oil in a pan while the car accelerates: its surface, and the acceleration that uncovers the pickup.

Answers   surface_slopes     how the surface leans
          volume_below       oil in a box under a leaning surface
          surface_level      height of the surface over the middle of the floor
          pickup_cover       oil over the lowest-covered point of the mouth's rim
          uncovered_at       acceleration in a direction that uses up the cover
          slosh_frequency    of the first slosh
          mouth_gap          gap under the mouth with as much area as its bore
Not here  baffles and trap doors, pans with a step, how fast oil drains back
Axes      of the pan: x forward, y left, z up from the inside of its floor; the origin is in the middle of the floor
Symbols   L, W, D length, width, depth inside; n slope of the surface; h its height over the middle; a acceleration of the car
Sources   [1] fluid at rest in an accelerated frame: any text on fluid mechanics
          [2] geometry: a box cut by a plane, worked out by counting its corners in and out
          [3] linear theory of waves in a rectangular basin, from memory

The surface is that of a steady acceleration. A sudden one makes it swing: up to twice as far where nothing damps it.
"""

from __future__ import annotations

from itertools import product

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.constants import STANDARD_GRAVITY

STEEPEST = np.radians(20.0)
"""The most that a pan may be tilted as installed, for these formulas."""

HARDEST = 2.0 * STANDARD_GRAVITY
"""How far `uncovered_at` looks."""

_LEAST_SLOPE = 1e-4  # flatter, the counting of corners loses its digits; the level of the middle is kept
_SCANS = 20
_HALVINGS = 20
_LEVEL_HALVINGS = 45


def surface_slopes(forward: Numbers, leftward: Numbers, inclination: Numbers = 0.0) -> tuple[Numbers, Numbers]:
    """How the surface falls forwards and to the left, in the pan's axes.

        n_x = (a_x·cos i + g·sin i)/(g·cos i − a_x·sin i),   n_y = a_y/(g·cos i − a_x·sin i)

    forward        a_x, level; braking is negative                        m/s²    |a_x| ≤ 2 g
    leftward       a_y, level; a left-hand bend is positive               m/s²    any
    inclination    i, how far the floor drops towards the rear            rad     |i| ≤ 20°
    returns        n_x, n_y                                               1       nan outside that range

    Source: fluid at rest in an accelerated frame.

    >>> fall, _ = surface_slopes(0.5 * STANDARD_GRAVITY, 0.0)
    >>> f"{fall:.2f}"
    '0.50'
    """
    forward, leftward, inclination = as_floats(forward, leftward, inclination)
    sound = (np.abs(inclination) <= STEEPEST + 1e-12) & (np.abs(forward) <= HARDEST * (1 + 1e-12))
    along, upright = np.sin(inclination), np.cos(inclination)
    weight = np.where(sound, STANDARD_GRAVITY * upright - forward * along, 1.0)
    return (
        where(sound, (forward * upright + STANDARD_GRAVITY * along) / weight),
        where(sound, leftward / weight),
    )


def volume_below(
    length: Numbers, width: Numbers, depth: Numbers, fall_forward: Numbers, fall_left: Numbers, level: Numbers
) -> Numbers:
    """Volume of a box that lies under a leaning surface.

        V = Σ_S (−1)^|S|·max(0, d − Σ_{i∈S} n_i·L_i)³/(6·n_x·n_y·n_z),   n_z = 1,   d = h + (|n_x|·L + |n_y|·W)/2

    length, width, depth    L, W, D                                        m     > 0
    fall_forward            n_x; 1e-4 is taken where it is flatter         1     any
    fall_left               n_y, the same                                  1     any
    level                   h, of the surface over the middle of the box   m     any
    returns                 V                                              m³    nan outside that range

    S runs over the eight sets of edges. Dry floor and wet lid are counted as they are. Digits are lost where the surface is
    nearly level, to 10⁻¹⁰ m³. Source: geometry; agrees with volumes of convex hulls.

    >>> f"{volume_below(0.30, 0.24, 0.16, 0.5, 0.0, 0.06193) * 1000:.2f} l"
    '4.50 l'
    """
    length, width, depth, level = as_floats(length, width, depth, level)
    steep_x, steep_y = (np.maximum(np.abs(one), _LEAST_SLOPE) for one in as_floats(fall_forward, fall_left))
    sound = (length > 0) & (width > 0) & (depth > 0)
    rise_x, rise_y = steep_x * length, steep_y * width
    whole = rise_x + rise_y + depth
    reach = np.minimum(level + (rise_x + rise_y) / 2, whole)
    total = sum(
        (-1) ** (one + other + third) * np.maximum(reach - one * rise_x - other * rise_y - third * depth, 0.0) ** 3
        for one, other, third in product((0, 1), repeat=3)
    )
    return where(sound & np.isfinite(reach), total / (6 * steep_x * steep_y))


def surface_level(
    volume: Numbers, length: Numbers, width: Numbers, depth: Numbers, fall_forward: Numbers, fall_left: Numbers
) -> Numbers:
    """Height of the surface over the middle of the floor; below the floor where the middle is dry.

        V(h) = V

    volume                  V, of the oil in the box            m³    0 < V < L·W·D
    length, width, depth    L, W, D                             m     > 0
    fall_forward            n_x                                 1     any
    fall_left               n_y                                 1     any
    returns                 h                                   m     nan outside that range

    Found by halving, to 10⁻⁸ m: where the surface is nearly level, the volumes have no more digits.
    Source: volume of oil does not change.

    >>> f"{surface_level(0.0045, 0.30, 0.24, 0.16, 0.5, 0.8) * 1000:.2f} mm"
    '55.19 mm'
    """
    volume, length, width, depth = as_floats(volume, length, width, depth)
    fall_forward, fall_left = as_floats(fall_forward, fall_left)
    sound = (length > 0) & (width > 0) & (depth > 0) & (volume > 0) & (volume < length * width * depth)
    lean = (
        np.maximum(np.abs(fall_forward), _LEAST_SLOPE) * length + np.maximum(np.abs(fall_left), _LEAST_SLOPE) * width
    ) / 2
    low, high = np.broadcast_arrays(-lean, depth + lean, volume)[:2]
    for _ in range(_LEVEL_HALVINGS):
        middle = (low + high) / 2
        over = np.asarray(volume_below(length, width, depth, fall_forward, fall_left, middle)) > volume
        low, high = np.where(over, low, middle), np.where(over, middle, high)
    return where(sound & np.isfinite(lean), (low + high) / 2)


def pickup_cover(
    level: Numbers,
    fall_forward: Numbers,
    fall_left: Numbers,
    forward: Numbers,
    left: Numbers,
    height: Numbers,
    diameter: Numbers,
) -> Numbers:
    """Oil over that point of the mouth's rim that has least of it; negative where the rim is bare.

        c = h − n_x·x − n_y·y − (d/2)·√(n_x² + n_y²) − z

    level           h, of the surface over the middle of the floor     m    any
    fall_forward    n_x                                                1    any
    fall_left       n_y                                                1    any
    forward         x, of the middle of the mouth                      m    any
    left            y                                                  m    any
    height          z, of the mouth over the floor                     m    ≥ 0
    diameter        d, of the mouth, which lies level with the floor   m    ≥ 0
    returns         c                                                  m    nan outside that range

    Source: geometry.

    >>> f"{pickup_cover(0.061929, 0.5, 0.0, 0.09, 0.0, 0.010, 0.0) * 1000:.2f} mm"
    '6.93 mm'
    """
    level, fall_forward, fall_left, forward, left = as_floats(level, fall_forward, fall_left, forward, left)
    height, diameter = as_floats(height, diameter)
    sound = (height >= 0) & (diameter >= 0)
    rim = diameter / 2 * np.hypot(fall_forward, fall_left)
    return where(sound, level - fall_forward * forward - fall_left * left - rim - height)


def uncovered_at(
    volume: Numbers,
    box: tuple[Numbers, Numbers, Numbers],
    mouth: tuple[Numbers, Numbers, Numbers, Numbers],
    heading: Numbers,
    *,
    inclination: Numbers = 0.0,
    cover: Numbers = 0.0,
) -> Numbers:
    """Smallest level acceleration in a direction at which the rim of the mouth has less than a cover of oil.

        V(surface through the rim's worst point, c above it) = V

    volume         V, of the oil in the pan                                       m³      0 < V < L·W·D
    box            L, W, D                                                        m       > 0
    mouth          x, y, z, d as in pickup_cover, its middle over the floor       m       |x| ≤ L/2, |y| ≤ W/2, 0 ≤ z ≤ D, d ≥ 0
    heading        direction of the car's acceleration: 0 forwards, π/2 left      rad     any
    inclination    i, how far the floor drops towards the rear                    rad     |i| ≤ 20°
    cover          c, that the rim must keep                                      m       ≥ 0
    returns        a                                                              m/s²    nan outside that range

    0 where the cover is too thin at rest, inf where it is kept up to 2 g: nothing harder is looked at. Tried in steps of
    0.1 g, then halved: a pickup that comes bare and is covered again within one step is not seen.
    Source: fluid at rest in an accelerated frame.

    >>> at = uncovered_at(0.0045, (0.30, 0.24, 0.16), (0.09, 0.0, 0.010, 0.0), 0.0)
    >>> f"{at / STANDARD_GRAVITY:.4f} g"
    '0.5646 g'
    """
    volume, heading, inclination, cover = as_floats(volume, heading, inclination, cover)
    length, width, depth = as_floats(*box)
    x, y, z, diameter = as_floats(*mouth)
    sound = (length > 0) & (width > 0) & (depth > 0) & (volume > 0) & (volume < length * width * depth)
    sound = sound & (np.abs(x) <= length / 2) & (np.abs(y) <= width / 2) & (z >= 0) & (z <= depth) & (diameter >= 0)
    sound = sound & (np.abs(inclination) <= STEEPEST + 1e-12) & (cover >= 0) & np.isfinite(heading)
    ahead, aside = np.cos(heading), np.sin(heading)

    def bare(rate: np.ndarray) -> np.ndarray:
        fall_x, fall_y = as_floats(*surface_slopes(rate * ahead, rate * aside, inclination))
        needed = z + cover + fall_x * x + fall_y * y + diameter / 2 * np.hypot(fall_x, fall_y)
        return np.asarray(np.asarray(volume_below(length, width, depth, fall_x, fall_y, needed)) > volume)

    step = HARDEST / _SCANS
    first = np.full(np.broadcast_shapes(sound.shape, heading.shape), np.inf)
    for number in range(_SCANS + 1):
        rate = np.asarray(number * step)
        first = np.where(np.isinf(first) & bare(rate), rate, first)
    seen = np.isfinite(first)
    high = np.where(seen, first, step)
    low = np.maximum(high - step, 0.0)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        out = bare(middle)
        low, high = np.where(out, low, middle), np.where(out, middle, high)
    return where(sound, np.where(seen, np.where(first > 0, high, 0.0), np.inf))


def slosh_frequency(length: Numbers, depth: Numbers) -> Numbers:
    """Frequency of the first slosh from wall to wall.

        f = √(g·π/ℓ·tanh(π·h/ℓ))/(2·π)

    length     ℓ, from wall to wall         m     > 0
    depth      h, of the oil at rest        m     > 0
    returns    f                            Hz    nan outside that range

    Small waves, no baffles, an open surface. Source: linear theory of waves in a rectangular basin, from memory.

    >>> f"{slosh_frequency(0.30, 0.0625):.3f} Hz"
    '1.223 Hz'
    """
    length, depth = as_floats(length, depth)
    sound = (length > 0) & (depth > 0)
    wave = np.pi / np.where(sound, length, 1.0)
    return where(sound, np.sqrt(STANDARD_GRAVITY * wave * np.tanh(wave * np.where(sound, depth, 1.0))) / (2 * np.pi))


def mouth_gap(bore: Numbers, mouth: Numbers, times: Numbers = 1.0) -> Numbers:
    """Gap under a pickup's mouth through which the oil has so many times the area of the suction bore.

        s = k·d²/(4·d_m)

    bore       d, of the suction pipe        m    > 0
    mouth      d_m, of the mouth             m    > 0
    times      k; 3 or more is usual         1    > 0
    returns    s                             m    nan outside that range

    Source: geometry, π·d_m·s = k·π·d²/4; how many times is common practice, no source.

    >>> f"{mouth_gap(0.019, 0.060) * 1000:.3f} mm"
    '1.504 mm'
    """
    bore, mouth, times = as_floats(bore, mouth, times)
    sound = (bore > 0) & (mouth > 0) & (times > 0)
    return where(sound, times * bore**2 / (4 * np.where(sound, mouth, 1.0)))
