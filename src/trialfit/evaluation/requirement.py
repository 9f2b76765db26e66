"""What a subject states: a value to work out, its limits, and the source of each limit.

Answers   Requirement                  one thing the build must satisfy, or one figure worth knowing (no limit)
          Limit                        one limit as a row of data: ours, the maker's, the builder's, one of a code of practice
          AtMost, AtLeast, Between     the side of a limit
          Source, SourceKind, Stake    source of a limit; what is at stake
Not here  a value compared with its limits, and which one decides (limits.py)
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
    """The kind of source of a limit; anything but `published` and `manual` is weak evidence and is shown as such."""

    published = "published"
    common_practice = "common practice"
    from_memory = "from memory"
    manual = "manual"
    builder = "builder"


@dataclass(frozen=True)
class Source:
    """The source of a limit: publication and table, or a person."""

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
    """The value must be between two limits; the nearer one is shown."""

    low: float | Worked
    high: float | Worked


Side = AtMost | AtLeast | Between


@dataclass(frozen=True)
class Limit:
    """One limit of a requirement, as a row of data.

    id           tells it from the other limits of its requirement: "stated" by the subject, "written" in the build, or the
                 name of a row of a table, such as "code_4_2"
    side         side and bound: AtMost, AtLeast or Between
    source       the document or person it comes from, and how it was seen
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
    says       one sentence: the requirement
    value      works the value out: array of shape (draws,) in SI, or a number, or InStates: one column for each state
    quantity   what the value is; decides its unit
    limit      the side and bound of the limit that the subject states; None for a figure that is only worth knowing
    source     the source of that limit
    also       further limits that apply too: of makers, of codes of practice
    own        the limit that is written in the build for it; not stated by a subject
    stake      what is at stake
    formulas   the handbook functions behind it, for `why`
    unit       the unit it is shown in; the quantity's usual one when empty
    turned_by  for a figure: the side a limit of the builder's own would have ("at most" or "at least")
    shows      a sentence with the numbers of this build in it, such as how a rating was converted; called only if
               the value could be worked out; it reads no other facts than the value and its limit
    caution    a caution, if the work behind it can hurt
    cure       what to do if it fails, as a sentence; without one, another part or place is the usual cure
    leads      for a figure: it is needed so often that it is shown with the findings
    away       how far it is from mattering, called only when a build is worked out: listed if this is finite, the nearest
               first; only counted if it is infinite; not listed if it is None, because another finding covers it
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
        """Every limit, first the one that the subject states. Only that one can be replaced: by the one written in the build, else,
        if it is our own, by a maker's.

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
