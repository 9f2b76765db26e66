"""What was cut and what was given back: members, small frames, brackets, welds, mounts, and the masses they carry.

Positions are in the car's axes (ISO 8855): x forward from the front axle, y to the left, z up from the ground.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import ANGLE, COEFFICIENT, COUNT, FORCE, LENGTH, MASS, STIFFNESS, STRESS, TORQUE
from trialfit.handbook.sources import NO_SOURCE
from trialfit.handbook.structure.walled_sections import read_walls
from trialfit.handbook.structure.weld_lines import PATTERNS
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

AS_WELDED = "student racing-car competition rules, F.3.4.2: mild steel at welds"
REPEATS = "whether the load comes again and again, or once in the life of the car"


def load_factor() -> FactSpec:
    """How many times the load at rest comes at the worst; declared by every kind that carries a load of its own."""
    return FactSpec(
        COEFFICIENT,
        "how many times the load written comes at the worst: 3 for weight on a rough road, 1 where it is the worst already",
        bounds=POSITIVE,
        typical="3 ± 0",
        source=f"{NO_SOURCE}: 3 g down for chassis points",
        example="3",
        is_wish=True,
    )


def yield_strength() -> FactSpec:
    """The yield of the steel beside the weld."""
    return FactSpec(STRESS, "yield strength, beside a weld", bounds=POSITIVE, typical="180 ± 0 MPa", source=AS_WELDED)


class Sectioned(Part):
    """What a cut member and its replacement share: the shape of the section and the material."""

    shape = WordSpec("shape of its section", "round tube", "box", "channel", "flat", "walls")
    diameter = FactSpec(LENGTH, "outside diameter of a round tube", bounds=POSITIVE)
    width = FactSpec(LENGTH, "outside width of a box, channel or flat, level", bounds=POSITIVE)
    height = FactSpec(LENGTH, "outside height of a box, channel or flat, upright", bounds=POSITIVE)
    wall_thickness = FactSpec(LENGTH, "wall of a round tube, box or channel", bounds=POSITIVE)
    corner_y = ListSpec(LENGTH, "for walls: where the corners of the mid-line are, across")
    corner_z = ListSpec(LENGTH, "for walls: where the same corners are, upright")
    walls = CodeSpec("for walls: the two corners that each joins", check=read_walls, example="1-2, 2-3, 3-4, 4-1")
    wall_thicknesses = ListSpec(LENGTH, "for walls: the thickness of each", bounds=POSITIVE)
    youngs_modulus = FactSpec(
        STRESS,
        "modulus of elasticity",
        bounds=POSITIVE,
        typical="200 ± 0 GPa",
        source="student racing-car competition rules, F.3.4.2: mild steel",
    )
    shear_modulus = FactSpec(
        STRESS, "modulus of shear", bounds=POSITIVE, typical="77 ± 2 GPa", source="from memory, steel"
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
    """What was welded in for a cut member, or a new member of a small frame, and the loads on it."""

    kind = "reinforcement"

    replaces = RefSpec("what it stands for", "cut_member")
    yield_strength = yield_strength()
    length = FactSpec(LENGTH, "free length between what holds it", bounds=POSITIVE)
    end_support = WordSpec(
        "how it is held: both ends held, both built in, or built in at one end only",
        "pinned",
        "fixed",
        "cantilever",
        default="pinned",
    )
    load = FactSpec(FORCE, "load from above on its middle, at rest; on its end where only one end is held")
    side_load = FactSpec(FORCE, "load from the side, the same")
    pull = FactSpec(FORCE, "load along it, at rest")
    torque = FactSpec(TORQUE, "torque that twists it, at rest")
    load_factor = load_factor()
    repeats = WordSpec(REPEATS, "repeated", "once", default="repeated")


class Frame(Part):
    """A small frame of members: a crossmember with its arms, a mount tower."""

    kind = "frame"

    load_factor = load_factor()
    repeats = WordSpec(REPEATS, "repeated", "once", default="repeated")


class FrameNode(Part):
    """A place where members of a frame meet, are held or are loaded."""

    kind = "frame_node"

    frame = RefSpec("the frame it belongs to", "frame")
    x = FactSpec(LENGTH, "forward of the front axle is positive")
    y = FactSpec(LENGTH, "to the left of the middle of the car is positive")
    z = FactSpec(LENGTH, "above the ground")
    support = WordSpec("how the body holds it", "free", "pinned", "fixed", default="free")
    load_x = FactSpec(FORCE, "load on it at rest, forwards positive")
    load_y = FactSpec(FORCE, "load on it at rest, to the left positive")
    load_z = FactSpec(FORCE, "load on it at rest, upwards positive: a weight is negative")


class FrameMember(Part):
    """A straight member of a frame."""

    kind = "frame_member"

    frame = RefSpec("the frame it belongs to", "frame")
    start = RefSpec("the node at one end", "frame_node")
    end = RefSpec("the node at the other end", "frame_node")
    section = RefSpec("what it is made of: its section and material", "reinforcement", "cut_member")


class Bracket(Part):
    """A bracket or mount arm of plate on edge: one plate, or two cheeks side by side."""

    kind = "bracket"

    carries = RefSpec("the mount it carries: its worst load is taken", "mount")
    load = FactSpec(FORCE, "load on its end at rest, in the direction of the plate's depth")
    load_factor = load_factor()
    repeats = WordSpec(REPEATS, "repeated", "once", default="repeated")
    reach = FactSpec(LENGTH, "from its root to the load", bounds=POSITIVE)
    depth = FactSpec(LENGTH, "depth of the plate at its root, in the direction of the load", bounds=POSITIVE)
    thickness = FactSpec(LENGTH, "thickness of one plate", bounds=POSITIVE)
    plates = FactSpec(COUNT, "plates side by side", bounds=POSITIVE, typical="1 ± 0", source=NO_SOURCE)
    root_hole = FactSpec(
        LENGTH,
        "diameter of a hole in the plate at its root",
        bounds=NOT_NEGATIVE,
        typical="0 ± 0 mm",
        source=f"{NO_SOURCE}: none",
    )
    bolt_hole = FactSpec(LENGTH, "diameter of the bolt hole that takes the load", bounds=POSITIVE)
    bolt_edge = FactSpec(LENGTH, "centre of that hole to the nearest edge", bounds=POSITIVE)
    stiffened = WordSpec("whether the free edge has a flange or rib", "yes", "no", default="no")
    yield_strength = yield_strength()


class Weld(Part):
    """A group of fillets that holds one thing: its pattern, its size, its load.

    Width and depth lie in the face that is welded to: depth in the direction of the load.
    """

    kind = "weld"

    carries = RefSpec("the bracket or mount it holds: its worst load is taken", "bracket", "mount")
    pattern = WordSpec("how the runs lie", *PATTERNS)
    width = FactSpec(LENGTH, "width of the pattern, across the load", bounds=POSITIVE)
    depth = FactSpec(LENGTH, "depth of the pattern, along the load; diameter of a circle", bounds=POSITIVE)
    leg = FactSpec(LENGTH, "leg of the fillet, gauged at its smallest", bounds=POSITIVE)
    throat_deduction = FactSpec(
        LENGTH,
        "throat to take off for a poor root, a hollow face or a crater",
        bounds=NOT_NEGATIVE,
        typical="0 ± 0 mm",
        source=f"{NO_SOURCE}: a sound weld",
    )
    metal_strength = FactSpec(
        STRESS,
        "tensile strength of the weld metal by its class",
        bounds=POSITIVE,
        typical="480 ± 0 MPa",
        source="from memory: the common wire and rod for mild steel",
    )
    yield_strength = yield_strength()
    thicker = FactSpec(LENGTH, "thickness of the thicker of the two parts", bounds=POSITIVE)
    thinner = FactSpec(LENGTH, "thickness of the thinner of the two parts", bounds=POSITIVE)
    on_edge = WordSpec("whether it runs along the edge of a plate", "yes", "no", default="no")
    run_length = FactSpec(LENGTH, "length of the shortest run", bounds=POSITIVE)
    load = FactSpec(FORCE, "load at rest, in the direction of depth")
    side_load = FactSpec(FORCE, "load at rest, across")
    pull = FactSpec(FORCE, "load at rest, straight out of the face")
    reach = FactSpec(LENGTH, "how far out of the face the load stands", bounds=NOT_NEGATIVE)
    offset = FactSpec(LENGTH, "how far beside the middle of the pattern the load stands", bounds=NOT_NEGATIVE)
    load_factor = load_factor()
    repeats = WordSpec(REPEATS, "repeated", "once", default="repeated")
    face_angle = FactSpec(
        ANGLE,
        "angle between the two faces",
        bounds=POSITIVE,
        typical="90 ± 0 deg",
        source=f"{NO_SOURCE}: a square joint",
    )
    torch_access = FactSpec(LENGTH, "free room in front of the joint for torch and hand", bounds=POSITIVE)

    def faults(self) -> Iterator[tuple[str, str]]:
        """The thinner part is not the thicker one."""
        thin, thick = self.thinner.written, self.thicker.written
        if thin and thick and thin.si > thick.si:
            yield "thinner", f"is {thin}, more than {self.name}.thicker ({thick}): change them round"


class PowerUnit(Part):
    """Engine and gearbox as one thing on its mounts; what it weighs is written as mass parts."""

    kind = "power_unit"
    place = "power unit"

    layout = WordSpec(
        "how it stands: in line with the car, or across it with its final drive inside",
        "longitudinal",
        "transverse",
        default="longitudinal",
    )
    torque_factor = FactSpec(
        COEFFICIENT,
        "how many times the torque that the clutch lets through comes on the mounts at the worst",
        bounds=Bounds(at_least=1),
        typical="2 ± 0",
        source=NO_SOURCE,
        example="2",
        is_wish=True,
    )


class Mount(Part):
    """A mount of the power unit, or a strap or stop that only holds it when a mount has broken."""

    kind = "mount"

    role = WordSpec("whether it carries always, or only when a mount has broken", "mount", "restraint", default="mount")
    x = FactSpec(LENGTH, "forward of the front axle is positive")
    y = FactSpec(LENGTH, "to the left of the middle of the car is positive")
    z = FactSpec(LENGTH, "above the ground")
    stiffness = FactSpec(
        STIFFNESS,
        "upright stiffness; of no account where three mounts carry",
        bounds=POSITIVE,
        typical="250 ± 120 N/mm",
        source=NO_SOURCE,
    )
    rated_load = FactSpec(FORCE, "load that it bears pressed down or aside", bounds=POSITIVE)
    rated_pull = FactSpec(FORCE, "load that it bears pulled up", bounds=POSITIVE)
    breaking_load = FactSpec(FORCE, "load along the car at which it parts", bounds=POSITIVE)
    captive = WordSpec("whether its halves still hold each other when the rubber tears", "yes", "no", default="no")
    engine_x = FactSpec(
        LENGTH, "the bolt of its bracket on the drivetrain, in the drivetrain's axes: forward is positive"
    )
    engine_y = FactSpec(LENGTH, "the bolt of its bracket on the drivetrain, in the drivetrain's axes: left is positive")
    engine_z = FactSpec(LENGTH, "the bolt of its bracket on the drivetrain, in the drivetrain's axes: up is positive")
    car_x = FactSpec(LENGTH, "the bolt of its bracket on the car: forward of the front axle is positive")
    car_y = FactSpec(LENGTH, "the bolt of its bracket on the car: to the left of the middle of the car is positive")
    car_z = FactSpec(LENGTH, "the bolt of its bracket on the car: above the ground")


class MassPart(Part):
    """Something heavy, with its centre of mass: an engine, a gearbox, a transfer case."""

    kind = "mass_part"

    mass = FactSpec(MASS, "as it hangs or stands: with oil and what is bolted on", bounds=POSITIVE)
    x = FactSpec(LENGTH, "centre of mass: forward of the front axle is positive")
    y = FactSpec(LENGTH, "the same, to the left of the middle of the car")
    z = FactSpec(LENGTH, "the same, above the ground")
    fixed_to = WordSpec(
        "in whose axes its centre is measured: with drivetrain it goes where the drivetrain goes",
        "car",
        "drivetrain",
        default="car",
    )
    mounted = WordSpec("whether the mounts of the power unit carry it", "yes", "no", default="yes")
    hoisted_by = RefSpec("the lift that it hangs on", "lift")
