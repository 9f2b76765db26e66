"""Which fact causes how much of a margin's variance.

Answers   Shares   one object per evaluation; shares(margin, paths) gives the share of each fact, shares.of_each several at once

Method    The margin is fitted by least squares with one straight and one curved term per uncertain fact; a fact's share is
          the covariance of its fitted part with the margin, over the margin's variance. The facts are drawn
          independently, so the shares of a nearly linear margin sum to one; the rest is interaction between facts. For a straight-line margin the shares equal (c·u)² over their sum, the budget of JCGM 100.
          What costs time is the products of the terms with each other: margins of much the same facts share them.
"""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from trialfit.handbook.arrays import Array as Draws

_FEWEST_DRAWS = 32
_NEVER_LESS_THAN = 1e-26  # relative: below it the variance is rounding
_MANY_DRAWS = 8  # for each term: then the terms, drawn independently, are nearly orthogonal


class Shares:
    """Keeps the terms of the uncertain facts already used, so that each margin costs one small fit."""

    def __init__(self, drawn: Mapping[str, Draws]) -> None:
        self._uncertain = {path: values[1:] for path, values in drawn.items() if _is_uncertain(values)}
        self._terms: dict[str, Draws] = {}

    def __call__(self, margin: Draws, paths: Sequence[str]) -> dict[str, float]:
        """The share of each path in the variance of a margin of shape (draws,); 0 for exact facts."""
        return self.of_each([(margin, paths)])[0]

    def of_each(self, asked: Sequence[tuple[Draws, Sequence[str]]]) -> list[dict[str, float]]:
        """The same for several margins, each with its paths."""
        shares = [dict.fromkeys(paths, 0.0) for _, paths in asked]
        moves: dict[int, tuple[Draws, list[str]]] = {}
        for number, (margin, paths) in enumerate(asked):
            uncertain = [path for path in paths if path in self._uncertain]
            centred = _centred(margin) if uncertain and margin.size > _FEWEST_DRAWS else None
            if centred is not None:
                moves[number] = centred, uncertain
        for numbers in _groups({number: uncertain for number, (_, uncertain) in moves.items()}):
            for number, found in zip(numbers, self._together([moves[one] for one in numbers]), strict=True):
                shares[number].update(found)
        return shares

    def _together(self, margins: Sequence[tuple[Draws, list[str]]]) -> Iterator[dict[str, float]]:
        """The shares of margins with the same draws: all products of the terms they need are worked out at once."""
        row = {path: 2 * number for number, path in enumerate(dict.fromkeys(chain(*(paths for _, paths in margins))))}
        terms = np.concatenate([self._terms_of(path) for path in row])
        products, loads = terms @ terms.T, terms @ np.stack([centred for centred, _ in margins], axis=-1)
        for (centred, paths), load in zip(margins, loads.T, strict=True):
            rows = np.array([row[path] + n for path in paths for n in (0, 1)])
            fitted = _fit(products[np.ix_(rows, rows)], load[rows], centred.size + 1)
            parts = (fitted * load[rows]).reshape(-1, 2).sum(axis=1) / (centred @ centred)
            yield dict(zip(paths, np.clip(parts, 0, 1).tolist(), strict=True))

    def _terms_of(self, path: str) -> Draws:
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


def _centred(margin: Draws) -> Draws | None:
    """The draws of a margin less their mean, 0 where they are not finite; None where they only move by rounding."""
    sound = np.isfinite(margin[1:])
    whole = np.where(sound, margin[1:], 0.0)
    centred = np.where(sound, whole - whole.sum() / max(np.count_nonzero(sound), 1), 0.0)
    return centred if centred @ centred > _NEVER_LESS_THAN * max(float(whole @ whole), 1e-300) else None


def _groups(paths: Mapping[int, Sequence[str]]) -> Iterable[list[int]]:
    """Margins that read much the same facts, by their numbers: each joins the group that it makes larger by the fewest products,
    unless it needs fewer by itself.
    """
    bit = {path: 1 << place for place, path in enumerate(dict.fromkeys(chain(*paths.values())))}
    alike: dict[int, list[int]] = {}
    for number, read in paths.items():
        alike.setdefault(sum(map(bit.__getitem__, read)), []).append(number)
    groups: dict[int, list[int]] = {}
    for facts in sorted(alike, key=int.bit_count, reverse=True):
        more = {group: (group | facts).bit_count() ** 2 - group.bit_count() ** 2 for group in groups}
        group = min(more, key=more.__getitem__, default=0)
        if not group or more[group] > facts.bit_count() ** 2:
            groups.setdefault(facts, []).extend(alike[facts])
        else:
            groups[group | facts] = groups.pop(group) + alike[facts]
    return groups.values()


def _is_uncertain(values: Draws) -> bool:
    return values.size > _FEWEST_DRAWS and values.strides != (0,) and float(np.ptp(values)) > 0


def _fit(products: Draws, loads: Draws, draws: int) -> Draws:
    if draws > _MANY_DRAWS * loads.size:
        return np.asarray(np.linalg.solve(products, loads), np.float64)
    return np.asarray(np.linalg.lstsq(products, loads, rcond=None)[0], np.float64)
