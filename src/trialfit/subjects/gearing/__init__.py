"""Gearing: do the engine, the ratios and the tyres suit each other, and how will the car go.

Answers   requirements   everything this subject states for a build
Not here what the drivetrain carries (torque_path); angles and speeds of the shafts (driveline)
Ids       gearing.WHAT.WHICH, with the gear's number ("gearing.top_speed.4"), the two gears of a shift
          ("gearing.gap.1_2"), or the place of a cruise speed in the builder's list ("gearing.cruise.1")
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.subjects.gearing import cruising, first_gear, pull, running, speedometer, starting, steps, tyre_ratings

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.requirement import Requirement

SUBJECT = "gearing"
_TOPICS = (steps, cruising, pull, first_gear, starting, running, speedometer, tyre_ratings)


def requirements(build: Build) -> Iterator[Requirement]:
    """What the gearing of a build must do, and the figures."""
    for topic in _TOPICS:
        yield from topic.requirements(build)
