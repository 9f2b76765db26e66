"""How a live axle is held to the body: what decides where it goes and how it turns as it rises.

Positions are in the car's axes (ISO 8855) in side view, at ride height: x forward from the front axle, z up from the ground.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import ANGLE, LENGTH, SHARE
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import Bounds, FactSpec, Part, WordSpec

if TYPE_CHECKING:
    from collections.abc import Iterator

_BODY, _AXLE = "pivot on the body", "pivot on the axle"
_FORWARD, _UP = "forward of the front axle is positive", "above the ground"


class AxleLocation(Part):
    """What holds a live axle along the car: leaf springs, links, or arms that are fixed to the axle and turn with it."""

    kind = "axle_location"
    place = "axle location"

    held_by = WordSpec("what holds it along the car and keeps it from turning", "leaf springs", "links", "arms")
    eye_x = FactSpec(LENGTH, f"centre of the fixed eye of its leaf springs: {_FORWARD}", example="-2250 mm, taped")
    eye_z = FactSpec(LENGTH, f"centre of the fixed eye of its leaf springs: {_UP}", example="395 mm, taped")
    arc_share = FactSpec(
        SHARE,
        "radius of the arc that the axle makes on its leaf springs, over the length of their front half",
        bounds=Bounds(above=0, at_most=1),
        typical="75 ± 10 %",
        source="from memory: three quarters, spring-design manual; more where the front half is thick",
        example="75 ± 10 %, guess",
        lax="either",
    )
    turn_at_bump = FactSpec(
        ANGLE,
        "how far leaf springs turn the pinion nose up by full bump, and down by full droop in proportion",
        typical="0 ± 2 deg",
        source=f"{NO_SOURCE}: halves of different length and the shackle turn it either way",
        example="0.5 ± 0.5°, gauged",
    )
    pivot_x = FactSpec(LENGTH, f"{_BODY} of the arms that are fixed to the axle: {_FORWARD}", example="-1900 mm, taped")
    pivot_z = FactSpec(LENGTH, f"{_BODY} of the arms that are fixed to the axle: {_UP}", example="310 mm, taped")
    lower_body_x = FactSpec(LENGTH, f"lower links, {_BODY}: {_FORWARD}", example="-2120 mm, taped")
    lower_body_z = FactSpec(LENGTH, f"lower links, {_BODY}: {_UP}", example="300 mm, taped")
    lower_axle_x = FactSpec(LENGTH, f"lower links, {_AXLE}: {_FORWARD}", example="-2520 mm, taped")
    lower_axle_z = FactSpec(LENGTH, f"lower links, {_AXLE}: {_UP}", example="250 mm, taped")
    upper_body_x = FactSpec(LENGTH, f"upper links, {_BODY}: {_FORWARD}", example="-2200 mm, taped")
    upper_body_z = FactSpec(LENGTH, f"upper links, {_BODY}: {_UP}", example="460 mm, taped")
    upper_axle_x = FactSpec(LENGTH, f"upper links, {_AXLE}: {_FORWARD}", example="-2480 mm, taped")
    upper_axle_z = FactSpec(LENGTH, f"upper links, {_AXLE}: {_UP}", example="450 mm, taped")

    def faults(self) -> Iterator[tuple[str, str]]:
        """The ends of a link are apart."""
        for which in ("lower", "upper"):
            ends = [self.values.get(f"{which}_{end}_{axis}") for end in ("body", "axle") for axis in ("x", "z")]
            places = [end.si for end in ends if end is not None]  # type: ignore[union-attr]
            if len(places) == len(ends) and places[:2] == places[2:]:
                said = f"is {self.values[f'{which}_axle_x']}, and both ends of the {which} links are at one place"
                yield f"{which}_axle_x", f"{said}: expected the pivot on the axle, for example -2520 mm"
