"""Places that solids are measured by: the lever's opening, and points found with a tape."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import LENGTH
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import NOT_NEGATIVE, POSITIVE, FactSpec, Part
from trialfit.parts.lists_and_curves import ListSpec

if TYPE_CHECKING:
    from collections.abc import Iterator


class Opening(Part):
    """The hole in the tunnel for the gear lever."""

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
        lax="low",
    )

    def faults(self) -> Iterator[tuple[str, str]]:
        """Front is in front of rear, left is left of right."""
        for high, low, words in (("front_x", "rear_x", "in front of"), ("left_y", "right_y", "left of")):
            one, other = self.values.get(high), self.values.get(low)
            if one and other and one.si <= other.si:  # type: ignore[union-attr]
                yield high, f"is {one}, not {words} {self.name}.{low} ({other}): x counts forward and y to the left"


class TapedPoint(Part):
    """A point located by tape: distances from known points, and its own x, y or z.

    All in the axes of what the solid that sits there is fixed to. Three readings fix it. A fourth shows that one reading is wrong,
    a fifth shows which one.
    """

    kind = "taped_point"

    from_x = ListSpec(LENGTH, "known points that distances were taped from, one x for each: forward is positive")
    from_y = ListSpec(LENGTH, "y of the same points: to the left is positive")
    from_z = ListSpec(LENGTH, "z of the same points: up is positive")
    distances = ListSpec(LENGTH, "taped distance from each of these points, in the same order", bounds=POSITIVE)
    x = FactSpec(LENGTH, "measured x of the point: forward is positive", example="216 mm, taped")
    y = FactSpec(LENGTH, "measured y of the point: to the left is positive", example="-322 mm, taped")
    z = FactSpec(LENGTH, "measured z of the point: up is positive", example="214 mm, taped")
    roughly_x = FactSpec(
        LENGTH,
        "approximate x of the point, to choose between the two places where the tapes meet",
        is_wish=True,
        example="200 mm",
    )
    roughly_y = FactSpec(LENGTH, "approximate y of the point", is_wish=True, example="-300 mm")
    roughly_z = FactSpec(LENGTH, "approximate z of the point", is_wish=True, example="200 mm")

    def faults(self) -> Iterator[tuple[str, str]]:
        """Each distance has its point, with three coordinates."""
        counts = [len(refs) for refs in (self.from_x, self.from_y, self.from_z, self.distances)]
        if len(set(counts)) > 1:
            said = ", ".join(
                f"{count} of {key}"
                for count, key in zip(counts, ("from_x", "from_y", "from_z", "distances"), strict=True)
            )
            yield "distances", f"there are {said}: expected as many of each"
