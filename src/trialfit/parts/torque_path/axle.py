"""Final drive and hubs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import ANGLE, COEFFICIENT, COUNT, FORCE, LENGTH, RATIO, SHARE, STRESS, TORQUE
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import NOT_NEGATIVE, POSITIVE, Bounds, FactSpec, Part, RefSpec, WordSpec

if TYPE_CHECKING:
    from collections.abc import Iterator


class FinalDrive(Part):
    """Crown wheel, pinion and differential; fixed to the body, or in a live axle."""

    kind = "final_drive"
    place = "final drive"

    after = RefSpec("what drives it", "prop_shaft", "gearbox")
    ratio = FactSpec(RATIO, "turns of the pinion for one turn of the wheels", bounds=POSITIVE)
    crown_wheel_teeth = FactSpec(
        COUNT, "teeth of the crown wheel, counted or stamped on it", bounds=POSITIVE, example="41"
    )
    pinion_teeth = FactSpec(COUNT, "teeth of the pinion, counted or stamped on it", bounds=POSITIVE, example="11")
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
        lax="low",
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
        typical="5 ± 3 deg",
        source="from memory: 3 to 8° on soft leaf springs, 2 to 4° on stiff ones or links",
        example="5 ± 3°, guess",
        lax="low",
    )
    wind_down = FactSpec(
        ANGLE,
        "how far the pinion nose of a live axle turns down in hard braking",
        bounds=NOT_NEGATIVE,
        typical="4 ± 2 deg",
        source="from memory: 2 to 6°",
        example="4 ± 2°, guess",
        lax="low",
    )


class Hub(Part):
    """The hubs of one axle: both sides alike."""

    kind = "hub"

    axle = WordSpec("the axle it is on", "front", "rear", default="rear")
    stud_count = FactSpec(COUNT, "number of studs or wheel bolts per wheel", bounds=POSITIVE)
    stud_preload = FactSpec(
        FORCE, "preload of one stud, if known", bounds=POSITIVE, example="38 kN ± 10 %, computed", is_rating=True
    )
    stud_torque = FactSpec(TORQUE, "tightening torque of the wheel nuts", bounds=POSITIVE, example="90 N·m, manual")
    stud_diameter = FactSpec(
        LENGTH, "nominal thread diameter of the studs", bounds=POSITIVE, example="12 mm, manual", is_rating=True
    )
    nut_factor = FactSpec(
        COEFFICIENT,
        "nut factor K of the wheel nuts: torque over preload times diameter; without it, from nut_friction and seat",
        bounds=POSITIVE,
        example="0.30 ± 0.05, guess",
    )
    seat = WordSpec("seat of the wheel nuts or bolts: a cone or ball that centres the wheel, or flat", "cone", "flat")
    nut_friction = FactSpec(
        COEFFICIENT,
        "friction of the wheel nuts in thread and seat, in the state that their torque is meant for",
        bounds=POSITIVE,
        typical="0.15 ± 0.05",
        source="from memory: dry steel, clean 0.10 to 0.20",
        example="0.15 ± 0.05, guess",
        lax="either",
    )
    stud_pitch = FactSpec(
        LENGTH,
        "thread pitch of the studs",
        bounds=POSITIVE,
        typical="1.5 ± 0.25 mm",
        source="common practice, no source: 1.25 or 1.5 mm, 1/2 in with 20 to the inch",
        example="1.5 mm, manual",
        is_rating=True,
    )
    stud_yield_strength = FactSpec(
        STRESS,
        "yield strength of the studs",
        bounds=POSITIVE,
        typical="790 ± 150 MPa",
        source="from memory: class 8.8 to 10.9, 640 to 940 MPa",
        example="640 MPa, manual",
        is_rating=True,
    )
    pitch_circle_diameter = FactSpec(
        LENGTH,
        "diameter of the pitch circle of the studs",
        bounds=POSITIVE,
        example="100 mm, calipered",
        is_rating=True,
    )
    face_friction = FactSpec(
        COEFFICIENT,
        "friction between wheel and hub face",
        bounds=POSITIVE,
        typical="0.15 ± 0.05",
        source="from memory: dry and clean 0.10 to 0.20",
        example="0.15 ± 0.05, guess",
        lax="high",
    )
    rated_torque = FactSpec(
        TORQUE,
        "rated drive torque of the hub and its spline",
        bounds=POSITIVE,
        example="2500 N·m, catalogue",
        is_rating=True,
    )
    origin = WordSpec(
        "car that the hubs come from: one with as much torque, gearing and weight as this one, or a weaker one",
        "as strong a car",
        "weaker car",
    )
    spline_teeth = FactSpec(COUNT, "teeth of the spline in the hub", bounds=POSITIVE, example="25")
    spline_outside_diameter = FactSpec(
        LENGTH, "diameter over the teeth of the spline", bounds=POSITIVE, example="28.0 mm, calipered", is_rating=True
    )
    spline_inside_diameter = FactSpec(
        LENGTH,
        "diameter of the shaft at the root of its spline",
        bounds=POSITIVE,
        example="25.6 mm, calipered",
        is_rating=True,
    )
    spline_length = FactSpec(
        LENGTH, "engaged length of the spline", bounds=POSITIVE, example="30 mm, calipered", is_rating=True
    )
    spline_pressure = FactSpec(
        STRESS,
        "pressure that the flanks of the spline bear",
        bounds=POSITIVE,
        typical="130 ± 60 MPa",
        source="from memory: 70 MPa soft, up to 190 MPa hardened, under shocks that do not slide",
        example="130 ± 60 MPa, guess",
        is_rating=True,
    )
    spline_notch_factor = FactSpec(
        COEFFICIENT,
        "notch factor: stress at the root of the spline over that of a plain bar as thick as its root",
        bounds=Bounds(at_least=1),
        typical="2.25 ± 0.75",
        source="from memory: 1.5 to 3",
        example="2.25 ± 0.75, guess",
        lax="low",
    )
    spline_yield_strength = FactSpec(
        STRESS,
        "yield strength of the splined end",
        bounds=POSITIVE,
        typical="750 ± 350 MPa",
        source="from memory: carbon steel 400, hardened alloy steel 1100 MPa",
        example="750 ± 350 MPa, guess",
        is_rating=True,
    )

    @property
    def claims(self) -> str | None:
        """One kind of hub per axle."""
        return f"{self.axle} hubs"

    def faults(self) -> Iterator[tuple[str, str]]:
        """A spline is a ring of teeth."""
        outside, inside = self.spline_outside_diameter.written, self.spline_inside_diameter.written
        if outside and inside and inside.si >= outside.si:
            other = f"{self.name}.spline_outside_diameter ({outside})"
            yield (
                "spline_inside_diameter",
                f"is {inside}, not smaller than {other}: expected the root, for example 25.6 mm of 28 mm",
            )
