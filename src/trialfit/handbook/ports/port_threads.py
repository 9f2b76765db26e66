"""Threads of ports and fittings: what a designation says, and every size there is in the tables.

Answers   read_thread     "M10×1", "1/8-27 NPT", "G 1/4", "7/16-20 UNF", "Rc 1/2" into a Thread
          known_threads   every thread of the tables
          Thread          its basic dimensions, at the gauge plane where it is tapered
          System          metric, unified, NPT, NPTF, R (R and Rc), Rp, G
Not here  gender and sealing (port_ends.py); pairs (thread_mating.py); stress area and screws (screw threads)
Symbols   d major diameter, P pitch, d₂ pitch diameter, D₁ minor diameter
Sources   [1] ISO 68-1, ISO 261   [2] ASME B1.1   [3] ASME B1.20.1   [4] ISO 7-1, ISO 228-1   (tables/SOURCES.md)
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from math import radians

from trialfit.handbook.constants import INCH
from trialfit.handbook.ports.pipe_threads import (
    NPT_DEPTH,
    TAPER,
    WHITWORTH_DEPTH,
    effective_length,
    pitch_diameter_at_hand_tight,
)
from trialfit.handbook.tables import rows

EXAMPLES = '"M10×1", "7/16-20", "1/8-27 NPT", "G 1/4"'
"""Designations that can be read."""

_SHARP = 0.649519
"""Twice the addendum of the 60° profile over its pitch: d₂ = d − 0.649519·P, D₁ = d − 1.082532·P [1][2]."""

SAME_PITCH, SAME_DIAMETER = 1e-7, 2e-5
"""Differences [m] that are rounding of two ways to write one thread."""

_LARGEST = 0.1  # m: no port of a car is wider


class System(StrEnum):
    """The standard a thread belongs to."""

    metric = "metric"
    unified = "unified"
    npt = "NPT"
    nptf = "NPTF"
    taper = "R"
    parallel = "Rp"
    g = "G"


_DEPTH = {System.npt: NPT_DEPTH, System.nptf: NPT_DEPTH}
_WHITWORTH = (System.taper, System.parallel, System.g)


@dataclass(frozen=True)
class Thread:
    """One thread by its basic dimensions, SI. A tapered one is given at its gauge plane, the mouth of the hole."""

    designation: str
    system: System
    major_diameter: float
    """d [m]."""
    pitch: float
    """P [m]."""
    gauge_length: float = 0.0
    """From the small end of the male thread to the gauge plane [m]; 0 where the thread is parallel."""
    thread_length: float = 0.0
    """How far the male thread is whole [m]; 0 where the standard leaves it open."""
    met_as: str = ""
    """Where a builder meets it."""

    @property
    def is_tapered(self) -> bool:
        """Whether the diameter grows along it, 1:16."""
        return self.gauge_length > 0

    @property
    def flank_angle(self) -> float:
        """Angle between the flanks [rad]: 60° or 55°."""
        return radians(55 if self.system in _WHITWORTH else 60)

    @property
    def pitch_diameter(self) -> float:
        """d₂ [m], at the gauge plane where it is tapered."""
        depth = WHITWORTH_DEPTH if self.system in _WHITWORTH else _DEPTH.get(self.system, _SHARP)
        return self.major_diameter - depth * self.pitch

    @property
    def minor_diameter(self) -> float:
        """D₁ [m]: the hole before the thread is cut, at the gauge plane where it is tapered."""
        if self.system in _WHITWORTH or self.system in _DEPTH:
            return 2 * self.pitch_diameter - self.major_diameter
        return self.major_diameter - 5 / 3 * _SHARP * self.pitch

    @property
    def back(self) -> float:
        """How much smaller the small end of the male thread is than the gauge plane [m]; 0 where parallel."""
        return TAPER * self.gauge_length

    def is_of_the_same_form(self, other: Thread) -> bool:
        """Whether the two are one thread but for taper: flank angle, pitch and diameter agree."""
        return (
            self.flank_angle == other.flank_angle
            and abs(self.pitch - other.pitch) < SAME_PITCH
            and abs(self.major_diameter - other.major_diameter) < SAME_DIAMETER
        )


_SIZE = r"(?:\d{1,2}(?:\s+|-))?\d{1,2}/[1-9]\d?|\d{1,2}"
_METRIC = re.compile(r"M\s*(?P<d>\d{1,2}(?:[.,]\d{1,2})?)(?:\s*[X×*]\s*(?P<p>\d(?:[.,]\d{1,3})?))?", re.ASCII)
_UNIFIED = re.compile(
    rf"(?P<hash>#)?(?P<size>{_SIZE})\s*-\s*(?P<tpi>\d{{1,2}})(?:\s*(?:UNC|UNF|UNEF|UNS|UN))?|(?P<named>{_SIZE})\s*(?P<series>UNC|UNF)",
    re.ASCII,
)
_NPT = re.compile(
    rf"(?P<size>{_SIZE})(?:\s*-\s*(?P<tpi>\d{{1,2}}(?:\.5)?))?\s*(?P<kind>NPTF?)|(?P<kind2>NPTF?)\s*(?P<size2>{_SIZE})",
    re.ASCII,
)
_ISO = re.compile(
    rf"(?P<kind>G|RC|RP|R)\s*(?P<size>{_SIZE})(?:\s*-\s*\d{{2}})?(?:\s*[AB])?|(?P<size2>{_SIZE})\s*(?P<kind2>BSPP|BSPT)",
    re.ASCII,
)
_ISO_SYSTEM = {
    "G": System.g,
    "BSPP": System.g,
    "R": System.taper,
    "RC": System.taper,
    "BSPT": System.taper,
    "RP": System.parallel,
}
_ISO_WORD = {"RC": "Rc", "RP": "Rp", "BSPP": "G", "BSPT": "R"}


def read_thread(text: str) -> Thread:
    """Read the designation of a thread.

    text       "M10×1", "M10x1", "M10" (the coarse pitch); "7/16-20", "7/16-20 UNF", "1/2 UNF", "10-32";
               "1/8-27 NPT", "1/8 NPT", "1/4 NPTF"; "G 1/8", "R 1/8", "Rc 1/8", "Rp 1/8", "1/8 BSPP", "1/8 BSPT"
    returns    Thread
    errors     ValueError, one sentence: no designation, a pipe size that the tables do not have, or a bare "1/8",
               "1/8 pipe" or "1/8 BSP", which say too little to buy or cut anything by

    Source: ISO 261, ASME B1.1, ASME B1.20.1, ISO 7-1, ISO 228-1: designations.

    >>> thread = read_thread('1/8" NPT')
    >>> thread.designation, f"{thread.pitch * 1e3:.3f} mm", thread.is_tapered
    ('1/8-27 NPT', '0.941 mm', True)
    """
    plain = " ".join(text.upper().replace('"', " ").replace("″", " ").replace("–", "-").split()).replace(" -", "-")
    for pattern, reader in ((_METRIC, _metric), (_NPT, _american), (_ISO, _iso), (_UNIFIED, _unified)):
        match = pattern.fullmatch(plain)
        if match:
            return reader(match, text)
    if re.fullmatch(rf"(?:{_SIZE})(?: (?:BSP|PIPE|GAS))?", plain, re.ASCII):
        raise ValueError(
            f'"{text}" says too little: a size alone is several threads, such as "1/8-27 NPT", "G 1/8" and "R 1/8"'
        )
    raise ValueError(f'"{text}" is not a thread this reads: expected a designation, such as {EXAMPLES}')


def known_threads() -> tuple[Thread, ...]:
    """Every thread of the tables: metric, unified, NPT, R, Rp and G.

    returns    threads, in the order of the tables

    Source: tables/SOURCES.md.

    >>> len({thread.designation for thread in known_threads()}) == len(known_threads())
    True
    """
    return _known()


@lru_cache(maxsize=1)
def _known() -> tuple[Thread, ...]:
    found = [read_thread(f"M{row['diameter [mm]']}×{row['pitch [mm]']}") for row in _met("metric_threads")]
    found += [read_thread(f"{row['size']}-{row['threads per inch']}") for row in _met("unified_threads")]
    found += [read_thread(f"{row['size']} NPT") for row in rows("ports", "american_pipe_threads")]
    for row in rows("ports", "whitworth_pipe_threads"):
        found += [read_thread(f"{kind} {row['size']}") for kind in ("R", "Rp", "G")]
    return tuple(found)


def _met(table: str) -> list[dict[str, str]]:
    """The fastener threads that are met on a port, a line or a car; the others of the table are only in the standard."""
    return [row for row in rows("fastening", table) if row["met as"]]


def _met_as(table: str, *cells: str) -> str:
    """Where a thread is met, by the cells that stand first in its row or next to it; "" where the table does not have it."""
    return next((row["met as"] for row in rows("fastening", table) if cells == _cells(row)), "")


def _cells(row: dict[str, str]) -> tuple[str, str]:
    if "size" in row:
        return row["size"], row["threads per inch"]
    return row["diameter [mm]"], row["pitch [mm]"]


def _number(text: str) -> str:
    return f"{float(text.replace(',', '.')):g}"


def _metric(match: re.Match[str], text: str) -> Thread:
    diameter = _number(match["d"])
    if match["p"]:
        pitch = _number(match["p"])
    elif coarse := _coarse_pitch(diameter):
        pitch = coarse
    else:
        raise ValueError(f'"{text}" has no pitch, and the table does not know its coarse one: write it as in "M11×1"')
    if not 0 < float(pitch) <= float(diameter) / 3:
        raise ValueError(
            f'"{text}" gives a pitch no thread of that diameter has: diameter × pitch in mm, as in "M10×1"'
        )
    return Thread(
        f"M{diameter}×{pitch}",
        System.metric,
        float(diameter) * 1e-3,
        float(pitch) * 1e-3,
        met_as=_met_as("metric_threads", diameter, pitch),
    )


def _coarse_pitch(diameter: str) -> str:
    table = rows("fastening", "metric_threads")
    of_size = (row for row in table if row["diameter [mm]"] == diameter and row["series"] == "coarse")
    return next((row["pitch [mm]"] for row in of_size), "")


def _unified(match: re.Match[str], text: str) -> Thread:
    size = (match["size"] or match["named"]).replace("-", " ")
    size = " ".join(size.split())
    numbered = match["hash"] is not None or (size.isdigit() and int(size) > 1)
    diameter = 0.06 + 0.013 * int(size) if numbered else float(sum(map(Fraction, size.split())))
    if match["tpi"]:
        per_inch = match["tpi"]
    else:
        of_size = [
            r for r in rows("fastening", "unified_threads") if r["size"] == size and r["series"] == match["series"]
        ]
        if not of_size:
            raise ValueError(f'"{text}" is not a size of the table: write its threads per inch too, as in "7/16-20"')
        per_inch = of_size[0]["threads per inch"]
    major, pitch = diameter * INCH, INCH / int(per_inch) if int(per_inch) else 0.0
    if not 0 < pitch <= major / 3 or major > _LARGEST:
        raise ValueError(f'"{text}" gives figures no thread has: expected size-threads per inch, as in "7/16-20"')
    return Thread(
        f"{size}-{per_inch}",
        System.unified,
        major,
        pitch,
        met_as=_met_as("unified_threads", size, per_inch),
    )


def _row_of_size(table: str, size: str, text: str) -> dict[str, str]:
    size = " ".join(size.replace("-", " ").split())
    row = next((row for row in rows("ports", table) if row["size"] == size), None)
    if row is None:
        known = ", ".join(row["size"] for row in rows("ports", table))
        raise ValueError(f'"{text}" is not a pipe size of the table: {known} are known, as in "1/8-27 NPT" and "G 1/8"')
    return row


def _american(match: re.Match[str], text: str) -> Thread:
    row = _row_of_size("american_pipe_threads", match["size"] or match["size2"], text)
    per_inch = row["threads per inch"]
    if match["tpi"] and match["tpi"] != per_inch:
        raise ValueError(
            f'"{text}" has {match["tpi"]} threads per inch: {row["size"]}-{per_inch} NPT is the standard one'
        )
    kind = match["kind"] or match["kind2"]
    pipe, pitch = float(row["diameter [in]"]) * INCH, INCH / float(per_inch)
    hand_tight = float(row["hand-tight length [in]"]) * INCH
    mouth = float(pitch_diameter_at_hand_tight(pipe, pitch, hand_tight))
    return Thread(
        f"{row['size']}-{per_inch} {kind}",
        System(kind),
        mouth + NPT_DEPTH * pitch,
        pitch,
        hand_tight,
        float(effective_length(pipe, pitch)),
        row["met as"],
    )


def _iso(match: re.Match[str], text: str) -> Thread:
    row = _row_of_size("whitworth_pipe_threads", match["size"] or match["size2"], text)
    kind = match["kind"] or match["kind2"]
    system = _ISO_SYSTEM[kind]
    tapered = system is System.taper
    return Thread(
        f"{_ISO_WORD.get(kind, kind)} {row['size']}",
        system,
        float(row["diameter [mm]"]) * 1e-3,
        INCH / float(row["threads per inch"]),
        float(row["gauge length [mm]"]) * 1e-3 if tapered else 0.0,
        float(row["useful length [mm]"]) * 1e-3 if tapered else 0.0,
        row["met as"],
    )
