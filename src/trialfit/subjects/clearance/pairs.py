"""Which two bodies of a build are looked at together; it follows from the parts alone.

Answers   Pair         two bodies, and the axes in which they are held against each other
          the_pairs    all of a build
          are_joined   whether one is bolted to the other
          ask_sort     what a solid is, where its name alone says that it may be hot, fuel, brake line or wire
          burns, chafes    whether heat, or a moving part, comes beside fuel, brake fluid or wire
Not here  how far they are apart (gaps.py); the required clearance (wanted.py)
Rule      Every solid of the drivetrain with every solid of the car, and every shaft with both. What burns or chafes is looked at
          whatever it is fixed to: both on the car, or both on the drivetrain. What is bolted together needs no clearance, but
          nothing excuses heat, or a turning shaft, beside fuel, brake fluid or wire.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

from trialfit.evaluation.evaluation import MissingFact
from trialfit.parts import HalfShaft, Solid
from trialfit.subjects.clearance.moving import CAR, OWN
from trialfit.subjects.clearance.shafts import the_shafts
from trialfit.subjects.clearance.shapes import group, surroundings
from trialfit.subjects.shaft_line import name_in_ids

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.subjects.clearance.shafts import Shaft

DELICATE = frozenset({"fuel", "brake line", "wire"})
"""What must not get hot or chafe."""
ACCESS = "access"


@dataclass(frozen=True)
class Pair:
    """Two bodies; `axes` are CAR, or OWN where both are fixed to the drivetrain and only their own travel counts."""

    one: Solid | Shaft
    other: Solid
    axes: str = CAR

    def id(self, build: Build) -> str:
        """The id of its finding."""
        return f"clearance.gap.{name_in_ids(build, self.one)}.{name_in_ids(build, self.other)}"


def kind_of(part: Solid | Shaft) -> str:
    """What sort of neighbour a body is: a shaft moves; what is not written goes by what its name says."""
    return part.said_by_name or str(part.neighbour) if isinstance(part, Solid) else "moving"


def ask_sort(*parts: Solid | Shaft) -> None:
    """Raises MissingFact for a solid whose neighbour is not written and whose name says that it may be no plain one."""
    wanted = {
        f"{part.name}.neighbour": f'by its name it may be {said}: write neighbour = "{said}", or "plain" if it is none'
        for part in parts
        if isinstance(part, Solid) and (said := part.said_by_name)
    }
    if wanted:
        raise MissingFact(wanted)


def burns(one: Solid | Shaft, other: Solid | Shaft) -> bool:
    """Whether one is hot and the other fuel, brake fluid or wire."""
    return _beside("hot", one, other)


def chafes(one: Solid | Shaft, other: Solid | Shaft) -> bool:
    """Whether one moves and the other is fuel, brake fluid or wire."""
    return _beside("moving", one, other)


def _beside(kind: str, one: Solid | Shaft, other: Solid | Shaft) -> bool:
    kinds = kind_of(one), kind_of(other)
    return kind in kinds and bool(DELICATE.intersection(kinds))


def are_joined(build: Build, one: Solid | Shaft, other: Solid | Shaft) -> bool:
    """Whether one is bolted to the other."""
    return any(
        isinstance(each, Solid) and build.named(each.touches) is beside for each, beside in ((one, other), (other, one))
    )


def the_pairs(build: Build) -> Iterator[Pair]:
    """Every pair of a build that is looked at."""
    ours, theirs, shafts = group(build), surroundings(build), the_shafts(build)
    for one in ours:
        for other in theirs:
            if burns(one, other) or not are_joined(build, one, other):
                yield Pair(one, other)
    for solids, axes in ((theirs, CAR), (ours, OWN)):
        for one, other in combinations(solids, 2):
            if burns(one, other) or (chafes(one, other) and not are_joined(build, one, other)):
                yield Pair(*((other, one) if kind_of(one) in DELICATE else (one, other)), axes)
    for shaft in shafts:
        for other in (*theirs, *ours):
            if other.neighbour != ACCESS and _is_beside(shaft, other) and not _is_excused(build, shaft, other):
                yield Pair(shaft, other)


def _is_excused(build: Build, shaft: Shaft, other: Solid) -> bool:
    """Whether a shaft carries the solid: no hose, pipe or wire may touch what turns."""
    return are_joined(build, shaft, other) and not chafes(shaft, other)


def _is_beside(shaft: Shaft, other: Solid) -> bool:
    """Whether a shaft is looked at with a solid: not a prop shaft with the drivetrain that it comes out of, unless that burns or chafes."""
    return isinstance(shaft, HalfShaft) or other.fixed_to == "car" or kind_of(other) != "plain"
