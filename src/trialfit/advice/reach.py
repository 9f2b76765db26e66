"""What can still be measured on a build at its present stage.

Answers   ways_at   the instruments for one fact of a build; none for a reading of an earlier stage, or for a wish
          is_wish   whether a fact is the builder's own choice, which is decided and not measured
Not here  the instruments themselves (instruments.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.advice.instruments import Ways, ways_to_get
from trialfit.parts import AngleReadings
from trialfit.parts.declaring import FactSpec
from trialfit.parts.driveline.angle_readings import STAGES

if TYPE_CHECKING:
    from trialfit.advice.supposing import FactAt
    from trialfit.book.build import Build

_PAST = (
    "It was read at an earlier stage and cannot be read again. Take the readings of the present stage with a finer "
    "gauge, use the mean of several readings, and allow margin for this one."
)
_DECIDE = "It is your own choice: decide it, and write it without a spread."


def ways_at(build: Build, at: FactAt) -> Ways:
    """How to get that fact of that build, now."""
    if isinstance(at.part, AngleReadings) and _is_past(build, at.part):
        return Ways((), helps=_PAST)
    ways = ways_to_get(at.part.kind, at.key, at.quantity, at.value)
    if not is_wish(at):
        return ways
    asked = tuple(one for one in ways.instruments if one.is_asked)
    return Ways(asked, helps="" if asked else ways.helps if ways.is_apart and ways.helps else _DECIDE)


def is_wish(at: FactAt) -> bool:
    """Whether a fact is a target, a setting or a choice of the builder."""
    return isinstance(at.spec, FactSpec) and at.spec.is_wish


def _is_past(build: Build, readings: AngleReadings) -> bool:
    """Whether readings of a later stage have been taken."""
    taken = [STAGES.index(str(one.stage)) for one in build.all(AngleReadings)]
    return STAGES.index(str(readings.stage)) < max(taken)
