"""Readings taken while working, each compared with its limits.

Answers   readings_of    the usual readings and those written, with the verdict on each
          Taken          one of them
          limits_in_words    its limits in words
          limits_wanted      the limits that count for a reading of a build, with their source
Not here  which job needs which reading (jobs.csv); findings of the subjects (ground.py)

A reading is written under [reading]: pickup_gap = "8 mm, calipered"; limits of the maker, which replace ours, as
pickup_gap-limits = "6 to 9 mm; manual". The verdict is guard-banded as that of a finding is: evaluation/verdict.py.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.draws import draws_of
from trialfit.evaluation.requirement import Stake
from trialfit.evaluation.verdict import Verdict, judge, share_kept
from trialfit.facts.provenance import Provenance
from trialfit.facts.quantity import QUANTITIES
from trialfit.facts.reading import Unreadable, read_fact
from trialfit.facts.units import find_unit, to_si
from trialfit.parts import KINDS
from trialfit.parts.fact_refs import FactRef
from trialfit.planning.templates import usual_readings

if TYPE_CHECKING:
    from trialfit.book.build import Build
    from trialfit.planning.job import Usual

_DRAWS = 4096
_MEASURED = (Provenance.taped, Provenance.calipered, Provenance.gauged, Provenance.weighed)
_NUMBER = r"-?[0-9]+(?:[.,][0-9]+)?"
_LIMITS = re.compile(
    rf"(?:(?P<low>{_NUMBER})\s*to\s*(?P<high>{_NUMBER})|at most\s*(?P<most>{_NUMBER})|at least\s*(?P<least>{_NUMBER}))"
    rf"\s*(?P<unit>[^;,]*?)\s*(?:[;,].*)?"
)
LIMITS = "-limits"


@dataclass(frozen=True)
class Taken:
    """One reading: what was written, and the verdict; `says` is one sentence if it is missing or outside its limits."""

    name: str
    about: str
    text: str
    gate: str
    verdict: Verdict | None
    says: str
    source: str = ""

    @property
    def is_taken(self) -> bool:
        """Whether it is in the book."""
        return bool(self.text)

    @property
    def does(self) -> bool:
        """Whether it is in the book and within its limits."""
        return self.is_taken and self.verdict in (None, Verdict.holds)


def readings_of(build: Build) -> dict[str, Taken]:
    """The usual readings by name, and the builder's own."""
    written = build.document.readings
    found = {
        name: _of_fact(build, usual) if usual.fact else _taken(usual, written)
        for name, usual in usual_readings().items()
    }
    for name, text in written.items():
        if name not in found and not name.endswith(LIMITS):
            found[name] = Taken(name, name.replace("_", " "), text, "", None, "")
    return found


def _of_fact(build: Build, usual: Usual) -> Taken:
    kind, _, key = usual.fact.partition(".")
    refs = [getattr(part, key) for part in build.all(KINDS[kind])]
    unmeasured = [
        ref.path
        for ref in refs
        if isinstance(ref, FactRef) and (ref.written is None or ref.written.provenance not in _MEASURED)
    ]
    if not refs or unmeasured:
        wanted = ", ".join(unmeasured) or usual.fact
        return Taken(usual.name, usual.says, "", usual.gate, None, f"{wanted} is not measured")
    text = ", ".join(str(ref.written) for ref in refs)
    return Taken(usual.name, usual.says, text, usual.gate, None, "")


def _taken(usual: Usual, written: dict[str, str]) -> Taken:
    text = written.get(usual.name, "")
    if not text:
        return Taken(usual.name, usual.says, "", usual.gate, None, f"{usual.name} is not in the book: {usual.says}")
    if not usual.quantity:
        return Taken(usual.name, usual.says, text, usual.gate, None, "")
    try:
        verdict, limits, source = _judged(usual, text, written.get(f"{usual.name}{LIMITS}", ""))
    except (Unreadable, ValueError) as wrong:
        return Taken(usual.name, usual.says, text, usual.gate, Verdict.unknown, f"{usual.name} {wrong}")
    says = "" if verdict in (None, Verdict.holds) else f"{usual.name} is {text}: {limits} wanted ({source}), {verdict}"
    return Taken(usual.name, usual.says, text, usual.gate, verdict, says, source)


def _judged(usual: Usual, text: str, own: str) -> tuple[Verdict | None, str, str]:
    quantity = QUANTITIES[usual.quantity]
    fact = read_fact(text, quantity)
    low, high, unit, source = usual.at_least, usual.at_most, usual.unit, usual.source
    if own:
        found = _LIMITS.fullmatch(own.strip())
        if not found:
            raise ValueError(f'has the limits "{own}": write them as "6 to 9 mm; manual", or "at most 0.2 mm"')
        low, high = _float(found["low"] or found["least"]), _float(found["high"] or found["most"])
        unit, source = found["unit"], own
        if low is not None and high is not None and low > high:
            raise ValueError(f'has the limits "{own}": expected the smaller first, for example "6 to 9 mm; manual"')
    if low is None and high is None:
        return None, "", ""
    scale = find_unit(quantity, unit)
    drawn = draws_of(f"reading.{usual.name}", fact.si, fact.spread, _DRAWS)
    margins = [drawn - to_si(low, scale)] if low is not None else []
    margins += [to_si(high, scale) - drawn] if high is not None else []
    verdict = judge(share_kept(np.minimum.reduce(margins)), Stake.durability)
    return verdict, limits_in_words(low, high, unit), source


def limits_in_words(low: float | None, high: float | None, unit: str) -> str:
    """The limits of a reading in words; one of the two may be missing."""
    if low is not None and high is not None:
        return f"{low:g} to {high:g} {unit}"
    return f"at least {low:g} {unit}" if low is not None else f"at most {high:g} {unit}"


def limits_wanted(build: Build, name: str) -> str:
    """The limits that count: the maker's or the builder's own as written, else the usual ones; empty where there are none."""
    own = build.document.readings.get(f"{name}{LIMITS}", "")
    usual = usual_readings().get(name)
    if own or usual is None or (usual.at_least is None and usual.at_most is None):
        return own
    return f"{limits_in_words(usual.at_least, usual.at_most, usual.unit)} ({usual.source})"


def _float(text: str | None) -> float | None:
    return float(text.replace(",", ".")) if text else None
