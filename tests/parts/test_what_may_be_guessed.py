"""Which facts settle nothing at stake safety when they are guessed, or set by the builder on the lax side of what is usual."""

from __future__ import annotations

import pytest

from trialfit.facts.quantity import ANGLE, COEFFICIENT, FORCE, LENGTH, SHARE, STRESS, TORQUE
from trialfit.parts import KINDS
from trialfit.parts.declaring import FactSpec
from trialfit.parts.lists_and_curves import ListSpec

BEARS = ("prop_shaft", "half_shaft", "hub", "cut_member", "reinforcement", "bracket", "weld", "bolted_joint")
"""Kinds whose dimensions decide what they bear."""

PLACES = {"inner_x", "inner_y", "inner_z", "outer_x", "outer_y", "outer_z", "rear_x", "rear_y", "rear_z"}
MOVES = {
    "bump_travel",
    "droop_travel",
    "outward_at_bump",
    "outward_at_droop",
    "plunge_in",
    "plunge_out",
    "inner_movement",
}
SHARES_OF_STIFFNESS = {
    *("head_side_thickness", "thread_side_thickness", "shank_length", "bearing_diameter", "washer_diameter"),
    *("hole_diameter", "nut_washer_diameter", "washer_thickness"),
}
BESIDE_STRENGTH = {
    *PLACES,
    *MOVES,
    *SHARES_OF_STIFFNESS,
    "slip_gap",  # room, not strength
    "embedment",  # an allowance, held against the usual one
    *("length", "width", "places_x", "places_y"),  # of a pattern of bolts: their order only
    "adapter_extension",  # of the wrench
    "torch_access",
    "throat_deduction",  # an allowance: laxer than none it cannot be
}

MEASURED_OR_COUNTED = {
    "car.tyre_friction": "the road of the day: strength takes the upper grip",
    "tyre.circumference_factor": "found by rolling the car",
    "radiator.air_exponent": "cooling puts nobody at risk",
    "radiator.air_speed_ratio": "cooling puts nobody at risk",
    "radiator.glycol_share": "cooling puts nobody at risk",
    "radiator.heat_rejection_ratio": "cooling puts nobody at risk",
    "torque_wrench.reading_error": "found on a tester",
    "gearbox.efficiency": "a percent or two, lax for a shaft where it is strict for top speed",
    "final_drive.efficiency": "a percent or two, lax for a shaft where it is strict for top speed",
    "transfer_case.efficiency": "a percent or two, lax for a shaft where it is strict for top speed",
    "measurement.gasket_crush": "measured before and after",
}


def facts():
    for kind, part in KINDS.items():
        for name, spec in part.specs().items():
            one = spec.item if isinstance(spec, ListSpec) else spec
            if isinstance(one, FactSpec):
                yield kind, name, one


def test_every_strength_of_a_material_is_a_rating() -> None:
    assert [f"{kind}.{name}" for kind, name, spec in facts() if spec.quantity == STRESS and not spec.is_rating] == []


def test_every_dimension_of_what_bears_a_load_is_a_rating() -> None:
    left = {
        f"{kind}.{name}"
        for kind, name, spec in facts()
        if kind in BEARS and spec.quantity == LENGTH and not spec.is_rating and name not in BESIDE_STRENGTH
    }
    assert left == set()


def test_what_is_called_a_rating_is_one() -> None:
    named = ("rated_", "_ratings", "breaking_load", "preload", "angle_limit")
    left = [
        f"{kind}.{name}"
        for kind, name, spec in facts()
        if any(word in name for word in named) and not spec.is_rating and kind != "radiator"
    ]
    assert left == []


@pytest.mark.parametrize("end", ["low", "high", "either"])
def test_a_lax_side_needs_a_typical_value_to_be_laxer_than(end) -> None:
    assert [f"{kind}.{name}" for kind, name, spec in facts() if spec.lax == end and not spec.typical] == []


def test_every_factor_with_a_usual_value_says_which_side_is_lax() -> None:
    """Factors, shares and what is loaded by a factor: anything of the builder's own could make a load small."""
    left = {
        f"{kind}.{name}"
        for kind, name, spec in facts()
        if spec.quantity in {COEFFICIENT, SHARE, FORCE, TORQUE} and spec.typical and not spec.lax and not spec.is_rating
    }
    assert left <= set(MEASURED_OR_COUNTED) | {"bolted_joint.running_torque"}, left - set(MEASURED_OR_COUNTED)


SETS_NO_LOAD = {
    "car.load_per_seat": "seats are counted, people weigh what they weigh: the plate of the car is the upper limit",
    "car.ball_overhang": "measured on the car",
    "car.drag_area": "least_drag_area takes its place where a guess is larger",
    "car.air_density": "the weather",
    "car.shift_time": "sets times alone",
    "engine.rotating_inertia": "sets times alone",
    "clutch.friction_faces": "counted",
    "clutch.thermal_mass": "heat of a start, not at stake safety",
    "transfer_case.ratio": "counted or on its plate",
    "speedometer.drive_factor": "counted in its drive",
    "port.thread_friction": "of a torque that a manual gives",
    "bolted_joint.sliding_faces": "counted",
    "bolted_joint.inner_faces": "counted",
    "bolted_joint.paint_films": "counted",
    "sender.earth_resistance": "measured with a meter",
    "gauge.supply_voltage": "measured with a meter",
    "gauge.internal_resistance": "measured with a meter",
    "radiator.preheat": "cooling puts nobody at risk",
    "measurement.tool_temperature": "of the shop",
    "bracket.plates": "counted",
    "mount.stiffness": "a larger rock that is written counts beside what it gives",
    "workshop_crane.mass": "weighed, or on its plate",
    "stands.count": "counted",
}
"""What has a typical value and no lax side, besides lengths and angles, which are measured on the car, and what is a wish."""


def test_what_has_a_usual_value_says_whether_a_guess_of_it_may_be_lax() -> None:
    """Any fact that has one and decides a load, a movement or a speed: it has a lax side, is a rating, or is here with its reason."""
    left = {
        f"{kind}.{name}"
        for kind, name, spec in facts()
        if spec.typical
        and not spec.lax
        and not spec.is_rating
        and not spec.is_wish
        and spec.quantity not in {LENGTH, ANGLE}
    }
    assert left - set(MEASURED_OR_COUNTED) - set(SETS_NO_LOAD) <= {"bolted_joint.running_torque", *_STRENGTH_OF_SPOTS}


_STRENGTH_OF_SPOTS = {"spot_welds.strength_share", "spot_welds.pull_share"}


@pytest.mark.parametrize(
    "path",
    [
        *("gearbox.output_surge", "drivetrain.rock", "drivetrain.heave", "drivetrain.fore_aft", "car.steering_lock"),
        *("car.steering_lock_outside", "car.centre_of_mass_height", "car.least_drag_area"),
    ],
)
def test_movements_and_lock_have_a_lax_side_although_they_are_lengths_and_angles(path: str) -> None:
    assert {f"{kind}.{name}": spec.lax for kind, name, spec in facts()}[path]
