"""The end of a port, fitting or line: its thread, which side of it, and the way it seals.

Answers   read_end      "male M10×1, washer", "female -6 37° flare", "male hose 9.5 mm" into an End
          make_end      the same from thread, gender and sealing given apart
          check_size    whether a text can be the thread of an end
          counterpart   the end that belongs to another one
          Gender, Seal  male, female; how an end seals
          hose_bore     bore of a hose by its dash size
Not here  threads (port_threads.py); which ends may be joined (sealing.py)
Sources   [1] SAE J514, ISO 8434-2, SAE J512, SAE J1926, ISO 6149, ISO 4038 (tables/SOURCES.md)
          [2] hose bores by dash: SAE 100R1 and most others; SAE 100R5, R14 and like
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from enum import StrEnum

from trialfit.handbook.constants import INCH
from trialfit.handbook.ports.port_threads import EXAMPLES, System, Thread, keg_row, read_thread
from trialfit.handbook.tables import rows

END_EXAMPLES = '"male M10×1, washer", "female 1/8-27 NPT", "male -6 37° flare", "male hose 9.5 mm"'
"""Ends that can be read."""

_HOSE_BORES = (1e-3, 0.12)


class Gender(StrEnum):
    """Which side of the thread: a male hose end is the barb, a female one the hose."""

    male = "male"
    female = "female"

    @property
    def other(self) -> Gender:
        """The other side."""
        return Gender.female if self is Gender.male else Gender.male


class Seal(StrEnum):
    """How an end seals."""

    thread = "thread"
    dry_thread = "dry thread"
    washer = "washer"
    boss = "O-ring boss"
    flare_37 = "37° flare"
    flare_45 = "45° flare"
    inverted = "inverted flare"
    bubble = "bubble flare"
    banjo = "banjo"
    hose = "hose"
    none = "none"


_BY_SYSTEM = {
    System.keg: Seal.thread,
    System.npt: Seal.thread,
    System.nptf: Seal.dry_thread,
    System.taper: Seal.thread,
    System.parallel: Seal.thread,
    System.g: Seal.washer,
}
_SPELLED = {
    **{seal.value.lower(): seal for seal in Seal},
    "taper": Seal.thread,
    "sealing washer": Seal.washer,
    "bonded seal": Seal.washer,
    "o-ring": Seal.boss,
    "orb": Seal.boss,
    "37 flare": Seal.flare_37,
    "37 deg flare": Seal.flare_37,
    "45 flare": Seal.flare_45,
    "45 deg flare": Seal.flare_45,
    "double flare": Seal.inverted,
}
_GENDER = re.compile(r"(male|female)\b[\s,]*(.*)", re.ASCII | re.DOTALL)
_HOSE = re.compile(r"hose\s*(?:(?P<bore>\d{1,3}(?:[.,]\d{1,2})?)\s*mm|(?P<dash>-\d{1,2}))?", re.ASCII)
_SAME_BORE = 0.35e-3  # m: neighbouring hose sizes are 1.5 mm apart; 8 mm and 7.9 mm hose are one


@dataclass(frozen=True)
class End:
    """One end of a port, fitting or line. `thread` is None for a hose end, whose `bore` [m] counts instead."""

    gender: Gender
    seal: Seal
    thread: Thread | None = None
    bore: float = 0.0

    @property
    def text(self) -> str:
        """The end as it is written."""
        if self.thread is None:
            return f"{self.gender} hose {self.bore * 1e3:g} mm"
        said = "" if _BY_SYSTEM.get(self.thread.system) is self.seal else f", {self.seal}"
        return f"{self.gender} {self.thread.designation}{said}"

    @property
    def short(self) -> str:
        """The end without its gender."""
        return self.text.partition(" ")[2]

    def has_bore_of(self, other: End) -> bool:
        """Whether two hose ends are of one size."""
        return abs(self.bore - other.bore) <= _SAME_BORE


def read_end(text: str) -> End:
    """Read an end as it is written in a list of fittings.

    text       gender, thread or size, and the way it seals where the thread does not say so: "male M10×1, washer";
               "female 1/8-27 NPT"; "female G 1/4" (washer); "male -6 37° flare"; "female -8 O-ring boss";
               "male 3/8-24, inverted flare" or "male 3/16 tube, inverted flare"; "male M10×1, bubble flare";
               "male M10×1 keg" (tapered metric) and "female M10×1, thread" (the parallel hole that it seals in);
               "male hose 9.5 mm" (a barb); "female hose -6" (a hose, by dash: bore of most hose)
    returns    End
    errors     ValueError, one sentence

    Source: SAE J514, J512, J1926; ISO 6149, 228-1, 7-1, 4038: designations.

    >>> read_end("female -6 37 deg flare").text
    'female 9/16-18, 37° flare'
    """
    match = _GENDER.fullmatch(" ".join(text.lower().split()))
    if match is None or not match[2]:
        raise ValueError(f'"{text}" is not an end: male or female, then the thread, such as {END_EXAMPLES}')
    gender, rest = Gender(match[1]), match[2]
    hose = _HOSE.fullmatch(rest)
    if hose:
        return End(gender, Seal.hose, bore=_bore_of(hose, text))
    size, seal = _split(rest)
    return make_end(size, gender, seal, text)


def make_end(size: str, gender: Gender, seal: Seal | None, text: str = "") -> End:
    """An end from its parts.

    size      a thread, or a size that the sealing gives a thread: "-6", "3/16 tube"
    gender    Gender
    seal      Seal; None where the thread says it: NPT, NPTF, R, Rc, Rp seal in the thread, G by a washer
    text      what messages call it; `size` where it is empty
    returns   End
    errors    ValueError, one sentence: no such thread or size; or a thread that can seal in several ways, and none is said

    Source: tables/fitting_sizes.csv.

    >>> make_end("1/4 tube", Gender.male, Seal.inverted).text
    'male 7/16-24, inverted flare'
    """
    text = text or size
    row = next((row for row in rows("ports", "fitting_sizes") if row["size"] == size.strip().lower()), None)
    if row is not None:
        return _by_size(size.strip().lower(), gender, seal, text)
    thread = read_thread(size)
    own = _BY_SYSTEM.get(thread.system)
    if seal is None and own is None:
        ways = ", ".join(one.value for one in Seal if one not in (Seal.thread, Seal.dry_thread, Seal.hose))
        raise ValueError(
            f'"{text}" does not say how it seals: write one of {ways} behind it, as in "{gender} {thread.designation}, washer"'
        )
    _check_seal(thread, gender, seal, text)
    return End(gender, seal or own or Seal.none, thread)


def _check_seal(thread: Thread, gender: Gender, seal: Seal | None, text: str) -> None:
    """Raises ValueError, one sentence, where a thread of that gender does not seal in that way."""
    in_the_thread = (Seal.thread, Seal.dry_thread)
    has_keg = thread.system is System.metric and keg_row(thread.major_diameter, thread.pitch) is not None
    if thread.system is System.keg and gender is Gender.female:
        plain = thread.designation.removesuffix(" keg")
        raise ValueError(
            f'"{text}" has no hole of its own: a tapered metric thread goes into a parallel one, "female {plain}, thread"'
        )
    if seal in in_the_thread and _BY_SYSTEM.get(thread.system) not in in_the_thread:
        if has_keg and gender is Gender.female and seal is Seal.thread:
            return
        tapered = f' (a tapered one is "male {thread.designation} keg")' if has_keg and gender is Gender.male else ""
        raise ValueError(
            f'"{text}" cannot seal in the thread: only NPT, NPTF, R, Rc, Rp and keg do; a washer is usual here{tapered}'
        )
    if thread.is_tapered and seal not in (None, *in_the_thread):
        raise ValueError(f'"{text}" is tapered and seals in the thread: leave "{seal}" away')


def check_size(text: str) -> None:
    """Whether a text names a thread, or a size that the way of sealing gives a thread.

    text      "M14×1.5", "1/4-18 NPT", "-6", "3/16 tube"
    returns   nothing
    errors    ValueError, one sentence

    Source: as for read_thread; tables/fitting_sizes.csv.

    >>> check_size("-6")
    """
    if not any(row["size"] == text.strip().lower() for row in rows("ports", "fitting_sizes") if row["size"]):
        read_thread(text)


def counterpart(end: End) -> End:
    """The end that belongs to another one: of the other gender, same thread, same way of sealing.

    end       End
    returns   End; R and Rc, hose and barb, keg and its parallel hole are each other's; a banjo bolt goes into a port for a washer

    Source: as for read_end.

    >>> counterpart(read_end("male R 1/8")).text
    'female Rc 1/8'
    """
    other = replace(end, gender=end.gender.other, seal=Seal.washer if end.seal is Seal.banjo else end.seal)
    if end.thread is not None and end.thread.system is System.keg:
        return replace(other, thread=read_thread(end.thread.designation.removesuffix(" keg")))
    if end.thread is not None and end.thread.system is System.metric and end.seal is Seal.thread:
        return replace(other, thread=read_thread(f"{end.thread.designation} keg"))
    if end.thread is None or end.thread.system not in (System.taper, System.parallel):
        return other
    size = end.thread.designation.split()[1]
    return replace(other, thread=read_thread(f"{'Rc' if other.gender is Gender.female else 'R'} {size}"))


def hose_bore(dash: str, *, bore_of_tube: bool = False) -> float:
    """Bore of a hose by its dash size.

    dash          "-4", "-5", "-6", "-8", "-10", "-12", "-16", "-20"
    bore_of_tube  True for SAE 100R5, R14 and like, whose bore is that of the tube; two systems carry the same dash
    returns       bore, m
    errors        ValueError, one sentence: a dash that the table does not have

    Source: hose bores by dash size, SAE 100R1 and most others; SAE 100R5, R14 and like.

    >>> round(hose_bore("-6") * 1e3, 1), round(hose_bore("-6", bore_of_tube=True) * 1e3, 1)
    (9.5, 7.9)
    """
    row = next((row for row in rows("ports", "hose_bores") if row["dash"] == dash), None)
    if row is None:
        raise ValueError(
            f'"{dash}" is not a dash size of the table: {", ".join(r["dash"] for r in rows("ports", "hose_bores"))} are'
        )
    return float(row["hose with the bore of the tube [mm]" if bore_of_tube else "most hose [mm]"]) * 1e-3


def _bore_of(match: re.Match[str], text: str) -> float:
    if match["dash"]:
        return hose_bore(match["dash"])
    if match["bore"] is None:
        raise ValueError(f'"{text}" does not say which hose: write its bore, as in "male hose 9.5 mm"')
    bore = float(match["bore"].replace(",", ".")) * 1e-3
    if not _HOSE_BORES[0] <= bore <= _HOSE_BORES[1]:
        raise ValueError(
            f'"{text}" gives an impossible bore for a hose: expected millimetres, as in "male hose 9.5 mm"'
        )
    return bore


def _split(rest: str) -> tuple[str, Seal | None]:
    for word in sorted(_SPELLED, key=len, reverse=True):
        if rest.endswith(word) and rest != word and rest[: -len(word)][-1] in " ,":
            return rest[: -len(word)].rstrip(" ,"), _SPELLED[word]
    size, comma, said = rest.partition(",")
    if comma and not said.strip()[:1].isdigit():
        ways = ", ".join(seal.value for seal in Seal)
        raise ValueError(f'"{said.strip()}" is an unknown seal: expected {ways}')
    return (size if comma and not said.strip() else rest), None


def _by_size(size: str, gender: Gender, seal: Seal | None, text: str) -> End:
    fitting = [row for row in rows("ports", "fitting_sizes") if row["size"] == size]
    ways = [row["sealing"] for row in fitting]
    unsaid = [
        way for way in ways if way != Seal.bubble
    ] or ways  # an inch tube has the double flare unless a bubble is written
    if seal is None and len(unsaid) == 1:
        seal = Seal(unsaid[0])
    row = next((row for row in fitting if row["sealing"] == seal), None)
    if row is None or seal is None:
        raise ValueError(
            f'"{text}" does not say which sort of {size} it is: {", ".join(ways)}, as in "{gender} {size} {ways[0]}"'
        )
    return End(gender, seal, read_thread(row["thread"]))


def tube_of(dash: str) -> float:
    """Outside diameter of the tube that a dash size names.

        D = n/16 in

    dash      "-6": n is 6
    returns   D, m
    errors    ValueError, one sentence: no dash size

    Source: SAE J514.

    >>> f"{tube_of('-6') * 1e3:.3f} mm"
    '9.525 mm'
    """
    if not re.fullmatch(r"-[1-9]\d?", dash, re.ASCII):
        raise ValueError(f'"{dash}" is not a dash size: expected a number of sixteenths of an inch, as in "-6"')
    return int(dash[1:]) * INCH / 16


__all__ = [
    "END_EXAMPLES",
    "EXAMPLES",
    "End",
    "Gender",
    "Seal",
    "check_size",
    "counterpart",
    "hose_bore",
    "make_end",
    "read_end",
    "tube_of",
]
