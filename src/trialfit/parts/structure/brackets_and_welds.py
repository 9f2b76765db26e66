"""Brackets and welds, with the loads on them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import ANGLE, COUNT, FORCE, LENGTH, STRESS
from trialfit.handbook.sources import NO_SOURCE
from trialfit.handbook.structure.weld_lines import PATTERNS
from trialfit.parts.declaring import NOT_NEGATIVE, POSITIVE, FactSpec, Part, RefSpec, WordSpec
from trialfit.parts.structure import carried_loads
from trialfit.parts.structure.carried_loads import (
    REPEATS,
    as_welded,
    by_filler,
    load_factor,
    material,
    once_as,
    yield_strength,
)

if TYPE_CHECKING:
    from collections.abc import Iterator


class Bracket(Part):
    """A bracket or mount arm of plate on edge: one plate, or two cheeks side by side."""

    kind = "bracket"

    carries = RefSpec("the mount that it carries: the worst load of that mount is used", "mount")
    load = FactSpec(FORCE, "load on its end at rest, in the direction of the plate's depth")
    load_factor = load_factor()
    repeats = WordSpec(REPEATS, "repeated", "once", default="repeated")
    once_as = once_as()
    reach = FactSpec(LENGTH, "from its root to the load", bounds=POSITIVE, is_rating=True)
    depth = FactSpec(
        LENGTH, "depth of the plate at its root, in the direction of the load", bounds=POSITIVE, is_rating=True
    )
    thickness = FactSpec(LENGTH, "thickness of one plate", bounds=POSITIVE, is_rating=True)
    plates = FactSpec(
        COUNT,
        "number of plates side by side",
        bounds=POSITIVE,
        typical="1 ± 0",
        source=NO_SOURCE,
    )
    root_hole = FactSpec(
        LENGTH,
        "diameter of a hole in the plate at its root",
        bounds=NOT_NEGATIVE,
        typical="0 ± 0 mm",
        source=f"{NO_SOURCE}: none",
        is_rating=True,
    )
    bolt_hole = FactSpec(LENGTH, "diameter of the bolt hole that takes the load", bounds=POSITIVE, is_rating=True)
    bolt_edge = FactSpec(LENGTH, "centre of that hole to the nearest edge", bounds=POSITIVE, is_rating=True)
    stiffened = WordSpec("whether the free edge has a flange or rib", "yes", "no", default="no")
    material = material()
    yield_strength = yield_strength()

    def spec_in_use(self, spec: FactSpec) -> FactSpec:
        """Its metal narrows what is usual beside a weld."""
        return as_welded(spec, self.material) if spec.name == "yield_strength" else spec


class Weld(Part):
    """A group of fillet welds that holds one part: its pattern, size and load.

    Width and depth lie in the face that is welded to: depth in the direction of the load.
    """

    kind = "weld"

    carries = RefSpec("the bracket or mount that it holds: the worst load of that part is used", "bracket", "mount")
    pattern = WordSpec("pattern of the runs", *PATTERNS)
    width = FactSpec(LENGTH, "width of the pattern, across the load", bounds=POSITIVE, is_rating=True)
    depth = FactSpec(
        LENGTH, "depth of the pattern, along the load; diameter of a circle", bounds=POSITIVE, is_rating=True
    )
    leg = FactSpec(LENGTH, "leg of the fillet, measured at its smallest", bounds=POSITIVE, is_rating=True)
    throat_deduction = FactSpec(
        LENGTH,
        "throat deduction for a poor root, a hollow face or a crater",
        bounds=NOT_NEGATIVE,
        typical="0 ± 0 mm",
        source=f"{NO_SOURCE}: a sound weld",
        lax="low",
    )
    metal_strength = FactSpec(
        STRESS,
        "tensile strength of the weld metal by its class",
        bounds=POSITIVE,
        typical="480 +60/-50 MPa",
        source="from memory: rods of 430 MPa, common wire of 480, up to 540 for mild steel",
        example="480 MPa, catalogue",
        is_rating=True,
    )
    material = material("metal and temper of the parts that are joined")
    yield_strength = yield_strength()
    base = WordSpec(
        "what it is welded to: a wall or sheet that can bend between what holds it, or an edge or solid part that cannot",
        "wall",
        "solid",
        default="wall",
    )
    base_material = carried_loads.material("metal and temper of what it is welded to, if another one")
    base_yield_strength = carried_loads.yield_strength(
        "yield strength of what it is welded to, beside the weld, if another metal"
    )
    base_thickness = FactSpec(
        LENGTH, "thickness of the sheet, wall or plate that it is welded to", bounds=POSITIVE, is_rating=True
    )
    base_width = FactSpec(
        LENGTH,
        "free width of the sheet or wall it is welded to: inside, between the folds, walls or rails that hold it, the smaller way",
        bounds=POSITIVE,
        is_rating=True,
    )
    edge_distance = FactSpec(
        LENGTH, "from the toe of the weld to the nearest edge or hole of the sheet", bounds=NOT_NEGATIVE, is_rating=True
    )
    doubler_thickness = FactSpec(
        LENGTH,
        "thickness of a doubler plate between the part and the sheet, welded all round",
        bounds=POSITIVE,
        is_rating=True,
    )
    doubler_width = FactSpec(LENGTH, "width of the doubler plate, across the load", bounds=POSITIVE, is_rating=True)
    doubler_depth = FactSpec(LENGTH, "length of the doubler plate, along the load", bounds=POSITIVE, is_rating=True)
    thicker = FactSpec(LENGTH, "thickness of the thicker of the two parts", bounds=POSITIVE, is_rating=True)
    thinner = FactSpec(LENGTH, "thickness of the thinner of the two parts", bounds=POSITIVE, is_rating=True)
    on_edge = WordSpec("whether it runs along the edge of a plate", "yes", "no", default="no")
    run_length = FactSpec(LENGTH, "length of the shortest run", bounds=POSITIVE, is_rating=True)
    load = FactSpec(FORCE, "load at rest, in the direction of depth")
    side_load = FactSpec(FORCE, "load at rest, across")
    pull = FactSpec(FORCE, "load at rest, straight out of the face")
    reach = FactSpec(LENGTH, "distance of the load from the welded face", bounds=NOT_NEGATIVE, is_rating=True)
    offset = FactSpec(
        LENGTH,
        "distance of the load beside the middle of the pattern's width, taped from there",
        bounds=NOT_NEGATIVE,
        is_rating=True,
    )
    legs = WordSpec(
        "for a channel with the load beside its middle: which way the two level runs point from the upright one",
        "towards the load",
        "away from the load",
    )
    load_factor = load_factor()
    repeats = WordSpec(REPEATS, "repeated", "once", default="repeated")
    once_as = once_as()
    face_angle = FactSpec(
        ANGLE,
        "angle between the two faces",
        bounds=POSITIVE,
        typical="90 ± 0 deg",
        source=f"{NO_SOURCE}: a square joint",
    )
    torch_access = FactSpec(LENGTH, "free room in front of the joint for torch and hand", bounds=POSITIVE)

    def spec_in_use(self, spec: FactSpec) -> FactSpec:
        """The metals narrow what is usual beside a weld, and what it is filled with."""
        if spec.name == "yield_strength":
            return as_welded(spec, self.material)
        if spec.name == "base_yield_strength":
            return as_welded(spec, self.base_material or self.material)
        if spec.name == "metal_strength":
            return by_filler(spec, self.material or self.base_material)
        return spec

    def faults(self) -> Iterator[tuple[str, str]]:
        """The thinner part is not thicker than the thicker one."""
        thin, thick = self.thinner.written, self.thicker.written
        if thin and thick and thin.si > thick.si:
            yield "thinner", f"is {thin}, more than {self.name}.thicker ({thick}): swap the two"
