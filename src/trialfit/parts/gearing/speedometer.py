"""The speedometer."""

from __future__ import annotations

from trialfit.facts.quantity import LENGTH, RATIO, SHARE
from trialfit.handbook.gearing.tyres import read_size
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import POSITIVE, CodeSpec, FactSpec, Part


class Speedometer(Part):
    """A speedometer driven from the gearbox output, as it was set up in the car it came from."""

    kind = "speedometer"
    place = "speedometer"

    original_final_drive = FactSpec(RATIO, "final drive ratio it was set up for", bounds=POSITIVE, example="4.10")
    original_tyre_size = CodeSpec("tyre size it was set up for", check=read_size, example="185/70 R13")
    original_circumference = FactSpec(
        LENGTH, "rolling circumference it was set up for", bounds=POSITIVE, example="1.78 m, taped"
    )
    drive_factor = FactSpec(
        RATIO,
        "turns of its drive now over turns before, at the same gearbox output speed: other drive gears, or a converter box",
        bounds=POSITIVE,
        typical="1 ± 0",
        source=f"{NO_SOURCE}: the drive is unchanged",
        example="1.03",
    )
    original_over_reading = FactSpec(
        SHARE,
        "over-reading in the car it was set up for: shown above true",
        typical="4 ± 4 %",
        source=f"{NO_SOURCE}: 0 to 8 %",
        example="4 ± 3 %, guess",
        lax="high",
    )
