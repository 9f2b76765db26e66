"""Preferred numbers: the values that resistors are made in.

Answers   e_series            the values of one series between two bounds
          SERIES              the series there are, with the tolerance that usually goes with each
Not here  which resistors a gauge needs (sender_curves.py)
Symbols   n number of values in a decade, i place in it
Sources   [1] IEC 60063, from reprints of the series
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.tables import rows

if TYPE_CHECKING:
    from trialfit.handbook.arrays import Array

SERIES = {"E3": 0.4, "E6": 0.2, "E12": 0.1, "E24": 0.05, "E48": 0.02, "E96": 0.01, "E192": 0.005}
"""By name: the tolerance that usually goes with it, 1. Source: IEC 60063, from reprints of the series."""

_BY_TABLE = 24
_OFF_THE_RULE = {(192, 185): 9.20}  # 10^(185/192) rounds to 9.19


def e_series(name: str, lowest: float, highest: float) -> Array:
    """The values of a series from `lowest` to `highest`, rising.

        E3 to E24 by the table; E48, E96, E192: 10^(i/n) to three figures, but 9.20 in E192

    name       E3, E6, E12, E24, E48, E96 or E192
    lowest     any unit    > 0
    highest    the same    ≥ lowest
    returns    the same, (K,), empty where no value lies between
    errors     ValueError, one sentence, for another name or bounds that do not rise from above 0

    Source: IEC 60063, from reprints of the series.

    >>> e_series("E6", 10, 100)
    array([ 10.,  15.,  22.,  33.,  47.,  68., 100.])
    """
    if name not in SERIES:
        raise ValueError(f'"{name}" is not a series of preferred numbers: expected one of {", ".join(SERIES)}.')
    if not 0 < lowest <= highest < np.inf:
        raise ValueError("Preferred numbers lie between two bounds that rise from above 0, such as 1 and 1000.")
    first, last = int(np.floor(np.log10(lowest))), int(np.floor(np.log10(highest)))
    decades = 10.0 ** np.arange(first, last + 1)
    values = np.asarray(np.round(np.outer(decades, _decade(int(name[1:]))), 12).ravel(), np.float64)
    ends = 1e-9
    return values[(values >= lowest * (1 - ends)) & (values <= highest * (1 + ends))]


@cache
def _decade(count: int) -> Array:
    """The values from 1 up to below 10."""
    if count <= _BY_TABLE:
        table = np.array([float(row["value"]) for row in rows("senders", "preferred_numbers")])
        return table[:: _BY_TABLE // count]
    values = np.round(10 ** (np.arange(count) / count), 2)
    for (series, place), value in _OFF_THE_RULE.items():
        if series == count:
            values[place] = value
    return values
