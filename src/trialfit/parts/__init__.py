"""Kinds of part and the facts each takes. `KINDS` holds them all by the word written in a build."""

from __future__ import annotations

from trialfit.parts.axle import FinalDrive, Hub, Tyre
from trialfit.parts.car import Car
from trialfit.parts.declaring import CurveRef, FactRef, Part
from trialfit.parts.engine import Engine
from trialfit.parts.instruments import AngleReadings, Speedometer
from trialfit.parts.shafts import HalfShaft, PropShaft
from trialfit.parts.solids import Drivetrain, Mount, Opening, Solid
from trialfit.parts.transmission import Clutch, Gearbox

KINDS: dict[str, type[Part]] = {
    kind.kind: kind
    for kind in (
        Car,
        Engine,
        Clutch,
        Gearbox,
        PropShaft,
        FinalDrive,
        HalfShaft,
        Hub,
        Tyre,
        Speedometer,
        AngleReadings,
        Drivetrain,
        Solid,
        Opening,
        Mount,
    )
}

__all__ = [
    "KINDS",
    "AngleReadings",
    "Car",
    "Clutch",
    "CurveRef",
    "Drivetrain",
    "Engine",
    "FactRef",
    "FinalDrive",
    "Gearbox",
    "HalfShaft",
    "Hub",
    "Mount",
    "Opening",
    "Part",
    "PropShaft",
    "Solid",
    "Speedometer",
    "Tyre",
]
