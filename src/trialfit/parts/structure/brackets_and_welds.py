"""Brackets and welds, with the loads on them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import ANGLE, COUNT, FORCE, LENGTH, STRESS
from trialfit.handbook.sources import NO_SOURCE
from trialfit.handbook.structure.weld_lines import PATTERNS
from trialfit.parts.declaring import NOT_NEGATIVE, POSITIVE, FactSpec, Part, RefSpec, WordSpec
from trialfit.parts.structure.carried_loads import REPEATS, load_factor, yield_strength

if TYPE_CHECKING:
    from collections.abc import Iterator


class Bracket(Part):
    """A bracket or mount arm of plate on edge: one plate, or two cheeks side by side."""

    kind = "bracket"

    carries = RefSpec("the mount that it carries: the worst load of that mount is used", "mount")
    load = FactSpec(FORCE, "load on its end at rest, in the direction of the plate's depth")
    load_factor = load_factor()
    repeats = WordSpec(REPEATS, "repeated", "once", default="repeated")
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
    yield_strength = yield_strength()


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
    yield_strength = yield_strength()
    thicker = FactSpec(LENGTH, "thickness of the thicker of the two parts", bounds=POSITIVE, is_rating=True)
    thinner = FactSpec(LENGTH, "thickness of the thinner of the two parts", bounds=POSITIVE, is_rating=True)
    on_edge = WordSpec("whether it runs along the edge of a plate", "yes", "no", default="no")
    run_length = FactSpec(LENGTH, "length of the shortest run", bounds=POSITIVE, is_rating=True)
    load = FactSpec(FORCE, "load at rest, in the direction of depth")
    side_load = FactSpec(FORCE, "load at rest, across")
    pull = FactSpec(FORCE, "load at rest, straight out of the face")
    reach = FactSpec(LENGTH, "distance of the load from the welded face", bounds=NOT_NEGATIVE, is_rating=True)
    offset = FactSpec(
        LENGTH, "distance of the load beside the middle of the pattern", bounds=NOT_NEGATIVE, is_rating=True
    )
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
        """The thinner part is not thicker than the thicker one."""
        thin, thick = self.thinner.written, self.thicker.written
        if thin and thick and thin.si > thick.si:
            yield "thinner", f"is {thin}, more than {self.name}.thicker ({thick}): swap the two"
