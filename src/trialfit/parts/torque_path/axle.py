"""Final drive and hubs."""

from __future__ import annotations

from trialfit.facts.quantity import ANGLE, COEFFICIENT, COUNT, FORCE, LENGTH, RATIO, SHARE, TORQUE
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import NOT_NEGATIVE, POSITIVE, Bounds, FactSpec, Part, RefSpec, WordSpec


class FinalDrive(Part):
    """Crown wheel, pinion and differential; fixed to the body, or in a live axle."""

    kind = "final_drive"
    place = "final drive"

    after = RefSpec("what drives it", "prop_shaft", "gearbox")
    ratio = FactSpec(RATIO, "turns of the pinion for one turn of the wheels", bounds=POSITIVE)
    efficiency = FactSpec(
        SHARE,
        "efficiency: share of the power that comes out",
        bounds=Bounds(above=0, at_most=1),
        typical="96 ± 1 %",
        source="from memory: 95 to 97 %, hypoid",
        example="96 ± 1 %, guess",
    )
    differential = WordSpec("type of differential", "open", "limited slip", "locked", default="open")
    bias_ratio = FactSpec(
        COEFFICIENT,
        "torque of the gripping wheel over that of the slipping one; for a limited-slip differential",
        bounds=Bounds(at_least=1),
        typical="2.5 ± 1",
        source=NO_SOURCE,
        example="2.5 ± 1, catalogue",
    )
    rated_torque = FactSpec(
        TORQUE,
        "rated torque, at the place named in rated_at",
        bounds=POSITIVE,
        example="3100 N·m, catalogue",
        is_rating=True,
    )
    rated_at = WordSpec("place for which its maker states the rating", "pinion", "wheels", default="wheels")
    input_x = FactSpec(
        LENGTH, "centre of the joint on its pinion: forward of the front axle is positive", example="-2100 mm, taped"
    )
    input_y = FactSpec(
        LENGTH,
        "centre of the joint on its pinion: to the left of the middle of the car is positive",
        example="0 mm, taped",
    )
    input_z = FactSpec(
        LENGTH, "centre of the joint on its pinion: above the ground at ride height", example="300 mm, taped"
    )
    input_inclination = FactSpec(
        ANGLE, "how far the pinion shaft drops towards the rear, at ride height; level is zero"
    )
    input_heading = FactSpec(
        ANGLE,
        "how far the pinion shaft points to the left, looking rearward along it; straight is zero",
        typical="0 ± 0.5 deg",
        source=f"{NO_SOURCE}: mounted straight ahead",
        example="0 ± 0.4°, taped",
    )
    pinion_length = FactSpec(
        LENGTH,
        "length from axle centre to the joint on the pinion; for a live axle",
        bounds=POSITIVE,
        typical="0.28 ± 0.06 m",
        source=NO_SOURCE,
        example="284 mm, taped",
    )
    bump_travel = FactSpec(
        LENGTH,
        "travel of a live axle from ride height up to the bump stop",
        bounds=NOT_NEGATIVE,
        example="95 mm, taped",
    )
    droop_travel = FactSpec(
        LENGTH, "travel of a live axle from ride height down to full droop", bounds=NOT_NEGATIVE, example="80 mm, taped"
    )
    wind_up = FactSpec(
        ANGLE,
        "wind-up: how far the pinion nose of a live axle turns up at full drive torque",
        bounds=NOT_NEGATIVE,
        typical="2 ± 1 deg",
        source=NO_SOURCE,
        example="2 ± 1°, guess",
    )


class Hub(Part):
    """The hubs of one axle: both sides alike."""

    kind = "hub"

    axle = WordSpec("the axle it is on", "front", "rear", default="rear")
    stud_count = FactSpec(COUNT, "number of studs or wheel bolts per wheel", bounds=POSITIVE)
    stud_preload = FactSpec(FORCE, "preload of one stud, if known", bounds=POSITIVE, example="38 kN ± 10 %, computed")
    stud_torque = FactSpec(TORQUE, "tightening torque of the wheel nuts", bounds=POSITIVE, example="90 N·m, manual")
    stud_diameter = FactSpec(LENGTH, "nominal thread diameter of the studs", bounds=POSITIVE, example="12 mm, manual")
    nut_factor = FactSpec(
        COEFFICIENT,
        "nut factor K of the wheel nuts: torque over preload times diameter",
        bounds=POSITIVE,
        typical="0.20 ± 0.05",
        source="fastener suppliers' nut-factor table, dry steel 0.18 to 0.27",
        example="0.20 ± 0.05, guess",
    )
    pitch_circle_diameter = FactSpec(
        LENGTH, "diameter of the pitch circle of the studs", bounds=POSITIVE, example="100 mm, calipered"
    )
    face_friction = FactSpec(
        COEFFICIENT,
        "friction between wheel and hub face",
        bounds=POSITIVE,
        typical="0.15 ± 0.03",
        source="from memory, dry and clean",
        example="0.15 ± 0.03, guess",
    )
    rated_torque = FactSpec(
        TORQUE,
        "rated drive torque of the hub and its spline",
        bounds=POSITIVE,
        example="2500 N·m, catalogue",
        is_rating=True,
    )

    @property
    def claims(self) -> str | None:
        """One kind of hub per axle."""
        return f"{self.axle} hubs"
