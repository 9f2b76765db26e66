"""The car itself: masses, dimensions, resistance, and the builder's targets."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import ANGLE, AREA, COEFFICIENT, COUNT, DENSITY, LENGTH, MASS, SHARE, SLOPE, SPEED, TIME
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import POSITIVE, Bounds, FactSpec, Part, WordSpec
from trialfit.parts.lists_and_curves import ListSpec

if TYPE_CHECKING:
    from collections.abc import Iterator


class Car(Part):
    """The car as it will drive: with driver, half a tank and the new drivetrain in it."""

    kind = "car"
    place = "car"

    mass = FactSpec(MASS, "mass as driven: driver, half a tank, tools", bounds=POSITIVE, example="960 kg, weighed")
    rear_axle_mass = FactSpec(
        MASS,
        "load on both rear wheels together, on level ground, as driven",
        bounds=POSITIVE,
        example="465 kg, weighed",
    )
    driver_only_mass = FactSpec(
        MASS,
        "mass with the driver alone, where the car was weighed with more in it",
        bounds=POSITIVE,
        example="940 kg, weighed",
    )
    laden_mass = FactSpec(
        MASS,
        "mass laden: the highest permitted one on the plate, or every seat and all luggage space taken",
        bounds=POSITIVE,
        example="1390 kg, manual",
    )
    laden_rear_axle_mass = FactSpec(
        MASS,
        "load on both rear wheels together, laden: the permitted axle load on the plate, or weighed",
        bounds=POSITIVE,
        example="760 kg, manual",
    )
    laden_front_axle_mass = FactSpec(
        MASS,
        "load on both front wheels together, laden: the permitted axle load on the plate, or weighed; a plate often permits "
        "more on both axles together than on the car",
        bounds=POSITIVE,
        example="680 kg, manual",
    )
    seats = FactSpec(
        COUNT,
        "seats, the driver's included; leave it out for a pickup, van or truck and write laden_mass",
        bounds=Bounds(at_least=1),
        example="4",
    )
    load_per_seat = FactSpec(
        MASS,
        "one more person with luggage",
        bounds=Bounds(at_least=0),
        typical="75 ± 25 kg",
        source="ISO 1176, from memory: 68 kg and 7 kg of luggage; a child and a heavy adult: common practice, no source",
    )
    load_share = FactSpec(
        SHARE,
        "what the laden car weighs above its mass as driven, where neither laden_mass nor seats is written",
        bounds=Bounds(at_least=0),
        typical="25 ± 25 %",
        source=f"{NO_SOURCE}: nothing for a single-seater, a half for a pickup or van",
        lax="low",
    )
    load_on_rear = FactSpec(
        SHARE,
        "share of people and load above the mass as driven that goes to the rear axle",
        bounds=Bounds(at_least=0, at_most=2),
        typical="70 ± 40 %",
        source=f"{NO_SOURCE}: 30 % for two seats ahead of the engine, above 100 % for load behind the axle",
        lax="either",
    )
    trailer_mass = FactSpec(
        MASS, "mass of the heaviest loaded trailer it tows", bounds=POSITIVE, example="1200 kg, manual"
    )
    nose_mass = FactSpec(
        MASS, "what the trailer puts on the coupling ball", bounds=Bounds(at_least=0), example="60 kg, weighed"
    )
    nose_share = FactSpec(
        SHARE,
        "what the trailer puts on the coupling ball, over its mass, where nose_mass is missing",
        bounds=Bounds(at_least=0, at_most=1),
        typical="7 ± 3 %",
        source="4 %, at least 25 kg: European rules on masses and dimensions, from memory; up to 10 %: common practice, no source",
        lax="low",
    )
    ball_overhang = FactSpec(
        LENGTH,
        "distance from the rear axle back to the coupling ball",
        bounds=Bounds(at_least=0),
        typical="1.0 ± 0.4 m",
        source=NO_SOURCE,
        example="0.95 m, taped",
    )
    front_axle_mass = FactSpec(
        MASS,
        "load on both front wheels together, on level ground, as driven",
        bounds=POSITIVE,
        example="520 kg, weighed",
    )
    left_front_mass = FactSpec(
        MASS, "load on the left front wheel, on corner scales, as driven", bounds=POSITIVE, example="262 kg, weighed"
    )
    right_front_mass = FactSpec(
        MASS, "load on the right front wheel, on corner scales, as driven", bounds=POSITIVE, example="258 kg, weighed"
    )
    left_rear_mass = FactSpec(
        MASS, "load on the left rear wheel, on corner scales, as driven", bounds=POSITIVE, example="221 kg, weighed"
    )
    right_rear_mass = FactSpec(
        MASS, "load on the right rear wheel, on corner scales, as driven", bounds=POSITIVE, example="219 kg, weighed"
    )
    wheelbase = FactSpec(LENGTH, "distance from front axle to rear axle", bounds=POSITIVE, example="2.40 m, taped")
    front_track = FactSpec(
        LENGTH, "track: centre to centre of the front tyres", bounds=POSITIVE, example="1.40 m, taped"
    )
    rear_track = FactSpec(LENGTH, "track: centre to centre of the rear tyres", bounds=POSITIVE, example="1.42 m, taped")
    centre_of_mass_height = FactSpec(
        LENGTH,
        "height of the centre of mass above the ground",
        bounds=POSITIVE,
        typical="0.52 +0.20/-0.10 m",
        source=f"{NO_SOURCE}: 0.42 m for a low coupe, 0.72 m for a van or a car for rough ground",
        example="0.52 ± 0.08 m, guess",
        lax="either",
    )
    driven_axle = WordSpec("the driven axle", "rear", "front", "all", default="rear")
    rear_suspension = WordSpec("type of rear suspension", "independent", "live axle")
    front_roll_share = FactSpec(
        SHARE,
        "front share of the roll stiffness; used for a live axle with an open differential",
        bounds=Bounds(at_least=0, at_most=1),
        typical="60 ± 25 %",
        source=f"{NO_SOURCE}: 35 % without a front bar, 85 % for soft leaf springs behind",
        lax="either",
    )
    floor_slope = FactSpec(
        ANGLE,
        "how far the floor drops towards the rear on which the car stood when its angles were gauged: places are measured "
        "from the floor, a gauge reads from the level",
        typical="0 ± 0.7 deg",
        source=f"{NO_SOURCE}: a garage floor is laid to fall up to 1 in 80, either way",
        example="0.3 ± 0.1°, gauged",
    )
    steering_lock = FactSpec(
        ANGLE,
        "largest angle to which a front wheel is steered: the one on the inside of the bend",
        bounds=POSITIVE,
        typical="37.5 ± 7.5 deg",
        source="workshop data of a saloon: 41°; from memory: 30 to 45°",
        example="38 ± 1°, gauged",
        lax="low",
    )
    steering_lock_outside = FactSpec(
        ANGLE,
        "largest angle to which the front wheel on the outside of the bend is steered",
        bounds=POSITIVE,
        typical="33 ± 7 deg",
        source="workshop data of a saloon: 35°; from memory: 26 to 40°",
        example="33 ± 1°, gauged",
        lax="low",
    )
    kingpin_inclination = FactSpec(
        ANGLE,
        "how far the steering axis of a front wheel leans inward at its top",
        typical="11 ± 5 deg",
        source="from memory: 6 to 16°",
        example="12 ± 1°, manual",
    )
    caster = FactSpec(
        ANGLE,
        "how far the steering axis of a front wheel leans rearward at its top",
        typical="4 ± 4 deg",
        source="from memory: 0 to 8°",
        example="4 ± 1°, manual",
    )
    drag_area = FactSpec(
        AREA,
        "drag coefficient times frontal area",
        bounds=POSITIVE,
        typical="0.70 +0.60/-0.30 m²",
        source="from memory: 0.4 m² for a low coupe, 1.3 m² for a pickup or van",
        example="0.70 ± 0.10 m², guess",
    )
    least_drag_area = FactSpec(
        AREA,
        "smallest drag area that a car of its shape can have; it replaces a drag_area that is a guess and larger, where tyres must "
        "bear the speed",
        bounds=POSITIVE,
        typical="0.70 ± 0.30 m²",
        source="from memory: 0.4 m² for a low coupe, 1.0 m² for a van",
        lax="high",
    )
    rolling_coefficient = FactSpec(
        COEFFICIENT,
        "rolling resistance coefficient: rolling resistance over weight, on a paved road",
        bounds=POSITIVE,
        typical="0.0135 +0.0075/-0.0055",
        source="from memory: 0.008 for a hard modern tyre, 0.021 for a soft or coarse one",
        example="0.0135 ± 0.002, guess",
        lax="high",
    )
    air_density = FactSpec(
        DENSITY,
        "density of the air",
        bounds=POSITIVE,
        typical="1.20 +0.14/-0.18 kg/m³",
        source="from memory: 1.02 at 35 °C and 1000 m, 1.34 at -10 °C at sea level",
        example="1.20 ± 0.06 kg/m³, guess",
    )
    tyre_friction = FactSpec(
        COEFFICIENT,
        "grip coefficient: largest drive force over wheel load, on the road surface in use",
        bounds=POSITIVE,
        typical="0.90 +0.20/-0.40",
        source="from memory: 0.5 on a wet road, 1.1 for soft tyres on a dry one",
        example="0.90 ± 0.10, guess",
    )
    upper_grip = FactSpec(
        COEFFICIENT,
        "upper grip: the best that its tyres ever find, which the drivetrain has to bear; below 1.1 it counts only from a manual",
        bounds=POSITIVE,
        typical="1.2 ± 0.1",
        source="from memory: road tyres 1.0 to 1.1 on dry asphalt, soft ones up to 1.3",
        example="1.2 ± 0.1, guess",
        lax="low",
    )
    clutch_use = WordSpec("how the clutch is used; with care leaves out that somebody drops it", "with care")
    clutch_drop_factor = FactSpec(
        COEFFICIENT,
        "dropped clutch: peak torque in the line over what the clutch carries, where the tyres hold",
        bounds=POSITIVE,
        typical="1.75 ± 0.2",
        source="computed: a clutch that slips against two masses on a spring, damped by 3 to 10 %",
        lax="low",
    )
    clutch_drop_grip_factor = FactSpec(
        COEFFICIENT,
        "dropped clutch: peak torque in the line over what the tyres hold, where they let go",
        bounds=POSITIVE,
        typical="1.8 +0.9 -0.4",
        source="computed: time steps of 1600 guessed small cars; a table of measured ones was not found",
        lax="low",
    )
    regained_grip_factor = FactSpec(
        COEFFICIENT,
        "from low to high grip: peak torque in the line over what the tyres hold on the high grip",
        bounds=POSITIVE,
        typical="1.65 ± 0.15",
        source="computed: time steps of 1600 guessed small cars; a table of measured ones was not found",
        lax="low",
    )
    careful_factor = FactSpec(
        COEFFICIENT,
        "driven with care: peak torque into the gearbox over the engine's full torque, in a start or a shift without haste",
        bounds=Bounds(at_least=1),
        typical="1.1 +0.2/-0.1",
        source=f"{NO_SOURCE}: 1.0 to 1.3",
        lax="low",
    )
    careful_grip_factor = FactSpec(
        COEFFICIENT,
        "driven with care: peak torque in the line over what the tyres hold",
        bounds=POSITIVE,
        typical="1.2 ± 0.2",
        source=NO_SOURCE,
        lax="low",
    )
    cruise_speeds = ListSpec(
        SPEED, "the speeds at which the car will cruise in top gear", bounds=POSITIVE, is_wish=True
    )
    hill_grade = FactSpec(
        SLOPE,
        "steepest hill on which the car must pull away",
        bounds=Bounds(at_least=0),
        typical="20 ± 0 %",
        source=NO_SOURCE,
        is_wish=True,
        example="20 %",
    )
    shift_time = FactSpec(
        TIME,
        "time without drive during an upshift",
        bounds=Bounds(at_least=0),
        typical="0.45 +0.55/-0.25 s",
        source=f"{NO_SOURCE}: 0.2 s in a race, 1 s in an old truck gearbox",
        example="0.45 ± 0.15 s, guess",
    )

    def faults(self) -> Iterator[tuple[str, str]]:
        """The rear axle carries a part of the car, and the front axle the rest."""
        mass, rear = self.mass.written, self.rear_axle_mass.written
        if mass and rear and rear.si >= mass.si:
            said = f"is {rear}, not below {self.name}.mass ({mass})"
            yield "rear_axle_mass", f"{said}: expected the load on the rear wheels, about half of the car"
        yield from self._load_faults()

    def _load_faults(self) -> Iterator[tuple[str, str]]:
        """A car with its driver alone is the lightest, a laden one the heaviest; its rear axle carries a part of it."""
        alone, weighed, laden = self.driver_only_mass.written, self.mass.written, self.laden_mass.written
        if alone and weighed and alone.si > weighed.si:
            said = f"is {alone}, above {self.name}.mass ({weighed})"
            yield "driver_only_mass", f"{said}: expected the mass with the driver alone, at most the mass as driven"
        if laden and weighed and laden.si < weighed.si:
            said = f"is {laden}, below {self.name}.mass ({weighed})"
            yield "laden_mass", f"{said}: expected the permitted mass on the plate, at least the mass as driven"
        rear = self.laden_rear_axle_mass.written
        if laden and rear and rear.si >= laden.si:
            said = f"is {rear}, not below {self.name}.laden_mass ({laden})"
            yield "laden_rear_axle_mass", f"{said}: expected the load on the rear wheels of the laden car"
