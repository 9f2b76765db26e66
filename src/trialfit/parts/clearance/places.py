"""Places that solids are measured by: the lever's opening, and points found with a tape."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import LENGTH
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import NOT_NEGATIVE, POSITIVE, FactSpec, ListSpec, Part

if TYPE_CHECKING:
    from collections.abc import Iterator


class Opening(Part):
    """The hole in the tunnel that the gear lever comes through."""

    kind = "lever_opening"
    place = "lever opening"

    front_x = FactSpec(LENGTH, "its front edge: forward of the front axle is positive")
    rear_x = FactSpec(LENGTH, "its rear edge: forward of the front axle is positive")
    left_y = FactSpec(LENGTH, "its left edge: to the left of the middle of the car is positive")
    right_y = FactSpec(LENGTH, "its right edge: to the left of the middle of the car is positive")
    lever_clearance = FactSpec(
        LENGTH,
        "required clearance from the middle of the lever to each edge, its throw included",
        bounds=NOT_NEGATIVE,
        typical="25 ± 0 mm",
        source=NO_SOURCE,
        is_wish=True,
        example="30 mm",
    )

    def faults(self) -> Iterator[tuple[str, str]]:
        """Front is in front of rear, left is left of right."""
        for high, low, words in (("front_x", "rear_x", "in front of"), ("left_y", "right_y", "left of")):
            one, other = self.values.get(high), self.values.get(low)
            if one and other and one.si <= other.si:  # type: ignore[union-attr]
                yield high, f"is {one}, not {words} {self.name}.{low} ({other}): x counts forward and y to the left"


class TapedPoint(Part):
    """A point found with a tape: distances from points that are known, and how far along, across or up it is.

    All in the axes of what the solid that sits there is fixed to. Three readings fix it, one more shows that one is wrong,
    and two more show which.
    """

    kind = "taped_point"

    from_x = ListSpec(LENGTH, "points that distances were taped from: forward is positive; point by point")
    from_y = ListSpec(LENGTH, "the same: to the left is positive")
    from_z = ListSpec(LENGTH, "the same: up is positive")
    distances = ListSpec(LENGTH, "taped distance from each of these points, in the same order", bounds=POSITIVE)
    x = FactSpec(LENGTH, "how far forward it was measured to be", example="216 mm, taped")
    y = FactSpec(LENGTH, "how far to the left it was measured to be", example="-322 mm, taped")
    z = FactSpec(LENGTH, "how far up it was measured to be", example="214 mm, taped")
    roughly_x = FactSpec(
        LENGTH, "roughly how far forward: two tapes meet in two places", is_wish=True, example="200 mm"
    )
    roughly_y = FactSpec(LENGTH, "roughly how far to the left", is_wish=True, example="-300 mm")
    roughly_z = FactSpec(LENGTH, "roughly how far up", is_wish=True, example="200 mm")

    def faults(self) -> Iterator[tuple[str, str]]:
        """Each distance has its point, with three coordinates."""
        counts = [len(refs) for refs in (self.from_x, self.from_y, self.from_z, self.distances)]
        if len(set(counts)) > 1:
            said = ", ".join(
                f"{count} of {key}"
                for count, key in zip(counts, ("from_x", "from_y", "from_z", "distances"), strict=True)
            )
            yield "distances", f"there are {said}: expected as many of each"
