"""Hoisting and standing: a lift with its sling legs, a crane, and the stands under a car.

Positions are in the car's axes (ISO 8855) while the load is level in its place: x forward, y left, z up.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from trialfit.facts.quantity import ANGLE, COEFFICIENT, COUNT, FORCE, LENGTH, MASS
from trialfit.handbook.fastening.eye_bolts import MAKES, rating_without_a_mark
from trialfit.handbook.fastening.thread_sizes import read_fastener_thread
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import POSITIVE, Bounds, CodeSpec, FactSpec, Part, RefSpec, WordSpec
from trialfit.parts.lists_and_curves import ListSpec

if TYPE_CHECKING:
    from collections.abc import Iterator


class Lift(Part):
    """One hoist of a group of mass parts: position of the hook, target tilt, crane."""

    kind = "lift"

    hook_x = FactSpec(LENGTH, "position of the hook with tight slings over the level load: forward of the front axle")
    hook_y = FactSpec(LENGTH, "the same: to the left of the middle of the car")
    hook_z = FactSpec(LENGTH, "the same: above the ground")
    target_tilt = FactSpec(
        ANGLE,
        "target tilt: how far the rear end hangs lower than the front",
        typical="0 ± 0 deg",
        source=f"{NO_SOURCE}: level",
        is_wish=True,
    )
    tilt_tolerance = FactSpec(
        ANGLE,
        "tolerance of the target tilt",
        bounds=POSITIVE,
        typical="5 ± 0 deg",
        source=NO_SOURCE,
        is_wish=True,
        lax="high",
    )
    lowest_tilt = FactSpec(
        ANGLE,
        "least tilt on the way up and in: how far the rear end hangs lower; negative with the front end low",
        is_wish=True,
        example="0 deg",
    )
    steepest_tilt = FactSpec(
        ANGLE,
        "steepest tilt on the way up and in: how far the rear end hangs lower, to get under bulkhead or bonnet lock",
        is_wish=True,
        example="30 deg",
    )
    leveller_travel = FactSpec(
        LENGTH,
        "how far the screw of the load leveller moves the hook to either side of the middle of its bar",
        bounds=POSITIVE,
        example="220 mm, taped",
    )
    leveller_eye = FactSpec(
        LENGTH,
        "height of the eye of the leveller above the line of the ends of its bar",
        bounds=Bounds(at_least=0),
        typical="40 ± 40 mm",
        source=NO_SOURCE,
        example="50 mm, taped",
    )
    chain_lean = FactSpec(
        ANGLE,
        "largest lean of the chains of the leveller from upright, along the car or across it",
        bounds=Bounds(at_least=0),
        typical="15 ± 15 deg",
        source=f"{NO_SOURCE}: 0.1 m between the end of the bar and the eye on 0.2 m of chain are 27°",
        example="20 deg, gauged",
    )
    dynamic_factor = FactSpec(
        COEFFICIENT,
        "dynamic factor: load on crane and slings over the weight when the lift starts or stops with a jerk",
        bounds=Bounds(at_least=1),
        typical="1.25 ± 0",
        source=f"{NO_SOURCE}: 1.1 to 1.25 for a hand pump that is let down slowly",
        example="1.25",
        is_wish=True,
        lax="low",
    )
    raised_by = WordSpec(
        "how it is raised and lowered: a hand pump is gentle, a powered hoist starts and stops with a jerk",
        "hand pump",
        "powered hoist",
        default="hand pump",
    )
    crane = RefSpec("the crane it hangs on", "workshop_crane")
    hole = FactSpec(COUNT, "hole of the boom that is used, counted from the shortest", bounds=POSITIVE)
    reach = FactSpec(
        LENGTH, "reach of the boom for this lift, pivot to hook; used if no hole is written", bounds=POSITIVE
    )
    passes_over = FactSpec(
        LENGTH,
        "height of the edge of the car that the load passes over: front panel, wing or sill, as the car stands then",
        bounds=POSITIVE,
        example="0.85 m, taped",
    )
    bottom_z = FactSpec(LENGTH, "lowest point of the load in its place: above the ground", example="0.20 m, taped")
    front_end_x = FactSpec(
        LENGTH, "front end of the load in its place: forward of the front axle", example="0.35 m, taped"
    )
    rear_end_x = FactSpec(
        LENGTH, "rear end of the load in its place: forward of the front axle", example="-1.1 m, taped"
    )
    highest_hook = FactSpec(
        LENGTH,
        "height of the hook above the floor at the highest point of the lift",
        bounds=POSITIVE,
        typical="1.9 ± 0.4 m",
        source=NO_SOURCE,
        example="1.85 m, taped",
    )
    floor_slope = FactSpec(
        ANGLE,
        "slope of the floor on which the crane stands and rolls",
        bounds=Bounds(at_least=0),
        typical="0.6 ± 0.6 deg",
        source=f"{NO_SOURCE}: level to a fall of 2 % towards a drain",
        example="0.5 deg, gauged",
    )
    required_reach = FactSpec(LENGTH, "reach required to get over the place in the car", bounds=POSITIVE)

    def spec_in_use(self, spec: FactSpec) -> FactSpec:
        """A powered hoist pulls with a jerk where no factor is written."""
        if spec.name == "dynamic_factor" and self.values.get("raised_by") == "powered hoist":
            return spec.with_typical("1.5 ± 0", f"{NO_SOURCE}: a hoist that starts or stops at once")
        return spec


class SlingLeg(Part):
    """One leg between the hook and an eye on the load."""

    kind = "sling_leg"

    lift = RefSpec("the lift it belongs to", "lift")
    eye_x = FactSpec(LENGTH, "its lifting eye on the load: forward of the front axle is positive")
    eye_y = FactSpec(LENGTH, "the same: to the left of the middle of the car")
    eye_z = FactSpec(LENGTH, "the same: above the ground")
    rated_mass = FactSpec(
        MASS,
        "rating of the weakest of leg, shackle and eye, in line with the leg; of an eye bolt write eye, its axial rating counts only "
        "along its axis",
        bounds=POSITIVE,
        is_rating=True,
    )
    eye = WordSpec("eye bolt that it pulls at: with a collar that lies flat on the face, or plain", *MAKES)
    eye_thread = CodeSpec("thread of the eye bolt", check=read_fastener_thread, example="M10")
    eye_axis = WordSpec(
        "axis of the eye bolt while the load is level", "upright", "along the car", "across the car", default="upright"
    )
    eye_plane = WordSpec("whether the leg pulls in the plane of its eye", "in it", "across it", default="in it")
    eye_rated_mass = FactSpec(
        MASS,
        "rating stamped on the eye bolt, along its axis; an eye without a mark may bear a fraction of the usual",
        bounds=POSITIVE,
        is_rating=True,
    )
    eye_share_at_45 = FactSpec(
        COEFFICIENT,
        "share of that rating which its maker gives for a pull at 45°, with a collar",
        bounds=Bounds(at_least=0, at_most=1),
        typical="0.48 ± 0.23",
        source="0.25 a supplier of shouldered eye bolts, 0.71 DIN 580 annex A, as a product leaflet prints it",
        example="0.7, manual",
        is_rating=True,
    )

    def spec_in_use(self, spec: FactSpec) -> FactSpec:
        """Of a collar eye bolt without a known mark at best the rating of DIN 580 by its thread, and far less."""
        if spec.name != "eye_rated_mass" or self.values.get("eye") != "collar" or not self.eye_thread:
            return spec
        found = rating_without_a_mark(self.eye_thread)
        if found is None:
            return spec
        low, high, source = found
        return spec.with_typical(f"{(low + high) / 2:g} ± {(high - low) / 2:g} kg", source)


class Crane(Part):
    """A folding crane: the rating on its plate for each hole of the boom."""

    kind = "workshop_crane"

    hole_reaches = ListSpec(LENGTH, "reach of each hole of the boom, from short to long", bounds=POSITIVE)
    hole_ratings = ListSpec(
        MASS, "rating on the plate for each hole, in the same order", bounds=POSITIVE, is_rating=True
    )

    hook_heights = ListSpec(LENGTH, "greatest height of the hook at each hole, in the same order", bounds=POSITIVE)
    leg_reach = FactSpec(
        LENGTH,
        "distance of the front wheels ahead of the pivot from which the reach counts, legs as they are used",
        bounds=POSITIVE,
        example="1.45 m, taped",
    )
    rear_wheels = FactSpec(
        LENGTH,
        "distance of the rear wheels behind that pivot",
        typical="0.15 ± 0.25 m",
        source=NO_SOURCE,
        example="0.2 m, taped",
    )
    front_track = FactSpec(
        LENGTH,
        "distance between the front wheels",
        bounds=POSITIVE,
        typical="0.85 ± 0.25 m",
        source=NO_SOURCE,
        example="0.9 m, taped",
    )
    rear_track = FactSpec(
        LENGTH,
        "distance between the rear wheels",
        bounds=POSITIVE,
        typical="0.6 ± 0.25 m",
        source=NO_SOURCE,
        example="0.6 m, taped",
    )
    mass = FactSpec(MASS, "mass of the crane itself", bounds=POSITIVE, typical="80 ± 35 kg", source=NO_SOURCE)
    centre_ahead = FactSpec(
        LENGTH,
        "distance of its own centre of mass ahead of that pivot",
        typical="0.35 ± 0.25 m",
        source=NO_SOURCE,
        example="0.3 m, computed",
    )
    centre_height = FactSpec(
        LENGTH,
        "height of its own centre of mass, boom raised",
        bounds=POSITIVE,
        typical="0.7 ± 0.3 m",
        source=NO_SOURCE,
        example="0.7 m, computed",
    )

    def faults(self) -> Iterator[tuple[str, str]]:
        """Reaches rise, ratings do not rise, and each hole has one of each."""
        if len(self.hole_reaches) != len(self.hole_ratings):
            yield (
                "hole_ratings",
                f"holds {len(self.hole_ratings)} values for {len(self.hole_reaches)} holes: expected one for each hole",
            )
        if self.hook_heights and len(self.hook_heights) != len(self.hole_reaches):
            yield (
                "hook_heights",
                f"holds {len(self.hook_heights)} values for {len(self.hole_reaches)} holes: expected one for each hole",
            )
        reaches = [ref.written for ref in self.hole_reaches if ref.written]
        ratings = [ref.written for ref in self.hole_ratings if ref.written]
        for number, (shorter, longer) in enumerate(pairwise(reaches), 2):
            if longer.si <= shorter.si:
                yield (
                    f"hole_reaches.{number}",
                    f"is {longer}, not beyond the one before it ({shorter}): start with the shortest",
                )
        for number, (nearer, further) in enumerate(pairwise(ratings), 2):
            if further.si > nearer.si:
                yield (
                    f"hole_ratings.{number}",
                    f"is {further}, more than at the shorter hole before it ({nearer}): a crane lifts less at a longer reach",
                )


class Stands(Part):
    """The stands under one end of the car."""

    kind = "stands"

    under = WordSpec("end of the car that they support", "front", "rear", default="front")
    count = FactSpec(
        COUNT,
        "number of stands under that end",
        bounds=POSITIVE,
        typical="2 ± 0",
        source=f"{NO_SOURCE}: always in pairs",
    )
    rated_mass = FactSpec(MASS, "rating of one stand, not of the pair", bounds=POSITIVE, is_rating=True)
    spacing = FactSpec(LENGTH, "distance between the left and the right stand", bounds=POSITIVE)
    inboard = FactSpec(
        LENGTH,
        "distance of the stands from their axle towards the middle of the car; negative if they stand outboard of it",
        typical="0.25 ± 0.45 m",
        source=f"{NO_SOURCE}: 0.2 m outboard under the ends of the rails, 0.7 m inboard under a sill",
        example="0.45 m, taped",
    )
    off_centre = FactSpec(
        LENGTH,
        "distance of the middle between both stands from below the centre of mass, sideways; left is positive",
        typical="0 ± 50 mm",
        source=f"{NO_SOURCE}: a driver of 75 kg alone puts the centre of a car of 1000 kg 26 mm to one side",
        example="15 mm, taped",
    )
    car_end = FactSpec(
        LENGTH,
        "distance from that axle out to the end of the car",
        bounds=POSITIVE,
        typical="0.75 ± 0.35 m",
        source=NO_SOURCE,
        example="0.72 m, taped",
    )
    leaning_mass = FactSpec(
        MASS,
        "mass that the end of the car must bear without tipping: somebody who leans or sits on it",
        bounds=POSITIVE,
        typical="100 ± 0 kg",
        source=f"{NO_SOURCE}: one heavy person",
        is_wish=True,
    )
    push_height = FactSpec(
        LENGTH,
        "height above the floor at which the car is pushed",
        bounds=POSITIVE,
        typical="1.2 ± 0.2 m",
        source=NO_SOURCE,
        lax="low",
    )
    push = FactSpec(
        FORCE,
        "sideways push that the car must withstand",
        bounds=POSITIVE,
        typical="1000 ± 0 N",
        source=f"{NO_SOURCE}: two people pulling on a tight bolt",
        is_wish=True,
        lax="low",
    )

    @property
    def claims(self) -> str | None:
        """One set under each end."""
        return f"stands {self.under}"
