"""Torque path: load and capacity of each element between flywheel and wheels, and the weakest element.

Answers   requirements   everything this subject states for a build
          elements       each thing in the line, from the clutch to the studs
Not here  angles and speeds of the shafts (driveline); how the car goes (gearing)
Ids       torque_path.clutch, .clutch_excess, .converter, .gearbox, .transfer_case, .shaft.NAME, .joint.PLACE, .final_drive,
          .half_shaft.SIDE, .half_shaft_bending.SIDE, .hub.AXLE, .studs.AXLE
          figures: torque_path.stall_speed, .multiplied_torque, torque_path.steady.PLACE.GEAR, .shock.PLACE.GEAR, .grip_governs.LOAD.GEAR, .capacity.clutch,
          .worked_out.ELEMENT, .shock_over_rating.ELEMENT, .weakest
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.subjects.torque_path import (
    bending,
    by_gear,
    clutch,
    converter,
    gear_sets,
    half_shafts,
    hubs,
    shafts,
    studs,
    weakest,
)
from trialfit.subjects.torque_path.element import SUBJECT

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.requirement import Requirement
    from trialfit.subjects.torque_path.element import Element

__all__ = ["SUBJECT", "elements", "requirements"]

_ELEMENTS = (clutch, converter, gear_sets, shafts, half_shafts, hubs, studs)
_FIGURES = (clutch, converter, gear_sets, shafts, half_shafts, bending, by_gear)


def requirements(build: Build) -> Iterator[Requirement]:
    """What the line of drive of a build must carry, from the clutch to the studs, and the figures."""
    line = elements(build)
    yield from (element.requirement for element in line)
    yield from weakest.requirements(line)
    for part in _FIGURES:
        yield from part.requirements(build)


def elements(build: Build) -> list[Element]:
    """Each element of the line that torque can break or make slip, from the engine to the wheels."""
    return [element for part in _ELEMENTS for element in part.elements(build)]
