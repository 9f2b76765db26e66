"""The brakes of one axle."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import AREA, COEFFICIENT, COUNT, LENGTH, PRESSURE
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import POSITIVE, Bounds, FactSpec, Part, WordSpec

if TYPE_CHECKING:
    from collections.abc import Iterator


class Brake(Part):
    """The service brakes of one axle: both sides alike.

    The same line pressure is assumed at both axles, except behind the valve. With two master cylinders and a balance bar, write piston
    areas that are corrected for them.
    """

    kind = "brake"

    axle = WordSpec("the axle it is on", "front", "rear", default="rear")
    design = WordSpec("type of brake", "disc", "drum", default="disc")
    piston_diameter = FactSpec(
        LENGTH,
        "diameter of one piston of the caliper, or of the wheel cylinder of a drum",
        bounds=POSITIVE,
        example="48 mm, calipered",
    )
    piston_count = FactSpec(
        COUNT,
        "number of pistons of that diameter on one side of one disc: usually 1 for a sliding caliper, 2 for four opposed pistons",
        bounds=POSITIVE,
        example="1",
    )
    piston_area = FactSpec(
        AREA,
        "total area of the pistons on one side of one disc, if their sizes differ; replaces diameter and count",
        bounds=POSITIVE,
        example="18.1 cm², computed",
    )
    effective_radius = FactSpec(
        LENGTH,
        "effective radius: hub centre to pad centre; for a drum, half its inside diameter",
        bounds=POSITIVE,
        example="104 mm, taped",
    )
    pad_friction = FactSpec(
        COEFFICIENT,
        "friction between pads and disc",
        bounds=POSITIVE,
        typical="0.38 +0.12/-0.10",
        source=f"{NO_SOURCE}: road pads 0.28 to 0.50; the maker's figure outranks it",
        example="0.38 ± 0.05, guess",
        lax="either",
    )
    brake_factor = FactSpec(
        COEFFICIENT,
        "brake factor of a drum: friction force at the drum over the force of one wheel-cylinder piston",
        bounds=POSITIVE,
        typical="2.0 +3.0/-0.5",
        source=f"{NO_SOURCE}: 1.5 for one leading and one trailing shoe, 3 for two leading shoes, 5 for shoes that assist each other",
        example="2.0 ± 0.5, guess",
        lax="either",
    )
    valve = WordSpec(
        "pressure valve of the rear brakes: above its knee point a limiting valve holds the pressure constant, a reducing valve makes it rise more slowly",
        "none",
        "limiting",
        "reducing",
    )
    valve_pressure = FactSpec(
        PRESSURE,
        "knee point: line pressure at which the valve starts to reduce the rear pressure, car loaded as driven",
        bounds=POSITIVE,
        example="35 ± 3 bar, manual",
    )
    valve_slope = FactSpec(
        COEFFICIENT,
        "slope above the knee point: rise of the rear pressure over rise of the front pressure; for a reducing valve",
        bounds=Bounds(at_least=0, at_most=1),
        example="0.35 ± 0.05, manual",
    )

    @property
    def claims(self) -> str | None:
        """One pair of brakes per axle."""
        return f"{self.axle} brakes"

    def faults(self) -> Iterator[tuple[str, str]]:
        """A valve belongs to the rear brakes, and its figures need a valve."""
        for name in ("valve", "valve_pressure", "valve_slope"):
            if self.axle == "front" and self.values.get(name) not in (None, "none"):
                yield name, "is written for the front brakes: the valve acts on the rear brakes, write it there"
        if self.piston_area.written and self.piston_diameter.written:
            yield (
                "piston_area",
                f"is {self.piston_area.written}, and {self.name}.piston_diameter is written too: expected one of them",
            )
        if self.valve == "none":
            for ref in (self.valve_pressure, self.valve_slope):
                if ref.written:
                    yield ref.spec.name, f'is {ref.written}, but {self.name}.valve is "none"'
