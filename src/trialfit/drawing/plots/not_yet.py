"""Plots that people ask for and that no kind of part can feed yet: a page to fill in by hand, and why it is empty.

Answers   oil_pickup
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.drawing.plot import Axis, Plot

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation

_WHY = "Not worked out yet: no kind of part takes these facts. Write them down here; nothing on this page was computed."


def oil_pickup(ev: Evaluation) -> Plot:
    """How hard the car may corner, brake and climb before the pickup draws air."""
    return _empty(
        ev,
        "oil_pickup",
        "Oil pickup: how far the oil may lean",
        {
            "sump length, width and depth at the pickup": "inside, mm",
            "height of the oil over the pickup, level, engine running": "at the lowest mark, mm",
            "place of the pickup in the sump": "from the front and from the left wall, mm",
            "baffles and trap doors": "which way each one holds the oil",
            "largest acceleration to be driven": "braking, cornering left and right, pulling away, m/s²",
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
