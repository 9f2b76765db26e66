"""What a live axle does: where it goes as it rises, and how it winds up and down.

Answers   axle_positions     the joint on the pinion in every combination of rise and torque; POSITION_NAMES in words
          pinion_positions   the same after any rise and wind-up
          ways_wound         how far the axle is wound without torque, at full drive, in hard braking and in full reverse
          wound_in_gears     how far in each forward gear at full drive; wound_in_highest in the highest
          suspension         type of rear suspension
Not here  the members of the line (directions.py); formulas (handbook axle_linkage, axle_travel)
Shapes    (positions, draws, 3) for points, (positions, draws) for the rest
The axle turns as its links, arms or leaf springs turn it, and on top of that by its wind-up. Unknown until what holds it is
written: no axle is taken to rise straight up.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.handbook.driveline.axle_linkage import leaf_pivot, on_an_arm, on_links
from trialfit.handbook.driveline.axle_travel import pinion_joint_moved, wound_by_gear
from trialfit.handbook.driveline.shaft_lines import direction
from trialfit.parts import AxleLocation, Car, Gearbox
from trialfit.subjects import line as drive
from trialfit.subjects.placed import over_floor
from trialfit.subjects.shaft_line import the_line
from trialfit.subjects.torque_path.gears import Gear

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array

RISES = ("ride height", "full bump", "full droop")
WOUND = ("no torque", "full drive", "hard braking", "full reverse")
POSITION_NAMES = tuple(", ".join(both) for both in product(RISES, WOUND))
HELD_BY = (
    'what holds the live axle decides where it goes as it rises: add a table [axle_location] with held_by = "leaf springs", '
    '"links" or "arms" and the places of their pivots'
)


@dataclass(frozen=True)
class AxlePositions:
    """Where the joint on the pinion of a live axle is, and how the pinion is inclined.

    `points` (positions, draws, 3) in the car's axes, m; `inclinations` (positions, draws), rad; `rises` and `wound`
    (positions, draws): what the axle has done to get there.
    """

    points: Array
    inclinations: Array
    rises: Array
    wound: Array


def suspension(ev: Evaluation) -> str:
    """Type of rear suspension. Raises MissingFact where it is missing."""
    car = ev.part(Car)
    if car.rear_suspension is None:
        raise MissingFact({f"{car.name}.rear_suspension": 'type of rear suspension: "independent" or "live axle"'})
    return car.rear_suspension


def axle_positions(ev: Evaluation) -> AxlePositions:
    """The pinion of a live axle in each of POSITION_NAMES."""
    rises, wound = ev.of(ways_risen), ev.of(ways_wound)
    risen, forward, turn = (np.repeat(array, len(wound), axis=0) for array in (rises, *led(ev, rises)))
    return _moved(ev, risen, forward, turn, np.tile(wound, (len(rises), 1)))


def ways_risen(ev: Evaluation) -> Array:
    """Rise of the axle centre in each of RISES, (rises, draws), m."""
    final_drive = ev.of(the_line).final_drive
    bump, droop = ev.each(final_drive.bump_travel, final_drive.droop_travel)
    return np.stack([np.zeros(bump.shape), bump, -droop])


def ways_wound(ev: Evaluation) -> Array:
    """How far the pinion nose is turned up in each of WOUND, (ways, draws), rad.

    In reverse the axle winds the other way, by its wind-up in the ratio of reverse to first gear.
    """
    final_drive, gearbox = ev.of(the_line).final_drive, ev.of(the_line).gearbox
    up, down = ev.each(final_drive.wind_up, final_drive.wind_down)
    reverse = up
    if gearbox.reverse_ratio.written is not None and gearbox.ratios:
        reverse = up * ev(gearbox.reverse_ratio) / ev.of(drive.ratios).max(axis=-1)
    return np.stack([np.zeros(up.shape), up, -down, -reverse])


def wound_in_gears(ev: Evaluation) -> Array:
    """How far the pinion nose is turned up at full drive in each forward gear, (gears, draws), rad."""
    ratios = ev.of(drive.ratios).T
    wind_up = ev(ev.of(the_line).final_drive.wind_up)
    return np.asarray(wound_by_gear(wind_up, ratios, ratios.max(axis=0)))


def wound_in_highest(ev: Evaluation) -> Array:
    """How far the pinion nose is turned up at full drive in the highest gear, (draws,), rad."""
    return np.asarray(ev.of(wound_in_gears)[int(np.argmin(ev.of(drive.ratios)[0]))])


def gears_in_words(build: Build) -> tuple[str, ...]:
    """The forward gears at full drive, as states."""
    gearbox = build.first(Gearbox)
    count = len(gearbox.ratios) if gearbox else 0
    return tuple(f"full drive, {Gear(number).spoken}" for number in range(1, count + 1))


def pinion_positions(ev: Evaluation, rises: Array, wound: Array) -> AxlePositions:
    """The pinion of a live axle after it has risen and wound up so far; arrays (positions, draws), m and rad."""
    return _moved(ev, rises, *led(ev, rises), wound)


def _moved(ev: Evaluation, rises: Array, forward: Array, turn: Array, wound: Array) -> AxlePositions:
    joint, inclination, heading, long = ev.of(pinion_at_ride)
    points = pinion_joint_moved(joint, inclination, heading, long, rises, turn + wound, forward)
    return AxlePositions(points, inclination + turn + wound, rises, wound)


def pinion_at_ride(ev: Evaluation) -> tuple[Array, Array, Array, Array]:
    """Centre of the joint on the pinion, inclination and heading of the pinion, and how far the joint is from the axle."""
    one = ev.of(the_line).final_drive
    places = (one.input_x, one.input_y, one.input_z)
    x, y, z, _, heading, long = ev.each(*places, one.input_inclination, one.input_heading, one.pinion_length)
    return np.stack([x, y, z], axis=-1), ev.of(over_floor, one.input_inclination), heading, long


def led(ev: Evaluation, rises: Array) -> tuple[Array, Array]:
    """How far the axle moves forward, m, and how far it turns its nose up, rad, as it rises, (positions, draws) both.

    Raises MissingFact where what holds it is not written.
    """
    if not np.any(rises):  # at ride height it is where it is, whatever holds it
        return np.zeros(rises.shape), np.zeros(rises.shape)
    location = ev.build.first(AxleLocation)
    if location is None:
        raise MissingFact({AxleLocation.kind: HELD_BY})
    joint, inclination, heading, long = ev.of(pinion_at_ride)
    centre = (joint + long[..., None] * direction(inclination, heading) * [-1.0, -1.0, 1.0])[..., [0, 2]]
    match location.held_by:
        case "arms":
            forward, turn = on_an_arm(_end(ev, location, "pivot"), centre, rises)
        case "links":
            forward, turn = on_links(centre, _link(ev, location, "lower"), _link(ev, location, "upper"), rises)
        case "leaf springs":
            eye = _end(ev, location, "eye")
            forward, _ = on_an_arm(leaf_pivot(eye, centre, ev(location.arc_share)), centre, rises)
            bump = ev(ev.of(the_line).final_drive.bump_travel)
            turn = ev(location.turn_at_bump) * rises / np.where(bump > 0, bump, np.inf)
        case _:
            raise MissingFact({f"{location.name}.held_by": 'what holds it: "leaf springs", "links" or "arms"'})
    return np.asarray(forward), np.asarray(turn)


def formulas_of(build: Build) -> tuple[Callable[..., Any], ...]:
    """The handbook functions that say where the axle of a build goes."""
    location = build.first(AxleLocation)
    held_by = location.held_by if location else None
    led_by: dict[str, tuple[Callable[..., Any], ...]] = {
        "arms": (on_an_arm,),
        "links": (on_links,),
        "leaf springs": (leaf_pivot, on_an_arm),
    }
    return (*led_by.get(held_by or "", ()), pinion_joint_moved)


def _end(ev: Evaluation, location: AxleLocation, which: str) -> Array:
    return np.stack(ev.each(getattr(location, f"{which}_x"), getattr(location, f"{which}_z")), axis=-1)


def _link(ev: Evaluation, location: AxleLocation, which: str) -> tuple[Array, Array]:
    ends = [getattr(location, f"{which}_{end}_{axis}") for end in ("body", "axle") for axis in ("x", "z")]
    body_x, body_z, axle_x, axle_z = ev.each(*ends)
    return np.stack([body_x, body_z], axis=-1), np.stack([axle_x, axle_z], axis=-1)
