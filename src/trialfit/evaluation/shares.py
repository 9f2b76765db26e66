"""Which fact causes how much of a margin's variance.

Answers   Shares   one object per evaluation; shares(margin, paths) gives the share of each fact

Method    The margin is fitted by least squares with one straight and one curved term per uncertain fact; a fact's share is
          the covariance of its fitted part with the margin, over the margin's variance. The facts are drawn
          independently, so the shares of a nearly linear margin sum to one; the rest is interaction between facts. For a straight-line margin the shares equal (c·u)² over their sum, the budget of JCGM 100.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

_FEWEST_DRAWS = 32
_NEVER_LESS_THAN = 1e-26  # relative: below it the variance is rounding
_MANY_DRAWS = 8  # for each term: then the terms, drawn independently, are nearly orthogonal


class Shares:
    """Keeps the terms of the uncertain facts already used, so that each margin costs one small fit."""

    def __init__(self, drawn: Mapping[str, NDArray[np.float64]]) -> None:
        self._uncertain = {path: values[1:] for path, values in drawn.items() if _is_uncertain(values)}
        self._terms: dict[str, NDArray[np.float64]] = {}

    def __call__(self, margin: NDArray[np.float64], paths: Sequence[str]) -> dict[str, float]:
        """The share of each path in the variance of a margin of shape (draws,); 0 for exact facts."""
        shares = dict.fromkeys(paths, 0.0)
        uncertain = [path for path in paths if path in self._uncertain]
        if not uncertain or margin.size <= _FEWEST_DRAWS:
            return shares
        sound = np.isfinite(margin[1:])
        centred = np.where(sound, margin[1:], 0.0)
        centred = np.where(sound, centred - centred.sum() / max(sound.sum(), 1), 0.0)
        variance = centred @ centred
        if variance <= _NEVER_LESS_THAN * max(float(np.square(margin[1:][sound]).sum()), 1e-300):
            return shares
        terms = np.concatenate([self._terms_of(path) for path in uncertain])
        loads = terms @ centred
        fitted = _fit(terms @ terms.T, loads, margin.size)
        parts = (fitted * loads).reshape(-1, 2).sum(axis=1) / variance
        shares.update(zip(uncertain, np.clip(parts, 0, 1).tolist(), strict=True))
        return shares

    def _terms_of(self, path: str) -> NDArray[np.float64]:
        """The straight and the curved term of a fact, (2, draws)."""
        if path not in self._terms:
            values = self._uncertain[path]
            self._terms[path] = straight, curved = np.empty((2, values.size))
            np.subtract(values, values.mean(), out=straight)
            straight /= np.sqrt(straight @ straight / values.size)
            np.subtract(straight * straight, 1, out=curved)  # its mean is 0, straight being of unit variance
            curved -= (curved @ straight) / values.size * straight
            curved /= np.sqrt(curved @ curved / values.size)
        return self._terms[path]


def _is_uncertain(values: NDArray[np.float64]) -> bool:
    return values.size > _FEWEST_DRAWS and values.strides != (0,) and float(np.ptp(values)) > 0


def _fit(products: NDArray[np.float64], loads: NDArray[np.float64], draws: int) -> NDArray[np.float64]:
    if draws > _MANY_DRAWS * loads.size:
        return np.asarray(np.linalg.solve(products, loads), np.float64)
    return np.asarray(np.linalg.lstsq(products, loads, rcond=None)[0], np.float64)
