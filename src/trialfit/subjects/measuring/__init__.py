"""Measuring: are the readings good enough for their finding, is one an outlier, do methods agree; tolerance stacks; and facts
that say the same thing twice.

Answers   requirements   everything this subject states for a build
Not here  what to measure next, and writing a fact from readings (advice)
Ids       measuring.PART.WHAT: "measuring.plunge_by_rule.spread", "measuring.sump_gap.smallest_at_worst"; measuring.agree.PART.WHAT
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.parts import Measurement, Stack
from trialfit.subjects.measuring import agreeing, one_measurement, stacks, twice

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.requirement import Requirement

SUBJECT = "measuring"


def requirements(build: Build) -> Iterator[Requirement]:
    """What the readings and chains of a build must do, and the figures."""
    for measurement in build.all(Measurement):
        yield from one_measurement.requirements(measurement)
        yield from agreeing.requirements(build, measurement)
    for stack in build.all(Stack):
        yield from stacks.requirements(stack)
    yield from twice.requirements(build)
