"""Where a live axle goes when it rises: held by leaf springs, by links or by arms that are fixed to it.

Answers   on_an_arm      an axle that turns with an arm about one pivot on the body
          on_links       an axle on two pairs of links, lower and upper
          leaf_pivot     the point about which leaf springs lead an axle
Not here  the joint on its pinion (axle_travel.py), lengths and angles of shafts (shaft_lines.py)
Symbols   side view: points (x, z), x forward and z up; C axle centre, P pivot, A and B ends of a link on the axle and on the
          body, h rise of the axle centre, s how far it has moved forward, φ how far it has turned, pinion nose up
Sources   [1] plane geometry: a link keeps its length   [2] leaf springs: spring-design manual, arc of the axle, from memory
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Array, Numbers, as_floats, where

_STEPS, _ITERATIONS = 2, 4
_CLOSED = 1e-9
"""How far a link may be from its length for a position to count as found, m."""


def on_an_arm(pivot: Array, centre: Array, rise: Numbers) -> tuple[Numbers, Numbers]:
    """An axle that turns with an arm about one pivot on the body: how far forward it moves and how far it turns.

        s = ±√(r² − (r_z + h)²) − r_x,   φ = atan2 after − atan2 before,   r = C − P

    pivot     P, (x, z), shape (..., 2)            m
    centre    C, (x, z), shape (..., 2)            m      not straight above or below P
    rise      h, negative in droop                 m      |r_z + h| < r
    returns   s forward [m], φ nose up [rad]              nan outside that range

    Torque tubes, ladder bars and trailing arms bolted fast to the axle. With φ = 0 taken instead it is the arc of an axle
    on parallel links of the length r. Source: plane geometry.

    >>> forward, turn = on_an_arm(np.array([-1.9, 0.3]), np.array([-2.5, 0.3]), -0.09)
    >>> f"{forward * 1e3:.1f} mm forward, {np.degrees(turn):.2f}° nose up: sin φ = 90/600"
    '6.8 mm forward, 8.63° nose up: sin φ = 90/600'
    """
    pivot, centre, rise = as_floats(pivot, centre, rise)
    along, up = (centre - pivot)[..., 0], (centre - pivot)[..., 1]
    raised = up + rise
    square = along**2 + up**2 - raised**2
    sound = (square > 0) & (along != 0)
    after = np.sign(along) * np.sqrt(np.where(sound, square, 1.0))
    # of the two vectors, before and after, the angle between them, from x towards z
    turn = np.arctan2(along * raised - up * after, along * after + up * raised)
    return where(sound, after - along), where(sound, turn)


def on_links(
    centre: Array, lower: tuple[Array, Array], upper: tuple[Array, Array], rise: Numbers
) -> tuple[Numbers, Numbers]:
    """An axle on two pairs of links: how far forward it moves and how far it turns.

        |C + (s, h) + R(φ)·(A_k − C) − B_k| = |A_k − B_k|   for k = lower, upper

    centre    C, (x, z), shape (..., 2)                                        m
    lower     B, A: ends on the body and on the axle, shape (..., 2) each      m
    upper     B, A: the same of the upper links                                m
    rise      h, negative in droop                                             m
    returns   s forward [m], φ nose up [rad]                                   nan where the links do not reach

    Side view: angled links count by what they are in it. Rigid links in bushes that do not give. Solved by Newton's method from
    ride height on, in two steps. Source: plane geometry, a link keeps its length.

    >>> low, high = (np.array([-2.1, 0.3]), np.array([-2.5, 0.3])), (np.array([-2.1, 0.5]), np.array([-2.5, 0.5]))
    >>> forward, turn = on_links(np.array([-2.5, 0.35]), low, high, 0.07)
    >>> f"{forward * 1e3:.2f} mm forward: 400 − √(400² − 70²), turned by {abs(np.degrees(turn)):.1f}°"
    '6.17 mm forward: 400 − √(400² − 70²), turned by 0.0°'
    """
    centre, rise = as_floats(centre, rise)
    links = [(np.asarray(body) - centre, np.asarray(axle) - centre) for body, axle in (lower, upper)]
    shape = np.broadcast_shapes(rise.shape, *(end.shape[:-1] for link in links for end in link))
    forward, turn = np.zeros(shape), np.zeros(shape)
    for step in range(1, _STEPS + 1):
        for _ in range(_ITERATIONS):
            off = [_off(link, forward, rise * step / _STEPS, turn) for link in links]
            (f, f_s, f_turn), (g, g_s, g_turn) = off
            scale = f_s * g_turn - g_s * f_turn
            safe = np.where(np.abs(scale) > 0, scale, np.nan)
            forward = forward - (f * g_turn - g * f_turn) / safe
            turn = turn - (f_s * g - g_s * f) / safe
    left = [np.abs(_off(link, forward, rise, turn)[0]) / (2 * _length(link)) for link in links]
    sound = (left[0] < _CLOSED) & (left[1] < _CLOSED) & (np.abs(turn) < np.pi / 2)
    return where(sound, forward), where(sound, turn)


def leaf_pivot(eye: Array, centre: Array, share: Numbers = 0.75) -> Array:
    """The point about which a leaf spring leads its axle: on the line from the axle to the front eye.

        P = C + share·(E − C)

    eye       E, centre of the fixed eye, (x, z), shape (..., 2)     m
    centre    C, (x, z), shape (..., 2)                              m
    share     radius of the arc over the length of the front half    –      0 < share ≤ 1
    returns   P, shape (..., 2)                                      m      nan outside that range

    The front half bends, so the axle moves on an arc shorter than it is long: about three quarters. What the spring turns the
    axle on the way depends on its two halves and on the shackle, and is not in here.
    Source: spring-design manual, arc of the axle on a semi-elliptic spring, from memory.

    >>> print(leaf_pivot(np.array([-1.9, 0.40]), np.array([-2.5, 0.36])))
    [-2.05  0.39]
    """
    eye, centre, share = as_floats(eye, centre, share)
    sound = (share > 0) & (share <= 1)
    return np.asarray(where(sound[..., None], centre + share[..., None] * (eye - centre)))


def _off(link: tuple[Array, Array], forward: Array, rise: Array, turn: Array) -> tuple[Array, Array, Array]:
    """How far the square of a link's length is off, and how that changes with s and with φ; ends seen from the axle centre."""
    body, axle = link
    cosine, sine = np.cos(turn), np.sin(turn)
    x = cosine * axle[..., 0] - sine * axle[..., 1]
    z = sine * axle[..., 0] + cosine * axle[..., 1]
    along, up = forward + x - body[..., 0], rise + z - body[..., 1]
    return along**2 + up**2 - _length(link) ** 2, 2 * along, 2 * (up * x - along * z)


def _length(link: tuple[Array, Array]) -> Array:
    return np.asarray(np.linalg.norm(link[1] - link[0], axis=-1))
