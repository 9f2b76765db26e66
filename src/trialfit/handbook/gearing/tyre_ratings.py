"""What a tyre bears and how fast it may run: load index and speed symbol.

Answers   read_service     what "91V" behind the size says: TyreService
          load_capacity    load on one tyre, by load index
          rated_speed      by speed symbol
          load_share       share of that load that it bears at a speed
Not here  the size (tyres.py); inflation pressure: its maker's table has that
Tables    tables/load_indices.csv, tables/speed_symbols.csv; sources in tables/SOURCES.md
Sources   [1] ISO 4000-1, passenger car tyres, load index and speed symbol, from memory
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.constants import KILOMETRE_PER_HOUR
from trialfit.handbook.tables import rows

_SERVICE = re.compile(r"\(?\s*(?P<index>\d{2,3})(?:/\d{2,3})?\s*\(?(?P<symbol>[A-Z])?\s*\)?", re.ASCII)
_BEHIND_SIZE = re.compile(
    r"(?:R|D|-)\s*\d{2}(?:\.5)?(?:\s*(?:LT|C))?\s+(?P<service>\(?\d{2,3}(?:/\d{2,3})?\s*\(?[A-Z]\d?\)?)", re.ASCII
)


@dataclass(frozen=True)
class TyreService:
    """Load index of a single wheel, and speed symbol; None where it is not printed."""

    index: int
    symbol: str | None


def read_service(code: str) -> TyreService:
    """Read a load index, with or without a speed symbol behind it.

    code       "91", "91V", "104/102R" (the first is that of a single wheel)
    returns    TyreService
    errors     ValueError, one sentence, for another form, and for an index or a symbol that the tables do not have

    Source: ISO 4000-1, from memory.

    >>> read_service("104/102R")
    TyreService(index=104, symbol='R')
    """
    match = _SERVICE.fullmatch(code.strip().upper())
    if match is None:
        raise ValueError(f'"{code}" is not a load index: expected the figure behind the size, as in "91" or "91V".')
    index, symbol = int(match["index"]), match["symbol"]
    if index not in _loads():
        least, most = min(_loads()), max(_loads())
        raise ValueError(f'"{code}" is not a load index of a car or van tyre: expected {least} to {most}, as in "91V".')
    if symbol and symbol not in _symbols():
        known = ", ".join(_symbols())
        raise ValueError(f'"{code}" has the unknown speed symbol "{symbol}": expected one of {known}, as in "91V".')
    return TyreService(index, symbol)


def service_in_size(size: str) -> TyreService | None:
    """Load index and speed symbol that are written behind a tyre size; None where they are not.

    size       as in "205/55 R16 91V"
    returns    TyreService, or None

    Source: ISO 4000-1, from memory.

    >>> service_in_size("205/55 R16 91V"), service_in_size("205/55 R16")
    (TyreService(index=91, symbol='V'), None)
    """
    match = _BEHIND_SIZE.search(" ".join(size.upper().split()))
    try:
        return read_service(match["service"]) if match else None
    except ValueError:
        return None


def load_capacity(index: int) -> float:
    """Load on one tyre at the pressure that its maker gives for it.

    index      load index    1     in the table
    returns    load          kg    nan outside that range

    Source: ISO 4000-1, from memory.

    >>> load_capacity(91)
    615.0
    """
    return _loads().get(index, float("nan"))


def rated_speed(symbol: str) -> float:
    """Highest speed of a tyre.

    symbol     speed symbol        in the table
    returns    speed        m/s    nan outside that range

    Source: ISO 4000-1, from memory.

    >>> f"{rated_speed('H') * 3.6:.0f} km/h"
    '210 km/h'
    """
    return _symbols()[symbol][0] if symbol in _symbols() else float("nan")


def load_share(speed: Numbers, symbol: str) -> Numbers:
    """Share of the load by its index that a tyre bears at a speed.

        1 up to the speed of full load, then along a straight line to its share at the rated speed

    speed      v             m/s    ≥ 0
    symbol     speed symbol         in the table
    returns    share         1      nan outside that range and above the rated speed

    V tyres lose from 210 km/h on, W from 240, Y from 270; all others bear their load up to their speed.
    Source: ISO 4000-1, from memory; the shares of V and W from a public tyre page.

    >>> [f"{load_share(kmh / 3.6, 'V'):.3f}" for kmh in (200, 225, 240)]
    ['1.000', '0.955', '0.910']
    """
    (speed,) = as_floats(speed)
    if symbol not in _symbols():
        return where(np.zeros(speed.shape, bool), speed)
    rated, full, share = _symbols()[symbol]
    beyond = (speed - full) / (rated - full) if rated > full else np.zeros(speed.shape)
    slack = 1e-9 * rated
    return where((speed >= 0) & (speed <= rated + slack), 1 - (1 - share) * np.clip(beyond, 0.0, 1.0))


@cache
def _loads() -> dict[int, float]:
    return {int(row["load index"]): float(row["load [kg]"]) for row in rows("gearing", "load_indices")}


@cache
def _symbols() -> dict[str, tuple[float, float, float]]:
    """Rated speed, speed up to which it bears its full load, m/s, and the share at its rated speed."""
    return {
        row["symbol"]: (
            float(row["speed [km/h]"]) * KILOMETRE_PER_HOUR,
            float(row["full load up to [km/h]"]) * KILOMETRE_PER_HOUR,
            float(row["share of the load at its speed [%]"]) / 100,
        )
        for row in rows("gearing", "speed_symbols")
    }


def speed_symbols() -> tuple[str, ...]:
    """The speed symbols of the table, the slowest first; H stands between U and V.

    returns    symbols

    Source: ISO 4000-1, from memory.

    >>> speed_symbols()[-3:]
    ('V', 'W', 'Y')
    """
    return tuple(_symbols())
