"""Ports, threads and lines: is every opening closed, do mating parts match, and what seals them.

Answers   requirements   everything this subject states for a build
Not here  the run of fittings to buy (advice/joining.py); what a sender shows (senders); flow and pressure loss
Ids       ports.PORT.WHAT, by the port's name: "ports.oil_gallery.plugged", "ports.oil_gallery.mates"
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.subjects.ports import bosses, identity, joints, openings, ratings, tapped

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.requirement import Requirement

SUBJECT = "ports"
_TOPICS = (openings, joints, identity, ratings, tapped, bosses)


def requirements(build: Build) -> Iterator[Requirement]:
    """What the ports of a build must satisfy, and the figures."""
    for topic in _TOPICS:
        yield from topic.requirements(build)
