"""Designations of screw threads: "M10", "M10×1.25", "3/8-16 UNC", "7/16-20".

Answers   read_screw_thread     any metric or unified designation into diameter and pitch
          read_fastener_thread  the same, and refused where no bolt has that pitch
          ScrewThread           with its stress area, and where a builder meets it
          is_screw_thread, plain_designation, INCH_SIZE    how designations are spelt
Not here  the formulas (screw_threads.py); threads that seal (ports/port_threads.py)
Symbols   d nominal diameter, P pitch, n threads per inch
Sources   [1] ISO 261, ISO 262 (coarse pitches), ISO 898-1 (areas): tables/metric_threads.csv
          [2] ASME B1.1: tables/unified_threads.csv
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from trialfit.handbook.constants import INCH
from trialfit.handbook.fastening.screw_threads import stress_area, stress_area_unified
from trialfit.handbook.tables import rows

INCH_SIZE = r"(?:\d{1,2}(?:\s+|-))?\d{1,2}/[1-9]\d?|\d{1,2}"
"""A size in inches as it is written: "3/8", "1 1/16", "1"; or the number of a small screw."""
_METRIC = re.compile(r"M\s*(?P<d>\d{1,2}(?:[.,]\d{1,2})?)(?:\s*[X×*]\s*(?P<p>\d(?:[.,]\d{1,3})?))?", re.ASCII)
_UNIFIED = re.compile(
    rf"(?P<hash>#)?(?P<size>{INCH_SIZE})(?:\s*IN)?\s*-\s*(?P<n>\d{{1,2}})(?:\s*(?P<with>UNC|UNF|UNEF|UNS|UN))?"
    rf"|(?P<named>{INCH_SIZE})\s*(?P<series>UNC|UNF)",
    re.ASCII,
)
_FINEST, _COARSEST = 0.2e-3, 6e-3  # m
_COARSEST_SHARE = 0.3  # of the diameter, in fasteners
_LARGEST = 0.1  # m: nothing on a car is wider
_EXAMPLE = 'for example "M10", "M10×1.25" or "3/8-16"'


@dataclass(frozen=True)
class ScrewThread:
    """A metric or unified thread: `diameter` d and `pitch` P [m], `is_unified` for inch threads, `designation` as it is printed."""

    designation: str
    diameter: float
    pitch: float
    is_unified: bool
    size: str
    """Diameter as the tables write it: "10", "3/8"."""

    @property
    def stress_area(self) -> float:
        """A_s [m²], by the formula of its system."""
        area = stress_area_unified if self.is_unified else stress_area
        return float(area(self.diameter, self.pitch))

    @property
    def met_as(self) -> str:
        """Where a builder meets it; "" where the table does not have it."""
        per, table = ("threads per inch", "unified_threads") if self.is_unified else ("pitch [mm]", "metric_threads")
        step = f"{INCH / self.pitch if self.is_unified else self.pitch * 1e3:g}"
        size = "size" if self.is_unified else "diameter [mm]"
        return next((r["met as"] for r in rows("fastening", table) if (r[size], r[per]) == (self.size, step)), "")


def read_screw_thread(text: str) -> ScrewThread:
    """Any metric or unified designation into diameter and pitch.

    text       "M10" (coarse), "M10×1.25", "M10x1.25", "3/8-16", "7/16-20 UNF", "1/2 UNF", "10-32", "1 1/16-12"
    returns    ScrewThread

    A coarse pitch need not be written; an inch thread names its threads per inch or its series.
    Errors: ValueError with one sentence. Source: ISO 261 and ASME B1.1 designations.

    >>> read_screw_thread("M10").designation, read_screw_thread("3/8 UNF").designation
    ('M10×1.5', '3/8-24')
    """
    plain = plain_designation(text)
    if metric := _METRIC.fullmatch(plain):
        return _metric(metric, text)
    if unified := _UNIFIED.fullmatch(plain):
        return _unified(unified, text)
    raise ValueError(f'"{text}" is not a known thread: expected metric or unified, {_EXAMPLE}')


def read_fastener_thread(text: str) -> ScrewThread:
    """The thread of a bolt, screw, stud or nut.

    text       as read_screw_thread
    returns    ScrewThread

    Errors: ValueError with one sentence, also where no fastener of that diameter has the pitch.
    Source: ISO 261 and ASME B1.1 designations; which pitches fasteners have: common practice, no source.

    >>> read_fastener_thread("3/8-24").is_unified
    True
    """
    thread = read_screw_thread(text)
    (_check_unified if thread.is_unified else _check_metric)(thread, text)
    return thread


def is_screw_thread(text: str) -> bool:
    """Whether a text has the form of a metric or unified designation.

    text       in any case, with any sort of inch sign
    returns    bool

    Source: ISO 261 and ASME B1.1 designations.

    >>> is_screw_thread("M10x1"), is_screw_thread("1/8 NPT")
    (True, False)
    """
    plain = plain_designation(text)
    return any(form.fullmatch(plain) for form in (_METRIC, _UNIFIED))


def plain_designation(text: str) -> str:
    """A designation in capitals, with one space where there are several, and without inch signs.

    text       as typed
    returns    str

    Source: none, spelling.

    >>> plain_designation('1/8" npt')
    '1/8 NPT'
    """
    signs = text.upper().replace('"', " ").replace("″", " ").replace("–", "-")
    return " ".join(signs.split()).replace(" -", "-")


def _number(text: str) -> str:
    return f"{float(text.replace(',', '.')):g}"


def _metric(match: re.Match[str], text: str) -> ScrewThread:
    size = _number(match["d"])
    pitch = _number(match["p"]) if match["p"] else _coarse_pitches().get(size)
    if pitch is None:
        raise ValueError(f'"{text}" has no coarse pitch in the table: write the pitch too, {_EXAMPLE}')
    if not 0 < float(pitch) <= float(size) / 3:
        raise ValueError(f'"{text}" has a pitch of {pitch} mm, which is unknown for that diameter: {_EXAMPLE}')
    return ScrewThread(f"M{size}×{pitch}", float(size) / 1e3, float(pitch) / 1e3, is_unified=False, size=size)


def _unified(match: re.Match[str], text: str) -> ScrewThread:
    size = " ".join((match["size"] or match["named"]).replace("-", " ").split())
    numbered = match["hash"] is not None or (size.isdigit() and int(size) > 1)
    diameter = (0.06 + 0.013 * int(size) if numbered else float(sum(map(Fraction, size.split())))) * INCH
    series = match["series"] or match["with"] or ""
    of_series = _threads_per_inch(size).get(series)
    if match["n"] is None and of_series is None:
        raise ValueError(f'"{text}" is not a size of the table: write its threads per inch too, as in "7/16-20"')
    per_inch = int(match["n"]) if match["n"] else of_series or 0
    if of_series not in (None, per_inch) and series in ("UNC", "UNF"):
        raise ValueError(
            f'"{text}" contradicts itself: {size} {series} has {of_series} threads per inch, not {per_inch}'
        )
    if not (per_inch and INCH / per_inch <= diameter / 3 and diameter <= _LARGEST):
        raise ValueError(f'"{text}" gives impossible figures: expected size-threads per inch, as in "7/16-20"')
    return ScrewThread(f"{size}-{per_inch}", diameter, INCH / per_inch, is_unified=True, size=size)


def _check_metric(thread: ScrewThread, text: str) -> None:
    if not (_FINEST <= thread.pitch <= min(_COARSEST, _COARSEST_SHARE * thread.diameter)):
        pitch = f"{thread.pitch * 1e3:g}"
        raise ValueError(f'"{text}" has a pitch of {pitch} mm, which no fastener of that diameter has: {_EXAMPLE}')


def _check_unified(thread: ScrewThread, text: str) -> None:
    series, per_inch = _threads_per_inch(thread.size), round(INCH / thread.pitch)
    if not {"UNC", "UNF"} <= set(series):
        known = dict.fromkeys(row["size"] for row in rows("fastening", "unified_threads") if row["series"] == "UNF")
        raise ValueError(f'"{text}" has a size that is not in the table: {", ".join(known)} are')
    coarse, fine = series["UNC"], series["UNF"]
    if not coarse / 2 <= per_inch <= 2 * fine:
        raise ValueError(
            f'"{text}" has {per_inch} threads per inch: {thread.size} has {coarse} (coarse) or {fine} (fine)'
        )


@cache
def _coarse_pitches() -> dict[str, str]:
    """Coarse pitch by nominal diameter, both in mm as printed. Source: ISO 261, ISO 262."""
    table = rows("fastening", "metric_threads")
    return {row["diameter [mm]"]: row["pitch [mm]"] for row in table if row["series"] == "coarse"}


@cache
def _threads_per_inch(size: str) -> dict[str, int]:
    """Threads per inch of a size by series: UNC, UNF and what else the table has of it."""
    table = rows("fastening", "unified_threads")
    return {row["series"]: int(row["threads per inch"]) for row in table if row["size"] == size}
