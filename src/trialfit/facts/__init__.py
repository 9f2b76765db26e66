"""Facts: quantities with unit, uncertainty and provenance, read from a builder's text and shown the same way.

    from trialfit.facts import LENGTH, read_fact

    read_fact("1 3/8 in, taped", LENGTH).si     # 0.034925

Every name below is imported when it is first used. README.md gives the reading order.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from trialfit.facts.curve import Curve, read_curve
    from trialfit.facts.fact import Fact
    from trialfit.facts.provenance import Provenance, default_spread
    from trialfit.facts.quantity import QUANTITIES, Quantity
    from trialfit.facts.reading import read_fact
    from trialfit.facts.showing import interval_text, show, show_with_spread
    from trialfit.facts.spread import Shape, Spread, WrittenSpread
    from trialfit.facts.units import (
        Unit,
        display_unit,
        find_unit,
        from_si,
        from_si_difference,
        to_si,
        to_si_difference,
    )
    from trialfit.facts.unreadable import Unreadable

_PLACES = {
    "curve": ("Curve", "read_curve"),
    "fact": ("Fact",),
    "provenance": ("Provenance", "default_spread"),
    "quantity": ("QUANTITIES", "Quantity"),
    "reading": ("read_fact",),
    "showing": ("interval_text", "show", "show_with_spread"),
    "spread": ("Shape", "Spread", "WrittenSpread"),
    "units": ("Unit", "display_unit", "find_unit", "from_si", "from_si_difference", "to_si", "to_si_difference"),
    "unreadable": ("Unreadable",),
}
_MODULE_OF = {name: module for module, names in _PLACES.items() for name in names}
__all__ = [
    "QUANTITIES",
    "Curve",
    "Fact",
    "Provenance",
    "Quantity",
    "Shape",
    "Spread",
    "Unit",
    "Unreadable",
    "WrittenSpread",
    "default_spread",
    "display_unit",
    "find_unit",
    "from_si",
    "from_si_difference",
    "interval_text",
    "read_curve",
    "read_fact",
    "show",
    "show_with_spread",
    "to_si",
    "to_si_difference",
]


def __getattr__(name: str) -> object:
    from importlib import import_module

    if name in _MODULE_OF:
        return getattr(import_module(f"{__name__}.{_MODULE_OF[name]}"), name)
    quantity = import_module(f"{__name__}.quantity")
    if name.isupper() and hasattr(quantity, name):
        return getattr(quantity, name)
    msg = f"module {__name__!r} has no attribute {name!r}"
    raise AttributeError(msg)
