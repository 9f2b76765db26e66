"""The wires of the car: one circuit from its supply to its

load. Circuits have no formulas yet: colour, size and fuse are the builder's choice. The wiring schedule
prints them, with a line to fill in for what is missing.
"""

from __future__ import annotations

from trialfit.facts.quantity import AREA, CURRENT, LENGTH
from trialfit.parts.declaring import POSITIVE, CodeSpec, FactSpec, Part, RefSpec, WordSpec

LONGEST = 60


def check_label(text: str) -> None:
    """Raises ValueError where a text is empty or too long for a label."""
    if not text.strip() or len(text) > LONGEST:
        raise ValueError(
            f'is "{text}": expected a word or two for a label, up to {LONGEST} letters, as in "fuse box, way 7"'
        )


class Circuit(Part):
    """One circuit: a wire, or a run of equal wires, from its supply to its load.

    Circuits fed from the traction battery of an electric car belong to the high-voltage side: only qualified people plan, lay
    and measure them, isolated and locked out.
    """

    kind = "circuit"

    start = CodeSpec(
        "where it begins: terminal, relay or plug, with its pin", check=check_label, example="relay 3, pin 87"
    )
    end = CodeSpec(
        "where it ends: terminal, relay or plug, with its pin", check=check_label, example="vacuum pump, pin 1"
    )
    serves = RefSpec("the sender, gauge or other part that it serves", "sender", "gauge", "engine", "port")
    side = WordSpec(
        "whether it belongs to the low-voltage or the high-voltage side",
        "low voltage",
        "high voltage",
        default="low voltage",
    )
    colour = CodeSpec("colour of the wire; a tracer colour after a stroke", check=check_label, example="red/white")
    conductor_area = FactSpec(
        AREA, "cross-section of the copper, not of the insulation", bounds=POSITIVE, example="2.5 mm², catalogue"
    )
    length = FactSpec(LENGTH, "length of the wire one way", bounds=POSITIVE, example="3.2 m, taped")
    current = FactSpec(CURRENT, "current drawn by its load", bounds=POSITIVE, example="12 A, catalogue")
    fuse = FactSpec(CURRENT, "rating of its fuse", bounds=POSITIVE, is_wish=True, example="20 A")
    fused_at = CodeSpec("position of its fuse", check=check_label, example="fuse box, way 7")
    connector = CodeSpec("the connector at its end", check=check_label, example="2-way, sealed")
