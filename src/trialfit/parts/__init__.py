"""Kinds of part and the facts each takes. `KINDS` holds them all by the word written in a build."""

from __future__ import annotations

from trialfit.parts.axle import FinalDrive, Hub, Tyre
from trialfit.parts.brakes import Brake
from trialfit.parts.car import Car
from trialfit.parts.circuits import Circuit
from trialfit.parts.cooling import Radiator
from trialfit.parts.declaring import CurveRef, FactRef, Part
from trialfit.parts.engine import Engine
from trialfit.parts.fastening import BoltedJoint, TorqueWrench
from trialfit.parts.instruments import AngleReadings, Speedometer
from trialfit.parts.lifting import Crane, Lift, SlingLeg, Stands
from trialfit.parts.measuring import Measurement, Stack
from trialfit.parts.oil_pan import OilPan
from trialfit.parts.places import Opening, TapedPoint
from trialfit.parts.ports import Fitting, Line, Port
from trialfit.parts.senders import Gauge, Sender
from trialfit.parts.shafts import HalfShaft, PropShaft
from trialfit.parts.solids import Drivetrain, Solid
from trialfit.parts.structure import (
    Bracket,
    CutMember,
    Frame,
    FrameMember,
    FrameNode,
    GivenBack,
    MassPart,
    Mount,
    PowerUnit,
    Weld,
)
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
        Brake,
        Speedometer,
        AngleReadings,
        Drivetrain,
        Solid,
        Opening,
        TapedPoint,
        Port,
        Fitting,
        Line,
        BoltedJoint,
        TorqueWrench,
        Sender,
        Gauge,
        Circuit,
        Radiator,
        Measurement,
        Stack,
        CutMember,
        GivenBack,
        Frame,
        FrameNode,
        FrameMember,
        Bracket,
        Weld,
        PowerUnit,
        Mount,
        MassPart,
        Lift,
        SlingLeg,
        Crane,
        Stands,
        OilPan,
    )
}

__all__ = [
    "KINDS",
    "AngleReadings",
    "BoltedJoint",
    "Bracket",
    "Brake",
    "Car",
    "Circuit",
    "Clutch",
    "Crane",
    "CurveRef",
    "CutMember",
    "Drivetrain",
    "Engine",
    "FactRef",
    "FinalDrive",
    "Fitting",
    "Frame",
    "FrameMember",
    "FrameNode",
    "Gauge",
    "Gearbox",
    "GivenBack",
    "HalfShaft",
    "Hub",
    "Lift",
    "Line",
    "MassPart",
    "Measurement",
    "Mount",
    "OilPan",
    "Opening",
    "Part",
    "Port",
    "PowerUnit",
    "PropShaft",
    "Radiator",
    "Sender",
    "SlingLeg",
    "Solid",
    "Speedometer",
    "Stack",
    "Stands",
    "TapedPoint",
    "TorqueWrench",
    "Tyre",
    "Weld",
]
