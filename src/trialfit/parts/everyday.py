"""What the workshop calls a part, and the kinds it is written as here.

Answers   kinds_meant    the kinds that a word of the workshop can mean
          nearest_kind   a phrase that names them, or the kinds that are spelled much the same, or all kinds

Source    common practice, no source
"""

from __future__ import annotations

import re

from trialfit.parts import KINDS
from trialfit.parts.reading import nearest

EVERYDAY = {
    "motor": ("engine",),
    "electric_motor": ("engine",),
    "transmission": ("gearbox",),
    "trans": ("gearbox",),
    "box": ("gearbox",),
    "diff": ("final_drive",),
    "differential": ("final_drive",),
    "rear_end": ("final_drive",),
    "crown_wheel": ("final_drive",),
    "pinion": ("final_drive",),
    "axle": ("final_drive", "half_shaft"),
    "live_axle": ("final_drive", "axle_location"),
    "rear_axle": ("final_drive", "half_shaft"),
    "axle_shaft": ("half_shaft",),
    "drive_shaft": ("prop_shaft", "half_shaft"),
    "driveshaft": ("prop_shaft", "half_shaft"),
    "cardan": ("prop_shaft",),
    "cardan_shaft": ("prop_shaft",),
    "propeller_shaft": ("prop_shaft",),
    "tail_shaft": ("prop_shaft",),
    "shaft": ("prop_shaft", "half_shaft"),
    "flywheel": ("clutch",),
    "converter": ("torque_converter",),
    "automatic": ("gearbox", "torque_converter"),
    "transfer_box": ("transfer_case",),
    "low_range": ("transfer_case",),
    "pressure_plate": ("clutch",),
    "wheel": ("tyre", "hub"),
    "tire": ("tyre",),
    "rim": ("tyre", "hub"),
    "stud": ("hub",),
    "wheel_bolt": ("hub",),
    "caliper": ("brake",),
    "brake_disc": ("brake",),
    "brake_drum": ("brake",),
    "brake_pad": ("brake",),
    "rotor": ("brake",),
    "speedo": ("speedometer",),
    "inclinometer": ("angle_readings",),
    "angle": ("angle_readings",),
    "vehicle": ("car",),
    "body": ("car",),
    "chassis": ("car",),
    "sump": ("oil_pan", "solid"),
    "oil_sump": ("oil_pan",),
    "oil_pickup": ("oil_pan",),
}
_BETWEEN = re.compile(r"[\s_-]+")


def kinds_meant(word: str) -> tuple[str, ...]:
    """The kinds that a word of the workshop can mean; empty for an unknown word."""
    plain = _BETWEEN.sub("_", word.casefold()).strip("_")
    return EVERYDAY.get(plain) or EVERYDAY.get(plain.removesuffix("s")) or ()


def nearest_kind(word: str) -> str:
    """A phrase that names the kinds meant, else those nearest in spelling, else all.

    >>> nearest_kind("motor")
    'did you mean "engine"?'
    """
    meant = kinds_meant(word)
    return "did you mean " + " or ".join(f'"{kind}"' for kind in meant) + "?" if meant else nearest(word, KINDS)
