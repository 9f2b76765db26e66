"""The foot of a bracket on its bolts: how a lever pulls on the hardest bolt, and how a thin foot pries.

Answers   hardest_pull         of all bolts under a pull and a moment, in the worst direction
          turned_shear         of the hardest bolt under a force across the bolts with a lever
          prying_share         force at the edge of a bending foot, over the pull on the bolt
          foot_use             bending of the foot over what it bears
Not here  preload and separation (bolted_joints.py)
Symbols   P pull on the foot, M moment that tips it, h height of a bolt over the edge it tips about, b bolt to web, a bolt to free
          edge, p width of the foot per bolt, t thickness, f_y yield strength, δ share of that width the hole leaves
Sources   [1] statics of a stiff foot on springs   [2] AISC Engineering Journal, 2nd quarter 1985; AISC manual part 9, from memory
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Array, Numbers, as_floats, where

DIRECTIONS = 24
"""Directions in which a foot is tipped in turn: every 15°."""
_FARTHEST_EDGE = 1.25  # of b: what lies further out does not pry [2]


def hardest_pull(places: Array, edge_distance: Numbers, pull: Numbers, moment: Numbers) -> Numbers:
    """Pull on the hardest bolt of a stiff foot, in the worst direction of the moment.

        F = P/n + M·(h − h̄)/Σ(h − h̄)²             while the edge stays off,
        F = (M + P·h̄)·h/Σh²                        once the foot rests on its edge

    places          of the bolts, (bolts, 2)                     m
    edge_distance   from the outermost bolt to the edge          m      ≥ 0
    pull            P, through the middle of the bolts           N      ≥ 0
    moment          M, size                                      N·m    ≥ 0
    returns         F, least 0                                   N      nan outside that range

    The foot is stiff, the bolts are alike and stretch in line with it; without preload, which decides whether faces part, not how
    the load is shared. Every 15° is tried. Source: statics.

    >>> square = np.array([[-40e-3, -30e-3], [40e-3, -30e-3], [40e-3, 30e-3], [-40e-3, 30e-3]])
    >>> f"{hardest_pull(square, 20e-3, 0.0, 500.0) / 1e3:.2f} kN"
    '2.94 kN'
    """
    edge, pull, moment = as_floats(edge_distance, pull, moment)
    sound = (edge >= 0) & (pull >= 0) & (moment >= 0)
    turns = 2 * np.pi * np.arange(DIRECTIONS) / DIRECTIONS
    worst = np.zeros(np.broadcast(edge, pull, moment).shape)
    seen = (_heights(places[:, 0] * np.cos(turn) + places[:, 1] * np.sin(turn)) for turn in turns)
    for top, mean, spread in dict.fromkeys(seen):
        worst = np.maximum(worst, _in_one_direction(len(places), top, mean, spread, edge, pull, moment))
    return where(sound, worst)


def _heights(across: Array) -> tuple[float, float, float]:
    """Highest and mean height of the bolts over the lowest, m, and Σ(h − h̄)², m²: what a direction depends on, rounded so that
    a symmetric foot has few of them.
    """
    above = across - across.min()
    return (
        round(float(above.max()), 12),
        round(float(above.mean()), 12),
        round(float(((above - above.mean()) ** 2).sum()), 15),
    )


def _in_one_direction(
    count: int, top: float, mean: float, spread: float, edge: Array, pull: Array, moment: Array
) -> Array:
    """Hardest bolt of a foot that tips about an edge below bolts at these heights over the lowest one."""
    height = mean + edge
    squares = spread + count * height**2
    levered = (moment + pull * height) * (top + edge) / np.where(squares > 0, squares, 1.0)
    resting = np.where(squares > 0, levered, np.where(moment > 0, np.inf, pull / count))
    if not spread:
        return np.asarray(np.maximum(resting, pull / count))
    free = pull / count + moment * (top - mean) / spread
    return np.asarray(np.where(pull / count < moment * height / spread, resting, free))


def turned_shear(places: Array, force: Numbers, lever: Numbers) -> Numbers:
    """Force across the hardest bolt under a force across all of them that passes at a lever from their middle.

        Q = V/n + V·e·r/Σr²

    places     of the bolts, (bolts, 2)     m
    force      V                            N    ≥ 0
    lever      e                            m    ≥ 0
    returns    Q                            N    nan outside that range, and for one bolt with a lever

    Both parts are taken in one direction, the worst. Source: statics.

    >>> pair = np.array([[-30e-3, 0.0], [30e-3, 0.0]])
    >>> f"{turned_shear(pair, 2e3, 60e-3) / 1e3:.0f} kN"
    '3 kN'
    """
    force, lever = as_floats(force, lever)
    radii = np.linalg.norm(places - places.mean(axis=0), axis=1)
    squares = float((radii**2).sum())
    sound = (force >= 0) & (lever >= 0) & ((squares > 0) | (lever == 0))
    twist = force * lever * radii.max() / squares if squares else np.zeros_like(force * lever)
    return where(sound, force / len(places) + twist)


def foot_use(
    pull: Numbers, web_distance: Numbers, bolt_diameter: Numbers, width: Numbers, thickness: Numbers, strength: Numbers
) -> Numbers:
    """Bending of a foot at its web, over what makes it yield there while nothing pries.

        4·T·b'/(p·f_y·t²),   b' = b − d/2

    pull            T, on one bolt               N     ≥ 0
    web_distance    b, bolt to web               m     > d/2
    bolt_diameter   d                            m     > 0
    width           p, of the foot per bolt      m     > 0
    thickness       t                            m     > 0
    strength        f_y                          Pa    > 0
    returns         use                          1     nan outside that range

    Up to 1 nothing pries; above 1 + δ the foot hinges at web and bolts. Source: AISC Engineering Journal, 2nd quarter 1985.

    >>> f"{foot_use(5e3, 25e-3, 10e-3, 40e-3, 5.31e-3, 355e6):.2f}"
    '1.00'
    """
    pull, web, bolt, width, thick, strength = as_floats(pull, web_distance, bolt_diameter, width, thickness, strength)
    sound = (pull >= 0) & (bolt > 0) & (web > bolt / 2) & (width > 0) & (thick > 0) & (strength > 0)
    bears = np.where(sound, width * strength * thick**2, 1.0)
    return where(sound, 4 * pull * (web - bolt / 2) / bears)


def prying_share(
    use: Numbers,
    web_distance: Numbers,
    edge_distance: Numbers,
    bolt_diameter: Numbers,
    hole_diameter: Numbers,
    width: Numbers,
) -> Numbers:
    """Force with which the edge of a bending foot pries at the bolt, over the pull on it.

        Q/T = α·δ/(1 + α·δ)·b'/a',   α·δ = use − 1 within 0 and δ,   δ = 1 − d_h/p,
        b' = b − d/2,   a' = a + d/2 with a not above 1.25·b

    use             of the foot, as foot_use gives it       1    ≥ 0
    web_distance    b, bolt to web                          m    > d/2
    edge_distance   a, bolt to free edge                    m    > 0
    bolt_diameter   d                                       m    > 0
    hole_diameter   d_h                                     m    < p
    width           p, of the foot per bolt                 m    > 0
    returns         Q/T                                     1    nan outside that range

    Source: AISC manual part 9, from memory; AISC Engineering Journal, 2nd quarter 1985.

    >>> f"{prying_share(2.0, 25e-3, 20e-3, 10e-3, 11e-3, 40e-3):.3f}"
    '0.336'
    """
    use, web, edge, bolt, hole, width = as_floats(use, web_distance, edge_distance, bolt_diameter, hole_diameter, width)
    sound = (use >= 0) & (bolt > 0) & (web > bolt / 2) & (edge > 0) & (hole > 0) & (width > hole)
    left = 1 - hole / np.where(sound, width, 1.0)
    both = np.clip(use - 1, 0.0, np.maximum(left, 0.0))
    lever = (web - bolt / 2) / np.where(sound, np.minimum(edge, _FARTHEST_EDGE * web) + bolt / 2, 1.0)
    return where(sound, both / (1 + both) * lever)
