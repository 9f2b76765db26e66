"""Fastening: is each bolted joint tightened to the right figure, and does it hold.

Answers   requirements   everything this subject states for a build
Not here  the order and the stages as a page (advice/how_to_tighten.py); wheel studs under drive (torque_path)
Ids       fastening.JOINT.WHAT, with the joint's name: "fastening.sump.preload_share"
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.parts import BoltedJoint
from trialfit.subjects.fastening import faces, holding, threads, torque_figures, wrenches
from trialfit.subjects.fastening.joints import SUBJECT

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.requirement import Requirement

__all__ = ["SUBJECT", "requirements"]


def requirements(build: Build) -> Iterator[Requirement]:
    """What each bolted joint of a build must satisfy, and its figures; nothing while none is written."""
    for joint in build.all(BoltedJoint):
        yield from torque_figures.requirements(joint)
        yield from threads.requirements(joint)
        yield from faces.requirements(joint)
        yield from holding.requirements(joint)
        yield from wrenches.requirements(build, joint)
