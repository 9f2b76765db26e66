"""Designations of fastener threads: "M10", "M10×1.25", "3/8-16 UNC", "7/16-20".

Answers   read_thread   a designation into diameter and pitch
          Thread        with its stress area and the diameters of its profile
Not here  the formulas (screw_threads.py); pipe and hose threads
Symbols   d nominal diameter, P pitch, n threads per inch
Sources   [1] ISO 261, ISO 262 (coarse pitches), ISO 898-1 (areas): tables/metric_threads.csv
          [2] ASME B1.1: tables/unified_threads.csv
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from trialfit.handbook.constants import INCH
from trialfit.handbook.fastening.screw_threads import stress_area, stress_area_unified
from trialfit.handbook.tables import rows

_METRIC = re.compile(r"[Mm] ?(\d+(?:[.,]\d+)?)(?: ?[x×X*] ?(\d+(?:[.,]\d+)?))?")
_UNIFIED = re.compile(r'(#?\d+|\d+/\d+) ?(?:in|")? ?- ?(\d+)(?: ?(UNC|UNF|UNEF|UN|UNS))?')
_FINEST, _COARSEST = 0.2e-3, 6e-3
_COARSEST_SHARE = 0.3
_EXAMPLE = 'for example "M10", "M10×1.25" or "3/8-16"'


@dataclass(frozen=True)
class Thread:
    """A fastener thread: `diameter` d and `pitch` P [m], `is_unified` for inch threads, as it is `called`."""

    called: str
    diameter: float
    pitch: float
    is_unified: bool

    @property
    def stress_area(self) -> float:
        """A_s [m²], by the formula of its system."""
        area = stress_area_unified if self.is_unified else stress_area
        return float(area(self.diameter, self.pitch))


def read_thread(text: str) -> Thread:
    """A designation into diameter and pitch.

    text       "M10" (coarse), "M10×1.25", "M10x1.25", "3/8-16", "7/16-20 UNF", "10-32"
    returns    Thread

    A coarse pitch need not be written; an inch thread always names its threads per inch.
    Errors: ValueError with one sentence. Source: ISO 261 and ASME B1.1 designations.

    >>> read_thread("M10"), read_thread("3/8-24").is_unified
    (Thread(called='M10×1.5', diameter=0.01, pitch=0.0015, is_unified=False), True)
    """
    metric, unified = _METRIC.fullmatch(text.strip()), _UNIFIED.fullmatch(text.strip())
    if metric:
        return _metric(text, metric[1].replace(",", "."), (metric[2] or "").replace(",", "."))
    if unified:
        return _unified(text, unified[1].removeprefix("#"), int(unified[2]), unified[3] or "")
    raise ValueError(f'"{text}" is not a thread that can be read: expected metric or unified, {_EXAMPLE}')


def _metric(text: str, size: str, pitch: str) -> Thread:
    diameter = float(size) / 1e3
    if not pitch:
        coarse = metric_coarse_pitches().get(float(size))
        if coarse is None:
            raise ValueError(f'"{text}" has no coarse pitch in the table: write the pitch too, {_EXAMPLE}')
        pitch = f"{coarse:g}"
    length = float(pitch) / 1e3
    if not (_FINEST <= length <= _COARSEST and length <= _COARSEST_SHARE * diameter):
        raise ValueError(f'"{text}" has a pitch of {pitch} mm, which no fastener of that diameter has: {_EXAMPLE}')
    return Thread(f"M{float(size):g}×{float(pitch):g}", diameter, length, is_unified=False)


def _unified(text: str, size: str, per_inch: int, series: str) -> Thread:
    row = _unified_rows().get(size)
    if row is None:
        raise ValueError(f'"{text}" has a size that is not in the table: {", ".join(_unified_rows())} are')
    coarse, fine = int(row["UNC"]), int(row["UNF"])
    wanted = {"UNC": coarse, "UNF": fine}.get(series)
    if wanted is not None and wanted != per_inch:
        raise ValueError(f'"{text}" contradicts itself: {size} {series} has {wanted} threads per inch, not {per_inch}')
    diameter = float(row["diameter"]) * INCH
    if not coarse / 2 <= per_inch <= 2 * fine:
        raise ValueError(f'"{text}" has {per_inch} threads per inch: {size} has {coarse} (coarse) or {fine} (fine)')
    return Thread(f"{size}-{per_inch}", diameter, INCH / per_inch, is_unified=True)


@cache
def metric_coarse_pitches() -> dict[float, float]:
    """Coarse pitch by nominal diameter, both in mm as printed.

    returns    dict

    Source: ISO 261, ISO 262.

    >>> metric_coarse_pitches()[12.0]
    1.75
    """
    table = rows("fastening", "metric_threads")
    return {float(row["diameter [mm]"]): float(row["pitch [mm]"]) for row in table if row["series"] == "coarse"}


@cache
def _unified_rows() -> dict[str, dict[str, str]]:
    """Diameter in inches and threads per inch of the coarse and the fine series, by size."""
    sizes: dict[str, dict[str, str]] = {}
    for row in rows("fastening", "unified_threads"):
        if row["series"] in ("UNC", "UNF"):
            size = sizes.setdefault(row["size"], {"diameter": row["diameter [in]"]})
            size[row["series"]] = row["threads per inch"]
    return sizes
