"""Hoisting and standing: a lift with its sling legs, a crane, and the stands under a car.

Positions are in the car's axes (ISO 8855) while the load is level in its place: x forward, y left, z up.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from trialfit.facts.quantity import ANGLE, COEFFICIENT, COUNT, FORCE, LENGTH, MASS
from trialfit.handbook.fastening.eye_bolts import MAKES, usual_share_at_45
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
    )
    tilt_tolerance = FactSpec(
        ANGLE,
        "tolerance of the target tilt",
        bounds=POSITIVE,
        typical="5 ± 0 deg",
        source=NO_SOURCE,
    )
    dynamic_factor = FactSpec(
        COEFFICIENT,
        "dynamic factor: load on crane and slings over the weight when the lift starts or stops with a jerk",
        bounds=Bounds(at_least=1),
        typical="1.25 ± 0",
        source=NO_SOURCE,
        example="1.25",
        is_wish=True,
    )
    crane = RefSpec("the crane it hangs on", "workshop_crane")
    hole = FactSpec(COUNT, "hole of the boom that is used, counted from the shortest", bounds=POSITIVE)
    reach = FactSpec(
        LENGTH, "reach of the boom for this lift, pivot to hook; used if no hole is written", bounds=POSITIVE
    )
    required_reach = FactSpec(LENGTH, "reach required to get over the place in the car", bounds=POSITIVE)


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
        "rating of the eye bolt along its axis; that of DIN 580 by its thread if missing",
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
        """The share at 45° of DIN 580 where the rating is the one of DIN 580 too."""
        if spec.name != "eye_share_at_45" or self.eye_rated_mass.written is not None:
            return spec
        low, high, source = usual_share_at_45(is_din=True)
        return spec.with_typical(f"{(low + high) / 2:g} ± {(high - low) / 2:g}", source)


class Crane(Part):
    """A folding crane: the rating on its plate for each hole of the boom."""

    kind = "workshop_crane"

    hole_reaches = ListSpec(LENGTH, "reach of each hole of the boom, from short to long", bounds=POSITIVE)
    hole_ratings = ListSpec(
        MASS, "rating on the plate for each hole, in the same order", bounds=POSITIVE, is_rating=True
    )

    def faults(self) -> Iterator[tuple[str, str]]:
        """Reaches rise, ratings do not rise, and each hole has one of each."""
        if len(self.hole_reaches) != len(self.hole_ratings):
            yield (
                "hole_ratings",
                f"holds {len(self.hole_ratings)} values for {len(self.hole_reaches)} holes: expected one for each hole",
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
    push_height = FactSpec(
        LENGTH,
        "height above the floor at which the car is pushed",
        bounds=POSITIVE,
        typical="1.2 ± 0.2 m",
        source=NO_SOURCE,
    )
    push = FactSpec(
        FORCE,
        "sideways push that the car must withstand",
        bounds=POSITIVE,
        typical="1000 ± 0 N",
        source=f"{NO_SOURCE}: two people pulling on a tight bolt",
    )

    @property
    def claims(self) -> str | None:
        """One set under each end."""
        return f"stands {self.under}"
