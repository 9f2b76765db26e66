"""Spot welds and plug welds that hold a part of sheet."""

from __future__ import annotations

from trialfit.facts.quantity import COEFFICIENT, COUNT, FORCE, LENGTH, STRESS
from trialfit.handbook.structure.spot_welds import PEELED, REACHED, SQUARE
from trialfit.parts.declaring import NOT_NEGATIVE, POSITIVE, Bounds, FactSpec, Part, RefSpec, WordSpec
from trialfit.parts.structure.carried_loads import REPEATS, load_factor, material, once_as

_FROM_MEMORY = "from memory: strength of a spot by the way it is pulled"


def _span(ends: tuple[float, float]) -> str:
    low, high = ends
    return f"{(low + high) / 2:g} ± {(high - low) / 2:g}"


class SpotWelds(Part):
    """A group of spot or plug welds in steel sheet that holds one part: number, size and load."""

    kind = "spot_welds"

    carries = RefSpec("the bracket or mount that they hold: the loads of that part are used", "bracket", "mount")
    type = WordSpec("spots of a spot welder, or plugs filled through a hole", "spot", "plug", default="spot")
    number = FactSpec(COUNT, "how many hold the part", bounds=POSITIVE)
    diameter = FactSpec(
        LENGTH,
        "diameter of the nugget, measured on a test piece that was peeled apart; of a plug: of its hole",
        bounds=POSITIVE,
        is_rating=True,
    )
    thinner = FactSpec(LENGTH, "thickness of the thinner of the two sheets", bounds=POSITIVE, is_rating=True)
    material = material("metal of the sheets")
    strength_share = FactSpec(
        COEFFICIENT,
        "strength of a spot over that of the chart, as a test piece of the same sheets broke",
        bounds=POSITIVE,
        typical=_span(REACHED),
        source="from memory: AWS C1.1 chart for steel up to 480 MPa; AWS D8.9 gives half of it for steel of 300 MPa",
        is_rating=True,
        lax="high",
    )
    metal_strength = FactSpec(
        STRESS,
        "for plugs: tensile strength of the weld metal by its class",
        bounds=POSITIVE,
        typical="480 +60/-50 MPa",
        source="from memory: rods of 430 MPa, common wire of 480, up to 540 for mild steel",
        example="480 MPa, catalogue",
        is_rating=True,
    )
    spacing = FactSpec(LENGTH, "least distance between the centres of two of them", bounds=POSITIVE, is_rating=True)
    edge_distance = FactSpec(
        LENGTH, "centre of the outermost one to the edge of the sheet", bounds=POSITIVE, is_rating=True
    )
    load = FactSpec(FORCE, "load at rest along the sheets, on all of them together")
    pull = FactSpec(FORCE, "load at rest that pulls the sheets apart, on all of them together", bounds=NOT_NEGATIVE)
    pulled = WordSpec("how they are pulled: square off, or peeled from one side", "square", "peeled", default="peeled")
    pull_share = FactSpec(
        COEFFICIENT,
        "strength when pulled over strength in shear",
        bounds=POSITIVE,
        typical=_span(PEELED),
        source=_FROM_MEMORY,
        lax="high",
    )
    reach = FactSpec(LENGTH, "distance of the load from the sheet", bounds=NOT_NEGATIVE, is_rating=True)
    rows = FactSpec(COUNT, "rows of them, one above the other along the load", bounds=Bounds(at_least=1))
    depth = FactSpec(LENGTH, "from the first row to the last, along the load", bounds=POSITIVE, is_rating=True)
    load_factor = load_factor()
    repeats = WordSpec(REPEATS, "repeated", "once", default="repeated")
    once_as = once_as()

    def spec_in_use(self, spec: FactSpec) -> FactSpec:
        """The way they are pulled narrows what is usual."""
        if spec.name == "pull_share" and self.pulled == "square":
            return spec.with_typical(_span(SQUARE), _FROM_MEMORY)
        return spec
