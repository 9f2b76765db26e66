"""How much of the basic thread is left where bolt and hole are made to their tolerances.

Answers   hole_thread_left, bolt_thread_left   shear area left over that of the basic profile, at the loosest fit
          thread_left                          the lesser of the two, to the tightest: a range
Not here  the pull that strips (screw_threads.py)
Symbols   d nominal diameter, P pitch, d₂ pitch diameter, D₁ minor diameter; tolerances T, deviation es
Sources   [1] ISO 965-1: formulas of its tolerances, 6g and 6H   [2] FED-STD-H28/2, ASME B1.1: shear areas, from memory
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Array, Numbers, as_floats, where
from trialfit.handbook.fastening.screw_threads import minor_diameter, pitch_diameter

_MILLI, _MICRO = 1e-3, 1e-6
_SLOPE = 0.577350  # tan 30°


def hole_thread_left(diameter: Numbers, pitch: Numbers) -> Numbers:
    """Shear area of the hole's thread at the loosest fit, over that of the basic profile.

        [½·P + 0.57735·(d_min − D₂,max)]·d_min/((7/8)·P·d),   d_min = d − es − T_d,   D₂,max = d₂ + T_D2

    diameter   d, nominal     m
    pitch      P              m     0 < P < d
    returns    share          1     nan outside that range

    Tolerances 6H and 6g, by the formulas of ISO 965-1: es = (15 + 11·P) µm, T_d = 180·P^(2/3) − 3.15/√P µm,
    T_d2 = 90·P^0.4·d^0.1 µm, T_D2 = 1.32·T_d2, P and d in mm; inch threads 2A and 2B come close. Source: ISO 965-1;
    FED-STD-H28/2, from memory.

    >>> f"{hole_thread_left(10e-3, 1.5e-3):.2f}"
    '0.78'
    """
    diameter, pitch, middle = as_floats(diameter, pitch, pitch_diameter(diameter, pitch))
    sound = np.isfinite(middle)
    millis = np.where(sound, pitch, _MILLI) / _MILLI
    outside = diameter - _deviation(millis) - (180 * millis ** (2 / 3) - 3.15 / np.sqrt(millis)) * _MICRO
    gap = outside - middle - 1.32 * _pitch_tolerance(diameter, millis)
    return where(sound, (pitch / 2 + _SLOPE * gap) * outside / np.where(sound, 0.875 * pitch * diameter, 1.0))


def bolt_thread_left(diameter: Numbers, pitch: Numbers) -> Numbers:
    """Shear area of the bolt's thread at the loosest fit, over that of the basic profile.

        [½·P + 0.57735·(d₂,min − D₁,max)]·D₁,max/((3/4)·P·D₁),   d₂,min = d₂ − es − T_d2,   D₁,max = D₁ + T_D1

    diameter   d, nominal     m
    pitch      P              m     0 < P < d
    returns    share          1     nan outside that range

    Tolerances as for the hole, and T_D1 = 230·P^0.7 µm from 1 mm of pitch, 433·P − 190·P^1.22 µm below.
    Source: ISO 965-1; FED-STD-H28/2, from memory.

    >>> f"{bolt_thread_left(10e-3, 1.5e-3):.2f}"
    '0.79'
    """
    diameter, pitch, middle = as_floats(diameter, pitch, pitch_diameter(diameter, pitch))
    inner = as_floats(minor_diameter(diameter, pitch))[0]
    sound = np.isfinite(middle)
    millis = np.where(sound, pitch, _MILLI) / _MILLI
    wide = np.where(millis < 1, 433 * millis - 190 * millis**1.22, 230 * millis**0.7) * _MICRO
    gap = middle - _deviation(millis) - _pitch_tolerance(diameter, millis) - inner - wide
    return where(sound, (pitch / 2 + _SLOPE * gap) * (inner + wide) / np.where(sound, 0.75 * pitch * inner, 1.0))


def thread_left(diameter: Numbers, pitch: Numbers) -> tuple[Numbers, Numbers]:
    """Shear area of threads over that of the basic profile, from the loosest fit to the basic profile.

    diameter   d, nominal              m
    pitch      P                       m     0 < P < d
    returns    least and most share    1     nan outside that range

    Source: ISO 965-1.

    >>> [f"{share:.2f}" for share in thread_left(10e-3, 1.5e-3)]
    ['0.78', '1.00']
    """
    least = np.minimum(*as_floats(hole_thread_left(diameter, pitch), bolt_thread_left(diameter, pitch)))
    return least[()], where(np.isfinite(least), np.ones_like(least))


def _deviation(millis: Array) -> Array:
    return np.asarray((15 + 11 * millis) * _MICRO)


def _pitch_tolerance(diameter: Array, millis: Array) -> Array:
    return np.asarray(90 * millis**0.4 * (np.abs(diameter) / _MILLI) ** 0.1 * _MICRO)
