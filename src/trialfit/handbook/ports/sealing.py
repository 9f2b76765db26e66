"""Two ends as a joint: it fits, does not fit, or starts and then leaks or cracks; and its seal.

Answers   join_ends    two ends, in either order, into a Joint
          Joint        verdict, why, how it seals, and what goes on the thread
          Fit          fits, does not fit, dangerous
          sealant_for  whether a sealant suits what is behind the joint
Not here  geometry of unlike threads (thread_mating.py); a run of adapters (fitting_chain.py)
Sources   tables/seal_pairs.csv and look_alikes.csv, each line with its own source
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import TYPE_CHECKING

from trialfit.handbook.ports.port_ends import End, Gender, Seal
from trialfit.handbook.ports.port_threads import System, read_thread
from trialfit.handbook.ports.thread_mating import Meeting, meet
from trialfit.handbook.sources import NO_SOURCE
from trialfit.handbook.tables import rows

if TYPE_CHECKING:
    from trialfit.handbook.ports.port_threads import Thread
    from trialfit.handbook.ports.thread_mating import Met


class Fit(StrEnum):
    """Result of joining two ends, the worst first."""

    dangerous = "dangerous"
    no = "does not fit"
    fits = "fits"


@dataclass(frozen=True)
class Joint:
    """Two ends offered to each other.

    `why` is one sentence. `sealing` says how the joint seals and `sealant` what belongs on the thread ("none",
    "thread sealant"); both are "" where the two do not fit. `met` holds the numbers of two threads, None for hoses and for two ends of one gender.
    """

    fit: Fit
    why: str
    sealing: str = ""
    sealant: str = ""
    source: str = ""
    met: Met | None = None


WORN = 0.3e-3
"""How much too large a thread may be for a worn hole to take it [m]: common practice, no source."""

_TWO_OF_A_GENDER = {
    Gender.male: "two male ends cannot join: use a socket between them",
    Gender.female: "two female ends cannot join: use a nipple between them",
}
_NO_FACE = "the sealing faces do not touch: it turns in and leaks"


@lru_cache(maxsize=8192)
def join_ends(one: End, other: End) -> Joint:
    """Whether two ends may be joined, and how the joint seals.

    one       End
    other     End; which of the two is male does not matter
    returns   Joint

    Dangerous is what starts and feels like a fit, then leaks, cracks the boss or strips.
    Source: seal_pairs.csv for like threads; basic profiles (thread_mating.meet) for unlike ones.

    >>> from trialfit.handbook.ports.port_ends import read_end
    >>> joint = join_ends(read_end("male 1/8 NPT"), read_end("female 1/8 NPT"))
    >>> joint.fit.value, joint.sealant
    ('fits', 'thread sealant')
    >>> join_ends(read_end("male 3/8-24, inverted flare"), read_end("female M10×1, bubble flare")).fit.value
    'dangerous'
    """
    if one.gender is other.gender:
        return Joint(Fit.no, _TWO_OF_A_GENDER[one.gender])
    male, female = (one, other) if one.gender is Gender.male else (other, one)
    if male.thread is None or female.thread is None:
        return _hoses(male, female)
    met = meet(male.thread, female.thread)
    if met.meeting is not Meeting.same:
        return Joint(_fit_of(met), _sentence(male.thread, female.thread, met), met=met, source="basic profiles")
    return _like_threads(male, female, met)


def _hoses(male: End, female: End) -> Joint:
    if male.thread is not None or female.thread is not None:
        return Joint(Fit.no, "a hose goes over a barb, not on a thread")
    if not male.has_bore_of(female):
        return Joint(
            Fit.dangerous if female.bore > male.bore else Fit.no,
            f"a hose of {female.bore * 1e3:g} mm on a barb for {male.bore * 1e3:g} mm: "
            + (
                "a clamp pulls it into folds that leak"
                if female.bore > male.bore
                else "it does not go on without damage"
            ),
        )
    return _pair(male, female, None)


def _fit_of(met: Met) -> Fit:
    return Fit.dangerous if met.meeting.is_dangerous else Fit.no


def _sentence(male: Thread, female: Thread, met: Met) -> str:
    pair = f"{male.designation} into {female.designation}"
    known = _look_alike(male, female)
    seen = f" ({known})" if known else ""
    if met.meeting is Meeting.no_start:
        near = "; a worn or overcut hole would take it" if met.gap > -WORN else ""
        return f"{pair} does not start{near}"
    if met.meeting is Meeting.drops_in:
        return f"{pair} drops in without holding"
    if met.meeting is Meeting.binds:
        return (
            f"{pair}{seen} starts, binds after about {max(met.turns, 0.5):.1f} turns and can be forced from there: "
            "it leaks, and the boss cracks"
        )
    held = f"holds on {met.overlap:.0%} of the flank".replace("%", " %")
    if met.meeting is Meeting.leaks:
        return f"{pair}{seen} turns in freely on the wrong flanks, {held}: it leaks"
    return f"{pair}{seen} turns in freely and {held}: it feels right and strips under pressure or load"


def _look_alike(male: Thread, female: Thread) -> str:
    pair = (_as_hole_or_screw(male), _as_hole_or_screw(female))
    return next(
        (
            row["met as"]
            for row in rows("ports", "look_alikes")
            if (_as_hole_or_screw(read_thread(row["male"])), _as_hole_or_screw(read_thread(row["female"]))) == pair
        ),
        "",
    )


def _as_hole_or_screw(thread: Thread) -> tuple[System, float, float]:
    system = System.npt if thread.system is System.nptf else thread.system
    return system, round(thread.major_diameter, 6), round(thread.pitch, 7)


_PARALLEL = (System.metric, System.unified, System.parallel, System.g)
_KEG_SEALS = (
    "the taper seals in the first threads of the parallel hole, with sealant on the male thread; no further than the maker's torque: "
    "it wedges the boss open"
)


def _like_threads(male: End, female: End, met: Met) -> Joint:
    if male.thread and female.thread and male.thread.is_tapered and not female.thread.is_tapered:
        if male.seal is Seal.thread and female.thread.system is System.parallel:
            return _pair(male, female, met)  # R in Rp: what ISO 7-1 provides for
        if male.thread.system is System.keg and female.seal in (Seal.thread, Seal.washer):
            why = f"{male.short} into {female.short}: belongs together"
            return Joint(Fit.fits, why, _KEG_SEALS, "thread sealant", "DIN 158-1", met)
    elif male.thread and male.thread.system in _PARALLEL and female.seal is Seal.thread:
        return Joint(
            Fit.dangerous,
            f"{male.short} into {female.short}: a parallel male thread in a hole that seals in the thread has no taper "
            "and no machined face to seal: it turns in and leaks",
            met=met,
            source="ISO 7-1; ISO 228-1",
        )
    return _pair(male, female, met)


def _pair(male: End, female: End, met: Met | None) -> Joint:
    row = next(
        (row for row in rows("ports", "seal_pairs") if (row["male"], row["female"]) == (male.seal, female.seal)), None
    )
    pair = f"{male.short} into {female.short}"
    if row is None:
        return Joint(Fit.dangerous, f"{pair}: {_NO_FACE}", source=NO_SOURCE, met=met)
    if row["seals"] == "no":
        return Joint(Fit.dangerous, f"{pair}: {row['says']}", source=row["source"], met=met)
    return Joint(Fit.fits, f"{pair} belongs together", row["says"], row["sealant"], row["source"], met)


@dataclass(frozen=True)
class Suits:
    """Whether a sealant suits a medium: "yes", "no", or "ask" where it depends on what its tube says; and why, "" for "yes"."""

    answer: str
    why: str = ""
    source: str = ""


def sealant_for(medium: str, sealant: str) -> Suits:
    """Whether a sealant suits what is behind a joint.

    medium    "fuel", "oil", "brake fluid" ...
    sealant   "tape", "paste", "fuel-rated paste"
    returns   Suits; "yes" where the table says nothing against it

    Source: tables/sealants.csv.

    >>> sealant_for("fuel", "tape").answer, sealant_for("oil", "tape").answer
    ('no', 'yes')
    """
    row = next((row for row in rows("ports", "sealants") if (row["medium"], row["sealant"]) == (medium, sealant)), None)
    return Suits(row["suits"], row["says"], row["source"]) if row else Suits("yes")
