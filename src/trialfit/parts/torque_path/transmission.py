"""Clutch and gearbox."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from trialfit.facts.quantity import ANGLE, COEFFICIENT, COUNT, FORCE, LENGTH, MASS, RATIO, SHARE, TORQUE
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import POSITIVE, Bounds, FactSpec, ListSpec, Part, WordSpec

if TYPE_CHECKING:
    from collections.abc import Iterator


class Clutch(Part):
    """A dry friction clutch on the flywheel. Write its rated torque, or clamp load and facing to calculate it."""

    kind = "clutch"
    place = "clutch"

    release = WordSpec("type of release", "hydraulic", "cable", default="hydraulic")
    rated_torque = FactSpec(
        TORQUE,
        "torque that it carries before it slips, as its maker states it",
        bounds=POSITIVE,
        example="400 N·m, catalogue",
        is_rating=True,
    )
    friction_faces = FactSpec(
        COUNT,
        "number of friction faces: two for one disc",
        bounds=POSITIVE,
        typical="2 ± 0",
        source=NO_SOURCE,
        example="2",
    )
    facing_friction = FactSpec(
        COEFFICIENT,
        "friction of the facing",
        bounds=POSITIVE,
        typical="0.275 ± 0.025",
        source="textbook exercises: 0.25 to 0.30, dry organic facing",
        example="0.275 ± 0.025, catalogue",
    )
    clamp_load = FactSpec(FORCE, "force of the pressure plate at working height", bounds=POSITIVE)
    facing_outside_diameter = FactSpec(
        LENGTH, "outside diameter of the facing", bounds=POSITIVE, example="228 mm, calipered"
    )
    facing_inside_diameter = FactSpec(
        LENGTH, "inside diameter of the facing", bounds=POSITIVE, example="150 mm, calipered"
    )
    condition = WordSpec("whether the facing is new or run in", "new", "run in", default="run in")
    thermal_mass = FactSpec(
        MASS,
        "iron that absorbs the heat of a start: flywheel and pressure plate",
        bounds=POSITIVE,
        typical="12 ± 4 kg",
        source=NO_SOURCE,
    )

    def faults(self) -> Iterator[tuple[str, str]]:
        """A facing is a ring."""
        outside, inside = self.facing_outside_diameter.written, self.facing_inside_diameter.written
        if outside and inside and inside.si >= outside.si:
            other = f"{self.name}.facing_outside_diameter ({outside})"
            wanted = "expected the inside of the ring, for example 150 mm of 228 mm"
            yield "facing_inside_diameter", f"is {inside}, not smaller than {other}: {wanted}"


class Gearbox(Part):
    """The gearbox, from the clutch to the output flange or yoke."""

    kind = "gearbox"
    place = "gearbox"

    ratios = ListSpec(RATIO, "forward ratios from first gear up", bounds=POSITIVE, least=1, example="3.63")
    reverse_ratio = FactSpec(RATIO, "ratio of reverse", bounds=POSITIVE, example="3.37")
    efficiency = FactSpec(
        SHARE,
        "efficiency: share of the power that comes out",
        bounds=Bounds(above=0, at_most=1),
        typical="96.5 ± 1 %",
        source="from memory: 96 to 97 %, a direct gear 98 %",
        example="96.5 ± 1 %, guess",
    )
    rated_torque = FactSpec(
        TORQUE,
        "rated torque, at the place named in rated_at",
        bounds=POSITIVE,
        example="370 N·m, catalogue",
        is_rating=True,
    )
    rated_at = WordSpec("place for which its maker states the rating", "input", "output", default="input")
    output_x = FactSpec(
        LENGTH, "centre of the joint on its output: forward of the front axle is positive", example="-915 mm, taped"
    )
    output_y = FactSpec(
        LENGTH,
        "centre of the joint on its output: to the left of the middle of the car is positive",
        example="12 mm, taped",
    )
    output_z = FactSpec(LENGTH, "centre of the joint on its output: above the ground", example="346 mm, taped")
    output_inclination = FactSpec(ANGLE, "how far the output shaft drops towards the rear; level is zero")
    output_heading = FactSpec(
        ANGLE,
        "how far the output shaft points to the left, looking rearward along it; straight is zero",
        typical="0 ± 0.5 deg",
        source=f"{NO_SOURCE}: mounted straight ahead",
        example="0 ± 0.4°, taped",
    )

    def faults(self) -> Iterator[tuple[str, str]]:
        """First gear is the shortest: ratios fall from gear to gear."""
        ratios = [ref.written for ref in self.ratios if ref.written]
        for number, (lower, higher) in enumerate(pairwise(ratios), 2):
            if higher.si >= lower.si:
                yield (
                    f"ratios.{number}",
                    f"is {higher}, not below the gear before it ({lower}): write the ratios from first gear up",
                )
