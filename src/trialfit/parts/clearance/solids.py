"""Solids that take up room: the drivetrain as one body, the solids on it and around it, its mounts, the lever's opening.

A drivetrain has axes of its own: x forward along the crank, y to the left, z up, from a point that can be taped, for
example the middle of the crank at the face of the bell housing. The car's axes are those of ISO 8855: x forward from the
front axle, y to the left, z up from the ground.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import ANGLE, LENGTH, MASS, SHARE
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import (
    NOT_NEGATIVE,
    POSITIVE,
    Bounds,
    CodeSpec,
    FactSpec,
    ListSpec,
    Part,
    RefSpec,
    WordSpec,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

SHAPES = {
    "box": ("length", "width", "height"),
    "cylinder": ("length", "diameter"),
    "capsule": ("length", "diameter"),
    "cone": ("length", "diameter", "end_diameter"),
    "hull": ("points_x", "points_y", "points_z"),
    "mesh": ("file",),
}
"""The facts of size that each shape takes."""

_FEWEST_POINTS = 4


def _mesh_file(text: str) -> object:
    if not text.lower().endswith(".json"):
        raise ValueError(
            f'is "{text}": expected a file written by trialfit mesh, for example "sump.solid.json"; convert the scan with trialfit mesh first'
        )
    return text


class Drivetrain(Part):
    """Engine and gearbox bolted together: their position, how far they may move, and what the position must satisfy."""

    kind = "drivetrain"
    place = "drivetrain"

    x = FactSpec(LENGTH, "position of its measuring point: forward of the front axle is positive")
    y = FactSpec(LENGTH, "position of its measuring point: to the left of the middle of the car is positive")
    z = FactSpec(LENGTH, "position of its measuring point: above the ground")
    roll = FactSpec(ANGLE, "how far its left side is up", typical="0 ± 0.3 deg", source=NO_SOURCE)
    inclination = FactSpec(ANGLE, "how far the crank drops towards the rear; level is zero")
    heading = FactSpec(
        ANGLE,
        "how far the crank points to the left, looking rearward along it; straight is zero",
        typical="0 ± 1 deg",
        source=f"{NO_SOURCE}: mounted straight ahead",
    )
    x_window = FactSpec(
        LENGTH,
        "how far it may still move forward or back",
        bounds=NOT_NEGATIVE,
        typical="60 ± 0 mm",
        source=NO_SOURCE,
        is_wish=True,
        example="50 mm",
    )
    y_window = FactSpec(
        LENGTH,
        "how far it may still move to either side",
        bounds=NOT_NEGATIVE,
        typical="20 ± 0 mm",
        source=NO_SOURCE,
        is_wish=True,
        example="25 mm",
    )
    z_window = FactSpec(
        LENGTH,
        "how far it may still move up or down",
        bounds=NOT_NEGATIVE,
        typical="50 ± 0 mm",
        source=NO_SOURCE,
        is_wish=True,
        example="40 mm",
    )
    roll_window = FactSpec(
        ANGLE,
        "how far it may still roll to either side",
        bounds=NOT_NEGATIVE,
        typical="0 ± 0 deg",
        source=NO_SOURCE,
        is_wish=True,
    )
    inclination_window = FactSpec(
        ANGLE,
        "how far it may still be tilted either way",
        bounds=NOT_NEGATIVE,
        typical="3 ± 0 deg",
        source=NO_SOURCE,
        is_wish=True,
        example="2.5 deg",
    )
    heading_window = FactSpec(
        ANGLE,
        "how far it may still be turned to either side",
        bounds=NOT_NEGATIVE,
        typical="1.5 ± 0 deg",
        source=NO_SOURCE,
        is_wish=True,
        example="2 deg",
    )
    rock = FactSpec(
        ANGLE,
        "how far it rolls on its mounts either way at full torque",
        bounds=NOT_NEGATIVE,
        typical="1.5 ± 0.5 deg",
        source="from memory, rubber mounts",
        example="2 ± 1 deg, guess",
    )
    heave = FactSpec(
        LENGTH,
        "how far it moves up and down on its mounts",
        bounds=NOT_NEGATIVE,
        typical="5 ± 2 mm",
        source="from memory, rubber mounts",
        example="6 ± 2 mm, guess",
    )
    roll_axis_y = FactSpec(
        LENGTH, "position of its roll axis, left of the crank", typical="0 ± 20 mm", source=NO_SOURCE
    )
    roll_axis_z = FactSpec(LENGTH, "position of its roll axis, above the crank", typical="0 ± 40 mm", source=NO_SOURCE)
    ground_clearance = FactSpec(
        LENGTH,
        "required ground clearance under its lowest point, as driven",
        bounds=POSITIVE,
        typical="120 ± 0 mm",
        source=NO_SOURCE,
        is_wish=True,
        example="110 mm",
    )
    lever_x = FactSpec(LENGTH, "where the gear lever passes the tunnel, in the drivetrain's axes: forward is positive")
    lever_y = FactSpec(LENGTH, "where the gear lever passes the tunnel, in the drivetrain's axes: left is positive")
    lever_z = FactSpec(LENGTH, "where the gear lever passes the tunnel, in the drivetrain's axes: up is positive")
    output_x = FactSpec(
        LENGTH,
        "centre of the joint on the gearbox output, in the drivetrain's axes: forward is positive; used where the gearbox's own is missing",
        example="-640 mm, taped",
    )
    output_y = FactSpec(
        LENGTH, "the same: to the left is positive", typical="0 ± 3 mm", source=f"{NO_SOURCE}: in line with the crank"
    )
    output_z = FactSpec(LENGTH, "the same: up is positive", example="-20 mm, taped")
    level_inclination = FactSpec(
        ANGLE,
        "inclination of the crank that the maker of carburettor or sump specifies",
        is_wish=True,
        example="3 deg, manual",
    )
    level_tolerance = FactSpec(
        ANGLE,
        "tolerance of that inclination",
        bounds=POSITIVE,
        typical="3 ± 0 deg",
        source=NO_SOURCE,
        is_wish=True,
        example="2 deg",
    )
    mass = FactSpec(MASS, "mass of engine, clutch and gearbox, wet", bounds=POSITIVE)
    minimum_rear_share = FactSpec(
        SHARE,
        "least target share of the car's mass on the rear axle",
        bounds=Bounds(above=0, at_most=1),
        is_wish=True,
        example="50 %",
    )
    removal_height = FactSpec(
        LENGTH,
        "hoisting height, straight up, to clear the car",
        bounds=POSITIVE,
        is_wish=True,
        example="600 mm",
    )


class Solid(Part):
    """A simple shape that takes up room: a part of the drivetrain or of the car.

    Its position is that of its centre, in the axes of what it is fixed to. Tape it once; the drivetrain's solids then move with it.
    """

    kind = "solid"

    fixed_to = WordSpec(
        "what it moves with; its position is measured in those axes", "car", "drivetrain", default="car"
    )
    shape = WordSpec("its shape", *SHAPES, default="box")
    neighbour = WordSpec(
        "type of neighbour, which sets the required clearance; access is room for a hand or a spanner",
        "plain",
        "moving",
        "hot",
        "fuel",
        "brake line",
        "wire",
        "access",
        default="plain",
    )
    x = FactSpec(LENGTH, "its middle: forward is positive")
    y = FactSpec(
        LENGTH, "its middle: to the left is positive", typical="0 ± 3 mm", source=f"{NO_SOURCE}: in the middle"
    )
    z = FactSpec(LENGTH, "its middle: above the ground, or above the crank")
    roll = FactSpec(ANGLE, "how far its left side is up", typical="0 ± 0.3 deg", source=NO_SOURCE)
    inclination = FactSpec(ANGLE, "how far it drops towards the rear", typical="0 ± 0.3 deg", source=NO_SOURCE)
    heading = FactSpec(
        ANGLE, "how far it points to the left, looking rearward along it", typical="0 ± 0.3 deg", source=NO_SOURCE
    )
    axis = WordSpec(
        "how a cylinder, capsule or cone lies: along the car, across it, or upright", "x", "y", "z", default="x"
    )
    length = FactSpec(LENGTH, "length: of a box forward, of a round shape along its axis", bounds=POSITIVE)
    width = FactSpec(LENGTH, "width of a box, across the car", bounds=POSITIVE)
    height = FactSpec(LENGTH, "height of a box", bounds=POSITIVE)
    diameter = FactSpec(LENGTH, "diameter; of a cone at its rear, right or lower end", bounds=POSITIVE)
    end_diameter = FactSpec(LENGTH, "diameter of a cone at its front, left or upper end", bounds=NOT_NEGATIVE)
    points_x = ListSpec(LENGTH, "taped points of a hull, forward of its middle; point by point")
    points_y = ListSpec(LENGTH, "taped points of a hull, left of its middle; point by point")
    points_z = ListSpec(LENGTH, "taped points of a hull, above its middle; point by point")
    file = CodeSpec("convex pieces brought in from a scan or drawing", check=_mesh_file, example="sump.solid.json")
    travel_x = FactSpec(
        LENGTH,
        "how far it moves forward and back: suspension, growth when hot",
        bounds=NOT_NEGATIVE,
        typical="0 ± 0 mm",
        source=NO_SOURCE,
    )
    travel_y = FactSpec(
        LENGTH,
        "how far it moves to either side: rack and track rods at lock",
        bounds=NOT_NEGATIVE,
        typical="0 ± 0 mm",
        source=NO_SOURCE,
    )
    travel_z = FactSpec(
        LENGTH,
        "how far it moves up and down: suspension travel, a bonnet that flexes",
        bounds=NOT_NEGATIVE,
        typical="0 ± 0 mm",
        source=NO_SOURCE,
    )
    travel_back = FactSpec(
        LENGTH,
        "how far it moves back, if that differs from forward",
        bounds=NOT_NEGATIVE,
        example="2 ± 1 mm, guess",
    )
    travel_right = FactSpec(
        LENGTH,
        "how far it moves to the right, if that differs from the left",
        bounds=NOT_NEGATIVE,
        example="12 ± 2 mm, taped",
    )
    travel_down = FactSpec(
        LENGTH,
        "how far it moves down, if that differs from up: droop and bump",
        bounds=NOT_NEGATIVE,
        example="45 ± 5 mm, taped",
    )
    required_clearance = FactSpec(
        LENGTH,
        "required clearance to every neighbour; replaces the usual one",
        bounds=NOT_NEGATIVE,
        is_wish=True,
        example="20 mm",
    )
    touches = RefSpec("the solid it is bolted to or passes through: no clearance is required between the two", "solid")
    removal_drop = FactSpec(
        LENGTH,
        "straight drop needed to remove it with the engine in place, such as a sump past its oil pump",
        bounds=POSITIVE,
        is_wish=True,
        example="80 mm",
    )
    place_taped = RefSpec("the taped point at its centre; replaces x, y and z", "taped_point")
    taken_off = WordSpec(
        "whether it is off the car while the drivetrain goes in, such as a bonnet", "yes", "no", default="no"
    )

    def faults(self) -> Iterator[tuple[str, str]]:
        """A hull has four points or more, each with three coordinates; a capsule is longer than thick."""
        counts = [len(refs) for refs in (self.points_x, self.points_y, self.points_z)]
        if self.shape == "hull" and any(counts) and (len(set(counts)) > 1 or counts[0] < _FEWEST_POINTS):
            said = ", ".join(f"{count} of points_{axis}" for count, axis in zip(counts, "xyz", strict=True))
            yield "points_x", f"there are {said}: expected as many of each, and at least {_FEWEST_POINTS}"
        length, diameter = self.length.written, self.diameter.written
        if self.shape == "capsule" and length and diameter and length.si <= diameter.si:
            yield (
                "length",
                f"is {length}, not longer than its diameter ({diameter}): expected the length over its round ends",
            )
        if self.moves_on_drivetrain():
            yield (
                "removal_drop",
                "is written for a solid of the car: expected a solid that is fixed to the drivetrain",
            )

    def moves_on_drivetrain(self) -> bool:
        """Whether a removal drop is written for a solid that is not on the drivetrain."""
        return self.removal_drop.written is not None and self.fixed_to == "car"
