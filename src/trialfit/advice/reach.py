"""What can still be measured on a build at its present stage.

Answers   ways_at   the instruments for one fact of a build; none for a reading of an earlier stage
Not here  the instruments themselves (instruments.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.advice.instruments import Ways, ways_to_get
from trialfit.parts import AngleReadings
from trialfit.parts.driveline.angle_readings import STAGES

if TYPE_CHECKING:
    from trialfit.advice.supposing import FactAt
    from trialfit.book.build import Build

_PAST = (
    "It was read at an earlier stage and cannot be read again. Take the readings of the present stage with a finer "
    "gauge, use the mean of several readings, and allow margin for this one."
)


def ways_at(build: Build, at: FactAt) -> Ways:
    """How to get that fact of that build, now."""
    if isinstance(at.part, AngleReadings) and _is_past(build, at.part):
        return Ways((), helps=_PAST)
    return ways_to_get(at.part.kind, at.key, at.quantity, at.value)


def _is_past(build: Build, readings: AngleReadings) -> bool:
    """Whether readings of a later stage have been taken."""
    taken = [STAGES.index(str(one.stage)) for one in build.all(AngleReadings)]
    return STAGES.index(str(readings.stage)) < max(taken)
