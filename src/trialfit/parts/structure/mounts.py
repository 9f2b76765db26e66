"""The power unit on its mounts, and the masses they carry.

Positions are in the car's axes (ISO 8855): x forward from the front axle, y to the left, z up from the ground.
"""

from __future__ import annotations

from trialfit.facts.quantity import COEFFICIENT, FORCE, LENGTH, MASS, STIFFNESS
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import POSITIVE, Bounds, FactSpec, Part, RefSpec, WordSpec


class PowerUnit(Part):
    """Engine and gearbox as one unit on its mounts; its masses are written as mass parts."""

    kind = "power_unit"
    place = "power unit"

    layout = WordSpec(
        "layout: in line with the car, or transverse with the final drive inside",
        "longitudinal",
        "transverse",
        default="longitudinal",
    )
    torque_factor = FactSpec(
        COEFFICIENT,
        "torque factor: worst torque on the mounts over the torque that the clutch transmits",
        bounds=Bounds(at_least=1),
        typical="2 ± 0",
        source=NO_SOURCE,
        example="2",
        is_wish=True,
        lax="low",
    )


class Mount(Part):
    """A mount of the power unit, or a strap or stop that only holds it when a mount has broken."""

    kind = "mount"

    role = WordSpec(
        "whether it carries always, or only after a mount has broken", "mount", "restraint", default="mount"
    )
    x = FactSpec(LENGTH, "forward of the front axle is positive")
    y = FactSpec(LENGTH, "to the left of the middle of the car is positive")
    z = FactSpec(LENGTH, "above the ground")
    stiffness = FactSpec(
        STIFFNESS,
        "vertical stiffness; not used with three mounts",
        bounds=POSITIVE,
        typical="250 +350/-170 N/mm",
        source="from memory: 80 N/mm for soft rubber of a four, 600 N/mm for hard rubber of a heavy engine",
        example="250 ± 120 N/mm, guess",
    )
    rated_load = FactSpec(FORCE, "rated load, pressed down or sideways", bounds=POSITIVE, is_rating=True)
    rated_pull = FactSpec(FORCE, "rated load, pulled up", bounds=POSITIVE, is_rating=True)
    breaking_load = FactSpec(FORCE, "load along the car at which it breaks", bounds=POSITIVE, is_rating=True)
    captive = WordSpec("whether its halves stay together when the rubber tears", "yes", "no", default="no")
    engine_x = FactSpec(
        LENGTH, "the bolt of its bracket on the drivetrain, in the drivetrain's axes: forward is positive"
    )
    engine_y = FactSpec(LENGTH, "the bolt of its bracket on the drivetrain, in the drivetrain's axes: left is positive")
    engine_z = FactSpec(LENGTH, "the bolt of its bracket on the drivetrain, in the drivetrain's axes: up is positive")
    car_x = FactSpec(LENGTH, "the bolt of its bracket on the car: forward of the front axle is positive")
    car_y = FactSpec(LENGTH, "the bolt of its bracket on the car: to the left of the middle of the car is positive")
    car_z = FactSpec(LENGTH, "the bolt of its bracket on the car: above the ground")


class MassPart(Part):
    """Something heavy, with its centre of mass: an engine, a gearbox, a transfer case."""

    kind = "mass_part"

    mass = FactSpec(MASS, "mass as hoisted or installed: with oil and all that is bolted on", bounds=POSITIVE)
    x = FactSpec(LENGTH, "centre of mass: forward of the front axle is positive")
    y = FactSpec(LENGTH, "the same, to the left of the middle of the car")
    z = FactSpec(LENGTH, "the same, above the ground")
    fixed_to = WordSpec(
        "axes in which its centre is measured; in those of the drivetrain it moves with the drivetrain",
        "car",
        "drivetrain",
        default="car",
    )
    mounted = WordSpec("whether the mounts of the power unit carry it", "yes", "no", default="yes")
    hoisted_by = RefSpec("the lift that it hangs on", "lift")
    out_on_stands = WordSpec(
        "whether it is taken out while the car is on stands; the load of a lift always is", "yes", "no", default="no"
    )
