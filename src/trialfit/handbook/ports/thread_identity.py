"""Which thread is it: from a caliper over the crests or in the hole, and a pitch gauge.

Answers   crest_band       between which diameters a caliper finds a sound thread
          reading_density  how well one reading fits such a band
          identify         every thread of the tables with its likelihood
          no_thread        likelihood that it is none of them
          offs             how far a thread is from the readings, in diameter and in pitch
          told_apart_by    how to tell two threads apart, the easiest first
Not here  what a designation says (port_threads.py); what is joined to what (sealing.py)
Method    Bayes with every thread of the tables as likely as the next beforehand, and one reading in twenty of none of them. A sound thread lies anywhere in its band
          (rectangular); the reading around it is normal, its spread an expanded uncertainty, k = 2 (JCGM 100).
Sources   [1] ISO 965-1, classes 6g and 6H, from memory; used for inch and pipe threads too, whose tolerances are near
          [2] JCGM 100, JCGM 106
"""

from __future__ import annotations

from dataclasses import dataclass
from math import degrees, erfc, pi, sqrt
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.constants import INCH
from trialfit.handbook.ports.pipe_threads import TAPER
from trialfit.handbook.ports.port_ends import Gender
from trialfit.handbook.ports.port_threads import SAME_PITCH, System, Thread, known_threads

if TYPE_CHECKING:
    from collections.abc import Iterator

PITCH_GAUGE_SPREAD = 0.03e-3
"""Spread of a pitch read off with a gauge on a thread of a port's length [m], k = 2: common practice, no source."""

LEAST_SHARE = 0.005
"""Likelihood below which a thread is left out of the list."""

FITS_NOTHING = 4.0
"""Standard deviations beyond which a reading belongs to no thread of the tables: common practice, no source."""

BAD_FIT = 2.5
"""Standard deviations beyond which the best thread is a bad one, and something is to be measured again: common practice, no source."""

NONE_OF_THEM = 0.05
"""Share of readings that belong to no thread of the tables, or are misread: common practice, no source."""

_ANY_DIAMETER, _ANY_PITCH = (
    37e-3,
    2.6e-3,
)  # m: over which a thread of none of the tables is spread, 3 to 40 and 0.4 to 3 mm
_PITCHES_COUNTED = 8
_FINE = 0.8  # mm: up to here the tolerance of a hole follows the first formula
_TELLABLE = 0.03e-3  # m: what a caliper tells apart in ordinary hands; common practice, no source


@dataclass(frozen=True)
class Reading:
    """What was read, SI: diameter and pitch with their spreads (k = 2); pitch None where no gauge was at hand."""

    gender: Gender
    diameter: float
    diameter_spread: float
    pitch: float | None = None
    pitch_spread: float = PITCH_GAUGE_SPREAD
    tapered: bool | None = None


@dataclass(frozen=True)
class Candidate:
    """One thread that it can be, its likelihood (0 to 1), and how far the reading lies from it in standard deviations."""

    thread: Thread
    likelihood: float
    off: float


@dataclass(frozen=True)
class Difference:
    """One thing that tells two threads apart: what to do, what each would show, and the spread that is good enough [m]."""

    what: str
    one: str
    other: str
    needs: float | None = None


def crest_band(thread: Thread, gender: Gender) -> tuple[float, float]:
    """Between which diameters a caliper finds a sound thread: over the crests of a male, between those of a female one.

        male      d − e − T … d − e       e = (15 + 11·P) µm, T = (180·P^⅔ − 3.15/√P) µm, P in mm
        female    D₁ … D₁ + T             T = (433·P − 190·P^1.22) µm to 0.8 mm, 230·P^0.7 µm above

    thread    Thread; a tapered male one is found anywhere from its small end to the end of its whole thread, a tapered
              hole from its mouth inwards; of a tapered metric one DIN 158 gives the tolerance itself
    gender    Gender
    returns   lowest and highest diameter, m

    Source: ISO 965-1, classes 6g and 6H, from memory; DIN 158-1.

    >>> from trialfit.handbook.ports.port_threads import read_thread
    >>> ["%.2f" % (edge * 1e3) for edge in crest_band(read_thread("M10×1"), Gender.male)]
    ['9.80', '9.97']
    """
    pitch = thread.pitch * 1e3
    if gender is Gender.male:
        grows = TAPER * max(thread.thread_length - thread.gauge_length, 0)
        if thread.tolerance:
            smallest = thread.major_diameter - thread.back - thread.tolerance
            return smallest, thread.major_diameter + thread.tolerance + grows
        allowance = (15 + 11 * pitch) * 1e-6
        tolerance = (180 * pitch ** (2 / 3) - 3.15 / sqrt(pitch)) * 1e-6
        return thread.major_diameter - thread.back - allowance - tolerance, thread.major_diameter - allowance + grows
    tolerance = (433 * pitch - 190 * pitch**1.22 if pitch <= _FINE else 230 * pitch**0.7) * 1e-6
    return thread.minor_diameter - thread.back, thread.minor_diameter + tolerance


def reading_density(reading: Numbers, spread: Numbers, lowest: Numbers, highest: Numbers) -> Numbers:
    """How well a reading fits a thing that lies anywhere between two bounds.

        p = (Φ((x − a)/σ) − Φ((x − b)/σ))/(b − a)       σ = spread/2

    reading   x                          m
    spread    expanded, k = 2            m      > 0
    lowest    a                          m
    highest   b                          m      > a
    returns   p, a density               1/m    nan outside that range

    Source: JCGM 106 (a normal measurement of a quantity with a rectangular prior).

    >>> inside, outside = reading_density([9.9e-3, 9.0e-3], 0.05e-3, 9.8e-3, 9.97e-3)
    >>> bool(inside > 1e6 * outside)
    True
    """
    reading, spread, lowest, highest = as_floats(reading, spread, lowest, highest)
    sound = (spread > 0) & (highest > lowest)
    sigma = np.where(sound, spread, 1) / 2
    share = _between((reading - highest) / sigma, (reading - lowest) / sigma)
    return where(sound, np.maximum(share, 0) / np.where(sound, highest - lowest, 1))


_erfc = np.vectorize(erfc, otypes=[float])
_NOTHING_BEYOND = 39.0  # standard deviations: there a float of the tail is 0


def _between(low: np.ndarray, high: np.ndarray) -> np.ndarray:
    """Φ(high) − Φ(low), taken on the side of the mean where it does not cancel."""
    share = np.zeros(np.broadcast(low, high).shape)
    near = (low < _NOTHING_BEYOND) & (high > -_NOTHING_BEYOND)  # of hundreds of threads only a few are near a reading
    low, high = low[near], high[near]
    turned = low > 0
    upper, lower = np.where(turned, -low, high), np.where(turned, -high, low)
    share[near] = 0.5 * (_erfc(-upper / sqrt(2)) - _erfc(-lower / sqrt(2)))
    return share


def likelihoods(
    diameter: Numbers, diameter_spread: float, pitch: Numbers | None, pitch_spread: float, gender: Gender
) -> np.ndarray:
    """Likelihood of every thread of the tables, for one reading or for many at once.

    diameter         over the crests, or between them in a hole    m    scalar or (draws,)
    diameter_spread  expanded, k = 2                               m    > 0
    pitch            m, as `diameter`; None where it was not read
    pitch_spread     expanded, k = 2                               m    > 0
    gender           Gender
    returns          (threads,) or (draws, threads), each row sums to 1, or is all 0 where nothing is near

    Source: JCGM 106; every thread of the tables taken as likely as the next beforehand.

    >>> found = likelihoods(9.7e-3, 0.05e-3, 25.4e-3 / 28, 0.02e-3, Gender.male)
    >>> known_threads()[int(found.argmax())].designation
    'G 1/8'
    """
    threads = known_threads()
    bands = np.array([crest_band(thread, gender) for thread in threads])
    (values,) = as_floats(diameter)
    weight = np.asarray(reading_density(values[..., None], diameter_spread, bands[:, 0], bands[:, 1]))
    if pitch is not None:
        (read,) = as_floats(pitch)
        off = (read[..., None] - np.array([thread.pitch for thread in threads])) / (pitch_spread / 2)
        weight = weight * np.exp(-0.5 * off**2)
    weight = weight * _is_of_gender(gender)
    total = weight.sum(axis=-1, keepdims=True)
    return np.where(total > 0, weight / np.where(total > 0, total, 1), 0.0)


def _is_of_gender(gender: Gender) -> np.ndarray:
    """Which threads there are of a gender: Rp is a hole's thread, a male one of that form is G; a keg thread is male alone."""
    other = System.parallel if gender is Gender.male else System.keg
    return np.array([thread.system is not other for thread in known_threads()])


def no_thread(reading: Reading) -> float:
    """Likelihood that a reading belongs to no thread of the tables, or was misread.

        p₀/(p₀ + (1 − p₀)·mean of p_i)       p₀ = 0.05, spread evenly over 3 to 40 mm and pitches of 0.4 to 3 mm

    reading   Reading
    returns   share, 0 to 1

    Source: JCGM 106 for p_i; p₀ is common practice, no source.

    >>> good, bad = Reading(Gender.male, 9.71e-3, 0.05e-3, 25.4e-3 / 28), Reading(Gender.male, 10.9e-3, 0.05e-3, 1e-3)
    >>> f"{no_thread(good):.0%} {no_thread(bad):.0%}"
    '0% 55%'
    """
    bands = np.array([crest_band(thread, reading.gender) for thread in known_threads()])
    density = np.asarray(reading_density(reading.diameter, reading.diameter_spread, bands[:, 0], bands[:, 1]))
    none = NONE_OF_THEM / _ANY_DIAMETER
    if reading.pitch is not None:
        sigma = reading.pitch_spread / 2
        off = (reading.pitch - np.array([thread.pitch for thread in known_threads()])) / sigma
        density = density * np.exp(-0.5 * off**2) / (sigma * sqrt(2 * pi))
        none /= _ANY_PITCH
    can_be = _is_of_gender(reading.gender) & _is_as_tapered(reading.tapered)
    return none / (none + (1 - NONE_OF_THEM) * float((density * can_be).sum()) / max(int(can_be.sum()), 1))


def _is_as_tapered(tapered: bool | None) -> np.ndarray:  # noqa: FBT001 - as in Reading
    return np.array([tapered is None or thread.is_tapered == tapered for thread in known_threads()])


def identify(reading: Reading) -> tuple[Candidate, ...]:
    """Every thread of the tables that a reading can belong to, the likeliest first.

    reading   Reading
    returns   candidates with a likelihood of LEAST_SHARE and more; none where the reading is FITS_NOTHING standard
              deviations or more away from every thread

    What is left to 1 is that of no_thread: a thread that is not in the tables cannot be found.
    Source: JCGM 106; tolerances of ISO 965-1 from memory.

    >>> found = identify(Reading(Gender.male, 9.71e-3, 0.05e-3, pitch=25.4e-3 / 28, tapered=False))
    >>> [(one.thread.designation, f"{one.likelihood:.2f}") for one in found[:1]]
    [('G 1/8', '1.00')]
    """
    shares = likelihoods(reading.diameter, reading.diameter_spread, reading.pitch, reading.pitch_spread, reading.gender)
    threads = known_threads()
    shares = shares * _is_as_tapered(reading.tapered)
    shares = shares / shares.sum() * (1 - no_thread(reading)) if shares.sum() else shares
    found = [
        Candidate(thread, float(share), _off(thread, reading))
        for thread, share in zip(threads, shares, strict=True)
        if share >= LEAST_SHARE
    ]
    near = [one for one in found if one.off < FITS_NOTHING]
    return tuple(sorted(near, key=lambda one: -one.likelihood))


def _off(thread: Thread, reading: Reading) -> float:
    return max(offs(thread, reading))


def offs(thread: Thread, reading: Reading) -> tuple[float, float]:
    """How far a thread is from the readings, in standard deviations of each.

    thread    Thread
    reading   Reading
    returns   of the diameter, 0 within the band of a sound thread; of the pitch, 0 where none was read

    Source: JCGM 100.

    >>> from trialfit.handbook.ports.port_threads import read_thread
    >>> ["%.1f" % off for off in offs(read_thread("7/16-24"), Reading(Gender.male, 10.95e-3, 0.05e-3, 1e-3))]
    ['0.0', '3.9']
    """
    lowest, highest = crest_band(thread, reading.gender)
    beyond = max(lowest - reading.diameter, reading.diameter - highest, 0.0) / (reading.diameter_spread / 2)
    of_pitch = 0.0 if reading.pitch is None else abs(reading.pitch - thread.pitch) / (reading.pitch_spread / 2)
    return beyond, of_pitch


def told_apart_by(one: Thread, other: Thread, gender: Gender) -> tuple[Difference, ...]:
    """How to tell two threads apart, the easiest first.

    one       Thread
    other     Thread
    gender    Gender
    returns   differences: taper, pitch, diameter, flank angle; none where only use and sealing face differ

    Source: basic dimensions of the two; a leaf of the other flank angle rocks.

    >>> from trialfit.handbook.ports.port_threads import read_thread
    >>> [one.what for one in told_apart_by(read_thread("G 1/8"), read_thread("1/8-27 NPT"), Gender.male)][:2]
    ['caliper it in two places 5 mm apart', 'measure over 8 pitches']
    """
    return tuple(_differences(one, other, gender))


def _differences(one: Thread, other: Thread, gender: Gender) -> Iterator[Difference]:
    pair = (one, other)
    if one.is_tapered != other.is_tapered:
        first, second = (f"grows {TAPER * 5:.2f} mm" if thread.is_tapered else "stays the same" for thread in pair)
        yield Difference("caliper it in two places 5 mm apart", first, second, TAPER * 5e-3 / 2)
    if abs(one.pitch - other.pitch) > SAME_PITCH:
        yield _measured(
            f"measure over {_PITCHES_COUNTED} pitches", *(_PITCHES_COUNTED * thread.pitch for thread in pair)
        )
    middle, other_middle = (sum(crest_band(thread, gender)) / 2 for thread in pair)
    if abs(middle - other_middle) > _TELLABLE:
        place = "over the crests" if gender is Gender.male else "between the crests of the hole"
        yield _measured(f"caliper it {place}", middle, other_middle)
    if one.flank_angle != other.flank_angle:
        first, second = (f"a {degrees(thread.flank_angle):.0f}° leaf sits" for thread in pair)
        yield Difference("lay a pitch-gauge leaf against the light", first, second)


def _measured(what: str, one: float, other: float) -> Difference:
    return Difference(what, f"{one * 1e3:.2f} mm", f"{other * 1e3:.2f} mm", abs(one - other) / 2)


def pitch_of(threads_per_inch: Numbers) -> Numbers:
    """Pitch from threads per inch.

        P = 25.4 mm/n

    threads_per_inch  n                  1/in   > 0
    returns           P                  m      nan outside that range

    Source: ASME B1.1.

    >>> f"{pitch_of(27) * 1e3:.4f} mm"
    '0.9407 mm'
    """
    (threads_per_inch,) = as_floats(threads_per_inch)
    sound = threads_per_inch > 0
    return where(sound, INCH / np.where(sound, threads_per_inch, 1))
