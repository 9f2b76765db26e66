"""The oil pan and the pickup in it, to find out whether the pickup draws air.

Lengths are inside, in the pan's own axes: x forward and y to the left from the middle of its floor, z up from the floor.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from trialfit.facts.quantity import ANGLE, LENGTH, SHARE, VOLUME
from trialfit.handbook.oil.oil_pan import STEEPEST
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import NOT_NEGATIVE, POSITIVE, Bounds, FactSpec, Part

if TYPE_CHECKING:
    from collections.abc import Iterator


class OilPan(Part):
    """The oil pan with its pickup: the oil space as a plain box, the oil in it, the place of the pickup

    mouth. For a stepped pan write only the deep part, and only the oil in it. Baffles and trap doors are left out.
    """

    kind = "oil_pan"
    place = "oil pan"

    length = FactSpec(LENGTH, "inside length, along the car", bounds=POSITIVE, example="350 mm, taped")
    width = FactSpec(LENGTH, "inside width, across the car", bounds=POSITIVE, example="230 mm, taped")
    depth = FactSpec(
        LENGTH,
        "inside depth, from the floor up to the windage tray, else up to the pan rail",
        bounds=POSITIVE,
        example="130 mm, taped",
    )
    oil_fill = FactSpec(
        VOLUME,
        "oil in pan and engine at the lower mark, without filter and cooler",
        bounds=POSITIVE,
        example="4.2 l, manual",
    )
    oil_in_circulation = FactSpec(
        SHARE,
        "share of that oil that is up in the engine at speed",
        bounds=Bounds(at_least=0, at_most=0.9),
        typical="17 ± 12 %",
        source=f"{NO_SOURCE}: 5 % in a large pan, 30 % at high speed in a small one",
        example="20 ± 8 %, guess",
        lax="low",
    )
    pickup_x = FactSpec(
        LENGTH, "middle of the pickup's mouth: forward of the middle of the floor is positive", example="-70 mm, taped"
    )
    pickup_y = FactSpec(LENGTH, "the same: to the left of the middle is positive", example="15 mm, taped")
    pickup_height = FactSpec(
        LENGTH,
        "height of the rim of the mouth above the floor",
        bounds=NOT_NEGATIVE,
        typical="8 +6/-4 mm",
        source=f"{NO_SOURCE}: 4 to 14 mm",
        example="8 ± 2 mm, guess",
    )
    pickup_diameter = FactSpec(LENGTH, "outside diameter of the mouth", bounds=POSITIVE, example="55 mm, calipered")
    suction_bore = FactSpec(
        LENGTH, "bore of the suction pipe, for the gap under the mouth", bounds=POSITIVE, example="19 mm, calipered"
    )
    minimum_submergence = FactSpec(
        LENGTH,
        "least oil over the rim; with less, the pickup is assumed to draw air",
        bounds=NOT_NEGATIVE,
        typical="10 ± 0 mm",
        source=NO_SOURCE,
        is_wish=True,
        example="10 mm",
        lax="low",
    )
    inclination = FactSpec(
        ANGLE,
        "how far its floor drops towards the rear as installed; if missing: as the crank of the placed drivetrain",
        bounds=Bounds(at_least=-float(STEEPEST), at_most=float(STEEPEST)),
        typical="0 ± 5 deg",
        source=f"{NO_SOURCE}: floors that follow the crank, and such as follow the road",
        example="3 deg, gauged",
    )

    def faults(self) -> Iterator[tuple[str, str]]:
        """The mouth is inside the pan, and the oil fits into it."""
        for key, size in (("pickup_x", self.length.written), ("pickup_y", self.width.written)):
            place = getattr(self, key).written
            if place and size and abs(place.si) > size.si / 2:
                yield key, f"is {place}, outside of the pan ({size}): measure it from the middle of the floor"
        height, depth = self.pickup_height.known, self.depth.written
        if height and depth and height.si >= depth.si:
            yield "pickup_height", f"is {height}, not lower than {self.name}.depth ({depth})"
        yield from self._too_full()

    def _too_full(self) -> Iterator[tuple[str, str]]:
        sides = [ref.written for ref in (self.length, self.width, self.depth)]
        fill, up = self.oil_fill.written, self.oil_in_circulation.known
        if fill and up and all(sides):
            room = math.prod(side.si for side in sides if side)
            if fill.si * (1 - up.si) >= room:
                said = f"{room * 1000:.3g} l"
                yield "oil_fill", f"is {fill}, more than {self.name} holds ({said}): check length, width and depth"
