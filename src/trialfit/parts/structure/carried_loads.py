"""What every part that carries a load of its own declares: how often it comes, and the steel beside its weld.

Not here  the parts (members.py, brackets_and_welds.py, mounts.py)
"""

from __future__ import annotations

from trialfit.facts.quantity import COEFFICIENT, STRESS
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import POSITIVE, FactSpec

AS_WELDED = "student racing-car competition rules, F.3.4.2: mild steel at welds"
REPEATS = "whether the load repeats, or comes once in the life of the car"


def load_factor() -> FactSpec:
    """Worst load over the load at rest; declared by every kind that carries a load of its own."""
    return FactSpec(
        COEFFICIENT,
        "load factor: worst load over the load written; 3 for weight on a rough road, 1 if the worst load is written",
        bounds=POSITIVE,
        typical="3 ± 0",
        source=f"{NO_SOURCE}: 3 g down for chassis points",
        example="3",
        is_wish=True,
        lax="low",
    )


def yield_strength() -> FactSpec:
    """The yield of the steel beside the weld."""
    return FactSpec(
        STRESS,
        "yield strength, beside a weld",
        bounds=POSITIVE,
        typical="180 ± 0 MPa",
        source=AS_WELDED,
        is_rating=True,
    )
