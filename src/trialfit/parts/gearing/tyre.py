"""Tyres."""

from __future__ import annotations

from trialfit.facts.quantity import COEFFICIENT, LENGTH
from trialfit.handbook.gearing.tyres import read_size
from trialfit.parts.declaring import POSITIVE, CodeSpec, FactSpec, Part, WordSpec


class Tyre(Part):
    """The tyres of one axle: both sides alike."""

    kind = "tyre"

    axle = WordSpec("the axle it is on", "front", "rear", default="rear")
    size = CodeSpec("size as printed on the sidewall", check=read_size, example="205/55 R16")
    circumference = FactSpec(
        LENGTH, "distance rolled in one turn, measured with the car loaded", bounds=POSITIVE, example="1.86 m, taped"
    )
    circumference_factor = FactSpec(
        COEFFICIENT,
        "true rolling circumference over the one calculated from the size",
        bounds=POSITIVE,
        typical="1 ± 1.5 %",
        source="ETRTO rule from memory; one published data fit lies 0.75 % higher",
        example="1 ± 1.5 %, guess",
    )

    @property
    def claims(self) -> str | None:
        """One size of tyre per axle."""
        return f"{self.axle} tyres"
