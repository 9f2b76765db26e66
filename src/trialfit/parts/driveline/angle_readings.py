"""What is read along the driveline: sets of angle-gauge readings."""

from __future__ import annotations

from trialfit.facts.quantity import ANGLE, LENGTH
from trialfit.parts.declaring import POSITIVE, FactSpec, Part, WordSpec

STAGES = ("trial fit", "tacked", "welded")
"""The stages at which the driveline is gauged, in their order."""


class AngleReadings(Part):
    """Three readings with an angle gauge along the driveline, all on machined faces or the tube, same side, same way round.

    Each is positive where the shaft drops towards the rear. Take one set at the trial fit, one after tacking, one after
    the last weld has cooled.
    """

    kind = "angle_readings"

    stage = WordSpec("when the readings were taken", *STAGES, default=STAGES[0])
    gearbox = FactSpec(ANGLE, "reading on the gearbox output")
    front_shaft = FactSpec(ANGLE, "reading on the front tube, where the prop shaft has two")
    shaft = FactSpec(ANGLE, "reading on the tube of the prop shaft; with two tubes, the rear one")
    final_drive = FactSpec(ANGLE, "reading on the pinion flange of the final drive")
    floor_slope = FactSpec(
        ANGLE,
        "how far the floor under the car dropped towards the rear for this set, if it differs from that of the car",
        example="0.3°, gauged",
    )
    base_length = FactSpec(
        LENGTH,
        "length, along the car, of the base that a shim tilts: spring pad or mount foot",
        bounds=POSITIVE,
        example="140 mm, taped",
    )

    @property
    def claims(self) -> str | None:
        """One set of readings per stage."""
        return f"angle readings, {self.stage}"
