"""Jobs, waits, loose ends and gates as plain data.

Answers   Job, Hours, Wait, Need      a piece of work, how long it takes, what passes after it without work, what it needs
          LooseEnd                    a temporary state that a job leaves, and what closes it
          Gate                        an event before which no loose end may be open
          Usual                       a reading taken while working, with its limits
Not here  which of them a build has (network.py); what has been done (work.py, states.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property


class NeedKind(StrEnum):
    """What a prerequisite is."""

    job = "job"
    part = "part"
    finding = "finding"
    reading = "reading"
    gate = "gate"


LETTERS = {"p": NeedKind.part, "f": NeedKind.finding, "m": NeedKind.reading, "g": NeedKind.gate}
"""The letter in front of a prerequisite that is not a job: "p:gasket"."""


@dataclass(frozen=True)
class Need:
    """One prerequisite: a job finished, a part arrived, findings that hold, a reading in the book, a gate passed."""

    kind: NeedKind
    name: str

    def __str__(self) -> str:
        letter = {kind: letter for letter, kind in LETTERS.items()}.get(self.kind)
        return f"{letter}:{self.name}" if letter else self.name


@dataclass(frozen=True)
class Hours:
    """Working hours of one job, h: low, likely and high, 0 < low <= likely <= high."""

    low: float
    likely: float
    high: float


@dataclass(frozen=True)
class Wait:
    """Time that passes after a job without work: days from `low` to `high`.

    `temperature` is the least at which it counts (°C, None: any), `place` what stays occupied until it is over ("":
    nothing).
    """

    what: str
    low: float
    high: float
    temperature: float | None = None
    place: str = ""

    @property
    def likely(self) -> float:
        """The middle, days."""
        return (self.low + self.high) / 2


@dataclass(frozen=True)
class Job:
    """One piece of work. `id` is stable; `part` is the part it is for where there is one job for each."""

    id: str
    title: str
    hours: Hours
    needs: tuple[Need, ...] = ()
    leaves: tuple[str, ...] = ()
    readings: tuple[str, ...] = ()
    gate: str = ""
    people: int = 1
    uses: tuple[str, ...] = ()
    is_loud: bool = False
    waits: tuple[Wait, ...] = ()
    tools: str = ""
    sheets: str = ""
    undone_by: tuple[str, ...] = ()
    cautions: str = ""
    part: str = ""
    is_own: bool = False

    @cached_property
    def jobs_needed(self) -> tuple[str, ...]:
        """The ids of the jobs that must be finished."""
        return tuple(need.name for need in self.needs if need.kind is NeedKind.job)

    @cached_property
    def other_needs(self) -> tuple[Need, ...]:
        """The prerequisites that are not jobs."""
        return tuple(need for need in self.needs if need.kind is not NeedKind.job)

    @cached_property
    def takes(self) -> tuple[str, ...]:
        """The tools and places that are taken meanwhile: those it uses, and those that a wait after it keeps."""
        return tuple(dict.fromkeys((*self.uses, *(wait.place for wait in self.waits if wait.place))))

    def needed(self, kind: NeedKind) -> tuple[str, ...]:
        """The names of its prerequisites of one kind."""
        return tuple(need.name for need in self.needs if need.kind is kind)


@dataclass(frozen=True)
class LooseEnd:
    """A temporary state: `job` leaves it, one of `closed_by` closes it, or a finding or reading `closed_by_reading`."""

    id: str
    says: str
    job: str
    gate: str
    closed_by: tuple[str, ...] = ()
    closed_by_reading: str = ""
    where: str = ""


@dataclass(frozen=True)
class Gate:
    """An event before which no loose end may be open, with its job and the findings that it checks ("*": all)."""

    id: str
    title: str
    job: str
    findings: tuple[str, ...] = ()


@dataclass(frozen=True)
class Usual:
    """A reading taken while working. Limits are in `unit`; without limits the reading is only kept. `fact` is the fact
    that it measures, "" if none. `gate` is the one before which it is taken.
    """

    name: str
    says: str
    quantity: str
    at_least: float | None
    at_most: float | None
    unit: str
    gate: str
    fact: str
    source: str
