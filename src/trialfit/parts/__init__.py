"""Kinds of part and the facts each takes. `KINDS` holds them all by the word written in a build."""

from __future__ import annotations

from trialfit.parts.braking.brakes import Brake
from trialfit.parts.car import Car
from trialfit.parts.clearance.drivetrain import Drivetrain
from trialfit.parts.clearance.places import Opening, TapedPoint
from trialfit.parts.clearance.solids import Solid
from trialfit.parts.cooling.radiator import Radiator
from trialfit.parts.declaring import Part
from trialfit.parts.driveline.angle_readings import AngleReadings
from trialfit.parts.driveline.axle_location import AxleLocation
from trialfit.parts.driveline.shafts import HalfShaft, PropShaft
from trialfit.parts.electrics.circuits import Circuit
from trialfit.parts.engine import Engine
from trialfit.parts.fact_refs import CurveRef, FactRef
from trialfit.parts.fastening.fasteners import BoltedJoint
from trialfit.parts.fastening.torque_wrench import TorqueWrench
from trialfit.parts.gearing.speedometer import Speedometer
from trialfit.parts.gearing.tyre import Tyre
from trialfit.parts.lifting.crane_and_stands import Crane, Lift, SlingLeg, Stands
from trialfit.parts.measuring.measurements import Measurement, Stack
from trialfit.parts.oil.oil_pan import OilPan
from trialfit.parts.ports.lines_and_fittings import Fitting, Line, Port
from trialfit.parts.senders.senders_and_gauges import Gauge, Sender
from trialfit.parts.structure.brackets_and_welds import Bracket, Weld
from trialfit.parts.structure.members import CutMember, Frame, FrameMember, FrameNode, Reinforcement
from trialfit.parts.structure.mounts import MassPart, Mount, PowerUnit
from trialfit.parts.structure.spot_welds import SpotWelds
from trialfit.parts.torque_path.axle import FinalDrive, Hub
from trialfit.parts.torque_path.transmission import Clutch, Gearbox, TorqueConverter, TransferCase

KINDS: dict[str, type[Part]] = {
    kind.kind: kind
    for kind in (
        Car,
        Engine,
        Clutch,
        TorqueConverter,
        Gearbox,
        TransferCase,
        PropShaft,
        FinalDrive,
        AxleLocation,
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
        Reinforcement,
        Frame,
        FrameNode,
        FrameMember,
        Bracket,
        Weld,
        SpotWelds,
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
    "AxleLocation",
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
    "Reinforcement",
    "Sender",
    "SlingLeg",
    "Solid",
    "Speedometer",
    "SpotWelds",
    "Stack",
    "Stands",
    "TapedPoint",
    "TorqueConverter",
    "TorqueWrench",
    "TransferCase",
    "Tyre",
    "Weld",
]
