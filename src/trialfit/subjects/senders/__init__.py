"""Senders and gauges: does the needle read true, does the lamp light in time, and which resistors correct it.

Answers   requirements   everything this subject states for a build
Not here  whether a sender screws into its port (ports)
Ids       senders.GAUGE.WHAT: "senders.water_gauge.reading_at_limit", "senders.oil_lamp.warning"
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.parts import Gauge
from trialfit.subjects.senders import another_sender, needle, resistors, switches
from trialfit.subjects.senders.media import is_lamp

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.requirement import Requirement

SUBJECT = "senders"


def requirements(build: Build) -> Iterator[Requirement]:
    """What the gauges and lamps of a build must do, and the figures."""
    for gauge in build.all(Gauge):
        if is_lamp(build, gauge):
            yield from switches.requirements(gauge)
        else:
            yield from needle.requirements(gauge, another_sender.what_helps)
            yield from resistors.requirements(gauge)
            yield from another_sender.requirements(gauge)
