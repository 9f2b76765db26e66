"""Cautions, sources and margins that the topics of this subject share.

Answers   WELDING, HOLDS_AN_ENGINE        cautions
          AS_WELDED, SAFETY_ON_YIELD      sources
          safety                          the margin on yield for a load that repeats or comes once
Not here  the yield itself, beside a weld (metals.py)
"""

from __future__ import annotations

from trialfit.evaluation.requirement import Source, SourceKind
from trialfit.handbook.sources import NO_SOURCE

WELDING = (
    "No figure here approves a weld: a trained welder, the certifier and local rules decide before the car is driven. Disconnect battery and "
    "control units. Put the earth clamp beside the seam, with no bearing in the current path. Move fuel, lines, trim and sealant away. Have an "
    "extinguisher and a second person at hand. Do not breathe zinc fumes. Put the car firmly on stands."
)
HOLDS_AN_ENGINE = (
    "An engine that comes loose takes throttle, brake and steering with it: the certifier decides, and the figures of the car "
    "maker and the mount maker outrank this one. Never be under it while it hangs on a jack. " + WELDING
)

SAFETY = {"once": 1.5, "repeated": 3.0}
"""Yield over stress: 1.5 for a load that comes once in the life of a car, 3 for one that repeats; common practice, no source."""

SAFETY_ON_YIELD = Source(
    f"{NO_SOURCE}: yield over 1.5 for a load once in life, over 3 for a repeated one; mild steel at welds "
    "180 MPa by student racing-car competition rules, F.3.4.2, other metals as welded by the table of their sources",
    SourceKind.common_practice,
)


def safety(repeats: str | None) -> float:
    """Yield over allowed stress for the word of a part."""
    return SAFETY[repeats or "repeated"]


def in_life(repeats: str | None) -> str:
    """How often a load comes, as it stands in a sentence."""
    return "once in the car's life" if repeats == "once" else "repeatedly"
