"""What the builder reads: the speedometer, and sets of angle-gauge readings along the driveline."""

from __future__ import annotations

from trialfit.facts.quantity import ANGLE, LENGTH, RATIO, SHARE
from trialfit.handbook.tyres import read_size
from trialfit.parts.declaring import Bounds, CodeSpec, FactSpec, Part, WordSpec

POSITIVE = Bounds(above=0)
STAGES = ("trial fit", "tacked", "welded")
"""The stages at which the driveline is gauged, in their order."""


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
        "turns of its drive now over turns then, at the same gearbox output speed: other drive gears, or a converter box",
        bounds=POSITIVE,
        typical="1 ± 0",
        source="common practice, no source: the drive came along unchanged",
        example="1.03",
    )
    original_over_reading = FactSpec(
        SHARE,
        "how much it showed above true speed in the car it was set up for",
        typical="4 ± 3 %",
        source="common practice, no source",
        example="4 ± 3 %, guess",
    )


class AngleReadings(Part):
    """Three readings with an angle gauge along the driveline, all on machined faces or the tube, same side, same way round.

    Each is positive where the shaft drops towards the rear. Take one set at the trial fit, one after tacking, one after
    the last weld has cooled.
    """

    kind = "angle_readings"

    stage = WordSpec("when the readings were taken", *STAGES, default=STAGES[0])
    gearbox = FactSpec(ANGLE, "reading on the gearbox output")
    front_shaft = FactSpec(ANGLE, "reading on the front tube, where the prop shaft has two")
    shaft = FactSpec(ANGLE, "reading on the tube of the prop shaft; of two tubes the one that ends at the final drive")
    final_drive = FactSpec(ANGLE, "reading on the pinion flange of the final drive")
    floor_slope = FactSpec(
        ANGLE,
        "how far the floor under the car drops towards the rear",
        typical="0 ± 0.5 deg",
        source="common practice, no source: a garage floor that looks level",
        example="0.3°, gauged",
    )
    base_length = FactSpec(
        LENGTH,
        "length of the base that a shim would tilt: spring pad or mount foot, along the car",
        bounds=POSITIVE,
        example="140 mm, taped",
    )

    @property
    def claims(self) -> str | None:
        """One set of readings per stage."""
        return f"angle readings, {self.stage}"
