"""Cautions, sources and margins that the topics of this subject share.

Answers   WELDING, HOLDS_AN_ENGINE        cautions
          counts_as, once_unsaid          whether "once" counts, and what is said where it does not
          AS_WELDED, SAFETY_ON_YIELD      sources
          safety                          the margin on yield for a load that repeats or comes once
Not here  the yield itself, beside a weld (metals.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.evaluation.requirement import Source, SourceKind
from trialfit.handbook.sources import NO_SOURCE

if TYPE_CHECKING:
    from trialfit.parts import Bracket, Frame, Reinforcement, SpotWelds, Weld

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


def counts_as(part: Bracket | Weld | SpotWelds | Reinforcement | Frame) -> str:
    """How often the load of a part counts as coming: "once" only with what makes it so, else repeatedly."""
    return "once" if part.repeats == "once" and part.once_as else "repeated"


def once_unsaid(part: Bracket | Weld | SpotWelds | Reinforcement | Frame) -> str:
    """What is said of a "once" that does not count because nothing says what the load is; nothing where there is none."""
    if part.values.get("repeats") != "once" or part.once_as:
        return ""
    return (
        f'{part.name}.repeats "once" does not count, the load is judged as repeated, with a margin of {SAFETY["repeated"]:g} and not '
        f'{SAFETY["once"]:g}: write {part.name}.once_as = "battery hold", "tow eye" or another word for what comes once'
    )


def safety(repeats: str | None) -> float:
    """Yield over allowed stress for the word of a part."""
    return SAFETY[repeats or "repeated"]


def in_life(repeats: str | None) -> str:
    """How often a load comes, as it stands in a sentence."""
    return "once in the car's life" if repeats == "once" else "repeatedly"
