"""The handbook used alone: a room, a module or a formula is found by its own name."""

from __future__ import annotations

import pytest

from trialfit import handbook


def test_a_module_is_found_without_naming_its_room():
    from trialfit.handbook import cardan
    from trialfit.handbook.driveline import cardan as in_its_room

    assert cardan is in_its_room


def test_a_room_hands_out_the_formulas_of_its_modules():
    from trialfit.handbook import gearing
    from trialfit.handbook.gearing.ratios import road_speed

    assert gearing.road_speed is road_speed


def test_no_module_name_stands_in_two_rooms_or_is_that_of_a_room():
    names = [module.__name__.rpartition(".")[2] for room in handbook.rooms() for module in handbook.modules(room)]

    assert sorted(names) == sorted(set(names))
    assert set(names) & set(handbook.rooms()) == set()


def test_what_is_not_there_is_an_attribute_error_that_says_what_is():
    with pytest.raises(AttributeError, match="its rooms are braking, cooling"):
        handbook.sailing  # noqa: B018 - asking for it is the test
    with pytest.raises(AttributeError, match="nothing called 'sail_area'"):
        handbook.gearing.sail_area  # noqa: B018 - asking for it is the test
