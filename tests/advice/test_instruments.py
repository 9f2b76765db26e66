"""The tables of instruments: complete, consistent with the default spreads, and in the order in which tools are had."""

from __future__ import annotations

import pytest

from trialfit.advice.instruments import instruments, ways_to_get
from trialfit.facts.provenance import Provenance, check_pair, default_spread
from trialfit.facts.quantity import ANGLE, COEFFICIENT, LENGTH, MASS, STRESS, TORQUE
from trialfit.parts import KINDS
from trialfit.parts.declaring import FactSpec
from trialfit.parts.lists_and_curves import CurveSpec, ListSpec


def _measurable() -> list[tuple[str, str, object]]:
    found = []
    for kind, part in KINDS.items():
        for name, spec in part.specs().items():
            one = spec.item if isinstance(spec, ListSpec) else spec
            if isinstance(one, FactSpec):
                found.append((kind, name, one.quantity))
            elif isinstance(one, CurveSpec):
                found.append((kind, name, one.y_quantity))
    return found


@pytest.mark.parametrize(("kind", "name", "quantity"), _measurable())
def test_every_fact_of_every_kind_has_an_instrument_or_a_word_of_help(kind: str, name: str, quantity: object):
    ways = ways_to_get(kind, name, quantity)

    assert ways.instruments or ways.helps


READS_ANOTHER_QUANTITY = "chalk mark, one turn, tape"  # a length, from which a ratio is worked out
READ_DIRECTLY = [one for one in instruments() if one.name != READS_ANOTHER_QUANTITY]


@pytest.mark.parametrize("instrument", READ_DIRECTLY, ids=lambda one: f"{one.name}, {one.quantity.name}")
def test_every_instrument_gives_a_provenance_that_its_quantity_can_have(instrument):
    check_pair(instrument.quantity, instrument.provenance)

    assert instrument.provenance not in {Provenance.guess, Provenance.typical, Provenance.unstated}
    assert instrument.source
    assert 1 <= instrument.cost <= 4
    assert instrument.smallest < instrument.largest


@pytest.mark.parametrize(
    ("name", "quantity", "value"),
    [
        ("steel tape", LENGTH, 2.4),
        ("caliper", LENGTH, 0.0762),
        ("angle gauge", ANGLE, 0.05),
        ("torque wrench", TORQUE, 90.0),
    ],
)
def test_the_usual_instrument_of_a_word_has_the_default_spread_of_that_word(name, quantity, value):
    """Who measures with it and writes the word alone gets the spread that was promised."""
    instrument = next(one for one in instruments() if one.name == name and one.quantity == quantity)

    usual = default_spread(quantity, instrument.provenance, value).plus

    assert instrument.half_width(value) == pytest.approx(usual, rel=1e-9)


def test_the_most_easily_had_instrument_comes_first():
    costs = [one.cost for one in ways_to_get("prop_shaft", "tube_outside_diameter", LENGTH, 0.0762).instruments]

    assert costs == sorted(costs)
    assert len(costs) > 2


def test_a_caliper_is_not_offered_for_what_it_cannot_span():
    names = [one.name for one in ways_to_get("car", "wheelbase", LENGTH, 2.4).instruments]

    assert "steel tape" in names
    assert "caliper" not in names


def test_a_heading_is_not_read_with_an_angle_gauge():
    """Gravity does not show which way a shaft points in plan view."""
    names = [one.name for one in ways_to_get("gearbox", "output_heading", ANGLE, 0.0).instruments]

    assert names == ["steel tape over 0.4 m", "plumb lines 1 m apart"]


def test_a_torque_rating_is_asked_of_its_maker():
    assert [one.name for one in ways_to_get("gearbox", "rated_torque", TORQUE, 370.0).instruments] == [
        "maker's data sheet"
    ]


@pytest.mark.parametrize(("kind", "name"), [("car", "tyre_friction"), ("car", "upper_grip"), ("car", "air_density")])
def test_the_weather_and_the_road_have_no_instrument(kind, name):
    ways = ways_to_get(kind, name, KINDS[kind].specs()[name].quantity)

    assert not ways.instruments
    assert "It changes with the" in ways.helps


@pytest.mark.parametrize(
    ("kind", "name"),
    [
        ("car", "clutch_drop_factor"),
        ("car", "clutch_drop_grip_factor"),
        ("car", "regained_grip_factor"),
        ("car", "careful_grip_factor"),
        ("hub", "nut_friction"),
    ],
)
def test_nobody_is_sent_to_a_maker_for_a_shock_or_the_friction_of_a_nut(kind, name):
    ways = ways_to_get(kind, name, KINDS[kind].specs()[name].quantity)

    assert not ways.instruments
    assert "ask its maker" not in ways.helps


def test_the_rolling_circumference_is_measured_in_place_of_the_rule():
    ways = ways_to_get("tyre", "circumference_factor", COEFFICIENT, 1.0)

    assert ways.writes == "circumference"
    assert ways.instruments[0].half_width(1.0) == pytest.approx(0.002)


def test_the_strength_of_steel_comes_from_its_certificate_or_its_hardness():
    assert [one.name for one in ways_to_get("prop_shaft", "yield_strength", STRESS, 300e6).instruments] == [
        "material certificate",
        "hardness test",
    ]


def test_a_whole_car_is_not_put_on_one_household_scale():
    names = [one.name for one in ways_to_get("car", "mass", MASS, 1065.0).instruments]

    assert names == ["public weighbridge", "corner scales"]


@pytest.mark.parametrize(
    ("kind", "name"),
    [
        ("stands", "rated_mass"),
        ("sling_leg", "rated_mass"),
        ("mount", "rated_pull"),
        ("mount", "breaking_load"),
        ("line", "rated_pressure"),
    ],
)
def test_a_rating_is_asked_of_its_maker_and_never_measured(kind, name):
    """Nobody is told to pull a mount until it parts, or to weigh what a stand is rated for."""
    ways = ways_to_get(kind, name, KINDS[kind].specs()[name].quantity)

    assert [one.name for one in ways.instruments] == ["maker's data sheet"]
    assert all(one.is_asked for one in ways.instruments)
