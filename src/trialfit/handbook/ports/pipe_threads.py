"""Pipe threads: diameters of the tapered and the parallel ones, from the pipe's diameter or the thread's own.

Answers   pitch_diameter_at_small_end     E₀ of an NPT thread
          pitch_diameter_at_hand_tight    E₁, the mouth of the hole
          effective_length                L₂, as far as the male thread is whole
          WHITWORTH_DEPTH                 h of the 55° threads R, Rc, Rp and G over their pitch
Not here  the sizes (tables/); which thread goes into which (thread_mating.py); drills (tapping.py)
Symbols   D outside diameter of the pipe, P pitch, L₁ length of hand-tight engagement; taper 1:16 on diameter
Sources   [1] ASME B1.20.1   [2] ISO 7-1, ISO 228-1
"""

from __future__ import annotations

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.constants import INCH

TAPER = 1 / 16
"""Change of diameter over length of NPT, NPTF, R and Rc [1][2]."""

NPT_DEPTH = 0.8
"""Depth of an NPT thread over its pitch [1]."""

WHITWORTH_DEPTH = 0.640327
"""Depth of a 55° pipe thread over its pitch [2]."""


def pitch_diameter_at_small_end(pipe_diameter: Numbers, pitch: Numbers) -> Numbers:
    """Pitch diameter of a male NPT thread at its small end.

        E₀ = D − (0.05·D + 1.1 in)·P/in

    pipe_diameter  D                       m    > 0
    pitch          P                       m    > 0
    returns        E₀                      m    nan outside that range

    Source: ASME B1.20.1.

    >>> f"{pitch_diameter_at_small_end(0.405 * INCH, INCH / 27) / INCH:.5f} in"
    '0.36351 in'
    """
    pipe_diameter, pitch = as_floats(pipe_diameter, pitch)
    small_end = pipe_diameter - (0.05 * pipe_diameter + 1.1 * INCH) * pitch / INCH
    return where((pipe_diameter > 0) & (pitch > 0), small_end)


def pitch_diameter_at_hand_tight(pipe_diameter: Numbers, pitch: Numbers, hand_tight_length: Numbers) -> Numbers:
    """Pitch diameter at the gauge plane: the male thread where hand turning ends, the mouth of the hole.

        E₁ = E₀ + L₁/16

    pipe_diameter      D                   m    > 0
    pitch              P                   m    > 0
    hand_tight_length  L₁                  m    ≥ 0
    returns            E₁                  m    nan outside that range

    Source: ASME B1.20.1.

    >>> f"{pitch_diameter_at_hand_tight(0.405 * INCH, INCH / 27, 0.1615 * INCH) / INCH:.5f} in"
    '0.37360 in'
    """
    (hand_tight_length,) = as_floats(hand_tight_length)
    small_end = pitch_diameter_at_small_end(pipe_diameter, pitch)
    return where(hand_tight_length >= 0, small_end + TAPER * hand_tight_length)


def effective_length(pipe_diameter: Numbers, pitch: Numbers) -> Numbers:
    """Length over which a male NPT thread is whole.

        L₂ = (0.8·D + 6.8 in)·P/in

    pipe_diameter  D                       m    > 0
    pitch          P                       m    > 0
    returns        L₂                      m    nan outside that range

    Source: ASME B1.20.1.

    >>> f"{effective_length(0.405 * INCH, INCH / 27) / INCH:.4f} in"
    '0.2639 in'
    """
    pipe_diameter, pitch = as_floats(pipe_diameter, pitch)
    return where((pipe_diameter > 0) & (pitch > 0), (0.8 * pipe_diameter + 6.8 * INCH) * pitch / INCH)
