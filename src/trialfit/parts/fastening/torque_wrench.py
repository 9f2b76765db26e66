"""The torque wrench that joints are tightened with."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import LENGTH, SHARE, TORQUE
from trialfit.parts.declaring import POSITIVE, FactSpec, Part, WordSpec

if TYPE_CHECKING:
    from collections.abc import Iterator


class TorqueWrench(Part):
    """A torque wrench."""

    kind = "torque_wrench"

    largest = FactSpec(TORQUE, "largest reading on its scale", bounds=POSITIVE)
    smallest = FactSpec(TORQUE, "smallest reading on its scale; a fifth of the largest if missing", bounds=POSITIVE)
    unit = WordSpec("unit of its scale", "N·m", "lbf·ft", "lbf·in", "kgf·m", default="N·m")
    reading_error = FactSpec(
        SHARE,
        "wrench error, positive when it over-tightens",
        typical="0 ± 8 %",
        source="from memory: ISO 6789 allows 4 % above 10 N·m when new; twice that after years without a check: common practice, no source",
    )
    length = FactSpec(LENGTH, "length from its drive square to the hand mark on the grip", bounds=POSITIVE)

    def faults(self) -> Iterator[tuple[str, str]]:
        """A scale has two ends."""
        low, high = self.smallest.written, self.largest.written
        if low and high and low.si >= high.si:
            yield (
                "smallest",
                f"is {low}, not below {self.name}.largest ({high}): expected a range, for example 40 to 200 N·m",
            )
