"""Clearance: does the drivetrain in its present place clear the car and the ground, and can it be removed.

Answers   requirements   everything this subject states for a build
Not here  the best place for it (trialfit place); joint angles and the slip of the shaft (driveline)
Ids       clearance.gap.ONE.OTHER, clearance.rock, clearance.ground.SOLID, clearance.removal.SOLID, clearance.hoist,
          clearance.lever.EDGE, clearance.level, clearance.rear_share, clearance.readings.POINT; clearance.place.SOLID where a place is not known
A build without solids is skipped.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.parts import Drivetrain, Opening, Solid, TapedPoint

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.requirement import Requirement

SUBJECT = "clearance"


def requirements(build: Build) -> Iterator[Requirement]:
    """What the place of the drivetrain must satisfy."""
    if not any(build.all(kind) for kind in (Solid, Drivetrain, Opening, TapedPoint)):
        return
    from trialfit.subjects.clearance import gaps, mounted, place, taped, way_out

    yield from taped.requirements(build)
    yield from gaps.requirements(build)
    yield from mounted.requirements(build)
    yield from way_out.requirements(build)
    yield from place.requirements(build)
