"""Solids that take up room: on the drivetrain and around it.

The car's axes are those of ISO 8855: x forward from the front axle, y to the left, z up from the ground; those of the
drivetrain are its own (drivetrain.py).
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from trialfit.facts.quantity import ANGLE, LENGTH, SHARE
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import NOT_NEGATIVE, POSITIVE, CodeSpec, FactSpec, Part, RefSpec, WordSpec
from trialfit.parts.lists_and_curves import ListSpec

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

SAID_BY_NAME = {
    "hot": (
        "exhaust",
        "downpipe",
        "manifold",
        "header",
        "headers",
        "turbo",
        "turbocharger",
        "silencer",
        "muffler",
        "catalyst",
    ),
    "fuel": ("fuel", "petrol", "diesel"),
    "brake line": ("brake", "hose"),
    "wire": ("wire", "wires", "wiring", "loom", "harness", "cable"),
}
"""Words in a name by which a solid may be no plain neighbour: asked about where its neighbour is not written. A hose carries what it carries."""

_NOT_HOT = frozenset({"intake", "inlet", "coolant", "water"})
_STAYS_THERE = frozenset(
    (
        "column",
        "rack",
        "fan",
        "pulley",
        "pulleys",
        "belt",
        "belts",
        "alternator",
        "shaft",
        "pedal",
        "pedals",
        "lever",
        "linkage",
        "cable",
    )
)
"""What moves and stays where it is: it turns, or is pulled."""
_ELSEWHERE = frozenset({"hot", "fuel", "brake line", "wire"})
"""Neighbours that lie anywhere in a car: that one is in the middle is not usual."""


def _words(name: str) -> frozenset[str]:
    """The words of a name: of exhaust_downpipe-2 exhaust and downpipe."""
    return frozenset(re.split(r"[^a-z]+", name.lower()))


def _mesh_file(text: str) -> object:
    if not text.lower().endswith(".json"):
        raise ValueError(
            f'is "{text}": expected a file written by trialfit mesh, for example "sump.solid.json"; convert the scan with trialfit mesh first'
        )
    return text


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
    touches = RefSpec(
        "the solid it is bolted to or passes through, or the shaft it carries: no clearance is required between the two; heat "
        "or a turning shaft beside fuel, brake fluid or wire is judged anyway",
        "solid",
        "prop_shaft",
        "half_shaft",
    )
    hot_growth = FactSpec(
        SHARE,
        "how much longer a hot solid gets at full heat, as a share of its length; not counted where a travel is written",
        bounds=NOT_NEGATIVE,
        typical="0.4 % ± 0.2 %",
        source="from memory: 12·10⁻⁶ of its length for each kelvin, 150 to 500 K hotter",
        example="0.5 %, guess",
        lax="low",
    )
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

    @property
    def said_by_name(self) -> str:
        """What its name says it may be, where its neighbour is not written: "hot" for exhaust_downpipe; "" where it says nothing."""
        words = _words(self.name)
        if "neighbour" in self.values or words & _NOT_HOT:
            return ""
        return next((sort for sort, named in SAID_BY_NAME.items() if words.intersection(named)), "")

    def spec_in_use(self, spec: FactSpec) -> FactSpec:
        """A hot, fuel, brake or wire neighbour is nowhere in particular; what moves with an axle has no usual travel."""
        if spec.name == "y" and self.neighbour in _ELSEWHERE:
            return spec.without_typical()
        if spec.name == "travel_z" and self._goes_with_an_axle:
            return spec.without_typical()
        return spec

    @property
    def _goes_with_an_axle(self) -> bool:
        """Whether it moves on the car, no word or travel saying how: it may rise by the whole bump travel."""
        if self.neighbour != "moving" or self.fixed_to != "car" or _words(self.name) & _STAYS_THERE:
            return False
        return not any(name in self.values for name in ("travel_x", "travel_y", "travel_z"))

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
