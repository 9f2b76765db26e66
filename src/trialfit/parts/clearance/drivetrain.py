"""The drivetrain as one body: where it sits, how it moves on its mounts, and what its place must satisfy.

It has axes of its own: x forward along the crank, y to the left, z up, from a point that can be taped, for example the middle
of the crank at the face of the bell housing. The car's axes are those of ISO 8855: x forward from the front axle, y to the
left, z up from the ground. A unit across the car (layout of the power unit) keeps the car's directions, with the crank along y;
or its axes are turned with it, and its heading is 90°.
"""

from __future__ import annotations

from trialfit.facts.quantity import ANGLE, LENGTH, MASS, SHARE
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import NOT_NEGATIVE, POSITIVE, Bounds, FactSpec, Part


class Drivetrain(Part):
    """Engine and gearbox bolted together: their position, how far they may move, and what the position must satisfy."""

    kind = "drivetrain"
    place = "drivetrain"

    x = FactSpec(LENGTH, "position of its measuring point: forward of the front axle is positive")
    y = FactSpec(LENGTH, "position of its measuring point: to the left of the middle of the car is positive")
    z = FactSpec(LENGTH, "position of its measuring point: above the ground")
    roll = FactSpec(ANGLE, "how far its left side is up", typical="0 ± 0.3 deg", source=NO_SOURCE)
    inclination = FactSpec(ANGLE, "how far the crank drops towards the rear; level is zero")
    heading = FactSpec(
        ANGLE,
        "how far the crank points to the left, looking rearward along it; straight is zero",
        typical="0 ± 1 deg",
        source=f"{NO_SOURCE}: mounted straight ahead",
    )
    x_window = FactSpec(
        LENGTH,
        "how far it may still move forward or back",
        bounds=NOT_NEGATIVE,
        typical="60 ± 0 mm",
        source=NO_SOURCE,
        is_wish=True,
        example="50 mm",
    )
    y_window = FactSpec(
        LENGTH,
        "how far it may still move to either side",
        bounds=NOT_NEGATIVE,
        typical="20 ± 0 mm",
        source=NO_SOURCE,
        is_wish=True,
        example="25 mm",
    )
    z_window = FactSpec(
        LENGTH,
        "how far it may still move up or down",
        bounds=NOT_NEGATIVE,
        typical="50 ± 0 mm",
        source=NO_SOURCE,
        is_wish=True,
        example="40 mm",
    )
    roll_window = FactSpec(
        ANGLE,
        "how far it may still roll to either side",
        bounds=NOT_NEGATIVE,
        typical="0 ± 0 deg",
        source=NO_SOURCE,
        is_wish=True,
    )
    inclination_window = FactSpec(
        ANGLE,
        "how far it may still be tilted either way",
        bounds=NOT_NEGATIVE,
        typical="3 ± 0 deg",
        source=NO_SOURCE,
        is_wish=True,
        example="2.5 deg",
    )
    heading_window = FactSpec(
        ANGLE,
        "how far it may still be turned to either side",
        bounds=NOT_NEGATIVE,
        typical="1.5 ± 0 deg",
        source=NO_SOURCE,
        is_wish=True,
        example="2 deg",
    )
    rock = FactSpec(
        ANGLE,
        "how far it rocks on its mounts either way at full torque in its lowest gear: about the crank, of a unit in one case "
        "with its final drive about the axle line; worked out where mounts are written with stiffness and place",
        bounds=NOT_NEGATIVE,
        typical="3 ± 2 deg",
        source=f"{NO_SOURCE}: 1 to 3° with a torque rod, 2 to 5° on soft mounts",
        example="2 ± 1 deg, guess",
        lax="low",
    )
    heave = FactSpec(
        LENGTH,
        "how far it moves up and down on its mounts",
        bounds=NOT_NEGATIVE,
        typical="8 ± 5 mm",
        source=f"{NO_SOURCE}: rubber mounts over a bump, stiff to soft",
        example="6 ± 2 mm, guess",
        lax="low",
    )
    fore_aft = FactSpec(
        LENGTH,
        "how far it moves forward and back on its mounts, braking and pulling away",
        bounds=NOT_NEGATIVE,
        typical="8 ± 5 mm",
        source=f"{NO_SOURCE}: rubber mounts at 1 g, stiff to soft",
        example="6 ± 2 mm, guess",
        lax="low",
    )
    roll_axis_x = FactSpec(
        LENGTH,
        "position of the axis it rocks about, forward of the crank; of a unit that rocks about an axis across the car",
        typical="0 ± 40 mm",
        source=NO_SOURCE,
        example="-30 ± 20 mm, guess",
    )
    roll_axis_y = FactSpec(
        LENGTH, "position of its roll axis, left of the crank", typical="0 ± 20 mm", source=NO_SOURCE
    )
    roll_axis_z = FactSpec(
        LENGTH, "position of the axis it rocks about, above the crank", typical="0 ± 40 mm", source=NO_SOURCE
    )
    ground_clearance = FactSpec(
        LENGTH,
        "required ground clearance under its lowest point, as driven",
        bounds=POSITIVE,
        typical="120 ± 0 mm",
        source=NO_SOURCE,
        is_wish=True,
        example="110 mm",
        lax="low",
    )
    lever_x = FactSpec(LENGTH, "where the gear lever passes the tunnel, in the drivetrain's axes: forward is positive")
    lever_y = FactSpec(LENGTH, "where the gear lever passes the tunnel, in the drivetrain's axes: left is positive")
    lever_z = FactSpec(LENGTH, "where the gear lever passes the tunnel, in the drivetrain's axes: up is positive")
    output_x = FactSpec(
        LENGTH,
        "centre of the joint on the gearbox output, in the drivetrain's axes: forward is positive; used where the gearbox's own is missing",
        example="-640 mm, taped",
    )
    output_y = FactSpec(
        LENGTH, "the same: to the left is positive", typical="0 ± 3 mm", source=f"{NO_SOURCE}: in line with the crank"
    )
    output_z = FactSpec(LENGTH, "the same: up is positive", example="-20 mm, taped")
    level_inclination = FactSpec(
        ANGLE,
        "inclination of the crank that the maker of carburettor or sump specifies",
        is_wish=True,
        example="3 deg, manual",
    )
    level_tolerance = FactSpec(
        ANGLE,
        "tolerance of that inclination",
        bounds=POSITIVE,
        typical="3 ± 0 deg",
        source=NO_SOURCE,
        is_wish=True,
        example="2 deg",
        lax="high",
    )
    mass = FactSpec(MASS, "mass of engine, clutch and gearbox, wet", bounds=POSITIVE)
    minimum_rear_share = FactSpec(
        SHARE,
        "least target share of the car's mass on the rear axle",
        bounds=Bounds(above=0, at_most=1),
        is_wish=True,
        example="50 %",
    )
    removal_height = FactSpec(
        LENGTH,
        "hoisting height, straight up, to clear the car",
        bounds=POSITIVE,
        is_wish=True,
        example="600 mm",
    )
