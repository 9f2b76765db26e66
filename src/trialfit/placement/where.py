"""The place of a point on a body, in the words used at the car: an upper face, a front lower edge.

Answers   where_on    the words for a point on a placed body
Not here  which point (distance.py); which requirement it belongs to (binding.py)
Method    The point is taken in the axes of the body, in the box around it there: a tilted body keeps its faces. Each of its
          sides is named after the direction of the car that it faces most; of the ways to give six names to three axes, the
          one that fits best. A body that is round about one of its axes, which its corners show, has no faces there: the
          direction from that axis to the point is named instead.
Symbols   lengths in m, in the car's axes: x forward, y left, z up
"""

from __future__ import annotations

from itertools import permutations
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from trialfit.handbook.arrays import Array


_WORDS = (("front", "rear"), ("left", "right"), ("upper", "lower"))
_ORDER = (0, 2, 1)
_NOUNS = ("middle", "face", "edge", "corner")
_EDGE = 0.9
"""A point at least this far out, as a share of half the box, is at that side of it."""
_ROUND = 1.02
"""Corners of a round body reach no further from its axis than this share of half the box; those of a box reach 1.41."""
_NAMED = 0.4
"""A direction of the car is named if its component is at least this large: between 24° and 66°, two are named."""


def where_on(point: Array, corners: Array, axes: Array) -> str:
    """The place of a point (3,) on a body with these corners (n, 3); `axes` are those of the body, as columns.

    >>> corners = np.array([[x, y, z] for x in (-0.3, 0.3) for y in (-0.2, 0.2) for z in (-0.1, 0.1)])
    >>> where_on(np.array([0.30, 0.19, -0.1]), corners, np.eye(3))
    'front lower left corner'
    >>> where_on(np.array([0.0, 0.0, 0.1]), corners, np.eye(3))
    'upper face'
    """
    local = corners @ axes
    low, high = local.min(axis=0), local.max(axis=0)
    half = np.maximum((high - low) / 2, 1e-9)
    share = (point @ axes - (low + high) / 2) / half
    about = _round_about(local, (low + high) / 2, half)
    named, sign = _named(axes)
    sides = {named[axis]: int(np.sign(share[axis]) * sign[axis]) for axis in range(3) if abs(share[axis]) >= _EDGE}
    if about is None:
        return _said(sides)
    end = {named[about]: sides[named[about]]} if named[about] in sides else {}
    return _on_a_round_body(end, share * half, share, axes, about)


def _on_a_round_body(end: dict[int, int], offset: Array, share: Array, axes: Array, about: int) -> str:
    across = np.delete(np.arange(3), about)
    far = float(np.hypot(*share[across]))
    if far < _NAMED or (end and far < _EDGE):
        return _said(end)
    way = axes[:, across] @ offset[across]
    way = way / np.linalg.norm(way)
    round_it = {axis: int(np.sign(way[axis])) for axis in range(3) if abs(way[axis]) >= _NAMED and axis not in end}
    return _said({**end, **round_it}, "edge" if end else "side")


def _said(sides: dict[int, int], noun: str = "") -> str:
    words = [_WORDS[axis][0 if sides[axis] > 0 else 1] for axis in _ORDER if axis in sides]
    return " ".join([*words, noun or _NOUNS[len(words)]])


def _round_about(local: Array, middle: Array, half: Array) -> int | None:
    """The axis about which the body is round; None for a body with faces all around."""
    share = (local - middle) / half
    for axis in range(3):
        across = np.delete(np.arange(3), axis)
        even = abs(half[across[0]] - half[across[1]]) <= 0.05 * half[across].max()
        if even and np.hypot(*share[:, across].T).max() <= _ROUND:
            return axis
    return None


def _named(axes: Array) -> tuple[tuple[int, ...], Array]:
    """For each axis of the body the axis of the car that it is named by, and whether it points along (+1) or against it."""
    best = max(permutations(range(3)), key=lambda names: sum(abs(axes[names[n], n]) for n in range(3)))
    return best, np.array([1.0 if axes[best[n], n] >= 0 else -1.0 for n in range(3)])
