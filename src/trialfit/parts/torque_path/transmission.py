"""Clutch or torque converter, gearbox and transfer case."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from trialfit.facts.quantity import (
    ANGLE,
    COEFFICIENT,
    COUNT,
    FORCE,
    LENGTH,
    MASS,
    RATIO,
    ROTATIONAL_SPEED,
    SHARE,
    TORQUE,
)
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import POSITIVE, Bounds, FactSpec, Part, WordSpec
from trialfit.parts.lists_and_curves import ListSpec

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
        lax="low",
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


class TorqueConverter(Part):
    """A torque converter in place of a clutch, in front of an automatic gearbox."""

    kind = "torque_converter"
    place = "clutch"

    stall_torque_ratio = FactSpec(
        COEFFICIENT,
        "torque ratio at stall: torque that leaves it over the engine's, its output held still",
        bounds=Bounds(at_least=1),
        example="2.1 ± 0.1, catalogue",
    )
    stall_speed = FactSpec(
        ROTATIONAL_SPEED,
        "engine speed at full throttle with its output held still",
        bounds=POSITIVE,
        example="2200 rpm, catalogue",
    )
    stall_speed_torque = FactSpec(
        TORQUE,
        "engine torque that its stall speed is stated for; leave it out where it is that of this engine",
        bounds=POSITIVE,
        example="150 N·m, catalogue",
    )
    rated_torque = FactSpec(
        TORQUE,
        "largest torque of the engine that it is made for",
        bounds=POSITIVE,
        example="280 N·m, catalogue",
        is_rating=True,
    )


class Gearbox(Part):
    """The gearbox, from the clutch to the output flange or yoke."""

    kind = "gearbox"
    place = "gearbox"

    ratios = ListSpec(RATIO, "forward ratios from first gear up", bounds=POSITIVE, least=1, example="3.63")
    first_gear = WordSpec(
        "what first gear is for: one for driving should be long enough, one for crawling may be as short as it is",
        "driving",
        "crawling",
    )
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
    rated_at = WordSpec(
        "place for which its maker states the rating: its input, its output, or the engine in front of a torque converter",
        "input",
        "output",
        "engine",
        default="input",
    )
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
    output_surge = FactSpec(
        LENGTH,
        "how far its output moves forward and back on the mounts of engine and gearbox, in hard braking and at full drive",
        bounds=Bounds(at_least=0),
        typical="8 ± 7 mm",
        source="from memory: 8 to 15 mm at 1 g on soft rubber; 1 mm on stiff mounts",
        example="5 ± 2 mm, taped; levered with a bar",
        lax="low",
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


class TransferCase(Part):
    """A transfer case behind the gearbox, with or without a low range."""

    kind = "transfer_case"
    place = "transfer case"

    ratio = FactSpec(
        RATIO,
        "ratio in high range",
        bounds=POSITIVE,
        typical="1 ± 0",
        source=f"{NO_SOURCE}: straight through",
        example="1.00",
    )
    low_range = WordSpec("low range: whether it has one", "fitted", "none", default="fitted")
    low_ratio = FactSpec(RATIO, "ratio in low range", bounds=POSITIVE, example="2.48")
    efficiency = FactSpec(
        SHARE,
        "efficiency: share of the power that comes out",
        bounds=Bounds(above=0, at_most=1),
        typical="97 ± 2 %",
        source="from memory: 95 to 99 %, gears or chain",
        example="97 ± 2 %, guess",
    )
    rated_torque = FactSpec(
        TORQUE,
        "rated torque, at the place named in rated_at",
        bounds=POSITIVE,
        example="1100 N·m, catalogue",
        is_rating=True,
    )
    rated_at = WordSpec("place for which its maker states the rating", "input", "output", default="input")

    def faults(self) -> Iterator[tuple[str, str]]:
        """Low range is the slower one."""
        high, low = self.ratio.known, self.low_ratio.written
        if low and self.low_range == "none":
            yield "low_ratio", f'is {low}, and {self.name}.low_range is "none": remove one of the two'
        if high and low and low.si <= high.si:
            yield (
                "low_ratio",
                f"is {low}, not above {self.name}.ratio ({high.plain}): expected the slower range, about 2 to 4",
            )
