"""Threads of ports and fittings: what a designation says, and every size there is in the tables.

Answers   read_thread     "M10×1", "1/8-27 NPT", "G 1/4", "7/16-20 UNF", "Rc 1/2" into a Thread
          known_threads   every thread of the tables
          Thread          its basic dimensions, at the gauge plane where it is tapered
          System          metric, unified, keg (tapered metric), NPT, NPTF, R (R and Rc), Rp, G
Not here  gender and sealing (port_ends.py); pairs (thread_mating.py); metric and unified
          designations (fastening/thread_sizes.py)
Symbols   d major diameter, P pitch, d₂ pitch diameter, D₁ minor diameter
Sources   [1] ISO 68-1, ISO 261   [2] ASME B1.1   [3] ASME B1.20.1   [4] ISO 7-1, ISO 228-1
          [5] DIN 158-1   (tables/SOURCES.md)
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from math import radians

from trialfit.handbook.constants import INCH
from trialfit.handbook.fastening.thread_sizes import (
    INCH_SIZE,
    ScrewThread,
    is_screw_thread,
    plain_designation,
    read_screw_thread,
)
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


class System(StrEnum):
    """The standard a thread belongs to."""

    metric = "metric"
    unified = "unified"
    keg = "keg"
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
    tolerance: float = 0.0
    """How far the diameter of a sound male thread may be off, to either side [m]; 0 where the tables leave it open."""

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


_KEG = re.compile(r"(?P<size>M\s*\d{1,2}\s*[X×*]\s*\d(?:[.,]\d{1,2})?)\s*(?:KEG\.?|TAPERED|TAPER)", re.ASCII)
_NPT = re.compile(
    rf"(?P<size>{INCH_SIZE})(?:\s*-\s*(?P<tpi>\d{{1,2}}(?:\.5)?))?\s*(?P<kind>NPTF?)|(?P<kind2>NPTF?)\s*(?P<size2>{INCH_SIZE})",
    re.ASCII,
)
_ISO = re.compile(
    rf"(?P<kind>G|RC|RP|R)\s*(?P<size>{INCH_SIZE})(?:\s*-\s*\d{{2}})?(?:\s*[AB])?|(?P<size2>{INCH_SIZE})\s*(?P<kind2>BSPP|BSPT)",
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

    text       "M10×1", "M10x1", "M10" (the coarse pitch); "M10×1 keg", "M10×1 taper"; "7/16-20", "7/16-20 UNF", "1/2 UNF", "10-32";
               "1/8-27 NPT", "1/8 NPT", "1/4 NPTF"; "G 1/8", "R 1/8", "Rc 1/8", "Rp 1/8", "1/8 BSPP", "1/8 BSPT"
    returns    Thread
    errors     ValueError, one sentence: no designation, a pipe size that the tables do not have, or a bare "1/8",
               "1/8 pipe" or "1/8 BSP", which say too little to buy or cut anything by

    Source: ISO 261, DIN 158-1, ASME B1.1, ASME B1.20.1, ISO 7-1, ISO 228-1: designations.

    >>> thread = read_thread('1/8" NPT')
    >>> thread.designation, f"{thread.pitch * 1e3:.3f} mm", thread.is_tapered
    ('1/8-27 NPT', '0.941 mm', True)
    """
    if is_screw_thread(text):
        return _screw(read_screw_thread(text))
    plain = plain_designation(text)
    for pattern, reader in ((_KEG, _tapered_metric), (_NPT, _american), (_ISO, _iso)):
        match = pattern.fullmatch(plain)
        if match:
            return reader(match, text)
    if re.fullmatch(rf"(?:{INCH_SIZE})(?: (?:BSP|PIPE|GAS))?", plain, re.ASCII):
        raise ValueError(
            f'"{text}" is ambiguous: the size alone fits several threads, such as "1/8-27 NPT", "G 1/8" and "R 1/8"'
        )
    raise ValueError(f'"{text}" is not a known thread: expected a designation, such as {EXAMPLES}')


def known_threads() -> tuple[Thread, ...]:
    """Every thread of the tables: metric, unified, keg, NPT, R, Rp and G.

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
    found += [read_thread(f"M{row['diameter [mm]']}×{row['pitch [mm]']} keg") for row in rows("ports", "keg_threads")]
    found += [read_thread(f"{row['size']} NPT") for row in rows("ports", "american_pipe_threads")]
    for row in rows("ports", "whitworth_pipe_threads"):
        found += [read_thread(f"{kind} {row['size']}") for kind in ("R", "Rp", "G")]
    return tuple(found)


def _met(table: str) -> list[dict[str, str]]:
    """The fastener threads that are met on a port, a line or a car; the others of the table are only in the standard."""
    return [row for row in rows("fastening", table) if row["met as"]]


def _screw(thread: ScrewThread) -> Thread:
    system = System.unified if thread.is_unified else System.metric
    return Thread(thread.designation, system, thread.diameter, thread.pitch, met_as=thread.met_as)


def keg_row(diameter: float, pitch: float) -> dict[str, str] | None:
    """The line of a tapered metric thread; None where the table has none of that diameter and pitch.

    diameter  d    m
    pitch     P    m
    returns   the line of keg_threads.csv, or None

    Source: DIN 158-1.

    >>> (keg_row(10e-3, 1e-3) or {})["gauge length [mm]"], keg_row(10e-3, 1.5e-3)
    ('2.5', None)
    """
    return next(
        (
            row
            for row in rows("ports", "keg_threads")
            if abs(float(row["diameter [mm]"]) * 1e-3 - diameter) < SAME_DIAMETER
            and abs(float(row["pitch [mm]"]) * 1e-3 - pitch) < SAME_PITCH
        ),
        None,
    )


def _tapered_metric(match: re.Match[str], text: str) -> Thread:
    plain = read_screw_thread(match["size"])
    row = keg_row(plain.diameter, plain.pitch)
    if row is None:
        known = ", ".join(f"M{row['diameter [mm]']}×{row['pitch [mm]']}" for row in rows("ports", "keg_threads"))
        raise ValueError(f'"{text}" is not a tapered metric thread of the table: {known} are, as in "M10×1 keg"')
    return Thread(
        f"{plain.designation} keg",
        System.keg,
        plain.diameter,
        plain.pitch,
        float(row["gauge length [mm]"]) * 1e-3,
        float(row["thread length [mm]"]) * 1e-3,
        row["met as"],
        float(row["tolerance [mm]"]) * 1e-3,
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
