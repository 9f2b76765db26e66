"""Structure: cut members and their reinforcement, small frames, mounts, brackets, and welds.

Answers   requirements   everything this subject states for a build; nothing where the build names no such part
Not here  bolts (fastening); torque in shafts (torque_path); hoisting (lifting)
Ids       structure.WHAT.WHICH with the name of the cut member, the new member, the frame, the mount, the bracket or the weld
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.subjects.structure import (
    brackets,
    frames,
    mounts,
    reinforcement,
    sheet,
    spots,
    weakest,
    weld_sizes,
    welds,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.requirement import Requirement

SUBJECT = "structure"
_TOPICS = (reinforcement, frames, mounts, brackets, welds, weld_sizes, sheet, spots, weakest)


def requirements(build: Build) -> Iterator[Requirement]:
    """What the structure of a build must carry, and the figures."""
    for topic in _TOPICS:
        yield from topic.requirements(build)
