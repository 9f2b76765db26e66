"""Tyres: from the code on the sidewall to the radius the car rolls on.

Answers   read_size              what 205/55 R16 says
          free_diameter          new, not loaded
          rolling_circumference  road covered in one turn of the wheel
          static_radius          ride height only, never speed
Not here  gearing (ratios.py); grip (traction.py)
Symbols   w section width, a aspect ratio, R rim diameter, D free diameter, U rolling circumference
Sources   [1] ISO 4000-1, designation and dimensions of passenger car tyres
          [2] ETRTO, rolling circumference of a tyre: factors from memory
          [3] web encyclopaedia of engineering, tyre rolling radius and circumference, fitted to two makers' data books
"""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.constants import INCH

RADIAL_FACTOR = 3.05
"""U/D of a radial tyre at 60 km/h, rated load and pressure [2], from memory."""

CROSS_PLY_FACTOR = 2.99
"""U/D of a cross-ply tyre, likewise."""

ROLLING_RULE_SPREAD = 0.015
"""Relative half-width, rectangular, of the two factors: [3] reads 0.75 % above the radial one for 245/35 R17."""

FREE_DIAMETER_SPREAD = 0.01
"""Relative half-width, rectangular, of the free diameter of a new tyre against its code: from memory."""

UNPRINTED_ASPECT = 0.82
"""Aspect ratio of a tyre whose code prints none, such as 165 R13: from memory, 0.80 to 0.82."""

STATIC_FACTOR = 0.47
"""Height of the wheel centre over free diameter of a loaded tyre: common practice, no source. Tape it instead."""


_WIDTHS = (0.1, 0.4)
_ASPECTS = (0.25, 1.0)
_RIMS = (0.2, 0.6)
"""Widths [m], aspect ratios and rims [m] that a car or van tyre can have: common practice, no source."""


@dataclass(frozen=True)
class TyreSize:
    """What a tyre code says, in SI."""

    section_width: float
    """w [m]."""
    aspect: float
    """a, section height over section width: 0.55 for the 55 series."""
    rim_diameter: float
    """R [m]."""
    radial: bool
    """False for a cross-ply tyre."""
    aspect_is_printed: bool
    """False when the code leaves it out and UNPRINTED_ASPECT stands in."""

    @property
    def free_diameter(self) -> float:
        """D [m]."""
        return float(free_diameter(self.section_width, self.aspect, self.rim_diameter))


# Behind the size a sidewall may print C (commercial), the load index with a speed letter, XL, M+S: none changes a size.
_SERVICE = r"(?:\s*(?:LT|C))?(?:\s+\(?\d{2,3}(?:/\d{2,3})?\s*\(?[A-Z]\d?\)?)?(?:\s+(?:XL|RF|M\+S))*"
_BUILD = r"(?:(?P<radial>[SHVZ]?R)|(?P<cross_ply>D|-))"
_RIM = r"(?P<rim>\d{2}(?:\.5)?)"
_METRIC = re.compile(rf"(?:P|LT)?(?P<width>\d{{3}})(?:/(?P<aspect>\d{{2}}))?\s*{_BUILD}\s*{_RIM}{_SERVICE}", re.ASCII)
_INCH = re.compile(
    rf"(?P<outside>\d{{2}})X(?P<width>\d{{1,2}}(?:\.\d{{1,2}})?)\s*{_BUILD}\s*{_RIM}{_SERVICE}", re.ASCII
)


def read_size(code: str) -> TyreSize:
    """Read the size printed on a sidewall.

    code       "205/55 R16", "205/55R16 91V", "195/70 R15 C 104/102R"; "165 R13" (no aspect printed: 0.82, from memory);
               "175/80 D13" or "175/80-13" (cross-ply); "31x10.50 R15" (outside diameter x width, in inches)
    returns    TyreSize
    errors     ValueError, one sentence: a code of another form (such as the old 5.60-13, whose width and height are
               not what the figures say), or figures no car tyre has

    Source: ISO 4000-1, designation; the inch form is common practice, no source.

    >>> read_size("205/55 R16").free_diameter
    0.6319
    """
    text = " ".join(code.upper().split())
    size = _read_metric(text) or _read_inch(text)
    if size is None:
        raise ValueError(
            f'"{code}" is not a known form of tyre size: expected section width/aspect, R, rim, as in "205/55 R16".'
        )
    figures = zip((size.section_width, size.aspect, size.rim_diameter), (_WIDTHS, _ASPECTS, _RIMS), strict=True)
    if not all(low <= figure <= high for figure, (low, high) in figures):
        raise ValueError(
            f'"{code}" gives impossible figures for a car tyre: expected width in mm, aspect in %, rim in inches, as in "205/55 R16".'
        )
    return size


def _read_metric(text: str) -> TyreSize | None:
    match = _METRIC.fullmatch(text)
    if match is None:
        return None
    printed = match["aspect"]
    return TyreSize(
        section_width=int(match["width"]) / 1000,
        aspect=int(printed) / 100 if printed else UNPRINTED_ASPECT,
        rim_diameter=float(match["rim"]) * INCH,
        radial=match["radial"] is not None,
        aspect_is_printed=printed is not None,
    )


def _read_inch(text: str) -> TyreSize | None:
    match = _INCH.fullmatch(text)
    if match is None:
        return None
    outside, width, rim = float(match["outside"]), float(match["width"]), float(match["rim"])
    return TyreSize(
        section_width=width * INCH,
        aspect=(outside - rim) / (2 * width) if width else 0.0,
        rim_diameter=rim * INCH,
        radial=match["radial"] is not None,
        aspect_is_printed=True,
    )


def free_diameter(section_width: Numbers, aspect: Numbers, rim_diameter: Numbers) -> Numbers:
    """Outside diameter of a new tyre, not loaded.

        D = R + 2·w·a

    section_width  w                       m    > 0
    aspect         a, height over width    1    > 0: 0.55 for the 55 series
    rim_diameter   R                       m    > 0
    returns        D                       m    nan outside that range

    A new tyre is within about ±1 % of it (from memory); a worn one is up to 15 mm smaller.
    Source: ISO 4000-1.

    >>> f"{free_diameter(0.205, 0.55, 16 * 0.0254) * 1e3:.1f} mm"
    '631.9 mm'
    """
    section_width, aspect, rim_diameter = as_floats(section_width, aspect, rim_diameter)
    sound = (section_width > 0) & (aspect > 0) & (rim_diameter > 0)
    return where(sound, rim_diameter + 2 * section_width * aspect)


def rolling_circumference(free_diameter: Numbers, radial: bool | np.ndarray = True) -> Numbers:  # noqa: FBT001, FBT002  an array of draws may differ in it
    """Road covered in one turn of a freely rolling wheel.

        U = F·D        F = 3.05 radial, 2.99 cross-ply

    free_diameter  D                       m    > 0
    radial         False for cross-ply
    returns        U                       m    nan outside that range

    At 60 km/h, rated load and pressure; the rule is within ±1.5 % (ROLLING_RULE_SPREAD). A chalk mark on the
    sidewall and a tape along ten turns are better. Drive slip of 2 to 5 % at full pull (from memory) is not in it.
    Source: ETRTO, factors from memory.

    >>> f"{rolling_circumference(0.6319):.4f} m"
    '1.9273 m'
    """
    (free_diameter,) = as_floats(free_diameter)
    return where(free_diameter > 0, np.where(radial, RADIAL_FACTOR, CROSS_PLY_FACTOR) * free_diameter)


def static_radius(free_diameter: Numbers) -> Numbers:
    """Height of the wheel centre above the ground on a standing, loaded car.

        r_s ≈ 0.47·D

    free_diameter  D                       m    > 0
    returns        r_s                     m    nan outside that range

    For ride height before the car stands on its wheels, never for speed. Load and pressure move it: tape it.
    Source: common practice, no source.

    >>> f"{static_radius(0.6319) * 1e3:.0f} mm"
    '297 mm'
    """
    (free_diameter,) = as_floats(free_diameter)
    return where(free_diameter > 0, STATIC_FACTOR * free_diameter)
