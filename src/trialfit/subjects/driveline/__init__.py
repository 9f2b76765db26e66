"""Driveline: the angles of the joints, how evenly the shafts turn, whirling, and room for the suspension to move.

Answers   requirements   everything this subject states for a build
Not here  torque and strength (torque_path); ratios and speeds (gearing)
Ids       driveline.WHAT.WHICH with the place of a joint (front, centre, rear), the name of a shaft ("driveline.whirl.shaft"),
          the side of a half-shaft ("driveline.plunge.left.in"), or the stage of a set of readings
          ("driveline.setting.trial_fit.difference")
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.subjects.driveline import angles, evenness, half_shafts, lengths, setting, whirl

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.requirement import Requirement

SUBJECT = "driveline"
_TOPICS = (angles, evenness, whirl, lengths, half_shafts, setting)


def requirements(build: Build) -> Iterator[Requirement]:
    """What the driveline of a build must do, and the figures."""
    for topic in _TOPICS:
        yield from topic.requirements(build)
