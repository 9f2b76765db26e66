"""Lifting: what hangs on the hook and how it tilts, the legs of the sling, the crane at its reach, and the stands.

Answers   requirements   everything this subject states for a build; nothing where the build names no lift and no stands
Not here  mounts and brackets (structure)
Ids       lifting.WHAT.WHICH with the name of the lift, of the sling leg, or of the stands
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.subjects.lifting import crane, eye_bolts, hoisting, legs, over_the_car, stands, way

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.requirement import Requirement

SUBJECT = "lifting"
_TOPICS = (crane, over_the_car, legs, eye_bolts, hoisting, way, stands)


def requirements(build: Build) -> Iterator[Requirement]:
    """The requirements of every hoist and every set of stands of a build, and their figures."""
    for topic in _TOPICS:
        yield from topic.requirements(build)
