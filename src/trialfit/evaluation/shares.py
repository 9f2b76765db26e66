"""Which fact causes how much of a margin's variance.

Answers   Shares   one object per evaluation; shares(margin, paths) gives the share of each fact

Method    The margin is fitted by least squares with one straight and one curved term per uncertain fact; a fact's share is
          the covariance of its fitted part with the margin, over the margin's variance. The facts are drawn
          independently, so the shares of a near-linear margin sum to one; what is missing to one is interaction between
          facts. For a straight-line margin the shares equal (c·u)² over their sum, the budget of JCGM 100.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

_FEWEST_DRAWS = 32
_NEVER_LESS_THAN = 1e-26  # relative: below it the variance is rounding


class Shares:
    """Holds the terms of all uncertain facts and their products, so that each margin costs one small solve."""

    def __init__(self, drawn: Mapping[str, NDArray[np.float64]]) -> None:
        self._columns: dict[str, int] = {}
        terms: list[NDArray[np.float64]] = []
        for path, values in drawn.items():
            if values.size > _FEWEST_DRAWS and np.ptp(values) > 0:
                straight = (values[1:] - values[1:].mean()) / values[1:].std()
                curved = straight**2 - 1
                curved = curved - curved.mean() - (curved @ straight) / straight.size * straight
                self._columns[path] = len(terms)
                terms += [straight, curved / curved.std()]
        self._terms = np.array(terms)
        self._products = self._terms @ self._terms.T if terms else np.zeros((0, 0))

    def __call__(self, margin: NDArray[np.float64], paths: Sequence[str]) -> dict[str, float]:
        """The share of each path in the variance of a margin of shape (draws,); 0 for exact facts."""
        shares = dict.fromkeys(paths, 0.0)
        uncertain = [path for path in paths if path in self._columns]
        if not uncertain or margin.size <= _FEWEST_DRAWS:
            return shares
        sound = np.isfinite(margin[1:])
        centred = np.where(sound, margin[1:], 0.0)
        centred = np.where(sound, centred - centred.sum() / max(sound.sum(), 1), 0.0)
        variance = centred @ centred
        if variance <= _NEVER_LESS_THAN * max(float(np.square(margin[1:][sound]).sum()), 1e-300):
            return shares
        columns = np.array([[self._columns[path], self._columns[path] + 1] for path in uncertain]).ravel()
        loads = self._terms[columns] @ centred
        fitted = np.linalg.lstsq(self._products[np.ix_(columns, columns)], loads, rcond=None)[0]
        parts = (fitted * loads).reshape(-1, 2).sum(axis=1) / variance
        shares.update(zip(uncertain, np.clip(parts, 0, 1).tolist(), strict=True))
        return shares
