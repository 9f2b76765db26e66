"""A folding crane with its load: the slope at which it tips over its wheels, and how deep a tilted load hangs below its hook.

Answers   tip_slope           slope at which crane and load tip over a line of wheels
          inside_side_line    how far a point on the middle of the crane is inside the line of the wheels of one side
          depth_when_tilted   depth of a point of the load below the hook
Next door hoisting.py (what the plate allows)
Caution   roll a crane with the load low, slowly, over a floor without steps; the plate on the crane decides
Sources   [1] statics
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where


def tip_slope(
    load: Numbers, load_inside: Numbers, load_height: Numbers, own: Numbers, own_inside: Numbers, own_height: Numbers
) -> Numbers:
    """Slope of the floor at which a crane tips over a line of its wheels.

        tan α = (m·d + M·D)/(m·h + M·H)

    load          m, on the hook, dynamic factor included                       kg     ≥ 0
    load_inside   d, of the hook from the line of the wheels inwards            m      any
    load_height   h, of the hook: there the load pulls                          m      > 0
    own           M, of the crane                                               kg     > 0
    own_inside    D, of its centre of mass from the same line inwards           m      any
    own_height    H, of its centre of mass                                      m      > 0
    returns       α, negative where it tips on the level                        rad    nan outside that range

    A push at the height of the hook acts as the same slope: tan α is push over weight. Source: statics.

    >>> f"{np.degrees(tip_slope(290.0, -0.10, 1.9, 75.0, 1.2, 0.6)):.1f}°"
    '5.8°'
    """
    load, load_inside, load_height, own, own_inside, own_height = as_floats(
        load, load_inside, load_height, own, own_inside, own_height
    )
    sound = (load >= 0) & (load_height > 0) & (own > 0) & (own_height > 0)
    return where(sound, np.arctan2(load * load_inside + own * own_inside, load * load_height + own * own_height))


def inside_side_line(at: Numbers, front: Numbers, front_half: Numbers, rear: Numbers, rear_half: Numbers) -> Numbers:
    """Distance of a point on the middle line of a crane from the line through the wheels of one side.

        (w_r + (w_f − w_r)·(x − x_r)/(x_f − x_r))·cos γ,   tan γ = (w_f − w_r)/(x_f − x_r)

    at           x, of the point                               m    any
    front        x_f, of the front wheels                      m    more than x_r
    front_half   w_f, half of the distance between them        m    > 0
    rear         x_r, of the rear wheels                       m    any
    rear_half    w_r, half of the distance between them        m    > 0
    returns      distance; negative outside                    m    nan outside that range

    Source: geometry.

    >>> f"{inside_side_line(1.3, 1.4, 0.45, -0.1, 0.30):.3f} m"
    '0.438 m'
    """
    at, front, front_half, rear, rear_half = as_floats(at, front, front_half, rear, rear_half)
    sound = (front > rear) & (front_half > 0) & (rear_half > 0)
    lean = (front_half - rear_half) / np.where(sound, front - rear, 1.0)
    return where(sound, (rear_half + lean * (at - rear)) / np.hypot(1.0, lean))


def depth_when_tilted(ahead: Numbers, below: Numbers, tilt: Numbers) -> Numbers:
    """Depth of a point of a load below its hook, when the load is tilted.

        h·cos φ − x·sin φ

    ahead     x, of the point from below the hook, on the level load     m      any
    below     h, below the hook, the same                                m      any
    tilt      φ, positive where the rear end hangs lower                 rad    |φ| ≤ π/2
    returns   depth                                                      m      nan outside that range

    Source: geometry.

    >>> f"{depth_when_tilted(-0.9, 0.8, np.radians(30.0)):.3f} m"
    '1.143 m'
    """
    ahead, below, tilt = as_floats(ahead, below, tilt)
    return where(np.abs(tilt) <= np.pi / 2, below * np.cos(tilt) - ahead * np.sin(tilt))
