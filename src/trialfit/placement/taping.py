"""A point from tape readings: distances from datum points, heights, and how far along and across, by least squares.

Answers   Reading         one reading
          position_from   the point, its spread, and the reading that disagrees, if one does
          slopes_of       how fast each reading changes as the point moves
          BadReadings     too few readings, or readings that fit no point
Method    Weighted least squares; covariance (JᵀWJ)⁻¹. A reading disagrees when its residual over its own standard deviation is the
          largest and beyond 3.29 (1 in 1000): the test for one gross error of Baarda (from memory). Without more readings
          than unknowns nothing can disagree, and `checked` says so.
Symbols   lengths in m, `sigma` 1 s
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.handbook.arrays import Array


BEYOND = 3.29
_ENOUGH = 3
_WEAK = 1e8


class BadReadings(ValueError):
    """Readings that give no point; the message is one sentence for a builder."""


@dataclass(frozen=True)
class Reading:
    """One reading. `datum` is the point a distance was taped from; not needed for a height, along or across.

    datum_sigma   spread of the datum's own place, along the tape, 1 s
    """

    name: str
    sort: Literal["distance", "x", "y", "z"]
    value: float
    sigma: float
    datum: tuple[float, float, float] = (0.0, 0.0, 0.0)
    datum_sigma: float = 0.0


@dataclass(frozen=True, eq=False)
class Taped:
    """A point with its covariance, m and m².

    residuals   by name of the reading: reading − computed, m
    fits        whether the readings agree with each other within their spreads
    disagrees   the name of the reading that does not fit the others; "" if none does or it cannot be singled out
    without     the point without that reading; None if none is named
    largest     the largest residual over its own standard deviation; 0 if nothing can disagree
    checked     whether there are more readings than unknowns: without a spare reading nothing can disagree; with one
                spare reading a disagreement shows, but not which reading is wrong
    """

    position: Array
    covariance: Array
    residuals: dict[str, float]
    fits: bool
    disagrees: str
    without: Array | None
    checked: bool
    largest: float = 0.0


def position_from(readings: Sequence[Reading], near: Sequence[float]) -> Taped:
    """The point; `near` is its rough place, since two distances and a height fit two points. Raises BadReadings.

    >>> at = lambda x, y: Reading(f"from {x}", "distance", 5.0, 0.001, (x, y, 0.0))
    >>> position_from([at(0.0, 0.0), at(6.0, 0.0), Reading("height", "z", 0.0, 0.001)], (3, 3, 0)).position.round(6).tolist()
    [3.0, 4.0, 0.0]
    """
    if len(readings) < _ENOUGH:
        raise BadReadings(
            f"{len(readings)} readings do not fix a point: expected three, for example two distances and a height"
        )
    point, spread, jacobian, residual = _fitted(readings, np.asarray(near, float))
    covariance = np.linalg.inv(jacobian.T @ (jacobian / spread[:, None] ** 2))
    checked = len(readings) > _ENOUGH
    fits, disagrees, without, largest = True, "", None, 0.0
    if checked:
        own = np.sqrt(np.maximum(spread**2 - np.einsum("ni,ij,nj->n", jacobian, covariance, jacobian), 1e-16))
        standing = np.abs(residual) / own
        worst = int(standing.argmax())
        largest = float(standing[worst])
        fits = largest <= BEYOND
        if not fits and len(readings) > _ENOUGH + 1:
            disagrees = readings[worst].name
            others = [one for number, one in enumerate(readings) if number != worst]
            without = _fitted(others, point)[0]
    named = {one.name: float(left) for one, left in zip(readings, residual, strict=True)}
    return Taped(point, np.asarray(covariance, float), named, fits, disagrees, without, checked, largest)


def slopes_of(readings: Sequence[Reading], point: Array) -> tuple[Array, Array]:
    """How fast each reading changes as the point moves, (n, 3), and the spread of each, (n,), 1 s, m."""
    return _computed(readings, point)[1], np.array([np.hypot(one.sigma, one.datum_sigma) for one in readings])


def _fitted(readings: Sequence[Reading], near: Array) -> tuple[Array, Array, Array, Array]:
    from scipy.optimize import least_squares

    spread = np.array([np.hypot(one.sigma, one.datum_sigma) for one in readings])
    if not (np.isfinite(spread).all() and (spread > 0).all()):
        raise BadReadings("a reading has no spread: write one, for example 640 ± 2 mm")
    values = np.array([one.value for one in readings])
    result = least_squares(
        lambda p: (_computed(readings, p)[0] - values) / spread, near, xtol=1e-14, ftol=1e-14, gtol=1e-14
    )
    computed, jacobian = _computed(readings, result.x)
    if np.linalg.cond(jacobian / spread[:, None]) > _WEAK:
        raise BadReadings(
            "the readings do not fix the point: tape it from a datum in another direction, or measure its height"
        )
    return np.asarray(result.x), spread, jacobian, values - computed


def _computed(readings: Sequence[Reading], point: Array) -> tuple[Array, Array]:
    """What each reading would be at a point, and its derivative by the point."""
    values, slopes = [], []
    for one in readings:
        if one.sort == "distance":
            away = point - np.asarray(one.datum)
            length = float(np.linalg.norm(away))
            values.append(length)
            slopes.append(away / length if length else np.array([1.0, 0.0, 0.0]))
        else:
            axis = ("x", "y", "z").index(one.sort)
            values.append(float(point[axis] - one.datum[axis]))
            slopes.append(np.eye(3)[axis])
    return np.array(values), np.array(slopes)
