"""Members that were cut, their reinforcement, and small frames.

Positions are in the car's axes (ISO 8855): x forward from the front axle, y to the left, z up from the ground.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import FORCE, LENGTH, STRESS, TORQUE
from trialfit.handbook.structure.walled_sections import read_walls
from trialfit.handbook.structure.welded_metals import metal_named
from trialfit.parts.declaring import POSITIVE, CodeSpec, FactSpec, Part, RefSpec, WordSpec
from trialfit.parts.lists_and_curves import ListSpec
from trialfit.parts.structure.carried_loads import REPEATS, as_welded, load_factor, material, once_as, yield_strength

if TYPE_CHECKING:
    from collections.abc import Iterator

_ALUMINIUM = {"youngs_modulus": "70 ± 2 GPa", "shear_modulus": "26.5 ± 1 GPa"}


class Sectioned(Part):
    """What a cut member and its replacement share: the shape of the section and the material."""

    shape = WordSpec("shape of its section", "round tube", "box", "channel", "flat", "walls")
    diameter = FactSpec(LENGTH, "outside diameter of a round tube", bounds=POSITIVE, is_rating=True)
    width = FactSpec(LENGTH, "outside width of a box, channel or flat bar, horizontal", bounds=POSITIVE, is_rating=True)
    height = FactSpec(LENGTH, "outside height of a box, channel or flat bar, vertical", bounds=POSITIVE, is_rating=True)
    wall_thickness = FactSpec(LENGTH, "wall of a round tube, box or channel", bounds=POSITIVE, is_rating=True)
    corner_y = ListSpec(LENGTH, "for walls: corners of the mid-line, horizontal", is_rating=True)
    corner_z = ListSpec(LENGTH, "for walls: the same corners, vertical", is_rating=True)
    walls = CodeSpec("for walls: the two corners that each wall joins", check=read_walls, example="1-2, 2-3, 3-4, 4-1")
    wall_thicknesses = ListSpec(LENGTH, "for walls: thickness of each wall", bounds=POSITIVE, is_rating=True)
    youngs_modulus = FactSpec(
        STRESS,
        "modulus of elasticity",
        bounds=POSITIVE,
        typical="200 ± 0 GPa",
        source="student racing-car competition rules, F.3.4.2: mild steel",
        is_rating=True,
    )
    shear_modulus = FactSpec(
        STRESS, "shear modulus", bounds=POSITIVE, typical="77 ± 2 GPa", source="from memory, steel", is_rating=True
    )

    def faults(self) -> Iterator[tuple[str, str]]:
        """Walls and corners belong together; a wall fits into its section."""
        if len(self.corner_y) != len(self.corner_z):
            yield (
                "corner_z",
                f"holds {len(self.corner_z)} values where corner_y holds {len(self.corner_y)}: expected one of each for every corner",
            )
        if self.walls is not None:
            yield from self._wall_faults(self.walls)
        wall = self.wall_thickness.written
        for side in (self.diameter, self.width, self.height):
            if wall and side.written and wall.si * 2 > side.written.si:
                yield (
                    "wall_thickness",
                    f"is {wall}, more than half of {side.path} ({side.written}): it cannot be that thick",
                )

    def _wall_faults(self, walls: str) -> Iterator[tuple[str, str]]:
        joins = read_walls(walls)
        last = max(max(pair) for pair in joins) + 1
        if last > len(self.corner_y):
            yield "walls", f"names corner {last}, and {len(self.corner_y)} corners are written in corner_y and corner_z"
        if self.wall_thicknesses and len(self.wall_thicknesses) != len(joins):
            yield (
                "wall_thicknesses",
                f"holds {len(self.wall_thicknesses)} values for {len(joins)} walls: expected one for each wall",
            )


class CutMember(Sectioned):
    """A member of the body or frame that was cut out or cut into, as it was before."""

    kind = "cut_member"


class Reinforcement(Sectioned):
    """A member welded in for a cut one, or a new member of a small frame, and its loads."""

    kind = "reinforcement"

    replaces = RefSpec("the cut member that it replaces", "cut_member")
    material = material()
    yield_strength = yield_strength()
    length = FactSpec(LENGTH, "free length between its supports", bounds=POSITIVE, is_rating=True)
    end_support = WordSpec(
        "end supports: both ends held, both built in, or one end built in",
        "pinned",
        "fixed",
        "cantilever",
        default="pinned",
    )
    load = FactSpec(FORCE, "load from above on its middle, at rest; on its end if only one end is held")
    side_load = FactSpec(FORCE, "load from the side, the same")
    pull = FactSpec(FORCE, "load along it, at rest")
    torque = FactSpec(TORQUE, "torque that twists it, at rest")
    load_factor = load_factor()
    repeats = WordSpec(REPEATS, "repeated", "once", default="repeated")
    once_as = once_as()

    def spec_in_use(self, spec: FactSpec) -> FactSpec:
        """Its metal narrows what is usual beside a weld, and how stiff it is."""
        if spec.name == "yield_strength":
            return as_welded(spec, self.material)
        if self.material and metal_named(self.material).family == "aluminium" and spec.name in _ALUMINIUM:
            return spec.with_typical(_ALUMINIUM[spec.name], "from memory, aluminium")
        return spec


class Frame(Part):
    """A small frame of members: a crossmember with its arms, a mount tower."""

    kind = "frame"

    load_factor = load_factor()
    repeats = WordSpec(REPEATS, "repeated", "once", default="repeated")
    once_as = once_as()


class FrameNode(Part):
    """A place where members of a frame meet, are held or are loaded."""

    kind = "frame_node"

    frame = RefSpec("the frame it belongs to", "frame")
    x = FactSpec(LENGTH, "forward of the front axle is positive")
    y = FactSpec(LENGTH, "to the left of the middle of the car is positive")
    z = FactSpec(LENGTH, "above the ground")
    support = WordSpec("how the body supports it", "free", "pinned", "fixed", default="free")
    load_x = FactSpec(FORCE, "load on it at rest, forwards positive")
    load_y = FactSpec(FORCE, "load on it at rest, to the left positive")
    load_z = FactSpec(FORCE, "load on it at rest, upwards positive: a weight is negative")


class FrameMember(Part):
    """A straight member of a frame."""

    kind = "frame_member"

    frame = RefSpec("the frame it belongs to", "frame")
    start = RefSpec("the node at one end", "frame_node")
    end = RefSpec("the node at the other end", "frame_node")
    section = RefSpec("the part that gives its section and material", "reinforcement", "cut_member")
