"""What a subject states: a value to work out, the limits it must keep, and where each of them comes from.

Answers   Requirement                  one thing the build must satisfy, or one figure worth knowing (no limit)
          Limit                        one limit as a row of data: ours, the maker's, the builder's, one of a code of practice
          AtMost, AtLeast, Between     the side of a limit
          Source, SourceKind, Stake    where a limit comes from; what is at stake
Not here  limits held against a value, and which of them decides (limits.py)
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING, Any

from trialfit.handbook.sources import NO_SOURCE

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import ArrayLike

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.states import InStates
    from trialfit.facts.quantity import Quantity

    Worked = Callable[[Evaluation], ArrayLike | InStates]


class Stake(StrEnum):
    """What is at stake, the most serious first."""

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


Side = AtMost | AtLeast | Between


@dataclass(frozen=True)
class Limit:
    """One limit of a requirement, as a row of data.

    id           tells it from the other limits of its requirement: "stated" by the subject, "written" in the build, or the
                 name of a row of a table, such as "code_4_2"
    side         side and bound: AtMost, AtLeast or Between
    source       the document it stands in or whose word it is, and how it was seen
    clause       where in the document
    edition      which edition of it
    load_state   the state of the car in which it counts, such as "laden"; empty where it counts in any. Where the value is
                 worked out in states, it counts in those of that name alone
    replaced_by  the id of the limit that counts in its place; empty where it counts itself
    """

    id: str
    side: Side
    source: Source
    clause: str = ""
    edition: str = ""
    load_state: str = ""
    replaced_by: str = ""


STATED, WRITTEN = "stated", "written"
_OURS = (SourceKind.published, SourceKind.common_practice, SourceKind.from_memory)


@dataclass(frozen=True)
class Requirement:
    """One thing a build must satisfy.

    id         stable and dotted: subject, what, which: "driveline.working_angle.front"
    about      the part it is about, by name
    says       one sentence: what must be so
    value      works the value out: array of shape (draws,) in SI, or a number, or InStates: one column for each state
    quantity   what the value is; decides its unit
    limit      the side and bound of the limit that the subject states; None for a figure that is only worth knowing
    source     where that limit comes from
    also       further limits that count beside it: of makers, of codes of practice
    own        the limit that is written in the build for it; not stated by a subject
    stake      what is at stake
    formulas   the handbook functions behind it, for `why`
    unit       the unit it is shown in; the quantity's usual one when empty
    turned_by  for a figure: the side a limit of the builder's own would have ("at most" or "at least")
    shows      a sentence with the numbers of this build in it, such as how a rating was converted; asked for only when the
               value could be worked out, and it reads no other facts than the value and its limit
    caution    what to beware of where the work behind it can hurt
    cure       what to do where it fails, as a sentence; without one, other parts or another place are the usual way
    leads      for a figure: what it shows is asked for so often that it stands beside the findings
    away       how far it is from mattering, asked only when a build is worked out: listed while this is finite, the nearest
               first; only counted where it is infinite; not listed where it is None, since another finding speaks for it
    """

    id: str
    about: str
    says: str
    value: Worked
    quantity: Quantity
    stake: Stake
    limit: Side | None = None
    source: Source | None = None
    formulas: tuple[Callable[..., Any], ...] = ()
    unit: str = ""
    turned_by: type[AtMost | AtLeast] = AtMost
    shows: Callable[[Evaluation], str] | None = None
    caution: str = ""
    cure: str = ""
    leads: bool = False
    also: tuple[Limit, ...] = ()
    own: Limit | None = None
    away: Callable[[Evaluation], float | None] | None = None

    @property
    def limits(self) -> tuple[Limit, ...]:
        """Every limit, first the one the subject states. That one alone can be replaced: by the one written in the build, else,
        where it is our own, by a maker's.

        >>> from trialfit.facts.quantity import LENGTH
        >>> maker = Limit("maker", AtLeast(0.012), Source("manual", SourceKind.manual))
        >>> gap = Requirement("a.gap", "sump", "keeps clear", lambda ev: 0.02, LENGTH, Stake.comfort, AtLeast(0.01), COMMON_PRACTICE)
        >>> [(one.id, one.replaced_by) for one in replace(gap, also=(maker,)).limits]
        [('stated', 'maker'), ('maker', '')]
        """
        beside = (*self.also, *((self.own,) if self.own else ()))
        if self.limit is None:
            return beside
        stated = Limit(STATED, self.limit, self.source or BUILDER)
        makers = (one for one in self.also if one.source.kind is SourceKind.manual)
        instead = self.own or (next(makers, None) if stated.source.kind in _OURS else None)
        return (replace(stated, replaced_by=instead.id) if instead else stated, *beside)

    @property
    def subject(self) -> str:
        """The subject that states it: the first step of the id."""
        return self.id.partition(".")[0]
