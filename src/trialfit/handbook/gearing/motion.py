"""Straight motion while the acceleration is a second-degree polynomial of the speed: exact, without steps.

Between two points of a torque curve the pull is linear in the speed and the road load quadratic, so the time and the
way of every stretch have a closed form. acceleration.py strings such stretches together.

Answers   time_and_distance_of_gain   how long, and how far, until so much speed is gained
          gain_in_time           speed gained, and way covered, after a time
          time_to_cover          how long for a given way
Not here  where pull and load come from (ratios.py, road_load.py)
Symbols   u = v − v₀ gain over the speed at the start, a = α + β·u − k·u²; α [m/s²], β [1/s], k ≥ 0 [1/m]
Sources   [1] calculus: the separable equation dv/dt = a(v), known as Riccati's
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats

LEAST_DRAG = 1e-10
"""k [1/m] that stands in for a smaller one, since the formulas divide by k. A car has 1e-4. From rest to 50 m/s at
1 m/s² it makes 1e-7 of the time, and keeps rounding in the way below 0.01 mm."""

_CLOSE = 1e-6
"""Relative step of Newton's method behind which the next one would change the twelfth digit."""

_ROUNDS = 50
"""Newton's method needs 3 or 4: more means that a figure is not a number."""


def time_and_distance_of_gain(
    gain: Numbers, speed: Numbers, start: Numbers, slope: Numbers, drag: Numbers
) -> tuple[Numbers, Numbers]:
    """Time until the speed has grown by a gain, and the way covered meanwhile.

        t = ∫₀^u du/(α + β·u − k·u²) = (2/√D)·artanh(√D·u/(2α + β·u)),   D = β² + 4αk
        x = v₀·t + (β·t + ln(α/a_end))/(2k),   a_end = α + β·u − k·u²

    gain     u                             m/s     ≥ 0
    speed    v₀, at the start              m/s     ≥ 0
    start    α, acceleration at the start  m/s²
    slope    β, its slope over speed       1/s
    drag     k                             1/m     ≥ 0
    returns  t, x                          s, m    inf where the acceleration runs out before, 0 where u ≤ 0

    Source: calculus; checked against numerical quadrature.

    >>> t, x = time_and_distance_of_gain(100 / 3.6, 0.0, 3.21565, 0.0, 3.325e-4)
    >>> f"{t:.4f} s, {x:.2f} m"
    '8.8797 s, 125.03 m'
    """
    gain, speed, start, slope, drag = as_floats(gain, speed, start, slope, drag)
    # Where nothing is gained or the acceleration runs out, the formulas give nonsense: it is replaced below.
    with np.errstate(all="ignore"):
        drag = np.maximum(drag, LEAST_DRAG)
        end = start + (slope - drag * gain) * gain
        root = np.sqrt(slope * slope + 4 * start * drag)
        # artanh(w) as ½·ln((1 + w)²/(1 − w²)), where 1 − w² = 4·α·a_end/(2α + β·u)²: no digits are lost near w = 1.
        time = np.log((2 * start + (slope + root) * gain) ** 2 / (4 * start * end)) / root
        way = speed * time + (slope * time + np.log(start / end)) / (2 * drag)
        stuck = (start <= 0) | (end <= 0)
        if stuck.any():
            time, way = np.where(stuck, np.inf, time), np.where(stuck, np.inf, way)
        nothing = gain <= 0
        if nothing.any():
            time, way = np.where(nothing, 0.0, time), np.where(nothing, 0.0, way)
    return time[()], way[()]


def gain_in_time(
    time: Numbers, speed: Numbers, start: Numbers, slope: Numbers, drag: Numbers
) -> tuple[Numbers, Numbers]:
    """Speed gained and way covered after a time.

        u = α·T/(1 − β·T/2),   T = tanh(s·t)/s,   s = √D/2,   D = β² + 4αk
        x = v₀·t + ((β/2 + s)·t + ln((1 − c)/2 + (1 + c)/2·e^(−2st)))/k,   c = β/√D

    time     t                             s       ≥ 0
    speed    v₀, at the start              m/s     ≥ 0
    start    α, acceleration at the start  m/s²    > 0
    slope    β                             1/s
    drag     k                             1/m     ≥ 0
    returns  u, x                          m/s, m  nan outside that range

    Source: calculus; checked against time_and_distance_of_gain.

    >>> u, x = gain_in_time(8.8797, 0.0, 3.21565, 0.0, 3.325e-4)
    >>> f"{u * 3.6:.2f} km/h, {x:.2f} m"
    '100.00 km/h, 125.03 m'
    """
    time, speed, start, slope, drag = as_floats(time, speed, start, slope, drag)
    sound = (time >= 0) & (speed >= 0) & (start > 0) & (drag >= 0)
    start, drag = np.where(sound, start, 1.0), np.maximum(drag, LEAST_DRAG)
    root = np.sqrt(slope * slope + 4 * start * drag)
    decay = np.exp(-root * np.where(sound, time, 0.0))
    scaled = 2 * (1 - decay) / (1 + decay) / root
    # 1 − |c| is written as 4αk/(√D·(√D + |β|)): the difference itself would lose digits where the drag is small.
    large = root + np.abs(slope)
    small = 4 * start * drag / large
    standing, fading = np.where(slope > 0, (small, large), (large, small)) / (2 * root)
    way = speed * time + ((slope + root) / 2 * time + np.log(standing + fading * decay)) / drag
    gain = start * scaled / (1 - slope * scaled / 2)
    return np.where(sound, gain, np.nan)[()], np.where(sound, way, np.nan)[()]


def time_to_cover(way: Numbers, speed: Numbers, start: Numbers, slope: Numbers, drag: Numbers) -> Numbers:
    """Time for a way, by Newton's method on gain_in_time.

        x(t) = x

    way      x                             m       > 0
    speed    v₀, at the start              m/s     ≥ 0
    start    α, acceleration at the start  m/s²    > 0
    slope    β                             1/s
    drag     k                             1/m     ≥ 0
    returns  t                             s       nan outside that range

    The way is a convex function of time while the car accelerates, so that the method cannot miss.
    Source: calculus.

    >>> f"{time_to_cover(125.03, 0.0, 3.21565, 0.0, 3.325e-4):.3f} s"
    '8.880 s'
    """
    way, speed, start, slope, drag = as_floats(way, speed, start, slope, drag)
    sound = (way > 0) & (speed >= 0) & (start > 0)
    way, start = np.where(sound, way, 1.0), np.where(sound, start, 1.0)
    time = np.asarray(2 * way / (speed + np.sqrt(speed**2 + 2 * start * way)))
    for _ in range(_ROUNDS):
        gain, covered = gain_in_time(time, speed, start, slope, drag)
        missing = (way - covered) / (speed + gain)
        time = time + missing
        if not (np.abs(missing) > _CLOSE * time).any():
            break
    return np.where(sound, time, np.nan)[()]
