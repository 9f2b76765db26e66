"""The usual jobs of a conversion, from the tables beside this module.

Answers   templates      the jobs, as rows
          loose_ends, gates, usual_readings   the other tables
          is_gate                             whether a moment by which to look is a gate
          needs_of, waits_of, hours_of        the small languages of the cells, also for the builder's own jobs
Not here  which rows hold for a build (network.py)
Sources   SOURCES.md
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from trialfit.planning.in_reason import MOST_DAYS, MOST_HOURS
from trialfit.planning.job import LETTERS, Gate, Hours, LooseEnd, Need, NeedKind, Usual, Wait

_FOLDER = Path(__file__).parent
_NUMBER = r"[0-9]+(?:[.,][0-9]+)?"
_WAIT = re.compile(
    rf"(?P<what>.*?)\s*(?P<low>{_NUMBER})(?:\s*[-–]\s*(?P<high>{_NUMBER}))?\s*(?P<unit>d|days?|h|hours?)"
    rf"(?:\s+(?P<warm>-?{_NUMBER})\s*°C)?(?:\s+in\s+(?P<place>\w[\w-]*))?",
)
_HOURS = re.compile(rf"({_NUMBER})\s*/\s*({_NUMBER})\s*/\s*({_NUMBER})(?:\s*h)?")
_OF_A_DAY = 24.0


@dataclass(frozen=True)
class Template:
    """One row of jobs.csv, not yet for a certain build: `row` holds the cells by column."""

    id: str
    only_with: tuple[str, ...]
    per: str
    row: dict[str, str]


def needs_of(words: tuple[str, ...] | list[str]) -> tuple[Need, ...]:
    """Prerequisites as written: "CH02", "p:gasket", "f:torque_path", "m:pickup_gap", "g:first-fire". Raises ValueError."""
    needs = []
    for word in words:
        letter, colon, name = word.partition(":")
        if colon and letter not in LETTERS:
            known = ", ".join(f'"{one}:" {kind}' for one, kind in LETTERS.items())
            raise ValueError(f'has "{word}": expected {known} before a colon, or the id of a job, for example "CH02"')
        needs.append(Need(LETTERS[letter], name) if colon else Need(NeedKind.job, word))
    return tuple(needs)


def hours_of(text: str) -> Hours:
    """Hours as written, low/likely/high. Raises ValueError with one sentence.

    >>> hours_of("0.5/1/2")
    Hours(low=0.5, likely=1.0, high=2.0)
    """
    found = _HOURS.fullmatch(text.strip())
    low, likely, high = (float(one.replace(",", ".")) for one in found.groups()) if found else (0.0, 0.0, 0.0)
    if not 0 < low <= likely <= high:
        raise ValueError(f'is "{text}": expected hours as low/likely/high, for example 2/4/9')
    if high > MOST_HOURS:
        raise ValueError(f'is "{text}": expected at most {MOST_HOURS:.0f} hours for one job, for example 2/4/9')
    return Hours(low, likely, high)


def waits_of(text: str) -> tuple[Wait, ...]:
    """Waits as written, parted by commas. Raises ValueError with one sentence.

    >>> waits_of("paint 2-7 d 15 °C in bay")
    (Wait(what='paint', low=2.0, high=7.0, temperature=15.0, place='bay'),)
    """
    waits = []
    for piece in filter(None, (piece.strip() for piece in re.split(r",(?![0-9])", text))):
        found = _WAIT.fullmatch(piece)
        if not found:
            raise ValueError(f'has the wait "{piece}": write it as in "paint 2-7 d 15 °C in bay", or "sealant 24 h"')
        low = float(found["low"].replace(",", "."))
        high = float((found["high"] or found["low"]).replace(",", "."))
        scale = 1 / _OF_A_DAY if found["unit"].startswith("h") else 1.0
        if low > high:
            raise ValueError(f'has the wait "{piece}": the shorter time comes first')
        if high * scale > MOST_DAYS:
            raise ValueError(
                f'has the wait "{piece}": expected at most {MOST_DAYS:.0f} days, for example "paint 2-7 d"'
            )
        warm = float(found["warm"].replace(",", ".")) if found["warm"] else None
        waits.append(Wait(found["what"] or "wait", low * scale, high * scale, warm, found["place"] or ""))
    return tuple(waits)


@lru_cache(maxsize=1)
def templates() -> tuple[Template, ...]:
    """The rows of jobs.csv."""
    return tuple(Template(row["id"], tuple(row["only with"].split()), row["per"], row) for row in _rows("jobs.csv"))


@lru_cache(maxsize=1)
def loose_ends() -> tuple[tuple[tuple[str, ...], LooseEnd], ...]:
    """What each usual job leaves, with the condition on the build."""
    found = []
    for row in _rows("loose_ends.csv"):
        closers = row["closed by"].split()
        readings = [word[2:] for word in closers if word.startswith("r:")]
        jobs = tuple(word for word in closers if not word.startswith("r:"))
        end = LooseEnd(
            row["id"],
            row["what is loose"],
            row["opened by"],
            row["gate"],
            jobs,
            readings[0] if readings else "",
            row["where"],
        )
        found.append((tuple(row["only with"].split()), end))
    return tuple(found)


@lru_cache(maxsize=1)
def gates() -> tuple[tuple[tuple[str, ...], Gate], ...]:
    """The gates in their order, with the condition on the build."""
    return tuple(
        (
            tuple(row["only with"].split()),
            Gate(row["id"], row["title"], row["job"], tuple(row["findings"].split())),
        )
        for row in _rows("gates.csv")
    )


def is_gate(name: str) -> bool:
    """Whether a moment by which to look is a gate, and not some time after the last of them."""
    return any(gate.id == name for _, gate in gates())


@lru_cache(maxsize=1)
def usual_readings() -> dict[str, Usual]:
    """The readings taken while working, by name."""
    return {
        row["name"]: Usual(
            row["name"],
            row["what is read"],
            row["quantity"],
            float(row["at least"]) if row["at least"] else None,
            float(row["at most"]) if row["at most"] else None,
            row["unit"],
            row["gate"],
            row["fact"],
            row["source"],
        )
        for row in _rows("readings.csv")
    }


def _rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader((_FOLDER / name).read_text(encoding="utf-8").splitlines()))
