"""What a subject states: a value to work out, the limit it must keep, and where that limit comes from.

Answers   Requirement                  one thing the build must satisfy, or one figure worth knowing (no limit)
          AtMost, AtLeast, Between     the side of a limit
          Source, SourceKind, Stake    where a limit comes from; what is at stake
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Any

from trialfit.handbook.sources import NO_SOURCE

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import ArrayLike

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.facts.quantity import Quantity

    Worked = Callable[[Evaluation], ArrayLike]


class Stake(StrEnum):
    """What is at stake, the gravest first."""

    safety = "safety"
    durability = "durability"
    comfort = "comfort"


class SourceKind(StrEnum):
    """What sort of source a limit has; anything but `published` and `manual` is weak evidence and is shown as such."""

    published = "published"
    common_practice = "common practice"
    from_memory = "from memory"
    manual = "manual"
    builder = "builder"


@dataclass(frozen=True)
class Source:
    """Where a limit comes from: publication and table, or whose word it is."""

    text: str
    kind: SourceKind


COMMON_PRACTICE = Source(NO_SOURCE, SourceKind.common_practice)
BUILDER = Source("set by the builder", SourceKind.builder)


@dataclass(frozen=True)
class AtMost:
    """The value must not exceed the bound: a number in SI, or a function of the evaluation."""

    bound: float | Worked


@dataclass(frozen=True)
class AtLeast:
    """The value must reach the bound: a number in SI, or a function of the evaluation."""

    bound: float | Worked


@dataclass(frozen=True)
class Between:
    """The value must lie between two bounds; the nearer one is shown as the limit."""

    low: float | Worked
    high: float | Worked


Limit = AtMost | AtLeast | Between


@dataclass(frozen=True)
class Requirement:
    """One thing a build must satisfy.

    id         stable and dotted: subject, what, which: "driveline.working_angle.front"
    about      the part it is about, by name
    says       one sentence: what must be so
    value      works the value out: array of shape (draws,) in SI, or a number
    quantity   what the value is; decides its unit
    limit      the side and bound; None for a figure that is only worth knowing
    source     where the limit comes from
    stake      what is at stake
    formulas   the handbook functions behind it, for `why`
    unit       the unit it is shown in; the quantity's usual one when empty
    turned_by  for a figure: the side a limit of the builder's own would have ("at most" or "at least")
    shows      a sentence with the numbers of this build in it, such as how a rating was converted; asked for only when the
               value could be worked out, and it reads no other facts than the value and its limit
    caution    what to beware of where the work behind it can hurt
    cure       what to do where it fails, as a sentence; without one, other parts or another place are the usual way
    leads      for a figure: what it shows is asked for so often that it stands beside the findings
    """

    id: str
    about: str
    says: str
    value: Worked
    quantity: Quantity
    stake: Stake
    limit: Limit | None = None
    source: Source | None = None
    formulas: tuple[Callable[..., Any], ...] = ()
    unit: str = ""
    turned_by: type[AtMost | AtLeast] = AtMost
    shows: Callable[[Evaluation], str] | None = None
    caution: str = ""
    cure: str = ""
    leads: bool = False

    @property
    def subject(self) -> str:
        """The subject that states it: the first step of the id."""
        return self.id.partition(".")[0]
