"""What a part of a build hands out for a fact: where it stands in the build and what was written, if anything.

Answers   FactRef, CurveRef   one fact, one curve of one part
          Unusual             a value outside of what is usual, in words
          paths_of            where a fact stands, and the path that its draws are seeded by
Not here  what a kind of part declares (declaring.py, lists_and_curves.py); what is usual (ranges.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from trialfit.facts.measure import measure_text
from trialfit.facts.units import to_si
from trialfit.parts.old_names import drawn_as
from trialfit.parts.ranges import confirmed

if TYPE_CHECKING:
    from trialfit.facts.curve import Curve
    from trialfit.facts.fact import Fact
    from trialfit.parts.declaring import FactSpec, Part
    from trialfit.parts.lists_and_curves import CurveSpec


class Unusual(NamedTuple):
    """A value outside of what is usual, and what is usual, in words."""

    value: str
    usual: str

    def __str__(self) -> str:
        return f"{self.value}, usual is {self.usual}"


@dataclass(frozen=True)
class FactRef:
    """One fact of one part: `path` such as "shaft.length", its declaration, and what was written (None: nothing).

    `drawn_as` is the path that its draws are seeded by: under the first name that the fact had.
    """

    path: str
    spec: FactSpec
    written: Fact | None
    drawn_as: str

    @property
    def known(self) -> Fact | None:
        """What was written, else the typical value of the kind, else None."""
        return self.written or self.spec.typical_fact

    @property
    def unusual(self) -> Unusual | None:
        """What was written and what is usual, where it is outside of that and its note does not confirm it."""
        fact = self.written
        if fact is None or self.spec.range.is_usual(fact.si) or confirmed(fact.note):
            return None
        return Unusual(fact.plain, self.spec.range.usual_in_words)

    @property
    def is_typical(self) -> bool:
        """Whether the typical value is used because the fact is missing."""
        return self.written is None and self.spec.typical_fact is not None


@dataclass(frozen=True)
class CurveRef:
    """One curve of one part: `path`, its declaration, what was written (None: nothing), and the path that seeds its draws."""

    path: str
    spec: CurveSpec
    written: Curve | None
    drawn_as: str

    @property
    def unusual(self) -> Unusual | None:
        """As of a fact: what is usual is said of the largest value of a curve, upward and along."""
        curve = self.written
        if curve is None or confirmed(curve.note):
            return None
        ends = ((self.spec.y_range, curve.written_y, curve.y_unit), (self.spec.x_range, curve.written_x, curve.x_unit))
        for usual, written, unit in ends:
            if not usual.is_usual(float(to_si(max(written), unit))):
                return Unusual(f"up to {measure_text(max(written), unit, None)}", usual.usual_in_words)
        return None


def paths_of(part: Part, fact: str) -> tuple[str, str]:
    """The path of a fact, and the path that its draws are seeded by."""
    return f"{part.name}.{fact}", f"{part.name}.{drawn_as(part.kind, fact)}"
