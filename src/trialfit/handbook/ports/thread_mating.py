"""Threads that do not match: do they start, how far do they turn, how much flank overlaps.

Answers   turns_before_jam   turns until the flanks of two threads bind
          flank_overlap      how much of the female thread's depth the male one still reaches
          meet               a male and a female thread: same form, or what happens when they meet
Not here  what seals (sealing.py); which thread it is (thread_identity.py)
Symbols   d₂ pitch diameter, P pitch, α flank angle, N turns
Sources   [1] geometry of the basic profiles of ISO 68-1, ASME B1.1, ASME B1.20.1, ISO 7-1: worked out here, no print
          [2] usual play of a screw in its hole: ISO 965-1, 6g in 6H, M10×1, mean of the tolerances, from memory
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.ports.pipe_threads import TAPER

if TYPE_CHECKING:
    from trialfit.handbook.ports.port_threads import Thread

USUAL_PLAY = 0.15e-3
"""What real threads are apart on pitch diameter beyond the basic profiles [m]: 0.157 mm at M10×1 [2]."""

STARTS_FROM = 0.5
"""Turns from which a wrong thread feels as if it started: common practice, no source."""

TURNS_IN_FREELY = 4.0
"""Turns from which a wrong thread feels right: common practice, no source."""

HOLDS_FROM = 0.85
"""Flank overlap below which a thread that turns in freely strips: common practice, no source."""

HOLDS_FROM_TAPERED = 0.5
"""The same where one of the two is tapered, at its small end: it grows as it turns in. Common practice, no source."""


class Meeting(StrEnum):
    """What happens when a male thread is offered to a female one."""

    same = "same thread"
    no_start = "does not start"
    drops_in = "drops in without holding"
    binds = "starts, then binds"
    strips = "turns in freely and holds on too little"
    leaks = "turns in freely on the wrong flanks"

    @property
    def is_dangerous(self) -> bool:
        """Whether it starts and feels like a fit."""
        return self in (Meeting.binds, Meeting.strips, Meeting.leaks)


@dataclass(frozen=True)
class Met:
    """How a male and a female thread meet, on basic profiles."""

    meeting: Meeting
    gap: float
    """Pitch diameter of the hole's mouth less that of the male thread's tip [m]; negative: the male is too large."""
    turns: float
    """Turns before the flanks bind; 0 where the male is too large, inf where nothing binds."""
    overlap: float
    """Share of the female thread's depth that the male one reaches."""


def turns_before_jam(
    gap: Numbers,
    male_pitch: Numbers,
    female_pitch: Numbers,
    flank_angle: Numbers,
    taper: Numbers = 0.0,
    *,
    both_tapered: bool = False,
) -> Numbers:
    """Turns until the flanks of two threads of unlike pitch, or of a taper in a parallel hole, bind.

        one tapered, or none     N = min(Δd₂·tan(α/2)/(|ΔP| + ½·c·P·tan(α/2)), Δd₂/(c·P))
        both tapered             N = Δd₂·tan(α/2)/(|ΔP| + c·P·tan(α/2))

    gap           Δd₂, female d₂ less male d₂         m      0 where negative: the male does not enter
    male_pitch    P of the male thread                m      > 0
    female_pitch  P of the female thread              m      > 0
    flank_angle   α, the smaller of the two           rad    0 < α < π
    taper         c, of whichever is tapered          1      ≥ 0: 0 or 1/16
    both_tapered  whether both are, by the same
    returns       N                                   1      inf where neither pitch nor taper stops it; nan outside

    The play along the axis is Δd₂·tan(α/2); each turn uses |ΔP| of it. Where one is tapered only the ridges at its thick end have lost
    c·P·N of the gap, half of it to each side; where both are, all have. On basic profiles: real threads turn a little further.
    Source: geometry, worked out here; for c = 0 it is play over the difference of pitch.

    >>> f"{turns_before_jam(0.2034e-3, 0.907143e-3, 1e-3, np.radians(55)):.2f} turns"
    '1.14 turns'
    """
    gap, male_pitch, female_pitch, flank_angle, taper = as_floats(gap, male_pitch, female_pitch, flank_angle, taper)
    slope, room = np.tan(flank_angle / 2), np.maximum(gap, 0)
    narrows = taper * male_pitch
    used = np.abs(male_pitch - female_pitch) + (1.0 if both_tapered else 0.5) * narrows * slope
    turns = np.where(used > 0, room * slope / np.where(used > 0, used, 1), np.where(room > 0, np.inf, 0))
    if not both_tapered:
        turns = np.where(narrows > 0, np.minimum(turns, room / np.where(narrows > 0, narrows, 1)), turns)
    sound = (male_pitch > 0) & (female_pitch > 0) & (flank_angle > 0) & (flank_angle < np.pi) & (taper >= 0)
    return where(sound, turns)


def flank_overlap(male_major: Numbers, female_major: Numbers, female_minor: Numbers) -> Numbers:
    """Share of the female thread's depth that the male thread still reaches.

        (d_male − D₁)/(D − D₁)

    male_major    d of the male thread      m
    female_major  D of the female thread    m    > D₁
    female_minor  D₁ of the female thread   m    > 0
    returns       share                     1    negative where the male drops in; nan outside that range

    Source: geometry, worked out here.

    >>> f"{flank_overlap(11.1125e-3, 12e-3, 10.6468e-3):.0%}"
    '34%'
    """
    male_major, female_major, female_minor = as_floats(male_major, female_major, female_minor)
    sound = (female_minor > 0) & (female_major > female_minor)
    return where(sound, (male_major - female_minor) / np.where(sound, female_major - female_minor, 1))


def meet(male: Thread, female: Thread) -> Met:
    """What happens when a male thread is offered to a female one.

    male      Thread
    female    Thread
    returns   Met: `same` where form, pitch and diameter agree (taper is a matter of sealing); else by the gap between
              the pitch diameters, the turns before the flanks bind and the overlap

    Holds for clean threads near their basic profiles; a worn or overcut hole takes a larger thread.
    Source: worked out here from basic profiles; the usual play from memory (ISO 965-1).

    >>> from trialfit.handbook.ports.port_threads import read_thread
    >>> met = meet(read_thread("7/16-20"), read_thread("M12×1.25"))
    >>> met.meeting.value, f"{met.turns:.0f} turns", f"{met.overlap:.0%}"
    ('turns in freely and holds on too little', '26 turns', '34%')
    """
    gap = female.pitch_diameter - (male.pitch_diameter - male.back)
    tip = male.major_diameter - male.back
    overlap = float(flank_overlap(tip, female.major_diameter, female.minor_diameter))
    angle = min(male.flank_angle, female.flank_angle)
    tapered = male.is_tapered or female.is_tapered
    both = male.is_tapered and female.is_tapered
    taper = TAPER if tapered else 0.0

    def turns_for(play: float) -> float:
        return float(turns_before_jam(gap + play, male.pitch, female.pitch, angle, taper, both_tapered=both))

    turns = turns_for(0.0)
    if male.is_of_the_same_form(female):
        return Met(Meeting.same, gap, turns, overlap)
    if overlap <= 0:
        return Met(Meeting.drops_in, gap, turns, overlap)
    if turns_for(USUAL_PLAY) < STARTS_FROM:
        return Met(Meeting.no_start, gap, turns, overlap)
    if turns < TURNS_IN_FREELY:
        return Met(Meeting.binds, gap, turns, overlap)
    least = HOLDS_FROM_TAPERED if tapered else HOLDS_FROM
    return Met(Meeting.strips if overlap < least else Meeting.leaks, gap, turns, overlap)
