"""How well the place of a point on a solid is known, along a direction: to first order.

Answers   spreads_of       what is known of the place, turn and size of several solids
          variance_along   the variance of a point of each, along a direction each
          variance_whatever_way   the same where the direction is not known yet
          cross            the cross product row by row
Not here  the margins that stand on it (margins.py)
Method    var = uᵀC_p u + wᵀC_r w + s², w = (point − about) × u (JCGM 100, from memory)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array
    from trialfit.placement.solids import Solid

    Spreads = tuple[Array, Array, Array, Array]

_NEXT, _AFTER = np.array([1, 2, 0]), np.array([2, 0, 1])


def spreads_of(solids: Sequence[Solid], numbers: NDArray[np.intp]) -> Spreads:
    """Covariances of place and turn, the point that each turns about, and the spread of size, of the solids numbered."""
    place = np.array([solid.place_covariance for solid in solids])
    turned = np.array([solid.turn_covariance for solid in solids])
    about = np.array([solid.about for solid in solids])
    size = np.array([solid.size_sigma for solid in solids])
    return place[numbers], turned[numbers], about[numbers], size[numbers]


def variance_along(u: Array, point: Array, of: Spreads) -> Array:
    """The variance of each point along each direction, m²."""
    place, turned, about, size = of
    w = cross(point - about, u)
    return np.asarray(np.einsum("ni,nij,nj->n", u, place, u) + np.einsum("ni,nij,nj->n", w, turned, w) + size**2)


def variance_whatever_way(solids: Sequence[Solid], of: NDArray[np.intp], points: Array) -> Array:
    """About the variance of each point, on the solid numbered in `of`, before a direction is known, m²."""
    place = np.array([np.trace(solid.place_covariance) / 3 for solid in solids])
    turned = np.array([np.trace(solid.turn_covariance) / 3 for solid in solids])
    size = np.array([solid.size_sigma for solid in solids])
    about = np.array([solid.about for solid in solids])
    arm = np.linalg.norm(points - about[of], axis=1)
    return np.asarray(place[of] + turned[of] * arm**2 + size[of] ** 2)


def cross(one: Array, other: Array) -> Array:
    """The cross product row by row: numpy's own costs five times as much on short arrays."""
    crossed = one.take(_NEXT, axis=1)
    crossed *= other.take(_AFTER, axis=1)
    crossed -= one.take(_AFTER, axis=1) * other.take(_NEXT, axis=1)
    return crossed
