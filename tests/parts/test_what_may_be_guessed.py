"""Which facts settle nothing at stake safety when they are guessed, or set by the builder on the lax side of what is usual."""

from __future__ import annotations

import pytest

from trialfit.facts.quantity import COEFFICIENT, FORCE, LENGTH, SHARE, STRESS, TORQUE
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
