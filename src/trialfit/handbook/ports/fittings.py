"""Fittings: two ends on one piece, and the usual ones as a catalogue.

Answers   Fitting             one piece, with what it adds in length and leaves in bore
          standard_fittings   the usual ones of tables/fittings.csv
Not here  a run of them from one end to another (fitting_chain.py); ends (port_ends.py)
Sources   tables/SOURCES.md: lengths and bores are common practice, no source; measure yours
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from trialfit.handbook.ports.port_ends import End, read_end
from trialfit.handbook.tables import rows


@dataclass(frozen=True)
class Fitting:
    """One piece with two ends. Length added and bore in m, nan if unknown; price None if missing."""

    name: str
    end: End
    other_end: End
    length: float
    bore: float
    price: float | None = None


def standard_fittings() -> tuple[Fitting, ...]:
    """The usual fittings, without prices.

    returns   fittings in the order of the table

    Source: tables/fittings.csv: sorts of the trade; lengths and bores common practice, no source.

    >>> standard_fittings()[0].name
    'sender adapter M10×1 to 1/8 NPT'
    """
    return _standard()


@lru_cache(maxsize=1)
def _standard() -> tuple[Fitting, ...]:
    return tuple(
        Fitting(
            row["name"],
            read_end(row["end"]),
            read_end(row["other end"]),
            float(row["length [mm]"]) * 1e-3,
            float(row["bore [mm]"]) * 1e-3,
        )
        for row in rows("ports", "fittings")
    )
