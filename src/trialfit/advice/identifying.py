"""The thread that a reading belongs to: candidates with their likelihood, and how to tell them apart.

Answers   identify_thread   the candidates for a caliper reading, with or without a pitch
          ThreadList        in the shape that `thread --json` prints
          read_pitch        "18 tpi", "1.5 mm", "M-pitch 1.5" into a pitch
          bad_fit           what does not match in the likeliest thread
Not here  likelihoods and tolerances (handbook/ports/thread_identity.py)
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from pydantic import Field

from trialfit.book.problems import BadInput, Located
from trialfit.facts.frozen import Frozen
from trialfit.facts.quantity import LENGTH
from trialfit.facts.reading import Unreadable, read_fact
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.ports.port_ends import Gender
from trialfit.handbook.ports.thread_identity import (
    BAD_FIT,
    PITCH_GAUGE_SPREAD,
    Reading,
    crest_band,
    identify,
    no_thread,
    offs,
    pitch_of,
    told_apart_by,
)

if TYPE_CHECKING:
    from trialfit.handbook.ports.port_threads import Thread

LIKELY = 0.05
"""Least likelihood for which it is worth telling a candidate from the first: common practice, no source."""

_LEAST_SPREAD = 0.01e-3
_PER_INCH = re.compile(r"(\d{1,2}(?:[.,]\d)?)\s*(?:tpi|/\s*in|per inch|threads per inch)", re.ASCII | re.IGNORECASE)


class Telling(Frozen):
    """One way to tell a candidate from the likeliest one."""

    what: str
    likeliest: str = Field(description="what the likeliest candidate shows")
    this: str = Field(description="what this candidate shows")
    good_enough: str = Field(description="the largest uncertainty that is good enough; empty if nothing is measured")


class ThreadCandidate(Frozen):
    """One possible thread."""

    thread: str
    likelihood: float = Field(description="among the threads of the tables, 0 to 1")
    met_as: str = Field(description="where it is used")
    told_apart: tuple[Telling, ...] = Field(description="how to tell it from the likeliest one, the easiest way first")


class ThreadList(Frozen):
    """The threads that a reading can belong to, the likeliest first."""

    reading: str
    pitch: str = Field(description="empty if no pitch was given")
    gender: str
    candidates: tuple[ThreadCandidate, ...]
    no_thread: float = Field(description="likelihood that it is none of the tables, or misread; 0 to 1")
    bad_fit: str = Field(
        description="what does not match in the likeliest one, and what to measure again; empty if it matches"
    )


def read_pitch(text: str) -> tuple[float, float]:
    """A pitch with its spread, m: "18 tpi", "1.5 mm", "1.41 ± 0.02 mm". Raises BadInput."""
    per_inch = _PER_INCH.fullmatch(" ".join(text.split()))
    if per_inch and float(per_inch[1].replace(",", ".")) > 0:
        return float(pitch_of(float(per_inch[1].replace(",", ".")))), PITCH_GAUGE_SPREAD
    try:
        fact = read_fact(text, LENGTH)
    except Unreadable:
        says = f'"{text}" is not a pitch: expected threads per inch or millimetres, for example "18 tpi" or "1.5 mm"'
        raise BadInput("trialfit thread", [Located("--pitch", says)]) from None
    if fact.si <= 0:
        raise BadInput(
            "trialfit thread",
            [Located("--pitch", f'"{text}" is not a pitch: expected a value above 0, for example "1.5 mm"')],
        )
    written = "±" in text or "+/-" in text
    return fact.si, max(2 * fact.spread.standard_uncertainty, _LEAST_SPREAD) if written else PITCH_GAUGE_SPREAD


def identify_thread(
    reading: str, pitch: str | None = None, *, female: bool = False, tapered: bool | None = None
) -> ThreadList:
    """The threads that a caliper reading can belong to; a reading without a provenance counts as calipered. Raises BadInput."""
    try:
        fact = read_fact(reading if "," in reading.replace(",", ".", 1) else f"{reading}, calipered", LENGTH)
    except Unreadable:
        try:
            fact = read_fact(reading, LENGTH)
        except Unreadable as wrong:
            raise BadInput("trialfit thread", [Located("", str(wrong))]) from None
    if fact.si <= 0:
        raise BadInput(
            "trialfit thread",
            [Located("", f'"{reading}" is not a diameter: expected a value above 0, for example "9.7 mm"')],
        )
    read, pitch_spread = read_pitch(pitch) if pitch else (None, PITCH_GAUGE_SPREAD)
    gender = Gender.female if female else Gender.male
    spread = max(2 * fact.spread.standard_uncertainty, _LEAST_SPREAD)
    measured = Reading(gender, fact.si, spread, read, pitch_spread, tapered)
    found = identify(measured)
    candidates = []
    for one in found:
        apart = told_apart_by(found[0].thread, one.thread, gender) if one is not found[0] else ()
        candidates.append(
            ThreadCandidate(
                thread=one.thread.designation,
                likelihood=one.likelihood,
                met_as=one.thread.met_as,
                told_apart=tuple(
                    Telling(
                        what=way.what,
                        likeliest=way.one,
                        this=way.other,
                        good_enough="" if way.needs is None else f"± {show(way.needs, display_unit(LENGTH), 2)}",
                    )
                    for way in apart
                ),
            )
        )
    return ThreadList(
        reading=fact.plain,
        pitch=pitch or "",
        gender=gender.value,
        candidates=tuple(candidates),
        no_thread=no_thread(measured),
        bad_fit=bad_fit(found[0].thread, measured) if found else "",
    )


def bad_fit(thread: Thread, reading: Reading) -> str:
    """What does not match in a thread, and what to measure again, in one or two sentences; "" where it matches."""
    of_diameter, of_pitch = offs(thread, reading)
    unit = display_unit(LENGTH)
    said, again = [], []
    if of_pitch > BAD_FIT and reading.pitch is not None:
        apart = show(abs(reading.pitch - thread.pitch), unit, 2)
        said.append(f"its pitch is {thread.pitch * 1e3:.3f} mm, {apart} from the reading")
        again.append("the pitch over 8 threads, divided by 8")
    if of_diameter > BAD_FIT:
        low, high = (f"{edge * 1e3:.2f}" for edge in crest_band(thread, reading.gender))
        said.append(f"a sound one is {low} to {high} mm")
        again.append("the diameter on a clean thread, in two places")
    if not said:
        return ""
    return (
        f"Bad fit, even of the best, {thread.designation}: {' and '.join(said)}. Measure again: {' and '.join(again)}."
    )
