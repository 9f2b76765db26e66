"""Plots that people ask for and that no kind of part can feed yet: a page to fill in by hand, and why it is empty.

Answers   cooling
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.drawing.plot import Axis, Plot

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation

_WHY = "Not worked out yet: no kind of part takes these facts. Write them down here; nothing on this page was computed."


def cooling(ev: Evaluation) -> Plot:
    """Up to which outside temperature the radiator carries the heat away."""
    return _empty(
        ev,
        "cooling",
        "Cooling limit: heat to be carried away over road speed",
        {
            "heat into the coolant at full power": "kW, from the maker, or share of the power",
            "radiator: heat per kelvin over air speed": "kW/K, its maker's curve",
            "flow of the coolant pump over engine speed": "l/min",
            "flow of the fan": "m³/h, at standstill",
            "highest outside temperature and coolant temperature": "°C",
        },
    )


def _empty(ev: Evaluation, name: str, title: str, missing: dict[str, str]) -> Plot:
    return Plot(
        build=ev.build.name,
        name=name,
        title=title,
        x=Axis(says=""),
        y=Axis(says=""),
        notes=(_WHY,),
        missing=missing,
        draws=ev.draws,
    )
